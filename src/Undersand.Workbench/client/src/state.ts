import { isNear, type Survey, type Target } from './survey';
import { Way } from './way';

/** Everything seen is here and in the link; only the cursor is not worth keeping. */
export interface View {
  target: string; centre: [number, number] | null; metresPerPixel: number; ground: string; slice: number; hidden: string[]; bases: number[];
  line: string; path: number[]; shows: string; datum: string; reach: number; stretch: number; from: number; to: number; sunk: number;
  sort: string; words: string; only: string; held: string;
  low: string; box: string; as: string; iso: number | null; cut: string; tall: number; turn: number; tilt: number; near: number; atE: number; atN: number;
  receiver: number; gain: number; times: string;
}

export interface Cursor { e: number; n: number; burial?: number }

type Listener = (changed: Set<keyof View>) => void;

/** Opacity of a base map, percent, unless the link says otherwise. */
const usualBase = 70;

const hideable = ['texture', 'grid', 'graticule', 'magnetics', 'finds', 'lines', 'ellipses', 'numbers', 'targets'];

export class State {
  readonly view: View;
  cursor: Cursor | null = null;
  private readonly listeners: Listener[] = [];
  private readonly cursorListeners: (() => void)[] = [];
  private writing = 0;
  /** What the link asks for and can't be shown, a sentence each. */
  readonly amiss: string[] = [];

  constructor(readonly survey: Survey) {
    const q = new URLSearchParams(location.search);
    const pick = (name: string, from: string[], otherwise: string) => from.includes(q.get(name) ?? '') ? q.get(name)! : otherwise;
    const number = (name: string, otherwise: number) => q.has(name) && Number.isFinite(Number(q.get(name))) ? Number(q.get(name)) : otherwise;
    const numbers = (name: string) => (q.get(name) ?? '').split(',').filter(Boolean).map(Number).filter(Number.isFinite);
    const centre = numbers('c'), path = numbers('p');
    const within = centre.length === 2 && isNear(survey.extent, centre[0]!, centre[1]!);
    if (q.get('t') && !survey.targets.some(t => t.id === q.get('t'))) this.amiss.push(`The link's target ${q.get('t')} is not in these results.`);
    if (q.has('c') && !within) this.amiss.push('The link\'s place lies far from the survey: this is the whole survey.');
    this.view = {
      target: pick('t', survey.targets.map(t => t.id), ''),
      centre: within ? [centre[0]!, centre[1]!] : null,
      metresPerPixel: q.has('c') && !within ? 0 : Math.min(Math.max(number('r', 0), 0), 1e5),
      ground: pick('g', ['none', ...survey.maps.map(m => m.name), ...survey.sections.map(q => `slice.${q.name}`)], 'seabed'),
      slice: Math.min(Math.max(Math.round(number('b', Math.round((0.5 - survey.volume.firstBurial) / survey.volume.voxel))), 0), survey.volume.levels - 1),
      hidden: (q.get('off') ?? 'graticule').split('.').filter(h => hideable.includes(h)),
      bases: survey.bases.map((_, i) => Math.min(Math.max(numbers('base')[i] ?? usualBase, 0), 100)),
      line: pick('l', survey.lines.map(l => l.name), ''),
      path: q.has('p') && path.length >= 4 && path.length % 2 === 0 ? path : [],
      shows: pick('w', survey.sections.map(s => s.name), 'reflectivity'),
      datum: pick('d', ['burial', 'depth'], 'burial'),
      reach: number('reach', 0.5), stretch: number('h', 0), from: number('x', 0), to: number('y', 0), sunk: Math.max(number('z', 0), 0),
      sort: q.get('sort') ?? '', words: q.get('words') ?? '', only: q.get('only') ?? '', held: pick('held', survey.targets.map(t => t.id), ''),
      low: pick('low', ['section', 'volume', 'echoes'], 'section'), box: pick('box', ['2', '4', '8', 'all'], '4'), as: pick('as', ['slices', 'greatest', 'surface', 'both'], 'slices'),
      iso: q.has('iso') ? number('iso', 0) : null, cut: pick('cut', ['west', 'east', 'south', 'north', 'above', 'below'], ''), tall: Math.min(Math.max(number('tall', 1), 1), 8),
      turn: number('turn', 30), tilt: Math.min(Math.max(number('tilt', 30), 0), 90), near: Math.min(Math.max(number('near', 1), 0.5), 12), atE: number('e', 0), atN: number('n', 0),
      receiver: Math.max(Math.round(number('rec', 0)), 0), gain: Number(pick('gain', ['0', '10', '20', '30', '40'], '0')), times: pick('times', ['all', 'seabed'], 'all'),
    };
    if (!this.view.line && !this.view.path.length) this.view.line = this.lineNearest(this.chosen ?? survey.targets[0]);
  }

