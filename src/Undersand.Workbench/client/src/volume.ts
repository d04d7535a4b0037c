import { drawBox } from './boxlines';
import { fetchBlock, levelFor, type Block } from './bricks';
import { drawFlat } from './flat';
import { follow, Gaze, type Axis, type Hit, type Shown, type Vector } from './gaze';
import { keepPicture } from './keep';
import { drawMark, drawWords, fit, inks, onInks, WordPlaces, type Inks } from './marks';
import { RayPicture } from './raypicture';
import type { State, View } from './state';
import { labelOf, type Quantity } from './survey';
import { sized, units } from './units';

const looks: Record<string, string> = { slices: 'three slices', greatest: 'greatest value along the view', surface: 'surface of equal value', both: 'surface and slices' };
const sliders: [string, Axis][] = [['volume-e', 0], ['volume-n', 1], ['volume-z', 2]];
const noGraphics = 'This browser has no working WebGL 2: the three slices are shown flat instead. All else works.';

const byId = (id: string) => document.getElementById(id) as HTMLInputElement;

/** The volume: a box around the chosen target, looked at from any side. */
export class VolumeView {
  private readonly gl = document.createElement('canvas');
  private readonly flat = document.createElement('canvas');
  private readonly over = document.createElement('canvas');
  private readonly readout = document.getElementById('volume-readout')!;
  private rays: RayPicture | null = null;
  private ink: Inks = inks();
  private block: Block | null = null;
  private table = new Uint8ClampedArray(1024);
  private words = 'Fetching the box…';
  private hit: Hit | null = null;
  private asked = 0;
  private greatest = 0;
  private blank = 0;
  private fine = false;
  private wanted = false;
  private drawing = false;
  private moved = 0;
  private cost = 0;

  constructor(private readonly state: State, private readonly box: HTMLElement, private readonly choose: (id: string) => void) {
    for (const c of [this.gl, this.flat, this.over]) c.className = c === this.over ? 'over' : 'over picture';
    box.append(this.gl, this.flat, this.over);
    this.gl.addEventListener('webglcontextlost', e => { e.preventDefault(); this.rays = null; this.redraw(); });
    this.gl.addEventListener('webglcontextrestored', () => this.begin());
    new ResizeObserver(() => this.redraw()).observe(box);
    onInks(ink => { this.ink = ink; this.redraw(); });
    state.on(changed => this.follow(changed));
    state.onCursor(() => { if (!this.hit) this.redraw(false); });
    this.knobs();
    this.gestures();
    this.begin();
    void this.fetch();
  }

  private get quantity(): Quantity { return this.state.survey.sections.find(q => q.name === this.state.view.shows)!; }

  /** The surface's value: what was chosen, or the middle of the scale. */
  private get iso(): number { const q = this.quantity, { iso } = this.state.view; return iso !== null && iso > q.low && iso < q.high ? iso : (q.low + q.high) / 2; }

  private follow(changed: Set<keyof View>): void {
    if (changed.has('target') && this.state.chosen) {
      const { voxel, firstBurial, levels } = this.state.survey.volume, { burial } = this.state.chosen;
      this.state.set({ atE: 0, atN: 0, slice: Math.min(Math.max(Math.floor((burial - firstBurial) / voxel), 0), levels - 1) });
    }
    if (this.state.view.low !== 'volume') return;
    if (changed.has('target') || changed.has('box') || changed.has('shows') || changed.has('low')) void this.fetch();
    this.moved = performance.now();
    if (this.block) this.say();
    this.redraw();
  }

  private begin(): void {
    try {
      this.rays = new RayPicture(this.gl);
      this.rays.colour(this.table);
      if (this.block) this.rays.take(this.block);
    } catch { this.rays = null; }
    this.redraw();
  }

