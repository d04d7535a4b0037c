/** What lies under the survey and beside it: base maps of the user's own, magnetics, and what was found where someone looked. */
import type OlMap from 'ol/Map';
import TileLayer from 'ol/layer/Tile';
import type Projection from 'ol/proj/Projection';
import XYZ from 'ol/source/XYZ';
import TileGrid from 'ol/tilegrid/TileGrid';
import { drawWords, type Inks, type WordPlaces } from './marks';
import type { State } from './state';
import type { Base, Outcome } from './survey';
import { units } from './units';

export const emptyHole = 'An empty hole says nothing about what lies below it.';

export function wordsOf(o: Outcome): string { return `${o.kind}${o.material ? ` (${o.material})` : ''} to ${units.length.write(o.reached, 1)}`; }

/** Pairs in a row: the shapes of a layer. */
type Shapes = number[][];

export class Ground {
  readonly layers: (TileLayer<XYZ> | null)[];
  map!: OlMap;
  private readonly outlines: Shapes[];
  private readings: number[] = [];
  private readonly noise: number;
  private most = 0;
  private marks: [x: number, y: number, residual: number][] = [];
  private marked = '';

  constructor(private readonly state: State, projection: Projection, grid: TileGrid) {
    const { bases } = state.survey;
    this.noise = state.survey.magneticsStandOutFrom;
    this.layers = bases.map((b, i) => b.kind === 'pictures' ? new TileLayer({ className: 'ol-layer base-picture', source: this.source(b, i, projection, grid) }) : null);
    this.outlines = bases.map(() => []);
    this.fade();
    for (const [i, b] of bases.entries()) if (b.kind === 'outlines') void this.load(`/base/${i}/outlines`, shapes => { this.outlines[i] = shapes as Shapes; });
    if (state.survey.magnetics) void this.load('/api/magnetics', readings => this.settle(readings as number[]));
    state.on(changed => { if (changed.has('bases')) this.fade(); if (changed.has('bases') || changed.has('hidden')) this.key(); });
    this.key();
  }

  /** Places that a measure may be meant to begin or end at. */
  *snaps(): Iterable<{ at: [number, number]; words: string }> {
    if (this.state.shown('finds')) for (const o of this.state.survey.outcomes) yield { at: o.at, words: `find: ${wordsOf(o)}` };
  }

  draw(c: CanvasRenderingContext2D, px: (at: readonly number[]) => [number, number], metre: number, ink: Inks, width: number, height: number): void {
    for (const [i, shapes] of this.outlines.entries()) if (this.state.view.bases[i]) this.drawOutlines(c, shapes, px, ink, this.state.view.bases[i]! / 100);
    if (this.state.shown('magnetics') && this.readings.length) this.drawMagnetics(c, px, ink, width, height);
    if (this.state.shown('finds')) for (const o of this.state.survey.outcomes) drawFind(c, ...px(o.at), o, metre, ink);
  }

  words(c: CanvasRenderingContext2D, places: WordPlaces, px: (at: readonly number[]) => [number, number], ink: Inks): void {
    if (this.state.shown('finds')) for (const o of this.state.survey.outcomes) places.put(c, wordsOf(o), ...px(o.at), ink);
  }

  private source(b: Base, i: number, projection: Projection, grid: TileGrid): XYZ {
    const own = b.origin && b.resolutions ? new TileGrid({ origin: b.origin, resolutions: b.resolutions, tileSizes: b.tileWidths!.map((w, z) => [w, b.tileHeights![z]!]), sizes: b.columns!.map((n, z) => [n, b.rows![z]!]) }) : grid;
    return new XYZ({ projection, tileGrid: own, url: `/base/${i}/{z}/{x}/{y}?v=${encodeURIComponent(b.version)}`, transition: 0, wrapX: false });
  }

  private fade(): void {
    for (const [i, layer] of this.layers.entries()) { layer?.setOpacity(this.state.view.bases[i]! / 100); layer?.setVisible(this.state.view.bases[i]! > 0); }
  }

  private async load(url: string, take: (values: unknown[]) => void): Promise<void> {
    try {
      const answer = await fetch(url);
      if (answer.ok) take(await answer.json() as unknown[]);
    } catch { /* What isn't there isn't drawn, and its line in the key is missing. */ }
    this.key();
    this.map?.render();
  }

  private settle(readings: number[]): void {
    this.readings = readings;
    for (let i = 2; i < readings.length; i += 3) this.most = Math.max(this.most, Math.abs(readings[i]!));
  }

  private key(): void {
    const box = document.getElementById('map-key');
    if (!box) return;
    const { survey, view } = this.state, lines: string[] = [];
    for (const [i, b] of survey.bases.entries()) if (view.bases[i]) lines.push(`${b.kind === 'outlines' ? '⌇' : '▦'} ${b.name}: position as the file says`);
    if (this.readings.length && this.state.shown('magnetics')) lines.push(`Magnetic field against the running median of 30 m of line to either side: ▲ above, ▽ below, larger for more, the most ${this.most.toFixed(0)} nT; · less than ${this.noise.toFixed(this.noise < 10 ? 1 : 0)} nT`);
    if (survey.outcomes.length && this.state.shown('finds')) lines.push(`◯ searched, to the depth beside it. ${emptyHole}`);
    box.hidden = !lines.length && !survey.refused.length;
    box.replaceChildren(...[...lines, ...survey.refused].map((words, i) => { const line = document.createElement('span'); line.textContent = words; if (i >= lines.length) line.className = 'refused'; return line; }));
  }

