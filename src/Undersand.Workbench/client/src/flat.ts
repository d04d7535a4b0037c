import type { Block } from './bricks';
import type { Axis, Vector } from './gaze';
import { drawWords, type Inks } from './marks';

/** The three slices side by side, for browsers without WebGL: from above, west to east, south to north; true to each other. */
export function drawFlat(c: CanvasRenderingContext2D, over: CanvasRenderingContext2D, width: number, height: number, block: Block, planes: Vector, stretch: number, table: Uint8ClampedArray, ink: Inks, titles: [string, string, string]): void {
  const [nx, ny, nz] = block.counts, gap = 16, head = 28, sizes: [number, number][] = [[nx, ny], [nx, nz * stretch], [ny, nz * stretch]];
  const side = Math.min((width - 4 * gap) / (2 * nx + ny), (height - head - gap) / Math.max(ny, nz * stretch));
  let x = gap;
  for (const [i, axis] of ([2, 1, 0] as Axis[]).entries()) {
    const [w, h] = sizes[i]!.map(n => n * side) as [number, number], picture = slice(block, axis, Math.floor(planes[axis]), table);
    c.save();
    c.beginPath();
    c.rect(x, head, w, h);
    c.clip();
    c.strokeStyle = ink.rule;
    c.lineWidth = 1;
    c.beginPath();
    for (let s = x - h; s < x + w; s += 12) { c.moveTo(s, head + h); c.lineTo(s + h, head); }
    c.stroke();
    c.imageSmoothingEnabled = false;
    c.drawImage(picture, x, head, w, h);
    c.restore();
    over.lineWidth = ink.bold;
    over.strokeStyle = ink.soft;
    over.strokeRect(x, head, w, h);
    over.setLineDash([6, 3]);
    over.strokeStyle = ink.cursor;
    const u = axis === 0 ? planes[1] : planes[0], v = axis === 2 ? ny - planes[1] : planes[2] * stretch;
    over.beginPath();
    over.moveTo(x + u * side, head); over.lineTo(x + u * side, head + h); over.moveTo(x, head + v * side); over.lineTo(x + w, head + v * side);
    over.stroke();
    over.setLineDash([]);
    drawWords(over, titles[i]!, x, head - 12, ink);
    x += w + gap;
  }
}

// North up, or burial downwards; nothing where nobody looked.
function slice({ counts: [nx, ny, nz], entries }: Block, axis: Axis, at: number, table: Uint8ClampedArray): HTMLCanvasElement {
  const canvas = document.createElement('canvas'), w = axis === 0 ? ny : nx, h = axis === 2 ? ny : nz;
  [canvas.width, canvas.height] = [w, h];
  const c = canvas.getContext('2d')!, picture = c.createImageData(w, h);
  for (let row = 0; row < h; row++)
    for (let column = 0; column < w; column++) {
      const [x, y, z] = axis === 0 ? [at, column, row] : axis === 1 ? [column, at, row] : [column, ny - 1 - row, at], entry = entries[(z * ny + y) * nx + x]!;
      if (entry) picture.data.set(table.subarray(4 * entry, 4 * entry + 4), 4 * (row * w + column));
    }
  c.putImageData(picture, 0, 0);
  return canvas;
}