  // Coarse first, then fine; what was asked for meanwhile wins.
  private async fetch(): Promise<void> {
    const { survey, view } = this.state, [west, south, east, north] = survey.extent, turn = ++this.asked;
    const middle = this.state.chosen?.at ?? survey.targets[0]?.at ?? view.centre ?? [(west + east) / 2, (south + north) / 2], size = Number(view.box);
    const at: [number, number, number, number] = size ? [middle[0] - size / 2, middle[1] - size / 2, size, size] : [west, south, east - west, north - south];
    const finest = levelFor(survey, at[2], at[3]);
    this.box.dataset['drawn'] = '';
    this.fine = false;
    try {
      this.table = await colours(this.quantity, survey.version);
      this.rays?.colour(this.table);
      for (const level of [Math.min(finest + 1, 8), finest]) {
        const block = await fetchBlock(survey, view.shows, level, ...at);
        if (turn !== this.asked) return;
        this.block = block;
        this.fine = level === finest;
        this.greatest = block.entries.reduce((g, e) => Math.max(g, e), 0);
        this.blank = block.entries.reduce((n, e) => n + (e ? 0 : 1), 0) / block.entries.length;
        this.words = this.greatest ? '' : 'Nobody looked here: no line passed over this box.';
        this.rays?.take(block);
        this.redraw();
      }
    } catch (fault) {
      if (turn !== this.asked) return;
      this.words = `The box could not be fetched (${fault instanceof Error ? fault.message : String(fault)}). Choose it again once the program runs.`;
      this.redraw();
    }
  }

  private redraw(picture = true): void {
    if (picture) { this.wanted = true; this.box.dataset['drawn'] = ''; }
    requestAnimationFrame(() => { this.paint(); });
  }

  private size(): [number, number] { const r = this.box.getBoundingClientRect(); return [r.width, r.height]; }

  private gaze(width: number, height: number): Gaze {
    const { turn, tilt, tall, near } = this.state.view, block = this.block!;
    return new Gaze(block, turn, tilt, tall, Gaze.fits(block, tilt, tall, width - 90, height - 40) * near, width / 2, height / 2);
  }

  // In voxels: slices through voxels' middles, where they lie within the box, else through its own.
  private planes(): Vector {
    const { view, sliceBurial } = this.state, b = this.block!;
    const within = (place: number, start: number, count: number) => { const i = Math.floor((place - start) / b.voxel); return (i >= 0 && i < count ? i : count >> 1) + 0.5; };
    return [within(view.atE, b.west, b.counts[0]), within(view.atN, b.south, b.counts[1]), within(sliceBurial, b.top, b.counts[2])];
  }

  private shown(): Shown {
    const { as, cut } = this.state.view, q = this.quantity, planes = this.planes(), low: Vector = [0, 0, 0], high: Vector = [...this.block!.counts];
    const sides: Record<string, [Vector, Axis]> = { west: [low, 0], east: [high, 0], south: [low, 1], north: [high, 1], above: [low, 2], below: [high, 2] };
    const side = sides[cut];
    if (side) side[0][side[1]] = planes[side[1]];
    return { slices: as === 'slices' || as === 'both', greatest: as === 'greatest', surface: as === 'surface' || as === 'both', at: Math.max(1, Math.round(255 * (this.iso - q.low) / (q.high - q.low))), planes, low, high };
  }

  private paint(): void {
    const [width, height] = this.size();
    if (width < 2 || this.state.view.low !== 'volume') return;
    const o = fit(this.over, width, height), flat = !this.rays;
    this.gl.hidden = flat;
    this.flat.hidden = !flat;
    byId('volume-flat').textContent = flat ? noGraphics : '';
    if (!this.block || this.words) { drawWords(o, this.words, width / 2, height / 2, this.ink, false, 'center'); if (!this.block) return; }
    this.say();
    if (flat) {
      this.wanted = false;
      this.drawFlat(fit(this.flat, width, height), o, width, height);
      this.box.dataset['drawn'] = this.fine ? 'fine' : 'coarse';
      return;
    }
    this.drawOver(o, width, height);
    if (this.wanted && !this.drawing) void this.drawRays(width, height);
  }

