import { columns, drawScales, levelOf, Pictures } from './diagram';
import { Laying, type Sheet } from './laying';
import { decimals, drawWords, fit, inks, onInks, roundStep, type Inks } from './marks';
import type { State } from './state';
import { units } from './units';

/** What the server says of a line's recordings at a receiver: see EchoRoutes on its side. Times in seconds from the start of transmission. */
interface Echoes { why?: string; pings: number; numbers: number[]; rows: number; first: number; interval: number; receivers: number[]; sources: number[]; seabed: (number | null)[] }

const left = 52, foot = 30, head = 10, right = 8;

/** A recorded line's echoes as they came in: pings along, time downwards, and the seabed as it was tracked. The part of the line in view is the section's. */
export class EchoView {
  private readonly over = document.createElement('canvas');
  private readonly readout = document.getElementById('echo-readout')!;
  private readonly tiles = new Pictures(() => this.redraw(), 120);
  private ink: Inks = inks();
  private about: Echoes | null = null;
  private along: number[] = [];
  private words = 'Fetching the echoes…';
  private asked = 0;
  private wanted = false;
  private pointed: { ping: number; time: number; depth: string } | null = null;
  private asking = 0;
  /** The seabed laid by hand over the echoes. */
  readonly laying: Laying;

  constructor(private readonly state: State, private readonly canvas: HTMLCanvasElement) {
    this.over.className = 'over';
    canvas.after(this.over);
    new ResizeObserver(() => this.redraw()).observe(canvas);
    onInks(ink => { this.ink = ink; this.redraw(); });
    state.on(changed => { if (state.view.low !== 'echoes') return; if (changed.has('line') || changed.has('receiver') || changed.has('low')) void this.fetch(); this.redraw(); });
    state.onCursor(() => this.redraw());
    const receiver = document.getElementById('echo-receiver') as HTMLSelectElement;
    receiver.addEventListener('change', () => state.set({ receiver: Number(receiver.value) }));
    this.laying = new Laying(state, canvas, () => this.about && { ...this.frame(), seabed: this.about.seabed }, ping => this.show(ping), (ping, time) => this.point(ping, time), () => this.redraw());
    this.listen();
    void this.fetch();
  }

  private async fetch(): Promise<void> {
    const { view, survey } = this.state, turn = ++this.asked;
    this.about = this.pointed = null;
    this.canvas.dataset['drawn'] = '';
    if (!view.line) { this.words = 'Echoes belong to recorded lines: choose one.'; this.redraw(); return; }
    this.words = 'Fetching the echoes…';
    try {
      const answer = await fetch(`/echoes?line=${encodeURIComponent(view.line)}&receiver=${view.receiver}&v=${encodeURIComponent(survey.version)}`);
      if (answer.status === 404 && view.receiver > 0 && turn === this.asked) { this.state.set({ receiver: 0 }); return; }
      if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
      const about = await answer.json() as Echoes;
      if (turn !== this.asked) return;
      this.words = about.why ?? '';
      if (!about.why) {
        const way = this.state.way!;
        this.about = about;
        this.along = about.seabed.map((_, i) => way.nearest(about.sources[2 * i]!, about.sources[2 * i + 1]!).along);
        const receiver = document.getElementById('echo-receiver') as HTMLSelectElement;
        receiver.replaceChildren(...about.receivers.map((number, i) => new Option(String(number), String(i))));
        receiver.value = String(view.receiver);
        void this.laying.fetch();
      }
    } catch (fault) {
      if (turn !== this.asked) return;
      this.words = `The echoes could not be fetched (${fault instanceof Error ? fault.message : String(fault)}). Choose the line again once the program runs.`;
    }
    this.canvas.dataset['drawn'] = this.words ? 'words' : 'echoes';
    this.redraw();
  }

  private redraw(): void {
    if (this.wanted) return;
    this.wanted = true;
    requestAnimationFrame(() => { this.wanted = false; if (this.state.view.low === 'echoes') this.draw(); });
  }

