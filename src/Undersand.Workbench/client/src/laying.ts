import { drawCross, drawWords, type Inks } from './marks';
import type { State } from './state';

/** A seabed by hand, as the server says it: see SeabedRoutes on its side. Seconds at the receiver shown, ping by ping from the first. */
interface Stretch { words: string; first: number; times: (number | null)[] }

interface Answer { why?: string; laid?: (Stretch & { when: string })[]; draft?: Stretch }

/** A place pointed at: a ping counted from 0, the receiver whose echoes were shown, the time there. What depth that is, the server says. */
interface Place { ping: number; receiver: number; time: number }

/** The pings in view, and where they and their times lie on the canvas. */
export interface Sheet { left: number; head: number; width: number; height: number; a: number; b: number; pings: number; x: (ping: number) => number; y: (time: number) => number; ping: (x: number) => number; time: (y: number) => number }

const begin = 'Click, or press Enter at the cross, where the seabed is, at two or more pings. Arrows move the cross, with Shift ten times as far; Backspace takes a place back, f ends, Esc gives up.';

/** The seabed laid by hand: drawn place by place over the echoes, kept by the server, shown with who laid it. */
export class Laying {
  private readonly tool = document.getElementById('echo-lay');
  private readonly form = document.getElementById('lay') as HTMLFormElement | null;
  private readonly said = document.getElementById('lay-said');
  private readonly list = document.getElementById('laid');
  private readonly drawn = new Map<string, Place[]>();
  private shown: Answer = {};
  private cross: { ping: number; time: number } | null = null;
  private asked = 0;
  private about = '';
  private wanted = false;

  constructor(private readonly state: State, private readonly canvas: HTMLCanvasElement, private readonly sheet: () => Sheet & { seabed: (number | null)[] } | null, private readonly show: (ping: number) => void, private readonly point: (ping: number, time: number) => void, private readonly redraw: () => void) {
    const on = (id: string, act: () => void) => document.getElementById(id)?.addEventListener('click', act);
    on('echo-lay', () => this.toggle());
    on('lay-back', () => this.takeBack());
    on('lay-off', () => this.giveUp());
    this.form?.addEventListener('submit', e => { e.preventDefault(); void this.keep(); });
  }

  private get on(): boolean { return this.cross !== null; }

  private get places(): Place[] {
    const { line } = this.state.view;
    if (!this.drawn.has(line)) this.drawn.set(line, []);
    return this.drawn.get(line)!;
  }

  private get at(): string { return !this.on ? '' : this.places.map(p => `${p.ping},${p.receiver},${p.time.toFixed(7)}`).join(';'); }

  /** Begins to draw, as soon as there are echoes, or gives up. */
  toggle(): void {
    const f = this.sheet();
    if (this.on) return this.giveUp();
    this.wanted = !f && !this.wanted;
    if (!f || !this.tool) return;
    const ping = Math.floor((f.a + f.b) / 2);
    this.cross = { ping, time: f.seabed[ping] ?? f.time(f.head + f.height / 2) };
    this.say(begin);
    this.settle();
    this.canvas.focus();
  }

  /** Takes a place where the seabed is being drawn; one at a ping that has one moves it. */
  place(ping: number, time: number): void {
    const f = this.sheet();
    if (!this.on || !f || ping < 0 || ping >= f.pings) return;
    this.cross = { ping, time };
    const { places } = this, before = places.findIndex(p => p.ping === ping);
    if (before >= 0) places.splice(before, 1);
    places.push({ ping, receiver: this.state.view.receiver, time });
    void this.fetch();
  }

  /** Whether a key meant the drawing. */
  key(e: KeyboardEvent): boolean {
    const f = this.sheet();
    if (!this.cross || !f || e.ctrlKey || e.metaKey || e.altKey) return false;
    const far = e.shiftKey ? 10 : 1, down = f.time(1) - f.time(0), { ping, time } = this.cross;
    if (e.key === 'ArrowLeft') this.move(ping - far, time);
    else if (e.key === 'ArrowRight') this.move(ping + far, time);
    else if (e.key === 'ArrowUp') this.move(ping, time - far * down);
    else if (e.key === 'ArrowDown') this.move(ping, time + far * down);
    else if (e.key === 'Enter') this.place(ping, time);
    else if (e.key === 'Backspace') this.takeBack();
    else if (e.key === 'Escape') this.giveUp();
    else if (e.key === 'f') this.finish();
    else return false;
    return true;
  }

  /** Asks what was laid on the line shown, and what the places drawn would lay. */
  async fetch(): Promise<void> {
    if (!this.list) return;
    const { view } = this.state, turn = ++this.asked, about = `line=${encodeURIComponent(view.line)}&receiver=${view.receiver}`;
    if (about !== this.about) { this.shown = {}; this.about = about; if (this.cross) this.cross.ping = Math.min(this.cross.ping, (this.sheet()?.pings ?? 1) - 1); }
    if (this.wanted) this.toggle();
    const answer = await this.ask(`/seabed?${about}&at=${this.at}`);
    if (turn !== this.asked) return;
    // What was laid comes with the refusal of the last place, and only with it.
    if (answer.why && answer.laid && this.places.length) { this.places.pop(); await this.fetch(); this.say(answer.why, true); return; }
    this.shown = answer;
    if (answer.why) this.say(answer.why, true);
    else if (answer.draft) this.say(`Drawn, not kept yet: ${answer.draft.words}.`);
    else if (this.on) this.say(begin);
    this.settle();
  }