  // While one moves the picture may be coarse, so that it follows; it sharpens when one stops.
  private async drawRays(width: number, height: number): Promise<void> {
    const sharp = 1 / (window.devicePixelRatio || 1), moving = performance.now() - this.moved < 200, area = width * height / sharp ** 2;
    const pixel = moving && this.cost * area > 50 ? Math.min(6, sharp * Math.sqrt(this.cost * area / 50)) : sharp;
    this.wanted = false;
    this.drawing = true;
    const took = await this.rays!.draw(width, height, pixel, this.gaze(width, height).rays(height), this.shown(), rgb(this.ink.rule));
    this.drawing = false;
    this.cost = took / (width * height / pixel ** 2);
    if (this.wanted) this.redraw();
    else if (pixel > sharp) setTimeout(() => this.redraw(), 220);
    else { this.box.dataset['drawn'] = this.fine ? 'fine' : 'coarse'; this.box.dataset['took'] = took.toFixed(0); }
  }

  private drawFlat(c: CanvasRenderingContext2D, o: CanvasRenderingContext2D, width: number, height: number): void {
    const b = this.block!, planes = this.planes(), [e, n, z] = this.place(planes);
    drawFlat(c, o, width, height, b, planes, this.state.view.tall, this.table, this.ink, [`from above, burial ${units.length.write(z, 2)}`, `W to E, N ${n.toFixed(2)} ↓`, `S to N, E ${e.toFixed(2)} ↓`]);
  }

  private place(v: Vector): Vector { const b = this.block!; return [b.west + v[0] * b.voxel, b.south + v[1] * b.voxel, b.top + v[2] * b.voxel]; }

  private drawOver(o: CanvasRenderingContext2D, width: number, height: number): void {
    const b = this.block!, g = this.gaze(width, height);
    drawBox(o, g, b, this.state.view.tilt, height, this.ink);
    this.drawTargets(o, g, width);
    this.drawCursor(o, g, b.top + b.counts[2] * b.voxel);
  }

  private drawTargets(o: CanvasRenderingContext2D, g: Gaze, width: number): void {
    const ink = this.ink, seen = this.marks(g), places = new WordPlaces(seen.map(m => [m.x, m.y - 30]), width);
    for (const { t, i, x, y } of seen) {
      const chosen = t.id === this.state.view.target, sd = Math.max(t.burialSd * g.scale * g.stretch * Math.cos(this.state.view.tilt * Math.PI / 180), 2);
      for (const [colour, w] of [[ink.paper, 4], [ink.target, (chosen ? 2.5 : 1.5) * ink.bold]] as const) {
        o.beginPath();
        o.moveTo(x, y - 23); o.lineTo(x, y - sd); o.moveTo(x - 6, y - sd); o.lineTo(x + 6, y - sd); o.moveTo(x - 6, y + sd); o.lineTo(x + 6, y + sd);
        o.strokeStyle = colour;
        o.lineWidth = w;
        o.stroke();
      }
      drawMark(o, x, y - 30, t, ink, chosen);
      places.put(o, labelOf(t, i), x, y - 30, ink, chosen ? 20 : 14);
    }
  }

  // Targets within the box, farthest first; their signs stand aside on a leader.
  private marks(g: Gaze) {
    const b = this.block!, [wide, long] = b.counts.map(c => c * b.voxel) as Vector;
    if (!this.state.shown('targets')) return [];
    return this.state.survey.targets.map((t, i) => ({ t, i })).filter(({ t }) => t.at[0] >= b.west && t.at[0] <= b.west + wide && t.at[1] >= b.south && t.at[1] <= b.south + long)
      .map(({ t, i }) => { const [x, y, far] = g.project(...t.at, t.burial); return { t, i, x, y, far }; }).sort((p, q) => q.far - p.far);
  }

  private drawCursor(o: CanvasRenderingContext2D, g: Gaze, foot: number): void {
    const { cursor } = this.state, b = this.block!;
    if (!cursor || cursor.e < b.west || cursor.n < b.south || cursor.e > b.west + b.counts[0] * b.voxel || cursor.n > b.south + b.counts[1] * b.voxel) return;
    const p = g.project(cursor.e, cursor.n, b.top), q = g.project(cursor.e, cursor.n, foot);
    o.strokeStyle = this.ink.cursor;
    o.lineWidth = 1.5 * this.ink.bold;
    o.setLineDash([4, 3]);
    o.beginPath(); o.moveTo(p[0], p[1]); o.lineTo(q[0], q[1]); o.stroke();
    o.setLineDash([]);
    if (cursor.burial === undefined || cursor.burial < b.top || cursor.burial > foot) return;
    const [x, y] = g.project(cursor.e, cursor.n, cursor.burial);
    o.beginPath(); o.arc(x, y, 4, 0, 2 * Math.PI); o.stroke();
  }

