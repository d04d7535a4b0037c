import OlMap from 'ol/Map';
import View from 'ol/View';
import TileLayer from 'ol/layer/Tile';
import XYZ from 'ol/source/XYZ';
import TileGrid from 'ol/tilegrid/TileGrid';
import Projection from 'ol/proj/Projection';
import { defaults as interactions } from 'ol/interaction/defaults';
import proj4 from 'proj4';
import 'ol/ol.css';
import { graticule } from './graticule';
import { Ground } from './ground';
import { decimals, drawCross, drawEllipse, drawMark, drawWords, fit, inks, onInks, roundStep, WordPlaces, type Inks } from './marks';
import type { State } from './state';
import { labelOf, nameOf, type Target } from './survey';
import { roundLength, sized, units } from './units';

const near = 16, closeUp = 70;

type Mode = 'look' | 'measure' | 'cut' | 'outline' | 'split';

const begin = {
  measure: 'Click, or press Enter at the cross, where the measure begins.', cut: 'Click, or press Enter at the cross, where the section begins.',
  outline: 'Click, or press Enter at the cross, at each corner in order; Backspace takes one back, f ends, Esc gives up.',
  split: 'Click, or press Enter at the cross, at each part, here or in the section; Backspace takes one back, f ends, Esc gives up.',
};

/** The plan: pictures of the ground from the server, and everything sharp drawn above them. */
export class Plan {
  readonly map: OlMap;
  mode: Mode = 'look';
  /** An outline or the parts of a target, drawn to the end. */
  onDrawn: (kind: 'outline' | 'split', points: [number, number][]) => void = () => {};
  onMode: () => void = () => {};
  private readonly canvas = document.createElement('canvas');
  private readonly ground: TileLayer<XYZ>;
  private readonly texture: TileLayer<XYZ>;
  private readonly toGeo: (at: [number, number]) => [number, number];
  readonly fromGeo: (at: [number, number]) => [number, number];
  private readonly under: Ground;
  private snapped = '';
  private points: [number, number][] = [];
  private ink: Inks = inks();
  private asking = 0;
  private readout = document.getElementById('readout')!;

  constructor(private readonly state: State, private readonly box: HTMLElement, private readonly choose: (id: string) => void) {
    const { survey, view } = state, [west, south, east, north] = survey.extent;
    const projection = new Projection({ code: survey.code, units: 'm', axisOrientation: 'enu', global: false });
    const convert = proj4(survey.proj);
    this.toGeo = at => convert.inverse(at) as [number, number];
    this.fromGeo = at => convert.forward(at) as [number, number];
    const grid = new TileGrid({ origin: survey.origin, resolutions: survey.resolutions, tileSize: 256 });
    const folder = (name: string) => name.startsWith('slice.') ? `/slice/${name.slice(6)}/${view.slice}` : `/map/${name}`;
    const source = (name: string) => new XYZ({ projection, tileGrid: grid, url: `${folder(name)}/{z}/{x}/{y}.png?v=${encodeURIComponent(survey.version)}`, interpolate: false, transition: 0, wrapX: false });
    this.under = new Ground(state, projection, grid);
    this.ground = new TileLayer({ source: source(view.ground === 'none' ? 'seabed' : view.ground), visible: view.ground !== 'none' });
    // Edged over a chart, and at night, when a single stroke is too dim on paper or on light ground.
    const texture = () => source(this.under.layers.some(Boolean) || document.documentElement.dataset['theme'] === 'night' ? 'ground.over' : 'ground');
    this.texture = new TileLayer({ source: texture(), visible: state.shown('texture'), opacity: 0.75 });
    this.map = new OlMap({
      target: box, controls: [], keyboardEventTarget: box, pixelRatio: 1,
      interactions: interactions({ altShiftDragRotate: false, pinchRotate: false, doubleClickZoom: false }),
      layers: [...this.under.layers.filter(l => l !== null), this.ground, this.texture],
      view: new View({ projection, center: view.centre ?? [(west + east) / 2, (south + north) / 2], resolution: view.metresPerPixel || survey.resolutions[0]!, maxResolution: survey.resolutions[0]! * 4, minResolution: survey.resolutions[survey.resolutions.length - 1]! / 4, enableRotation: false, smoothResolutionConstraint: false }),
    });
    this.under.map = this.map;
    this.canvas.className = 'over';
    this.canvas.setAttribute('aria-hidden', 'true');
    box.append(this.canvas);
    if (!view.centre) this.all();
    if (state.amiss.length) this.readout.textContent = state.amiss.join(' ');
    this.map.on('postrender', () => this.draw());
    this.map.on('moveend', () => {
      const v = this.map.getView(), centre = v.getCenter();
      if (centre) state.set({ centre: [centre[0]!, centre[1]!], metresPerPixel: v.getResolution()! });
    });
    this.map.on('pointermove', e => { if (!e.dragging) this.hover(e.coordinate as [number, number], e.pixel as [number, number]); });
    this.map.on('click', e => this.click(e.coordinate as [number, number], e.pixel as [number, number]));
    // A finger leaves when it lifts; what it tapped stays told.
    box.addEventListener('pointerleave', e => { if (e.pointerType !== 'touch') state.point(null); });
    box.addEventListener('keydown', e => {
      if (e.key === 'Enter' && this.mode !== 'look') { this.place(this.map.getView().getCenter() as [number, number]); e.preventDefault(); }
      if (e.key === 'Escape') this.setMode('look');
      if (e.key === 'Backspace' && this.points.length) { this.points.pop(); this.map.render(); e.preventDefault(); }
    });
    // The cursor moves often: only the drawing above the pictures is made anew.
    let wanted = false;
    state.onCursor(() => {
      this.tell();
      if (wanted) return;
      wanted = true;
      requestAnimationFrame(() => { wanted = false; this.draw(); });
    });
    state.on(changed => {
      if (changed.has('ground') || (changed.has('slice') && view.ground.startsWith('slice.'))) { this.ground.setVisible(state.view.ground !== 'none'); if (state.view.ground !== 'none') this.ground.setSource(source(state.view.ground)); }
      if (changed.has('hidden')) this.texture.setVisible(state.shown('texture'));
      this.map.render();
    });
    onInks(ink => { this.ink = ink; this.texture.setSource(texture()); this.map.render(); });
  }