  // The pings in view, and where they and their times lie on the canvas.
  private frame(): Sheet & { box: DOMRect; across: number; down: number; first: number; last: number } {
    const box = this.canvas.getBoundingClientRect(), about = this.about!, { from, to } = this.state.view;
    let a = 0, b = about.pings;
    if (to > from) {
      const seen = this.along.map((s, i) => ({ s, i })).filter(({ s }) => s >= from && s <= to).map(({ i }) => i);
      if (seen.length > 1) [a, b] = [Math.min(...seen), Math.max(...seen) + 1];
    }
    const width = Math.max(box.width - left - right, 10), height = Math.max(box.height - foot - head, 10), across = width / (b - a), [first, last] = this.times(about), down = height * about.interval / (last - first);
    return {
      box, left, head, width, height, a, b, across, down, first, last, pings: about.pings, x: ping => left + (ping - a) * across, y: time => head + (time - first) / about.interval * down,
      ping: x => Math.floor(a + (x - left) / across), time: y => first + (y - head) / down * about.interval,
    };
  }

  // From when to when is shown: all, or a millisecond to either side of where the seabed was tracked under nine in ten pings.
  private times(about: Echoes): [number, number] {
    const end = about.first + about.rows * about.interval, found = about.seabed.filter(t => t !== null).sort((a, b) => a - b), tail = Math.floor(found.length / 20);
    return this.state.view.times === 'all' || !found.length ? [about.first, end] : [Math.max(about.first, found[tail]! - 0.001), Math.min(end, found[found.length - 1 - tail]! + 0.001)];
  }

  private draw(): void {
    const box = this.canvas.getBoundingClientRect(), c = fit(this.canvas, box.width, box.height), o = fit(this.over, box.width, box.height), { view, survey } = this.state, about = this.about;
    if (!about) { this.readout.textContent = this.words; drawWords(o, this.words.length > 60 ? 'No echoes: see the line beneath.' : this.words, box.width / 2, box.height / 2, this.ink, false, 'center'); return; }
    const f = this.frame();
    c.save();
    c.beginPath();
    c.rect(left, head, f.width, f.height);
    c.clip();
    c.imageSmoothingEnabled = false;
    const level = levelOf(f.across), wide = columns * 2 ** level;
    for (let i = Math.floor(f.a / wide); i * wide < f.b; i++) {
      const image = this.tiles.get(`/echoes/${view.receiver}/${level}/${i}.png?line=${encodeURIComponent(view.line)}&gain=${view.gain}&v=${encodeURIComponent(survey.version)}`);
      if (image) c.drawImage(image, f.x(i * wide), f.y(about.first), wide * f.across, about.rows * f.down);
    }
    c.restore();
    this.axes(o, f, about);
    const found = about.seabed.filter(t => t !== null).length, { pointed } = this;
    this.readout.textContent = pointed ? `Ping ${about.numbers[pointed.ping]} · ${(pointed.time * 1000).toFixed(2)} ms${pointed.depth}${this.laying.wordsAt(pointed.ping, pointed.time, f)}` : `Receiver ${about.receivers[view.receiver]} of ${view.line}, ${about.pings} pings · time downwards from the start of transmission · 0 dB: exceeded by one sample in a thousand of the line; gain ${view.gain} dB · dashed: the seabed as tracked${found < about.pings ? `, not found under ${about.pings - found}` : ''} · blank: no recording`;
  }

  private axes(o: CanvasRenderingContext2D, f: ReturnType<EchoView['frame']>, about: Echoes): void {
    const ink = this.ink, [first, last] = [f.first * 1000, f.last * 1000], down = roundStep(last - first, f.height / 32);
    drawScales(o, [left, head, f.width, f.height],
      { words: 'pings', from: f.a, to: f.b - 1, step: Math.max(1, roundStep(f.b - f.a, f.width / 90)), at: i => f.x(i + 0.5), write: i => String(about.numbers[i]) },
      { words: 'time, ms ↓', from: first, to: last, step: down, at: t => f.y(t / 1000), write: t => t.toFixed(decimals(down)) }, ink);
    o.save();
    o.beginPath();
    o.rect(left, head, f.width, f.height);
    o.clip();
    for (const [colour, width] of [[ink.paper, 4], [ink.track, 1.5]] as const) {
      o.beginPath();
      about.seabed.forEach((t, i) => { if (t === null) return; const x = f.x(i + 0.5), y = f.y(t); if (i && about.seabed[i - 1] !== null) o.lineTo(x, y); else o.moveTo(x, y); });
      o.setLineDash([8, 5]);
      o.strokeStyle = colour;
      o.lineWidth = width * ink.bold;
      o.stroke();
      o.setLineDash([]);
    }
    this.laying.draw(o, f, ink);
    const ping = this.nearest();
    if (ping >= 0) { const x = f.x(ping + 0.5); o.beginPath(); o.moveTo(x, head); o.lineTo(x, head + f.height); o.strokeStyle = ink.cursor; o.lineWidth = 1.5 * ink.bold; o.stroke(); }
    o.restore();
  }

