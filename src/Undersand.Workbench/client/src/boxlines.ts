import type { Block } from './bricks';
import type { Gaze, Vector } from './gaze';
import { drawWords, type Inks } from './marks';
import { roundLength, scaleOf, sized, units } from './units';

/** Draws a box's edges, the seabed, burial along one edge, the compass and a bar for lengths. */
export function drawBox(o: CanvasRenderingContext2D, g: Gaze, b: Block, tilt: number, height: number, ink: Inks): void {
  const [wide, long, deep] = b.counts.map(c => c * b.voxel) as Vector, foot = b.top + deep;
  const line = (from: Vector, to: Vector) => { const p = g.project(...from), q = g.project(...to); o.beginPath(); o.moveTo(p[0], p[1]); o.lineTo(q[0], q[1]); o.stroke(); };
  const corner = (i: number): Vector => [b.west + (i & 1) * wide, b.south + ((i >> 1) & 1) * long, b.top + (i >> 2) * deep];
  const depths = [0, 1, 2, 3, 4, 5, 6, 7].map(i => g.project(...corner(i))[2]), farthest = depths.indexOf(Math.max(...depths));
  o.lineWidth = ink.bold;
  for (let i = 0; i < 8; i++)
    for (const bit of [1, 2, 4])
      if (!(i & bit)) {
        const hidden = i === farthest || (i | bit) === farthest;
        o.strokeStyle = hidden ? ink.rule : ink.soft;
        o.setLineDash(hidden ? [2, 4] : []);
        line(corner(i), corner(i | bit));
      }
  o.strokeStyle = ink.track;
  o.setLineDash([6, 3]);
  const surface = (i: number): Vector => [corner(i)[0], corner(i)[1], 0];
  for (const [i, j] of [[0, 1], [1, 3], [3, 2], [2, 0]] as const) line(surface(i), surface(j));
  o.setLineDash([]);
  // The scale stands at the upright edge that is leftmost; from straight above there is none.
  if (tilt < 80) {
    const left = [0, 1, 2, 3].reduce((l, i) => g.project(...corner(i))[0] < g.project(...corner(l))[0] ? i : l, 0);
    const about = Math.max(2, deep * g.scale * g.stretch * Math.cos(tilt * Math.PI / 180) / 26), steps = scaleOf('', units.length, b.top, foot, about, z => z);
    o.strokeStyle = ink.soft;
    for (let value = Math.max(0, Math.ceil(steps.from / steps.step) * steps.step); value <= steps.to + 1e-6; value += steps.step) {
      const [x, y] = g.project(corner(left)[0], corner(left)[1], steps.at(value));
      o.beginPath(); o.moveTo(x - 5, y); o.lineTo(x, y); o.stroke();
      drawWords(o, steps.write(value), x - 8, y, ink, false, 'right');
    }
    const [x, y] = g.project(corner(left)[0], corner(left)[1], foot);
    drawWords(o, `burial, ${units.length.name} ↓`, Math.max(x - 8, 70), y + 16, ink, false, 'right');
  }
  for (const [word, e, n] of [['N', b.west + wide / 2, b.south + long], ['S', b.west + wide / 2, b.south], ['W', b.west, b.south + long / 2], ['E', b.west + wide, b.south + long / 2]] as const) {
    const away = 14 / g.scale, [x, y] = g.project(e + (word === 'E' ? away : word === 'W' ? -away : 0), n + (word === 'N' ? away : word === 'S' ? -away : 0), 0);
    drawWords(o, word, x, y, ink, word === 'N', 'center');
  }
  const bar = roundLength(wide, 5), px = bar * g.scale, y = height - 12;
  o.strokeStyle = ink.text;
  o.lineWidth = 2 * ink.bold;
  o.beginPath(); o.moveTo(12, y - 5); o.lineTo(12, y); o.lineTo(12 + px, y); o.lineTo(12 + px, y - 5); o.stroke();
  drawWords(o, `${sized(bar)}${g.stretch > 1 ? ` across; heights × ${g.stretch}` : ''}`, 20 + px, y - 4, ink);
}