  private say(): void {
    this.turnKnobs();
    const b = this.block!, { view } = this.state, { blank } = this, q = this.quantity;
    const here = this.hit && this.place(this.hit.place), digits = q.high - q.low > 10 ? 1 : 2;
    const reaches = (e: number) => (q.low + e / 255 * (q.high - q.low)).toFixed(digits).replace('-', '−'), greatest = this.greatest;
    const value = here && `E ${here[0].toFixed(2)}  N ${here[1].toFixed(2)}  burial ${units.length.write(here[2], 2)}: ${this.hit!.entry ? `${q.title} ${reaches(this.hit!.entry)}` : 'not surveyed'} · `;
    const size = b.counts.map(c => units.length.of(c * b.voxel).toFixed(1)).join(' × ');
    const bare = greatest && this.shown().surface && greatest < this.shown().at ? `nothing in the box reaches ${this.iso.toFixed(digits)}, its greatest is ${reaches(greatest)} · ` : '';
    this.readout.textContent = `${value ?? ''}${bare}${size} ${units.length.name}, voxels of ${sized(b.voxel)}${this.fine ? '' : ', finer ones coming'}; heights ${view.tall > 1 ? `× ${view.tall}` : 'true'} · seabed drawn flat (dashed)${blank > 0.005 ? ` · ${(100 * blank).toFixed(0)} % not surveyed (slanting lines)` : ''}${q.name === 'probability' ? ' · not calibrated yet' : ''}`;
  }

  private knobs(): void {
    for (const [id, axis] of sliders) byId(id).addEventListener('input', () => this.move(axis, Number(byId(id).value)));
    byId('volume-iso').addEventListener('input', () => this.state.set({ iso: Number(byId('volume-iso').value) }));
    const turns: [string, number, number, number][] = [['left', 15, 0, 1], ['right', -15, 0, 1], ['steep', 0, 10, 1], ['level', 0, -10, 1], ['in', 0, 0, 1.3], ['out', 0, 0, 1 / 1.3]];
    for (const [name, turn, tilt, near] of turns) byId(`volume-${name}`).addEventListener('click', () => this.look(turn, tilt, near));
    byId('volume-save').addEventListener('click', () => void this.save());
  }

  // The knobs as they stand now.
  private turnKnobs(): void {
    const q = this.quantity, { as } = this.state.view, iso = byId('volume-iso');
    [iso.min, iso.max, iso.step] = [String(q.low + (q.high - q.low) / 100), String(q.high - (q.high - q.low) / 100), String((q.high - q.low) / 100)];
    iso.value = String(this.iso);
    byId('volume-iso-words').textContent = this.iso.toFixed(q.high - q.low > 10 ? 1 : 2).replace('-', '−');
    byId('volume-iso-pick').hidden = as !== 'surface' && as !== 'both';
    const planes = this.planes(), place = this.place(planes);
    for (const [id, axis] of sliders) {
      byId(id).max = String(this.block!.counts[axis] - 1);
      byId(id).value = String(planes[axis] - 0.5);
      byId(`${id}-words`).textContent = axis === 2 ? units.length.write(place[2], 2) : place[axis].toFixed(2);
    }
  }

  private move(axis: Axis, index: number): void {
    const b = this.block;
    if (!b) return;
    const place = this.place([index + 0.5, index + 0.5, index + 0.5].map((v, i) => Math.min(Math.max(v, 0.5), b.counts[i]! - 0.5)) as Vector), { volume } = this.state.survey;
    this.state.set(axis === 0 ? { atE: place[0] } : axis === 1 ? { atN: place[1] } : { slice: Math.min(Math.max(Math.floor((place[2] - volume.firstBurial) / volume.voxel), 0), volume.levels - 1) });
  }

  private look(turn: number, tilt: number, near = 1): void {
    const v = this.state.view;
    this.state.set({ turn: (v.turn + turn + 360) % 360, tilt: Math.min(Math.max(v.tilt + tilt, 0), 90), near: Math.min(Math.max(v.near * near, 0.5), 12) });
  }

