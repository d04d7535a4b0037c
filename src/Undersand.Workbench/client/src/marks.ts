/** How targets are drawn, the same on the map and in the section. */
import type { Target } from './survey';

export interface Inks { text: string; soft: string; paper: string; target: string; track: string; cursor: string; rule: string; font: string; bold: number }

export function inks(): Inks {
  const style = getComputedStyle(document.documentElement), v = (name: string) => style.getPropertyValue(name).trim();
  return { text: v('--text'), soft: v('--soft'), paper: v('--paper'), target: v('--target'), track: v('--track'), cursor: v('--cursor'), rule: v('--rule'), font: v('--font'), bold: Number(v('--pen')) || 1 };
}

/** Draws anew with the inks of the theme now on, once its colours are in force. */
export function onInks(draw: (ink: Inks) => void): void {
  new MutationObserver(() => requestAnimationFrame(() => draw(inks()))).observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
}

/** A vessel filled up to the probability; a second stroke for the judgement; a thick halo where chosen. */
export function drawMark(c: CanvasRenderingContext2D, x: number, y: number, t: Target, ink: Inks, chosen: boolean): void {
  const r = 7;
  c.save();
  c.translate(x, y);
  if (chosen) {
    ring(c, r + 8, ink.paper, 7 * ink.bold);
    ring(c, r + 8, ink.cursor, 3 * ink.bold);
  }
  ring(c, r + 1.5, ink.paper, 4);
  c.beginPath();
  c.arc(0, 0, r, 0, 2 * Math.PI);
  c.fillStyle = ink.paper;
  c.fill();
  const level = r * (1 - 2 * (t.probability ?? 0)), half = Math.asin(Math.min(1, Math.max(-1, level / r)));
  c.beginPath();
  c.arc(0, 0, r, half, Math.PI - half);
  c.closePath();
  c.fillStyle = ink.target;
  c.fill();
  ring(c, r, ink.target, 2 * ink.bold);
  if (t.verdict) {
    c.setLineDash(t.verdict === 'in doubt' ? [3, 3] : []);
    ring(c, r + 4, ink.text, 2 * ink.bold);
    c.setLineDash([]);
    if (t.verdict === 'rejected') {
      c.beginPath();
      c.moveTo(-r - 4, r + 4);
      c.lineTo(r + 4, -r - 4);
      c.strokeStyle = ink.text;
      c.lineWidth = 2 * ink.bold;
      c.stroke();
    }
  }
  c.restore();
}

/** An ellipse by its half axes in pixels, its long one turned so many degrees from north, on a ground of paper. */
export function drawEllipse(c: CanvasRenderingContext2D, [x, y]: [number, number], a: number, b: number, turn: number, dash: number[], width: number, ink: Inks): void {
  for (const [colour, w] of [[ink.paper, width + 2], [ink.target, width]] as const) {
    c.beginPath();
    c.ellipse(x, y, Math.max(a, 0.5), Math.max(b, 0.5), (turn - 90) * Math.PI / 180, 0, 2 * Math.PI);
    c.setLineDash(dash);
    c.strokeStyle = colour;
    c.lineWidth = w;
    c.stroke();
  }
  c.setLineDash([]);
}

/** Words on a plate of paper, so that they are read on any ground. */
export function drawWords(c: CanvasRenderingContext2D, words: string, x: number, y: number, ink: Inks, bold = false, anchor: CanvasTextAlign = 'left'): void {
  c.font = `${bold ? 600 : 400} 12px ${ink.font}`;
  c.textAlign = anchor;
  c.textBaseline = 'middle';
  c.lineJoin = 'round';
  c.lineWidth = 4;
  c.strokeStyle = ink.paper;
  c.strokeText(words, x, y);
  c.fillStyle = ink.text;
  c.fillText(words, x, y);
}

/** Finds places beside marks for their words so that neither marks nor words hide each other; words without a place are left out. */
export class WordPlaces {
  private readonly taken: [number, number, number, number][] = [];

  constructor(marks: [number, number][], private readonly width = Infinity) { for (const [x, y] of marks) this.taken.push([x - 9, y - 9, x + 9, y + 9]); }

  put(c: CanvasRenderingContext2D, words: string, x: number, y: number, ink: Inks, beside = 14): void {
    c.font = `600 12px ${ink.font}`;
    const w = c.measureText(words).width;
    for (const [dx, dy] of [[beside, -9], [beside, 9], [-beside - w, -9], [-beside - w, 9], [-w / 2, -beside - 6], [-w / 2, beside + 6], [16, -24], [16, 24]] as const) {
      const box: [number, number, number, number] = [x + dx - 2, y + dy - 7, x + dx + w + 2, y + dy + 7];
      if (box[2] > this.width || box[0] < 0 || this.taken.some(t => t[0] < box[2] && t[2] > box[0] && t[1] < box[3] && t[3] > box[1])) continue;
      this.taken.push(box);
      drawWords(c, words, x + dx, y + dy, ink, true);
      return;
    }
  }
}

/** A cross with arms of so many pixels, on a ground of paper. */
export function drawCross(c: CanvasRenderingContext2D, [x, y]: [number, number], r: number, ink: Inks, colour = ink.cursor): void {
  for (const [stroke, width] of [[ink.paper, 4], [colour, 2]] as const) {
    c.beginPath();
    c.moveTo(x - r, y); c.lineTo(x + r, y); c.moveTo(x, y - r); c.lineTo(x, y + r);
    c.strokeStyle = stroke;
    c.lineWidth = width * ink.bold;
    c.stroke();
  }
}

export function ring(c: CanvasRenderingContext2D, r: number, colour: string, width: number): void {
  c.beginPath();
  c.arc(0, 0, r, 0, 2 * Math.PI);
  c.strokeStyle = colour;
  c.lineWidth = width;
  c.stroke();
}

/** Makes a canvas as sharp as the screen; true drawing units stay CSS pixels. */
export function fit(canvas: HTMLCanvasElement, width: number, height: number): CanvasRenderingContext2D {
  const ratio = window.devicePixelRatio || 1, w = Math.max(1, Math.round(width * ratio)), h = Math.max(1, Math.round(height * ratio));
  if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
  const c = canvas.getContext('2d')!;
  c.setTransform(ratio, 0, 0, ratio, 0, 0);
  c.clearRect(0, 0, width, height);
  return c;
}

/** A round step so that about so many fit into a span. */
export function roundStep(span: number, about: number): number {
  const raw = span / about, power = 10 ** Math.floor(Math.log10(raw));
  return power * (raw / power < 1.5 ? 1 : raw / power < 3.5 ? 2 : raw / power < 7.5 ? 5 : 10);
}

export function decimals(step: number): number { return Math.max(0, -Math.floor(Math.log10(step) + 1e-9)); }