  // The ping nearest to the shared cursor.
  private nearest(): number {
    const { cursor } = this.state, sources = this.about!.sources;
    let best = -1, distance = Infinity;
    for (let i = 0; cursor && i < this.along.length; i++) {
      const d = Math.hypot(sources[2 * i]! - cursor.e, sources[2 * i + 1]! - cursor.n);
      if (d < distance) [best, distance] = [i, d];
    }
    return best;
  }

  private look(a: number, b: number): void {
    const last = this.along.length - 1, length = this.state.way?.length ?? 1, at = (p: number) => this.along[Math.min(Math.max(Math.round(p), 0), last)]!;
    const [from, to] = [Math.min(at(a), at(b)), Math.max(at(a), at(b))];
    this.state.set(b - a >= last ? { from: 0, to: 0 } : { from, to: Math.min(Math.max(to, from + 0.5), length) });
  }

  private zoom(by: number, about?: number): void { const { a, b } = this.frame(), p = about ?? (a + b) / 2; this.look(p - (p - a) / by, p + (b - 1 - p) / by); }

  // Moves along until a ping is in view.
  private show(ping: number): void {
    const { a, b } = this.frame(), by = ping < a ? ping - a : ping >= b ? ping - b + 1 : 0;
    if (by) this.look(a + by, b + by - 1);
  }

  // What lies at a place: its ping and time at once, and how deep a seabed is that answers there when the server has said so.
  private point(ping: number, time: number): void {
    const { about, state: { view } } = this;
    if (!about || ping < 0 || ping >= about.pings) return;
    const pointed = this.pointed = { ping, time, depth: '' };
    this.state.point({ e: about.sources[2 * ping]!, n: about.sources[2 * ping + 1]! });
    clearTimeout(this.asking);
    this.asking = window.setTimeout(async () => {
      try {
        const depth = await (await fetch(`/echoes/depth?line=${encodeURIComponent(view.line)}&receiver=${view.receiver}&ping=${ping}&time=${time}`)).json() as number | null;
        pointed.depth = depth === null ? ' · no seabed answers so early' : ` · a seabed that answers here lies ${units.depth.write(depth, 2)} below the surface`;
        this.redraw();
      } catch { /* The line keeps ping and time. */ }
    }, 60);
  }

  private listen(): void {
    const el = this.canvas, at = (e: MouseEvent) => { const f = this.frame(); return [f.ping(e.clientX - f.box.left), f.time(e.clientY - f.box.top)] as const; };
    el.addEventListener('pointermove', e => { if (this.about) this.point(...at(e)); });
    el.addEventListener('pointerleave', e => { if (e.pointerType === 'touch') return; this.pointed = null; this.state.point(null); });
    el.addEventListener('click', e => { if (this.about) this.laying.place(...at(e)); });
    el.addEventListener('wheel', e => { e.preventDefault(); if (this.about) this.zoom(Math.exp(-e.deltaY / 400), at(e)[0]); }, { passive: false });
    el.addEventListener('keydown', e => {
      if (!this.about || !(this.laying.key(e) || this.key(e))) return;
      e.preventDefault();
      e.stopPropagation();
    });
  }

  // Moves along and zooms; whether the key meant that.
  private key(e: KeyboardEvent): boolean {
    const { a, b } = this.frame(), step = Math.max(1, (b - a) * 0.1), { pings } = this.about!;
    if (e.key === 'ArrowLeft') this.look(Math.max(0, a - step), Math.max(0, a - step) + b - a - 1);
    else if (e.key === 'ArrowRight') this.look(Math.min(a + step, pings - (b - a)), Math.min(a + step, pings - (b - a)) + b - a - 1);
    else if (e.key === '+' || e.key === '=') this.zoom(1.5);
    else if (e.key === '-') this.zoom(1 / 1.5);
    else return false;
    return true;
  }
}