  private gestures(): void {
    const { box } = this;
    let held: { x: number; y: number; turn: number; tilt: number; axis: Axis | null; plane: number; moved: boolean } | null = null;
    const at = (e: PointerEvent): [number, number, number] => { const r = box.getBoundingClientRect(); return [e.clientX - r.left, e.clientY - r.top, r.height]; };
    const cast = (e: PointerEvent) => {
      const [width, height] = this.size(), [x, y] = at(e);
      return this.block && this.rays ? follow(this.block, this.gaze(width, height).rays(height), x, height - y, this.shown()) : null;
    };
    box.addEventListener('pointerdown', e => {
      const [x, y] = at(e), hit = e.shiftKey ? cast(e) : null, axis = hit?.axis ?? null;
      held = { x, y, turn: this.state.view.turn, tilt: this.state.view.tilt, axis, plane: axis === null ? 0 : this.planes()[axis], moved: false };
      box.setPointerCapture(e.pointerId);
    });
    box.addEventListener('pointermove', e => {
      const [x, y, height] = at(e), v = this.state.view;
      if (held && (held.moved || Math.hypot(x - held.x, y - held.y) > 4)) {
        held.moved = true;
        if (held.axis === null) this.state.set({ turn: (held.turn + (x - held.x) * 0.4 + 720) % 360, tilt: Math.min(Math.max(held.tilt + (y - held.y) * 0.4, 0), 90) });
        else {
          // As far as the slice's own direction runs on the picture.
          const b = this.block!, g = this.gaze(this.size()[0], height), p = g.project(b.west, b.south, b.top), step: Vector = [0, 0, 0];
          step[held.axis] = b.voxel;
          const q = g.project(b.west + step[0], b.south + step[1], b.top + step[2]), dx = q[0] - p[0], dy = q[1] - p[1];
          this.move(held.axis, Math.round(held.plane - 0.5 + ((x - held.x) * dx + (y - held.y) * dy) / Math.max(dx * dx + dy * dy, 0.05)));
        }
        return;
      }
      this.hit = cast(e);
      const place = this.hit && this.place(this.hit.place);
      this.state.point(place ? { e: place[0], n: place[1], burial: place[2] } : null);
      if (v.low === 'volume') this.redraw(false);
    });
    box.addEventListener('pointerup', e => {
      if (held && !held.moved && this.block && this.rays) {
        const [x, y] = at(e), near = this.marks(this.gaze(...this.size())).map(m => ({ m, d: Math.hypot(m.x - x, m.y - 30 - y) })).sort((p, q) => p.d - q.d)[0];
        if (near && near.d < 18) this.choose(near.m.t.id);
      }
      held = null;
    });
    box.addEventListener('pointerleave', () => { if (held) return; this.hit = null; this.state.point(null); this.redraw(false); });
    box.addEventListener('wheel', e => { e.preventDefault(); this.look(0, 0, Math.exp(-e.deltaY / 400)); }, { passive: false });
    box.addEventListener('keydown', e => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      const planes = this.block ? this.planes().map(p => p - 0.5) : [0, 0, 0], shifted = e.shiftKey;
      const acts: Record<string, () => void> = {
        ArrowLeft: () => shifted ? this.move(0, planes[0]! - 1) : this.look(5, 0), ArrowRight: () => shifted ? this.move(0, planes[0]! + 1) : this.look(-5, 0),
        ArrowUp: () => shifted ? this.move(1, planes[1]! + 1) : this.look(0, 5), ArrowDown: () => shifted ? this.move(1, planes[1]! - 1) : this.look(0, -5),
        PageUp: () => this.move(2, planes[2]! - 1), PageDown: () => this.move(2, planes[2]! + 1),
        '+': () => this.look(0, 0, 1.2), '=': () => this.look(0, 0, 1.2), '-': () => this.look(0, 0, 1 / 1.2), Home: () => this.state.set({ turn: 30, tilt: 30, near: 1 }),
      };
      const act = acts[e.key];
      if (!act) return;
      act();
      e.preventDefault();
      e.stopPropagation();
    });
  }

  /** What makes the picture again, line by line. */
  private recipe(): string[] {
    const { survey, view } = this.state, b = this.block!, q = this.quantity, [e, n, z] = this.place(this.planes()), f = (x: number) => x.toFixed(2), deep = b.counts[2] * b.voxel;
    const shows = [!this.rays || view.as === 'slices' || view.as === 'both' || view.cut ? `slices at E ${f(e)}, N ${f(n)}, burial ${f(z)} m` : '', this.rays && (view.as === 'surface' || view.as === 'both') ? `surface at ${f(this.iso)}` : '', view.cut ? `cut away: ${view.cut}` : ''];
    return [
      `Survey: ${survey.name} · newest ping: ${survey.newest ?? 'not known'} · version: ${survey.version}`,
      `Box: E ${f(b.west)} to ${f(b.west + b.counts[0] * b.voxel)}, N ${f(b.south)} to ${f(b.south + b.counts[1] * b.voxel)} (${survey.crs}), burial ${f(b.top)} to ${f(b.top + deep)} m below the seabed, which is drawn flat · voxels of ${+b.voxel.toFixed(4)} m, the greatest kept`,
      `Shows: ${q.title} · colours from ${q.low} to ${q.high} · slanting lines: not surveyed · ${q.name === 'probability' ? 'probability not calibrated' : 'probabilities beside targets not calibrated'}`,
      `View: ${[this.rays ? looks[view.as] : 'three slices, flat', ...shows].filter(w => w).join(', ')} · turned ${+view.turn.toFixed(1)}°, tilted ${+view.tilt.toFixed(1)}°, parallel rays · heights × ${view.tall} · lengths on the picture in ${units.length.name} · theme: ${document.documentElement.dataset['theme'] ?? 'light'}`,
      `Link: ${this.state.link()}`,
      'This picture names positions of finds: hand it on with care.',
    ];
  }

  private async save(): Promise<void> {
    const [width, height] = this.size();
    if (!this.block) return;
    const ratio = Math.max(2, window.devicePixelRatio || 1), picture = document.createElement('canvas'), over = document.createElement('canvas');
    [picture.width, picture.height] = [over.width, over.height] = [width * ratio, height * ratio];
    const o = over.getContext('2d')!, p = picture.getContext('2d')!;
    o.scale(ratio, ratio);
    if (this.rays) {
      // Drawn and taken in one go: what the card drew doesn't outlast it.
      void this.rays.draw(width, height, 1 / ratio, this.gaze(width, height).rays(height), this.shown(), rgb(this.ink.rule));
      p.drawImage(this.gl, 0, 0, picture.width, picture.height);
      this.drawOver(o, width, height);
    } else {
      p.scale(ratio, ratio);
      this.drawFlat(p, o, width, height);
    }
    const name = `${this.state.survey.name} ${this.quantity.name} ${this.state.view.target || 'volume'}`;
    await keepPicture({ width, height, ratio, picture, over, quantity: this.quantity, table: this.table, recipe: this.recipe(), name }, this.ink);
    this.redraw();
  }
}

// The quantity's colours as its legend shows them.
async function colours(q: Quantity, version: string): Promise<Uint8ClampedArray<ArrayBuffer>> {
  const image = new Image(), canvas = document.createElement('canvas');
  image.src = `/legend/${q.name}.png?v=${encodeURIComponent(version)}`;
  await image.decode();
  [canvas.width, canvas.height] = [1, 256];
  const c = canvas.getContext('2d', { willReadFrequently: true })!;
  c.drawImage(image, 0, 0);
  const column = c.getImageData(0, 0, 1, 256).data, table = new Uint8ClampedArray(1024);
  for (let i = 0; i < 256; i++) { const row = q.downwards ? i : 255 - i; table.set(column.subarray(4 * row, 4 * row + 4), 4 * i); }
  return table;
}

function rgb(colour: string): [number, number, number] {
  const c = document.createElement('canvas').getContext('2d')!;
  c.fillStyle = colour;
  return [1, 3, 5].map(i => parseInt(c.fillStyle.toString().slice(i, i + 2), 16) / 255) as [number, number, number];
}
