import { columns, drawScales, levelOf, Pictures } from './diagram';
import { drawHole, emptyHole } from './ground';
import { drawMark, drawWords, fit, inks, onInks, WordPlaces, type Inks } from './marks';
import type { State } from './state';
import { labelOf, nameOf, type Target } from './survey';
import { scaleOf, units } from './units';
import { compass, type Way } from './way';

const left = 52, foot = 30, head = 40, right = 34;

// Lets nothing be drawn beyond a box until the canvas is restored.
function clip(c: CanvasRenderingContext2D, x: number, y: number, width: number, height: number): void {
  c.save();
  c.beginPath();
  c.rect(x, y, width, height);
  c.clip();
}

/** The section: pictures from the server placed in metres along the way and metres downwards, and the targets within reach. */
export class Section {
  private readonly over = document.createElement('canvas');
  private readonly tiles = new Pictures(() => this.redraw(), 200);
  private readonly readout = document.getElementById('cut-readout')!;
  private ink: Inks = inks();
  private way: Way | null;
  private wanted = false;
  private pictures = false;
  private pointed = '';
  /** Takes a place clicked here where the plan is drawing; false where it isn't. */
  placing: (at: [number, number]) => boolean = () => false;

  constructor(private readonly state: State, private readonly canvas: HTMLCanvasElement, private readonly choose: (id: string) => void) {
    this.way = state.way;
    this.over.className = 'over';
    this.over.setAttribute('aria-hidden', 'true');
    canvas.after(this.over);
    new ResizeObserver(() => this.redraw()).observe(canvas);
    state.on(changed => {
      if (changed.has('line') || changed.has('path')) this.way = state.way;
      this.redraw();
    });
    state.onCursor(() => this.redraw(false));
    onInks(ink => { this.ink = ink; this.redraw(); });
    this.listen();
    this.redraw();
  }

  /** Metres along the way that are seen. */
  get range(): [number, number] {
    const { from, to } = this.state.view;
    return to > from ? [from, to] : [0, this.way?.length ?? 1];
  }

  /** Zooms about a place on the canvas, which stays where it is. */
  zoom(by: number, at?: [number, number]): void {
    const f = this.frame(), [x, y] = at ?? [left + f.width / 2, head + f.height / 2], s = f.s(x), d = f.d(y);
    this.look(s - (s - f.a) / by, s + (f.b - s) / by);
    this.sink(d - (y - head) / this.frame().down);
  }

  pan(share: number): void { const [a, b] = this.range, d = (b - a) * share; this.look(a + d, b + d); }

  all(): void { this.state.set({ from: 0, to: 0, sunk: 0 }); }

  /** Shows a target; on the line nearest to it where the way here passes beyond its reach. */
  goTo(t: Target): void {
    if (!this.sees(this.way?.nearest(...t.at))) this.state.set({ line: this.state.lineNearest(t), path: [], from: 0, to: 0 });
    const place = this.way?.nearest(...t.at);
    if (!place) return;
    const half = Math.min((this.range[1] - this.range[0]) / 2, 4);
    this.look(place.along - half, place.along + half);
    const f = this.frame();
    this.sink(this.level(t) - f.height / f.down / 2);
  }

  /** Draws before the next frame; only what lies above the pictures, if nothing else has changed. */
  redraw(pictures = true): void {
    this.pictures ||= pictures;
    if (this.wanted) return;
    this.wanted = true;
    requestAnimationFrame(() => { this.wanted = false; if (this.pictures) this.drawPictures(); this.pictures = false; this.drawOver(); });
  }

  private look(a: number, b: number): void {
    const length = this.way?.length ?? 1, span = Math.min(Math.max(b - a, 0.5), length), from = Math.min(Math.max(a, 0), length - span);
    this.state.set(span >= length * 0.999 ? { from: 0, to: 0 } : { from, to: from + span });
  }

  // Lays a level at the head of the panel, as far as the ground reaches beyond it.
  private sink(level: number): void { const f = this.frame(); this.state.set({ sunk: Math.min(Math.max(level - f.first, 0), f.beyond) }); }