  on(listener: Listener): void { this.listeners.push(listener); }

  onCursor(listener: () => void): void { this.cursorListeners.push(listener); }

  set(change: Partial<View>): void {
    const changed = new Set<keyof View>();
    for (const key of Object.keys(change) as (keyof View)[])
      if (JSON.stringify(this.view[key]) !== JSON.stringify(change[key])) {
        (this.view as unknown as Record<string, unknown>)[key] = change[key];
        changed.add(key);
      }
    if (!changed.size) return;
    for (const listener of this.listeners) listener(changed);
    clearTimeout(this.writing);
    this.writing = window.setTimeout(() => history.replaceState(history.state, '', this.link()), 150);
  }

  point(cursor: Cursor | null): void {
    this.cursor = cursor;
    for (const listener of this.cursorListeners) listener();
  }

  /** The way of the section, or null where there is none. */
  get way(): Way | null {
    const line = this.survey.lines.find(l => l.name === this.view.line);
    return line ? new Way(line.path) : this.view.path.length ? new Way(this.view.path) : null;
  }

  /** Burial of the level slice's middle. */
  get sliceBurial(): number { const { firstBurial, voxel } = this.survey.volume; return firstBurial + (this.view.slice + 0.5) * voxel; }

  get chosen() { return this.survey.targets.find(t => t.id === this.view.target); }

  shown(layer: string): boolean { return !this.view.hidden.includes(layer); }

  link(): string {
    const q = new URLSearchParams(), v = this.view;
    const put = (name: string, value: string, otherwise: string) => { if (value !== otherwise) q.set(name, value); };
    put('t', v.target, '');
    if (v.centre) q.set('c', v.centre.map(x => x.toFixed(2)).join(','));
    if (v.metresPerPixel) q.set('r', v.metresPerPixel.toPrecision(4));
    put('g', v.ground, 'seabed');
    if (v.ground.startsWith('slice.') || v.low === 'volume') q.set('b', String(v.slice));
    put('off', v.hidden.join('.'), 'graticule');
    put('base', v.bases.join(','), v.bases.map(() => usualBase).join(','));
    if (v.path.length) q.set('p', v.path.map(x => x.toFixed(2)).join(',')); else put('l', v.line, '');
    put('w', v.shows, 'reflectivity');
    put('d', v.datum, 'burial');
    put('reach', String(v.reach), '0.5');
    put('h', String(v.stretch), '0');
    if (v.to > v.from) { q.set('x', v.from.toFixed(2)); q.set('y', v.to.toFixed(2)); }
    if (v.stretch > 0) put('z', String(+v.sunk.toFixed(2)), '0');
    put('sort', v.sort, '');
    put('words', v.words, '');
    put('only', v.only, '');
    put('held', v.held, '');
    put('low', v.low, 'section');
    if (v.low === 'volume') {
      put('box', v.box, '4');
      put('as', v.as, 'slices');
      if (v.iso !== null) q.set('iso', String(+v.iso.toFixed(3)));
      put('cut', v.cut, '');
      put('tall', String(v.tall), '1');
      put('turn', String(+v.turn.toFixed(1)), '30');
      put('tilt', String(+v.tilt.toFixed(1)), '30');
      put('near', String(+v.near.toFixed(3)), '1');
      if (v.atE) q.set('e', v.atE.toFixed(3));
      if (v.atN) q.set('n', v.atN.toFixed(3));
    }
    if (v.low === 'echoes') { put('rec', String(v.receiver), '0'); put('gain', String(v.gain), '0'); put('times', v.times, 'all'); }
    const words = q.toString().replaceAll('%2C', ',');
    return words ? `/?${words}` : '/';
  }

  /** The line that passes nearest to a target. */
  lineNearest(t: Target | undefined): string {
    const lines = this.survey.lines.map(l => ({ name: l.name, beside: t ? new Way(l.path).nearest(...t.at).beside : 0 }));
    return lines.sort((a, b) => a.beside - b.beside)[0]?.name ?? '';
  }
}
