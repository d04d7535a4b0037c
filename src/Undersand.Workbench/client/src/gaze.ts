import type { Block } from './bricks';

export type Vector = [number, number, number];

/** How a block is looked at: parallel rays, so that a metre is as long in front as behind. */
export interface Rays { origin: Vector; right: Vector; up: Vector; along: Vector }

export type Axis = 0 | 1 | 2;

/** What of the block is shown; all in voxels from the block's south-west upper corner, entries from 0 to 255. */
export interface Shown { slices: boolean; greatest: boolean; surface: boolean; at: number; planes: Vector; low: Vector; high: Vector }

/** A place hit by a ray, in voxels, and the entry there; the axis says which slice it is on. */
export interface Hit { place: Vector; entry: number; axis: Axis | null }

/** Turned clockwise from north and tilted down from level, both in degrees; heights may be stretched. */
export class Gaze {
  private readonly r: Vector;
  private readonly u: Vector;
  private readonly d: Vector;
  private readonly half: Vector;

  constructor(readonly block: Block, turn: number, tilt: number, readonly stretch: number, readonly scale: number, readonly x: number, readonly y: number) {
    const t = turn * Math.PI / 180, p = tilt * Math.PI / 180;
    this.r = [Math.cos(t), -Math.sin(t), 0];
    this.u = [Math.sin(t) * Math.sin(p), Math.cos(t) * Math.sin(p), Math.cos(p)];
    this.d = [Math.sin(t) * Math.cos(p), Math.cos(t) * Math.cos(p), -Math.sin(p)];
    this.half = [0, 1, 2].map(i => block.counts[i]! * block.voxel / 2) as Vector;
  }

  /** Where a place stands on the picture, and how far behind the block's middle. */
  project(e: number, n: number, burial: number): Vector {
    const { block, half } = this, p: Vector = [e - block.west - half[0], n - block.south - half[1], (half[2] - (burial - block.top)) * this.stretch];
    return [this.x + this.scale * dot(p, this.r), this.y - this.scale * dot(p, this.u), dot(p, this.d)];
  }

  /** Rays in voxels: a pixel's ray starts at origin + right · x + up · y, with y upwards from the picture's foot. */
  rays(height: number): Rays {
    const h = this.block.voxel, voxels = (v: Vector): Vector => [v[0] / h, v[1] / h, -v[2] / h / this.stretch];
    const right = voxels(this.r.map(c => c / this.scale) as Vector), up = voxels(this.u.map(c => c / this.scale) as Vector), along = voxels(this.d);
    const foot = height - this.y, origin = [0, 1, 2].map(i => this.block.counts[i]! / 2 - right[i]! * this.x - up[i]! * foot) as Vector;
    return { origin, right, up, along };
  }

  /** How large a block may be drawn so that it fits at this tilt whichever way it is turned. */
  static fits(block: Block, tilt: number, stretch: number, width: number, height: number): number {
    const [wide, long, deep] = block.counts.map(c => c * block.voxel) as Vector, across = Math.hypot(wide, long), p = tilt * Math.PI / 180;
    return Math.min(width / across, height / (across * Math.sin(p) + deep * stretch * Math.cos(p)));
  }
}

/** Follows one ray through the block in steps of half a voxel, much as the picture does for each of its pixels. */
export function follow(block: Block, rays: Rays, x: number, y: number, shown: Shown): Hit | null {
  const o = [0, 1, 2].map(i => rays.origin[i]! + rays.right[i]! * x + rays.up[i]! * y) as Vector, d = rays.along, [nx, ny] = block.counts;
  let t0 = -Infinity, t1 = Infinity;
  for (const i of [0, 1, 2] as Axis[]) {
    if (Math.abs(d[i]) < 1e-9) { if (o[i] < shown.low[i] || o[i] > shown.high[i]) return null; continue; }
    const a = (shown.low[i] - o[i]) / d[i], b = (shown.high[i] - o[i]) / d[i];
    t0 = Math.max(t0, Math.min(a, b));
    t1 = Math.min(t1, Math.max(a, b));
  }
  if (t0 >= t1) return null;
  const at = (t: number) => [0, 1, 2].map(i => Math.min(Math.max(o[i as Axis] + d[i as Axis] * t, shown.low[i as Axis]), shown.high[i as Axis] - 1e-4)) as Vector;
  const entry = (p: Vector) => block.entries[(Math.floor(p[2]) * ny + Math.floor(p[1])) * nx + Math.floor(p[0])] ?? 0;
  let nearest: Hit | null = null, far = t1;
  if (shown.slices)
    for (const i of [0, 1, 2] as Axis[]) {
      const t = (shown.planes[i] - o[i]) / d[i];
      if (t >= t0 - 1e-6 && t < far) { const place = at(t); place[i] = shown.planes[i]; far = t; nearest = { place, entry: entry(place), axis: i }; }
    }
  if (!shown.greatest && !shown.surface) return nearest;
  const step = 0.5 / Math.hypot(...d);
  let best: Hit | null = null;
  for (let t = t0 + step / 2; t < far; t += step) {
    const place = at(t), e = entry(place);
    if (shown.surface && e >= shown.at) return { place, entry: e, axis: null };
    if (shown.greatest && (!best || e > best.entry)) best = { place, entry: e, axis: null };
  }
  return best ?? nearest;
}

function dot(a: Vector, b: Vector): number { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
