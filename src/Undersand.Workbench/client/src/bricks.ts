import type { Survey } from './survey';

/** A part of the volume as one block of bytes: entries of the quantity's colours, 0 where nobody looked. Eastings run fastest, then northings, then burial. */
export interface Block { voxel: number; west: number; south: number; top: number; counts: [number, number, number]; entries: Uint8Array }

const side = 64, most = 256, mostLevel = 8, kept = new Map<string, Promise<Uint8Array>>();

/** The finest level at which a box this wide stays within 256 voxels each way. */
export function levelFor(survey: Survey, wide: number, long: number): number {
  const { voxel, counts } = survey.volume;
  let level = 0;
  while (level < mostLevel && Math.max(wide / voxel, long / voxel, counts[2]) / 2 ** level > most) level++;
  return level;
}

/** Fetches what a box needs at a level and puts it together; the box grows to whole voxels. */
export async function fetchBlock(survey: Survey, quantity: string, level: number, west: number, south: number, wide: number, long: number): Promise<Block> {
  const { voxel, corner, counts, firstBurial } = survey.volume, h = voxel * 2 ** level;
  const x0 = Math.floor((west - corner[0]) / h + 1e-6), y0 = Math.floor((south - corner[1]) / h + 1e-6), nx = Math.ceil(wide / h - 1e-6), ny = Math.ceil(long / h - 1e-6), nz = Math.ceil(counts[2] / 2 ** level);
  const block: Block = { voxel: h, west: corner[0] + x0 * h, south: corner[1] + y0 * h, top: firstBurial, counts: [nx, ny, nz], entries: new Uint8Array(nx * ny * nz) };
  const last = (n: number) => Math.ceil(n / side / 2 ** level) - 1, wanted: Promise<void>[] = [];
  for (let by = Math.max(0, Math.floor(y0 / side)); by <= Math.min(last(counts[1]), Math.floor((y0 + ny - 1) / side)); by++)
    for (let bx = Math.max(0, Math.floor(x0 / side)); bx <= Math.min(last(counts[0]), Math.floor((x0 + nx - 1) / side)); bx++)
      wanted.push(brick(`/brick/${quantity}/${level}/${bx}/${by}?v=${encodeURIComponent(survey.version)}`).then(bytes => copy(bytes, bx * side - x0, by * side - y0, block)));
  await Promise.all(wanted);
  return block;
}

function copy(bytes: Uint8Array, dx: number, dy: number, { counts: [nx, ny, nz], entries }: Block): void {
  if (!bytes.length) return;
  const from = Math.max(0, -dx), to = Math.min(side, nx - dx);
  for (let z = 0; z < nz; z++)
    for (let y = Math.max(0, -dy); y < Math.min(side, ny - dy); y++) {
      const row = (z * side + y) * side;
      entries.set(bytes.subarray(row + from, row + to), (z * ny + y + dy) * nx + dx + from);
    }
}

function brick(url: string): Promise<Uint8Array> {
  let bytes = kept.get(url);
  if (!bytes) {
    bytes = fetch(url).then(async answer => {
      if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
      return new Uint8Array(await answer.arrayBuffer());
    });
    bytes.catch(() => kept.delete(url));
    kept.set(url, bytes);
    if (kept.size > 128) kept.delete(kept.keys().next().value!);
  }
  return bytes;
}
