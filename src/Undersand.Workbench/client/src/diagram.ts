/** What the upright pictures, section and echoes, have in common. */
import { drawWords, type Inks } from './marks';

/** Columns of a picture from the server. */
export const columns = 256;

/** The level whose columns come nearest to a screen's pixels, where one of the finest is so many pixels wide. */
export function levelOf(pixels: number): number { return Math.min(8, Math.max(0, Math.floor(Math.log2(1 / pixels) + 0.3))); }

/** Pictures from the server, kept by their addresses. */
export class Pictures {
  private readonly kept = new Map<string, HTMLImageElement>();

  constructor(private readonly arrived: () => void, private readonly most: number) {}

  /** A picture; null while it is on its way. */
  get(url: string): HTMLImageElement | null {
    let image = this.kept.get(url);
    if (!image) {
      image = new Image();
      image.onload = () => this.arrived();
      image.src = url;
      this.kept.set(url, image);
      if (this.kept.size > this.most) this.kept.delete(this.kept.keys().next().value!);
    }
    return image.complete && image.naturalWidth ? image : null;
  }
}

/** A scale: its words, its values a step apart, where they lie on the canvas and how they are written. */
export interface Scale { words: string; from: number; to: number; step: number; at: (value: number) => number; write: (value: number) => string }

/** The frame of a picture, a scale at its foot and one at its left. */
export function drawScales(o: CanvasRenderingContext2D, [left, top, width, height]: [number, number, number, number], along: Scale, down: Scale, ink: Inks): void {
  o.strokeStyle = ink.soft;
  o.lineWidth = 1;
  o.strokeRect(left - 0.5, top - 0.5, width + 1, height + 1);
  const values = ({ from, to, step }: Scale) => Array.from({ length: Math.max(0, Math.floor((to + 1e-9) / step) - Math.ceil((from - 1e-9) / step) + 1) }, (_, i) => (Math.ceil((from - 1e-9) / step) + i) * step);
  const tick = (x0: number, y0: number, x1: number, y1: number) => { o.beginPath(); o.moveTo(x0, y0); o.lineTo(x1, y1); o.strokeStyle = ink.soft; o.stroke(); };
  for (const value of values(along)) {
    const x = Math.round(along.at(value)) + 0.5;
    tick(x, top + height, x, top + height + 5);
    if (x < left + width - 40) drawWords(o, along.write(value), x, top + height + 14, ink, false, 'center');
  }
  drawWords(o, along.words, left + width, top + height + 14, ink, false, 'right');
  for (const value of values(down)) {
    const y = Math.round(down.at(value)) + 0.5;
    tick(left - 5, y, left, y);
    drawWords(o, down.write(value), left - 9, y, ink, false, 'right');
  }
  o.save();
  o.translate(9, top + height / 2);
  o.rotate(-Math.PI / 2);
  drawWords(o, down.words, 0, 0, ink, false, 'center');
  o.restore();
}