  // Where metres lie on the canvas, from the ground's first level and the level at the head of the panel on; how many metres don't fit into it.
  private frame() {
    const box = this.canvas.getBoundingClientRect(), { volume } = this.state.survey, deep = this.state.view.datum === 'depth';
    const width = Math.max(box.width - left - right, 10), height = Math.max(box.height - foot - head, 10), [a, b] = this.range;
    const across = width / (b - a), first = deep ? volume.firstDepth : volume.firstBurial, rows = deep ? volume.depthLevels : volume.levels, tall = rows * volume.voxel;
    const down = this.state.view.stretch > 0 ? Math.min(across * this.state.view.stretch, 8 * height / tall) : height / tall;
    const unseen = tall - height / down, beyond = unseen > 1e-6 ? unseen : 0, top = first + Math.min(this.state.view.sunk, beyond);
    return { box, width, height, a, b, across, down, first, top, tall, beyond, x: (s: number) => left + (s - a) * across, y: (d: number) => head + (d - top) * down, s: (x: number) => a + (x - left) / across, d: (y: number) => top + (y - head) / down };
  }

  private drawPictures(): void {
    const f = this.frame(), c = fit(this.canvas, f.box.width, f.box.height), way = this.way;
    if (!way) return;
    clip(c, left, head, f.width, f.height);
    this.hatch(c, f);
    const { voxel } = this.state.survey.volume;
    const level = levelOf(f.across * voxel), wide = columns * voxel * 2 ** level;
    c.imageSmoothingEnabled = false;
    for (let i = Math.max(0, Math.floor(f.a / wide)); i * wide < Math.min(f.b, way.length); i++) {
      const image = this.tile(level, i);
      if (image) {
        c.clearRect(f.x(i * wide), f.y(f.first), wide * f.across, f.tall * f.down);
        this.hatch(c, f, f.x(i * wide), wide * f.across);
        c.drawImage(image, f.x(i * wide), f.y(f.first), wide * f.across, f.tall * f.down);
      }
    }
    c.restore();
  }

  private drawOver(): void {
    const f = this.frame(), o = fit(this.over, f.box.width, f.box.height), way = this.way, ink = this.ink;
    if (!way) { drawWords(o, 'Choose a line, or cut one of your own on the map.', f.box.width / 2, f.box.height / 2, ink, false, 'center'); return; }
    this.axes(o, f);
    this.ends(o, f, way);
    if (this.state.view.ground.startsWith('slice.') && this.state.view.datum === 'burial') {
      const y = f.y(this.state.sliceBurial);
      clip(o, left, head, f.width, f.height);
      o.beginPath(); o.moveTo(left, y); o.lineTo(left + f.width, y);
      o.setLineDash([10, 4]); o.strokeStyle = ink.cursor; o.lineWidth = 1.5 * ink.bold; o.stroke(); o.setLineDash([]);
      drawWords(o, 'slice', left + f.width - 4, y - 9, ink, false, 'right');
      o.restore();
    }
    if (this.state.shown('finds')) this.holes(o, f, way);
    this.targets(o, f, way);
    const cursor = this.state.cursor;
    if (cursor) {
      const at = way.nearest(cursor.e, cursor.n), x = f.x(at.along);
      if (x >= left && x <= left + f.width) {
        o.beginPath();
        o.moveTo(x, head); o.lineTo(x, head + f.height);
        o.setLineDash(this.sees(at) ? [] : [2, 5]);
        o.strokeStyle = ink.cursor;
        o.lineWidth = 1.5 * ink.bold;
        o.stroke();
        o.setLineDash([]);
      }
    }
  }

  // Not surveyed: slanting lines, as on the map. The server's pictures cover them where sound went.
  private hatch(c: CanvasRenderingContext2D, f: ReturnType<Section['frame']>, x0 = left, width = f.width): void {
    clip(c, x0, head, width, f.height);
    c.strokeStyle = this.ink.rule;
    c.lineWidth = 1;
    c.beginPath();
    const first = left + Math.floor((x0 - left - f.height) / 12) * 12;
    for (let x = first; x < x0 + width; x += 12) { c.moveTo(x, head + f.height); c.lineTo(x + f.height, head); }
    c.stroke();
    c.restore();
  }

  private tile(level: number, i: number): HTMLImageElement | null {
    const { view, survey } = this.state;
    const way = view.line ? `line=${encodeURIComponent(view.line)}` : `path=${view.path.map(x => x.toFixed(3)).join(',')}`;
    return this.tiles.get(`/section/${view.shows}/${level}/${i}.png?${way}&datum=${view.datum}&v=${encodeURIComponent(survey.version)}`);
  }