  all(): void {
    const [w, s, e, n] = this.state.survey.extent;
    this.map.getView().fit([w, s, e, n], { padding: [28, 28, 40, 28], size: this.map.getSize() ?? [this.box.clientWidth || 800, this.box.clientHeight || 500] });
  }

  zoom(by: number): void {
    const v = this.map.getView();
    v.animate({ resolution: v.getConstrainedResolution(v.getResolution()! / by)!, duration: 120 });
  }

  goTo(at: [number, number]): void {
    const v = this.map.getView();
    v.animate({ center: at, resolution: Math.min(v.getResolution()!, 0.013), duration: 250 });
  }

  setMode(mode: Mode): void {
    this.mode = this.mode === mode ? 'look' : mode;
    this.points = [];
    this.onMode();
    const needsTarget = this.mode === 'outline' || this.mode === 'split';
    if (needsTarget && !this.state.chosen) { this.mode = 'look'; this.readout.textContent = 'Choose a target first.'; }
    else if (this.mode !== 'look') { this.readout.textContent = begin[this.mode]; this.box.focus(); }
    this.map.render();
  }

  /** Ends an outline or a split that is being drawn. */
  finish(): void {
    if (this.mode !== 'outline' && this.mode !== 'split') return;
    const kind = this.mode, points = this.points, least = kind === 'outline' ? 3 : 2;
    if (points.length < least) { this.readout.textContent = `${points.length} of at least ${least} places. ${begin[kind]}`; return; }
    this.setMode('look');
    this.onDrawn(kind, points);
  }

  private targetAt(pixel: [number, number]): Target | undefined {
    const found = this.state.survey.targets.map(t => ({ t, d: this.distance(t.at, pixel) })).filter(x => x.d < near).sort((a, b) => a.d - b.d);
    return this.state.shown('targets') ? found[0]?.t : undefined;
  }

  private distance(at: [number, number], pixel: [number, number]): number {
    const p = this.map.getPixelFromCoordinate(at), aside = 1 / this.map.getView().getResolution()! > closeUp ? 26 : 0;
    return p ? Math.min(Math.hypot(p[0]! - pixel[0], p[1]! - pixel[1]), Math.hypot(p[0]! - aside - pixel[0], p[1]! - aside - pixel[1])) : Infinity;
  }