  /** Draws what was laid and what is being drawn. */
  draw(o: CanvasRenderingContext2D, f: Sheet, ink: Inks): void {
    for (const act of this.shown.laid ?? []) this.stretch(o, f, act, 'by hand', [], ink.text, ink);
    if (this.shown.draft) this.stretch(o, f, this.shown.draft, 'not kept yet', [2, 4], ink.cursor, ink);
    if (this.on) for (const p of this.places) if (p.receiver === this.state.view.receiver) drawCross(o, [f.x(p.ping + 0.5), f.y(p.time)], 6, ink);
    if (this.cross) drawCross(o, [f.x(this.cross.ping + 0.5), f.y(this.cross.time)], 14, ink);
  }

  /** What was laid at a place, in words with who and when; nothing elsewhere. */
  wordsAt(ping: number, time: number, f: Sheet): string {
    const act = this.shown.laid?.find(l => { const t = l.times[ping - l.first]; return typeof t === 'number' && Math.abs(f.y(t) - f.y(time)) < 12; });
    return act ? ` · by hand: ${act.words}` : '';
  }

  private stretch(o: CanvasRenderingContext2D, f: Sheet, { first, times }: Stretch, words: string, dash: number[], colour: string, ink: Inks): void {
    for (const [stroke, width] of [[ink.paper, 6], [colour, 3 * ink.bold]] as const) {
      o.beginPath();
      times.forEach((t, i) => { if (t === null) return; const x = f.x(first + i + 0.5), y = f.y(t); if (typeof times[i - 1] === 'number') o.lineTo(x, y); else o.moveTo(x, y); });
      o.setLineDash(stroke === ink.paper ? [] : dash);
      o.strokeStyle = stroke;
      o.lineWidth = width;
      o.stroke();
    }
    o.setLineDash([]);
    const seen = times.findIndex((t, i) => t !== null && first + i >= f.a && first + i < f.b);
    if (seen >= 0) drawWords(o, words, Math.min(f.x(first + seen + 0.5), f.left + f.width - 80), Math.max(f.y(times[seen]!) - 14, f.head + 8), ink, true);
  }

  private move(ping: number, time: number): void {
    const f = this.sheet()!, to = { ping: Math.min(Math.max(ping, 0), f.pings - 1), time: Math.min(Math.max(time, f.time(f.head)), f.time(f.head + f.height)) };
    this.cross = to;
    this.show(to.ping);
    this.point(to.ping, to.time);
    this.redraw();
  }

  private finish(): void {
    const { places } = this, who = this.form?.elements.namedItem('who') as HTMLInputElement;
    if (places.length < 2) this.say(`${places.length} of at least 2 places. ${begin}`);
    else (who.value ? document.getElementById('lay-save')! : who).focus();
  }

  private takeBack(): void { this.places.pop(); void this.fetch(); }

  private giveUp(): void {
    this.cross = null;
    this.drawn.clear();
    this.say('');
    void this.fetch();
    this.canvas.focus();
  }

  private async keep(): Promise<void> {
    (document.getElementById('lay-save') as HTMLButtonElement).disabled = true;
    const answer = await this.send('/seabed', { line: this.state.view.line, at: this.at });
    if (answer.why) { this.settle(); this.say(`Not kept. ${answer.why}`, true); return; }
    undersand.keep('who', new FormData(this.form!).get('who') as string);
    this.giveUp();
    this.promise('Kept. It counts when the survey is processed again: ');
  }

  private async forget(when: string): Promise<void> {
    const answer = await this.send('/seabed/forget', { line: this.state.view.line, when });
    await this.fetch();
    if (answer.why) this.say(`Not taken back. ${answer.why}`, true); else this.promise('Taken back. It counts when the survey is processed again: ');
    (this.list!.hidden ? this.canvas : this.list!.querySelector('summary')!).focus();
  }

  private send(address: string, fields: Record<string, string>): Promise<Answer> {
    const body = new FormData(this.form!);
    for (const [name, value] of Object.entries(fields)) body.set(name, value);
    return this.ask(address, { method: 'POST', body });
  }

  private async ask(address: string, how?: RequestInit): Promise<Answer> {
    try {
      const answer = await fetch(address, how);
      return answer.ok ? await answer.json() as Answer : { why: `The server answered ${answer.status}; reload the page.` };
    } catch { return { why: 'The program does not answer; try again once it runs.' }; }
  }

  private say(words: string, fault = false): void {
    this.said?.replaceChildren(words);
    this.said?.classList.toggle('fault', fault);
  }

  private promise(words: string): void {
    const link = document.createElement('a');
    link.href = '/runs';
    link.textContent = 'process it now, under Runs';
    this.say('');
    this.said?.replaceChildren(words, link);
  }

  // Form, list and button as things stand.
  private settle(): void {
    this.tool?.setAttribute('aria-pressed', String(this.on));
    if (this.form) {
      this.form.hidden = !this.on;
      (document.getElementById('lay-save') as HTMLButtonElement).disabled = this.places.length < 2;
      (document.getElementById('lay-back') as HTMLButtonElement).disabled = !this.places.length;
    }
    const laid = this.shown.laid ?? [];
    this.list!.hidden = !laid.length;
    this.list!.querySelector('summary')!.textContent = `Seabed by hand on this line: ${laid.length}`;
    this.list!.querySelector('ul')!.replaceChildren(...laid.map(act => {
      const item = document.createElement('li'), button = document.createElement('button');
      button.type = 'button';
      button.textContent = 'Take back';
      button.setAttribute('aria-label', `Take back ${act.words}`);
      button.addEventListener('click', () => void this.forget(act.when));
      item.append(`${act.words} `, ...this.form ? [button] : []);
      return item;
    }));
    this.redraw();
  }
}