  private drawOutlines(c: CanvasRenderingContext2D, shapes: Shapes, px: (at: readonly number[]) => [number, number], ink: Inks, opacity: number): void {
    c.save();
    c.globalAlpha = opacity;
    for (const [colour, width] of [[ink.paper, 3], [ink.soft, ink.bold]] as const) {
      c.beginPath();
      for (const shape of shapes) {
        if (shape.length === 2) { const [x, y] = px(shape); c.moveTo(x + 3, y); c.arc(x, y, 3, 0, 2 * Math.PI); continue; }
        for (let i = 0; i + 1 < shape.length; i += 2) { const [x, y] = px([shape[i]!, shape[i + 1]!]); if (i) c.lineTo(x, y); else c.moveTo(x, y); }
      }
      c.strokeStyle = colour;
      c.lineWidth = width;
      c.stroke();
    }
    c.restore();
  }

  private drawMagnetics(c: CanvasRenderingContext2D, px: (at: readonly number[]) => [number, number], ink: Inks, width: number, height: number): void {
    const corner = px([this.readings[0]!, this.readings[1]!]), beside = px([this.readings[0]! + 100, this.readings[1]!]), now = `${corner} ${beside} ${width} ${height}`;
    if (now !== this.marked) { this.marked = now; this.marks = this.choose(px, width, height); }
    for (const [x, y, r] of this.marks) {
      const size = Math.abs(r) < this.noise ? 0 : Math.min(11, 4 + 2 * Math.log2(Math.abs(r) / this.noise)), up = r > 0 ? -1 : 1;
      c.beginPath();
      if (size) { c.moveTo(x, y + up * size); c.lineTo(x - size * 0.87, y - up * size / 2); c.lineTo(x + size * 0.87, y - up * size / 2); c.closePath(); } else c.arc(x, y, 1.2, 0, 2 * Math.PI);
      c.strokeStyle = ink.paper;
      c.lineWidth = 3;
      c.stroke();
      c.fillStyle = !size ? ink.soft : r < 0 ? ink.paper : ink.text;
      c.fill();
      if (size) { c.strokeStyle = ink.text; c.lineWidth = 1.2 * ink.bold; c.stroke(); }
    }
  }

  // Of readings that would hide each other, the one that stands out most; above and below are kept apart.
  private choose(px: (at: readonly number[]) => [number, number], width: number, height: number): [number, number, number][] {
    const cells = new Map<string, [number, number, number]>();
    for (let i = 0; i + 2 < this.readings.length; i += 3) {
      const r = this.readings[i + 2]!, [x, y] = px([this.readings[i]!, this.readings[i + 1]!]);
      if (x < -20 || y < -20 || x > width + 20 || y > height + 20) continue;
      const stands = Math.abs(r) >= this.noise, cell = stands ? 18 : 7, name = `${stands ? Math.sign(r) : 0} ${Math.floor(x / cell)} ${Math.floor(y / cell)}`, held = cells.get(name);
      if (!held || Math.abs(held[2]) < Math.abs(r)) cells.set(name, [x, y, r]);
    }
    return [...cells.values()].sort((a, b) => Math.abs(a[2]) - Math.abs(b[2]));
  }
}

const dashes: Record<Outcome['kind'], number[]> = { object: [], nothing: [7, 5], natural: [2, 4] };

// The searched circle at true size; a stroke of its own for each outcome, and a cross in the middle where an object was.
function drawFind(c: CanvasRenderingContext2D, x: number, y: number, o: Outcome, metre: number, ink: Inks): void {
  const r = Math.max(o.radius * metre, 5);
  for (const [colour, width, dash] of [[ink.paper, 5, []], [ink.text, 1.8 * ink.bold, dashes[o.kind]]] as const) {
    c.beginPath();
    c.arc(x, y, r, 0, 2 * Math.PI);
    c.setLineDash([...dash]);
    c.strokeStyle = colour;
    c.lineWidth = width;
    c.stroke();
    c.setLineDash([]);
    if (o.kind !== 'object') continue;
    c.beginPath();
    c.moveTo(x - 4, y - 4); c.lineTo(x + 4, y + 4); c.moveTo(x - 4, y + 4); c.lineTo(x + 4, y - 4);
    c.stroke();
  }
}

/** The hole in a section, from the seabed down to the depth reached. */
export function drawHole(c: CanvasRenderingContext2D, o: Outcome, left: number, right: number, top: number, bottom: number, ink: Inks): void {
  for (const [colour, width, dash] of [[ink.paper, 5, []], [ink.text, 1.8 * ink.bold, dashes[o.kind]]] as const) {
    c.beginPath();
    c.moveTo(left, top); c.lineTo(left, bottom); c.lineTo(right, bottom); c.lineTo(right, top);
    c.setLineDash([...dash]);
    c.strokeStyle = colour;
    c.lineWidth = width;
    c.stroke();
    c.setLineDash([]);
  }
  drawWords(c, wordsOf(o), (left + right) / 2, bottom + 10, ink, false, 'center');
}