  private axes(o: CanvasRenderingContext2D, f: ReturnType<Section['frame']>): void {
    const { datum } = this.state.view, deep = datum === 'depth', unit = deep ? units.depth : units.length;
    drawScales(o, [left, head, f.width, f.height],
      scaleOf(`${units.length.name} along`, units.length, f.a, f.b, f.width / 90, f.x),
      scaleOf(`${datum}, ${unit.name} ↓`, unit, f.top, f.top + f.height / f.down, f.height / 36, f.y, 1), this.ink);
    if (!deep && f.y(0) >= head) { o.beginPath(); o.moveTo(left, Math.round(f.y(0)) + 0.5); o.lineTo(left + f.width, Math.round(f.y(0)) + 0.5); o.setLineDash([6, 3]); o.strokeStyle = this.ink.track; o.stroke(); o.setLineDash([]); }
  }

  // Which way it runs: the compass point at either end.
  private ends(o: CanvasRenderingContext2D, f: ReturnType<Section['frame']>, way: Way): void {
    const towards = compass(way.at(f.a), way.at(f.b)), from = compass(way.at(f.b), way.at(f.a));
    drawWords(o, from, left - 14, 20, this.ink, true, 'right');
    drawWords(o, towards, left + f.width + 14, 20, this.ink, true);
  }

  private within(way: Way): { t: Target; i: number; along: number; beside: number }[] {
    return this.state.survey.targets.map((t, i) => ({ t, i, ...way.nearest(...t.at) })).filter(t => this.sees(t));
  }

  private sees(place?: { beside: number }): boolean { return !!place && place.beside <= this.state.view.reach; }

  // Where someone looked, down to the depth reached and no further.
  private holes(o: CanvasRenderingContext2D, f: ReturnType<Section['frame']>, way: Way): void {
    clip(o, left, head, f.width, f.height);
    for (const { hole, along, beside } of this.dug(way)) {
      const half = Math.sqrt(Math.max(hole.radius ** 2 - beside ** 2, (0.2 * hole.radius) ** 2)), bed = this.state.view.datum === 'depth' ? hole.seabed[0] : 0;
      if (bed !== null) drawHole(o, hole, f.x(along - half), f.x(along + half), f.y(bed), f.y(bed + hole.reached), this.ink);
    }
    o.restore();
  }

  private dug(way: Way) { return this.state.survey.outcomes.map(hole => ({ hole, ...way.nearest(...hole.at) })).filter(h => h.beside <= Math.max(this.state.view.reach, h.hole.radius)); }

  private level(t: Target): number { return this.state.view.datum === 'depth' ? t.depth : t.burial; }

  private targets(o: CanvasRenderingContext2D, f: ReturnType<Section['frame']>, way: Way): void {
    const found = this.within(way), ink = this.ink;
    const seen = found.filter(t => t.along >= f.a && t.along <= f.b).map(t => ({ ...t, chosen: t.t.id === this.state.view.target }));
    // What lies above the panel is hinted at by its flag alone.
    const ceiling = f.top > f.first ? head : 0;
    clip(o, left - 12, ceiling, f.width + 24, head + f.height - ceiling);
    for (const { t, along, chosen } of seen) {
      const x = f.x(along), y = f.y(this.level(t)), sd = Math.max(t.burialSd * f.down, 2);
      for (const [colour, w] of [[ink.paper, 4], [ink.target, (chosen ? 2.5 : 1.5) * ink.bold]] as const) {
        o.beginPath();
        o.moveTo(x, 27); o.lineTo(x, Math.max(y - sd, 27));
        if (t.size) { const tall = t.size[2] * f.down / 2; o.moveTo(x + Math.max(t.size[0] / 2 * f.across, 1), y + tall); o.ellipse(x, y + tall, Math.max(t.size[0] / 2 * f.across, 1), Math.max(tall, 1), 0, 0, 2 * Math.PI); }
        o.moveTo(x - 6, y - sd); o.lineTo(x + 6, y - sd); o.moveTo(x - 6, y + sd); o.lineTo(x + 6, y + sd);
        o.strokeStyle = colour;
        o.lineWidth = w;
        o.stroke();
      }
    }
    o.restore();
    clip(o, left - 12, 0, f.width + 24, head);
    const places = new WordPlaces(seen.map(({ along }) => [f.x(along), 20]), f.box.width);
    for (const { t, i, along, chosen } of seen) {
      drawMark(o, f.x(along), 20, t, ink, chosen);
      places.put(o, labelOf(t, i), f.x(along), 20, ink, chosen ? 20 : 14);
    }
    o.restore();
    const exaggeration = f.down / f.across, { chosen } = this.state, missing = chosen && !found.some(({ t }) => t === chosen) ? ` · target ${nameOf(chosen, this.state.survey.targets.indexOf(chosen))} is not in this section` : '';
    this.readout.textContent = `${this.pointed}${units.length.write(way.length, 1)} long · heights × ${exaggeration.toFixed(exaggeration < 10 ? 1 : 0)}${this.part(f)} · ${found.length === 0 ? 'no target' : found.length === 1 ? '1 target' : `${found.length} targets`} within ${units.length.given(this.state.view.reach)}, projected onto it${missing}${this.state.shown('finds') && this.dug(way).length ? ` · ${emptyHole}` : ''}`;
  }

