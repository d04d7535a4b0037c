/** Lines of equal longitude and latitude, with degrees and minutes at the edges; dashed, so that they aren't taken for the grid of eastings. */
import { drawWords, type Inks } from './marks';

// Round steps in minutes, from a thousandth of a minute to five degrees.
const steps = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300];

export function graticule(c: CanvasRenderingContext2D, width: number, height: number, at: (px: [number, number]) => [number, number], px: (geo: [number, number]) => [number, number], ink: Inks): void {
  const corners = ([[0, 0], [width, 0], [0, height], [width, height]] as [number, number][]).map(at);
  const lons = corners.map(p => p[0]), lats = corners.map(p => p[1]), [west, east, south, north] = [Math.min(...lons), Math.max(...lons), Math.min(...lats), Math.max(...lats)];
  const step = (span: number, about: number) => steps.find(s => span * 60 / s <= about) ?? 300;
  const across = step(east - west, width / 170), down = step(north - south, height / 130);
  c.save();
  c.setLineDash([1, 5]);
  c.lineWidth = ink.bold;
  const values = (from: number, to: number, by: number) => { const all: number[] = []; for (let v = Math.ceil(from * 60 / by); v * by <= to * 60 && all.length < 60; v++) all.push(v * by); return all; };
  const labels: [string, number, number][] = [];
  // Named where it leaves the picture: meridians at the foot, parallels at the right.
  const line = (point: (share: number) => [number, number], words: string, place: (x: number, y: number) => [number, number]) => {
    c.beginPath();
    for (let i = 0; i <= 12; i++) { const [x, y] = px(point(i / 12)); if (i) c.lineTo(x, y); else { c.moveTo(x, y); labels.push([words, ...place(x, y)]); } }
    c.strokeStyle = ink.soft;
    c.stroke();
  };
  for (const m of values(west, east, across)) line(s => [m / 60, south + (north - south) * s], minutes(m, across, 'E', 'W'), x => [Math.min(Math.max(x, 50), width - 50), height - 34]);
  for (const m of values(south, north, down)) line(s => [east + (west - east) * s, m / 60], minutes(m, down, 'N', 'S'), (_, y) => [width - 56, y]);
  c.restore();
  // The scale keeps its corner.
  for (const [words, x, y] of labels) if (y > 20 && y < height - 20 && (x > 230 || y < height - 50)) drawWords(c, words, x, y, ink, false, 'center');
}

function minutes(m: number, step: number, plus: string, minus: string): string {
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9)), all = Math.abs(Number(m.toFixed(places)));
  return `${Math.floor(all / 60)}° ${(all % 60).toFixed(places)}′ ${m < 0 ? minus : plus}`;
}
