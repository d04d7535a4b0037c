/** The compass point, of eight, from one place towards another. */
export function compass([e, n]: [number, number], [east, north]: [number, number]): string {
  return ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'][(Math.round(Math.atan2(east - e, north - n) * 4 / Math.PI) + 8) % 8]!;
}

/** A way over the ground, and how far along it and beside it something lies. */
export class Way {
  readonly along: number[] = [0];

  constructor(readonly path: number[]) {
    for (let i = 2; i < path.length; i += 2)
      this.along.push(this.along[this.along.length - 1]! + Math.hypot(path[i]! - path[i - 2]!, path[i + 1]! - path[i - 1]!));
  }

  get length(): number { return this.along[this.along.length - 1]!; }

  /** The place at a distance along the way. */
  at(distance: number): [number, number] {
    let i = 0;
    while (i < this.along.length - 2 && this.along[i + 1]! < distance) i++;
    const f = (distance - this.along[i]!) / Math.max(this.along[i + 1]! - this.along[i]!, 1e-9), p = this.path;
    return [p[2 * i]! + f * (p[2 * i + 2]! - p[2 * i]!), p[2 * i + 1]! + f * (p[2 * i + 3]! - p[2 * i + 1]!)];
  }

  /** The nearest place on the way: its distance along, and how far beside it the point lies. */
  nearest(e: number, n: number): { along: number; beside: number } {
    let best = { along: 0, beside: Infinity };
    for (let i = 0; i + 1 < this.along.length; i++) {
      const ax = this.path[2 * i]!, ay = this.path[2 * i + 1]!, dx = this.path[2 * i + 2]! - ax, dy = this.path[2 * i + 3]! - ay;
      const f = Math.min(1, Math.max(0, ((e - ax) * dx + (n - ay) * dy) / Math.max(dx * dx + dy * dy, 1e-12)));
      const beside = Math.hypot(e - ax - f * dx, n - ay - f * dy);
      if (beside < best.beside) best = { along: this.along[i]! + f * (this.along[i + 1]! - this.along[i]!), beside };
    }
    return best;
  }
}