  // Which part of the ground is seen, where it is taller than the panel.
  private part(f: ReturnType<Section['frame']>): string {
    const { datum } = this.state.view, unit = datum === 'depth' ? units.depth : units.length;
    return f.beyond ? ` · ${datum} ${unit.write(f.top, 2)} to ${unit.write(f.top + f.tall - f.beyond, 2)} seen, drag or ↑ ↓ for the rest` : '';
  }

  private listen(): void {
    const el = this.canvas;
    let held: { x: number; y: number; a: number; b: number; top: number; moved: boolean } | null = null;
    el.addEventListener('pointerdown', e => { const { a, b, top } = this.frame(); held = { x: e.clientX, y: e.clientY, a, b, top, moved: false }; el.setPointerCapture(e.pointerId); });
    el.addEventListener('pointermove', e => {
      const f = this.frame(), way = this.way;
      if (!way) return;
      const s = f.s(e.clientX - f.box.left);
      if (held && (held.moved ||= Math.hypot(e.clientX - held.x, e.clientY - held.y) > 4)) {
        const d = (held.x - e.clientX) / f.across;
        this.look(held.a + d, held.b + d);
        this.sink(held.top + (held.y - e.clientY) / f.down);
        return;
      }
      if (s < 0 || s > way.length) { this.pointed = ''; this.redraw(); return; }
      const [east, north] = way.at(s), level = f.d(e.clientY - f.box.top), { datum } = this.state.view;
      this.pointed = `${units.length.write(s, 2)} along, ${datum} ${(datum === 'depth' ? units.depth : units.length).write(level, 2)} · `;
      this.state.point({ e: east, n: north, ...datum === 'burial' ? { burial: level } : {} });
    });
    el.addEventListener('pointerup', e => {
      if (held && !held.moved && this.way) {
        const f = this.frame(), x = e.clientX - f.box.left, y = e.clientY - f.box.top;
        if (this.placing(this.way.at(Math.min(Math.max(f.s(x), 0), this.way.length)))) { held = null; return; }
        const hit = this.within(this.way).map(t => ({ ...t, d: Math.min(Math.hypot(f.x(t.along) - x, f.y(this.level(t.t)) - y), Math.hypot(f.x(t.along) - x, 20 - y)) })).sort((p, q) => p.d - q.d)[0];
        if (hit && hit.d < 18) this.choose(hit.t.id);
      }
      held = null;
    });
    el.addEventListener('pointerleave', e => { if (held || e.pointerType === 'touch') return; this.pointed = ''; this.state.point(null); });
    el.addEventListener('wheel', e => { e.preventDefault(); const { box } = this.frame(); this.zoom(Math.exp(-e.deltaY / 400), [e.clientX - box.left, e.clientY - box.top]); }, { passive: false });
    el.addEventListener('keydown', e => {
      const { top, tall, beyond } = this.frame();
      if (beyond && (e.key === 'ArrowUp' || e.key === 'ArrowDown')) this.sink(top + (e.key === 'ArrowUp' ? -0.1 : 0.1) * (tall - beyond));
      else if (e.key === 'ArrowLeft' || e.key === 'ArrowRight') this.pan(e.key === 'ArrowLeft' ? -0.1 : 0.1);
      else if (e.key === '+' || e.key === '=') this.zoom(1.5);
      else if (e.key === '-') this.zoom(1 / 1.5);
      else return;
      e.preventDefault();
      e.stopPropagation();
    });
  }
}