  private click(at: [number, number], pixel: [number, number]): void {
    if (this.mode !== 'look') return this.place(at);
    const target = this.targetAt(pixel);
    if (target) this.choose(target.id); else this.hover(at, pixel);
  }

  // A point near a target is meant to be the target; else near a find, else near a ping of a line.
  private snap(at: [number, number]): { at: [number, number]; words: string } {
    const pixel = this.map.getPixelFromCoordinate(at) as [number, number], { survey } = this.state, target = this.targetAt(pixel);
    if (target) return { at: target.at, words: `target ${nameOf(target, survey.targets.indexOf(target))}` };
    let best = { at, words: '' }, least = near;
    const offer = (to: [number, number], words: string, within: number) => {
      const p = this.map.getPixelFromCoordinate(to)!, d = Math.hypot(p[0]! - pixel[0], p[1]! - pixel[1]);
      if (d < Math.min(least, within)) { least = d; best = { at: to, words }; }
    };
    for (const find of this.under.snaps()) offer(find.at, find.words, near);
    if (!best.words && this.state.shown('lines')) for (const line of survey.lines) for (let i = 0; i + 1 < line.path.length; i += 2) offer([line.path[i]!, line.path[i + 1]!], line.name, near / 2);
    return best;
  }

  /** Takes a place for what is being drawn; measuring and cutting, it snaps. */
  place(at: [number, number]): void {
    if (this.mode === 'outline' || this.mode === 'split') { this.points.push(at); this.say(at); this.map.render(); return; }
    const { at: snapped, words } = this.snap(at);
    this.snapped = words;
    this.points.push(snapped);
    if (this.points.length === 2 && this.mode === 'cut') {
      const path = this.points.flat();
      this.setMode('look');
      this.state.set({ path, line: '', from: 0, to: 0 });
    } else if (this.points.length > 2) this.points = [snapped];
    this.say(snapped);
    this.map.render();
  }

  private hover(at: [number, number], pixel: [number, number]): void {
    this.box.style.cursor = this.mode !== 'look' ? 'crosshair' : this.targetAt(pixel) ? 'pointer' : 'default';
    this.state.point({ e: at[0], n: at[1] });
  }

  // Position and values at the cursor, whichever picture it is in.
  private tell(): void {
    const { cursor } = this.state;
    if (!cursor) return;
    const at: [number, number] = [cursor.e, cursor.n];
    this.say(at);
    clearTimeout(this.asking);
    this.asking = window.setTimeout(async () => {
      try {
        const v = await (await fetch(`/value?e=${at[0].toFixed(3)}&n=${at[1].toFixed(3)}`)).json() as { seabed: number | null; probability: number | null; burial: number | null; seen: number | null };
        const seen = v.seen === null ? 'not surveyed' : v.seen > 0 ? `a hard ball could have been seen to a burial of ${units.length.write(v.seen, 1)}` : 'a hard ball could not have been seen';
        if (this.state.cursor === cursor) this.say(at, `${v.seabed === null ? '' : ` · seabed ${units.depth.write(v.seabed, 2)} below the surface`}${v.probability === null ? '' : ` · probability ${v.probability > 0.995 ? '> 0.99' : v.probability < 0.005 ? '< 0.01' : v.probability.toFixed(2)}`} · ${seen}`);
      } catch { /* The line keeps the position. */ }
    }, 60);
  }

  private say(at: [number, number], more = ''): void {
    const [lon, lat] = this.toGeo(at), first = this.points[0];
    let words = `E ${at[0].toFixed(2)}  N ${at[1].toFixed(2)} · ${Math.abs(lat).toFixed(6)}° ${lat < 0 ? 'S' : 'N'} ${Math.abs(lon).toFixed(6)}° ${lon < 0 ? 'W' : 'E'}${more}`;
    if (this.mode === 'measure' && first) {
      const to = this.points[1] ?? at, dx = to[0] - first[0], dy = to[1] - first[1];
      words = `${units.length.write(Math.hypot(dx, dy), 2)} towards ${((Math.atan2(dx, dy) * 180 / Math.PI + 360) % 360).toFixed(1)}° (grid)${this.snapped ? ` · ${this.points[1] ? 'to' : 'from'} ${this.snapped}` : ''} · pointer: ${words}`;
    }
    this.readout.textContent = words;
  }

