import { drawWords, type Inks } from './marks';
import { withRecipe } from './recipe';
import type { Quantity } from './survey';

/** A picture to be kept: what lies under and over the theme's filter, in pixels `ratio` to a CSS pixel, and what makes it again. */
export interface Kept { width: number; height: number; ratio: number; picture: HTMLCanvasElement; over: HTMLCanvasElement; quantity: Quantity; table: Uint8ClampedArray; recipe: string[]; name: string }

const margin = 16, beside = 132;

/** Hands the browser a picture with its legend and its recipe, in the picture and in the file. */
export async function keepPicture({ width, height, ratio, picture, over, quantity, table, recipe, name }: Kept, ink: Inks): Promise<void> {
  const canvas = document.createElement('canvas'), c = canvas.getContext('2d')!, tall = Math.min(180, height - 60);
  c.font = `12px ${ink.font}`;
  const lines = recipe.flatMap(line => wrap(c, line, width + beside - 2 * margin));
  [canvas.width, canvas.height] = [(width + beside) * ratio, (height + lines.length * 17 + 2 * margin) * ratio];
  c.scale(ratio, ratio);
  c.fillStyle = ink.paper;
  c.fillRect(0, 0, canvas.width, canvas.height);
  c.filter = getComputedStyle(document.documentElement).getPropertyValue('--picture').trim() || 'none';
  c.drawImage(picture, 0, 0, width, height);
  drawBar(c, quantity, table, width + margin, tall);
  c.filter = 'none';
  c.drawImage(over, 0, 0, width, height);
  drawTicks(c, quantity, width + margin, tall, ink);
  lines.forEach((line, i) => drawWords(c, line, margin, height + margin + 17 * i + 6, ink));
  const blob = await new Promise<Blob | null>(done => canvas.toBlob(done, 'image/png'));
  if (!blob) return;
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([withRecipe(new Uint8Array(await blob.arrayBuffer()), recipe.join('\n')) as BlobPart], { type: 'image/png' }));
  link.download = `${name}.png`.replaceAll(/[^\w .-]/g, '').replaceAll(' ', '-');
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

function drawBar(c: CanvasRenderingContext2D, q: Quantity, table: Uint8ClampedArray, x: number, tall: number): void {
  for (let i = 0; i < tall; i++) {
    const entry = Math.max(1, Math.round(255 * (q.downwards ? i : tall - 1 - i) / (tall - 1)));
    c.fillStyle = `rgb(${table.slice(4 * entry, 4 * entry + 3).join(' ')})`;
    c.fillRect(x, margin + 26 + i, 16, 1.5);
  }
}

function drawTicks(c: CanvasRenderingContext2D, q: Quantity, x: number, tall: number, ink: Inks): void {
  drawWords(c, q.title, x, margin + 8, ink, true);
  for (const tick of q.ticks) {
    const share = (tick - q.low) / (q.high - q.low);
    drawWords(c, `– ${String(tick).replace('-', '−')}`, x + 18, margin + 26 + tall * (q.downwards ? share : 1 - share), ink);
  }
}

function wrap(c: CanvasRenderingContext2D, line: string, width: number): string[] {
  const lines = [''];
  for (const word of line.split(/(?<=[ &,])/)) {
    if (c.measureText(lines.at(-1) + word).width > width) lines.push('    ');
    lines[lines.length - 1] += word;
  }
  return lines;
}