  private draw(): void {
    const size = this.map.getSize();
    if (!size || !this.map.getPixelFromCoordinate([0, 0])) return;
    const c = fit(this.canvas, size[0]!, size[1]!), { survey, view } = this.state, ink = this.ink, metre = 1 / this.map.getView().getResolution()!;
    // Close up, signs step aside with a leader, so that they don't stand on what they are about.
    const aside = (at: readonly number[]): [number, number] => { const [x, y] = px(at); return metre > closeUp ? [x - 26, y - 26] : [x, y]; };
    const px = (at: readonly number[]) => this.map.getPixelFromCoordinate(at as number[]) as [number, number];
    if (this.state.shown('graticule')) graticule(c, size[0]!, size[1]!, p => this.toGeo(this.map.getCoordinateFromPixel(p) as [number, number]), geo => px(this.fromGeo(geo)), ink);
    if (this.state.shown('grid')) this.grid(c, size[0]!, size[1]!);
    if (this.state.shown('lines'))
      for (const line of survey.lines) this.way(c, line.path, ink.track, (line.name === view.line ? 2.5 : 1) * ink.bold, []);
    this.under.draw(c, px, metre, ink, size[0]!, size[1]!);
    if (view.path.length) this.way(c, view.path, ink.cursor, 2 * ink.bold, [8, 4]);
    if (this.points.length) this.way(c, [...this.points.flat(), ...(this.points.length === 1 && this.state.cursor ? [this.state.cursor.e, this.state.cursor.n] : [])], ink.cursor, 2 * ink.bold, [3, 3]);
    if (this.mode === 'split' || this.mode === 'outline') for (const p of this.points) drawCross(c, px(p), 6, ink);
    if (this.state.shown('targets')) {
      for (const t of survey.targets) if (this.state.shown('ellipses')) this.byHand(c, t);
      for (const t of survey.targets) if (this.state.shown('ellipses')) this.uncertainty(c, t, metre);
      if (metre > closeUp) for (const t of survey.targets) this.leader(c, px(t.at), aside(t.at));
      for (const t of [...survey.targets].reverse()) drawMark(c, ...aside(t.at), t, ink, t.id === view.target);
      if (this.state.shown('numbers')) {
        const places = new WordPlaces(survey.targets.map(t => aside(t.at)), size[0]);
        for (const [i, t] of survey.targets.entries()) places.put(c, labelOf(t, i), ...aside(t.at), ink, t.id === view.target ? 20 : 14);
        this.under.words(c, places, px, ink);
      }
    }
    const cursor = this.state.cursor;
    if (cursor) drawCross(c, px([cursor.e, cursor.n]), 8, ink);
    if (this.mode !== 'look') drawCross(c, [size[0]! / 2, size[1]! / 2], 16, ink);
    this.scale(c, size[0]!, size[1]!, metre);
  }

  private uncertainty(c: CanvasRenderingContext2D, t: Target, metre: number): void {
    const [major, minor, azimuth] = t.ellipse, ink = this.ink;
    const shape = (at: [number, number], a: number, b: number, turn: number, dash: number[], width: number) =>
      drawEllipse(c, this.map.getPixelFromCoordinate(at) as [number, number], a * metre, b * metre, turn, dash, width, ink);
    shape(t.at, major, minor, azimuth, [], ink.bold);
    if (t.size) shape(t.at, t.size[0] / 2, t.size[1] / 2, t.size[3], [], 2 * ink.bold);
    if (t.other) {
      this.way(c, [...t.at, ...t.other], ink.target, ink.bold, [3, 3]);
      shape(t.other, Math.max(major, 7 / metre), Math.max(minor, 7 / metre), azimuth, [3, 3], ink.bold);
    }
  }

  // A person's doing, in the ink of judgements: outline dashed, a heavy line to what is one thing with it, a cross at each part.
  private byHand(c: CanvasRenderingContext2D, t: Target): void {
    const ink = this.ink;
    if (t.outline.length) this.way(c, [...t.outline, t.outline[0]!, t.outline[1]!], ink.text, 2 * ink.bold, [6, 4]);
    for (const id of t.mergedWith) { const other = this.state.survey.targets.find(o => o.id === id); if (other) this.way(c, [...t.at, ...other.at], ink.text, 3 * ink.bold, []); }
    for (let i = 0; i + 1 < t.parts.length; i += 2) {
      this.way(c, [...t.at, t.parts[i]!, t.parts[i + 1]!], ink.text, ink.bold, [2, 3]);
      const p = this.map.getPixelFromCoordinate([t.parts[i]!, t.parts[i + 1]!])! as [number, number];
      drawCross(c, p, 6, ink, ink.text);
      drawWords(c, `part ${i / 2 + 1}`, p[0] + 8, p[1] + 9, ink);
    }
  }

  private way(c: CanvasRenderingContext2D, path: number[], colour: string, width: number, dash: number[]): void {
    c.beginPath();
    for (let i = 0; i + 1 < path.length; i += 2) { const p = this.map.getPixelFromCoordinate([path[i]!, path[i + 1]!])!; c.lineTo(p[0]!, p[1]!); }
    c.lineJoin = 'round';
    c.strokeStyle = this.ink.paper;
    c.lineWidth = width + 2;
    c.stroke();
    c.setLineDash(dash);
    c.strokeStyle = colour;
    c.lineWidth = width;
    c.stroke();
    c.setLineDash([]);
  }

  private leader(c: CanvasRenderingContext2D, from: [number, number], to: [number, number]): void {
    for (const [colour, w] of [[this.ink.paper, 4], [this.ink.target, 1.5 * this.ink.bold]] as const) {
      c.beginPath();
      c.moveTo(...from); c.lineTo(...to);
      c.strokeStyle = colour;
      c.lineWidth = w;
      c.stroke();
      c.beginPath();
      c.arc(from[0], from[1], 2.5, 0, 2 * Math.PI);
      c.fillStyle = colour;
      c.fill();
    }
  }

  // Ticks along the edges with their eastings and northings, and small crosses where they meet: nothing that hides the ground.
  private grid(c: CanvasRenderingContext2D, width: number, height: number): void {
    const [w, s, e, n] = this.map.getView().calculateExtent([width, height]) as [number, number, number, number];
    const step = roundStep(e - w, width / 150), places = decimals(step);
    const xs: number[] = [], ys: number[] = [];
    for (let x = Math.ceil(w / step) * step; x < e; x += step) xs.push(x);
    for (let y = Math.ceil(s / step) * step; y < n; y += step) ys.push(y);
    c.strokeStyle = this.ink.soft;
    c.lineWidth = 1;
    c.beginPath();
    for (const x of xs) for (const y of ys) { const p = this.map.getPixelFromCoordinate([x, y])!, a = Math.round(p[0]!) + 0.5, b = Math.round(p[1]!) + 0.5; c.moveTo(a - 4, b); c.lineTo(a + 4, b); c.moveTo(a, b - 4); c.lineTo(a, b + 4); }
    c.stroke();
    for (const x of xs) { const p = this.map.getPixelFromCoordinate([x, s])![0]!; if (p > 60 && p < width - 60) drawWords(c, `${x.toFixed(places)} E`, p, 10, this.ink, false, 'center'); }
    for (const y of ys) {
      const p = this.map.getPixelFromCoordinate([w, y])![1]!;
      if (p < 70 || p > height - 60) continue;
      c.save();
      c.translate(10, p);
      c.rotate(-Math.PI / 2);
      drawWords(c, `${y.toFixed(places)} N`, 0, 0, this.ink, false, 'center');
      c.restore();
    }
  }

  private scale(c: CanvasRenderingContext2D, _width: number, height: number, metre: number): void {
    const long = roundLength(140 / metre, 1.4), length = long * metre, x = 30, y = height - 16;
    for (const [colour, w] of [[this.ink.paper, 7], [this.ink.text, 3]] as const) {
      c.beginPath();
      c.moveTo(x, y - 5); c.lineTo(x, y); c.lineTo(x + length, y); c.lineTo(x + length, y - 5);
      c.strokeStyle = colour;
      c.lineWidth = w;
      c.stroke();
    }
    drawWords(c, sized(long), x + length / 2, y - 11, this.ink, true, 'center');
  }
}
