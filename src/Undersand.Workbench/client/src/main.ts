import { frame, help } from './frame';
import { legend } from './legend';
import { lower } from './lower';
import { Plan } from './map';
import { Palette, type Findable } from './palette';
import { readPlace } from './place';
import { Section } from './section';
import { signKey } from './signs';
import { State } from './state';
import { isNear, load, nameOf, type Survey, type Target } from './survey';
import { unitNames, units } from './units';

const lows = ['section', 'volume', 'echoes'], ways = ['slices', 'greatest', 'surface', 'both'];
const layers: [string, string][] = [['texture', 'Not surveyed ⁄⁄ and blind ∷'], ['lines', 'Survey lines'], ['targets', 'Targets'], ['ellipses', 'Outlines and ellipses'], ['numbers', 'Numbers and judgements'], ['magnetics', 'Magnetics'], ['finds', 'Finds and empty holes'], ['grid', 'Grid of eastings and northings'], ['graticule', 'Longitude and latitude']];

frame();
const box = document.getElementById('map');
if (box) void start(box);

async function start(box: HTMLElement): Promise<void> {
  let survey: Survey;
  try { survey = await load(); } catch (fault) {
    box.innerHTML = '';
    const words = document.createElement('p');
    words.className = 'empty';
    words.textContent = `The results could not be read (${fault instanceof Error ? fault.message : String(fault)}). Reload the page once the program runs again.`;
    box.append(words);
    return;
  }
  const state = new State(survey);
  const choose = (id: string) => { state.set({ target: id }); undersand.ask('choose', id); };
  const plan = new Plan(state, box, choose), section = new Section(state, document.getElementById('section') as HTMLCanvasElement, choose);
  section.placing = at => { if (plan.mode === 'look') return false; plan.place(at); return true; };
  pickers(state, plan);
  keys(state, plan, section, lower(state, choose));
  document.addEventListener('us-chosen', e => state.set({ target: (e as CustomEvent<string | null>).detail ?? '' }));
  document.addEventListener('us-judged', e => {
    const said = (e as CustomEvent<Record<string, Pick<Target, 'verdict' | 'outline' | 'parts' | 'mergedWith'>>>).detail, nothing = { verdict: '', outline: [], parts: [], mergedWith: [] };
    for (const t of survey.targets) Object.assign(t, nothing, said[t.id]);
    plan.map.render();
    section.redraw();
  });
  document.addEventListener('us-list', e => { const d = (e as CustomEvent<{ sort: string; words: string; only: string; held: string }>).detail; state.set({ sort: d.sort, words: d.words, only: d.only, held: d.held }); });
  box.dataset['ready'] = 'true';
}

function pickers(state: State, plan: Plan): void {
  const { survey, view } = state, byId = (id: string) => document.getElementById(id)!;
  const fill = (id: string, options: [string, string][], value: () => string, set: (value: string) => void) => {
    const select = byId(id) as HTMLSelectElement;
    if (options.length) select.replaceChildren(...options.map(([v, words]) => new Option(words, v)));
    const show = () => { select.value = value(); };
    select.addEventListener('change', () => set(select.value));
    state.on(show);
    show();
  };
  const slices = survey.sections.map(q => [`slice.${q.name}`, `Slice: ${q.title}`] as [string, string]);
  fill('map-quantity', [...survey.maps.map(m => [m.name, m.title] as [string, string]), ...slices, ['none', 'Nothing']], () => view.ground, ground => state.set({ ground }));
  fill('cut-line', [...survey.lines.map(l => [l.name, l.name] as [string, string]), ['', 'a cut of your own']], () => view.line, line => line ? state.set({ line, path: [], from: 0, to: 0 }) : plan.setMode('cut'));
  fill('cut-quantity', survey.sections.map(q => [q.name, q.title] as [string, string]), () => view.shows, shows => state.set({ shows }));
  fill('volume-quantity', survey.sections.map(q => [q.name, q.title] as [string, string]), () => view.shows, shows => state.set({ shows, iso: null }));
  fill('volume-as', [], () => view.as, as => state.set({ as }));
  fill('volume-box', [], () => view.box, box => state.set({ box }));
  fill('volume-cut', [], () => view.cut, cut => state.set({ cut }));
  fill('volume-tall', [], () => String(view.tall), tall => state.set({ tall: Number(tall) }));
  fill('echo-line', [...survey.lines.map(l => [l.name, l.name] as [string, string]), ['', 'a cut of your own']], () => view.line, line => { if (line) state.set({ line, path: [], from: 0, to: 0 }); });
  fill('echo-gain', [], () => String(view.gain), gain => state.set({ gain: Number(gain) }));
  fill('echo-times', [], () => view.times, times => state.set({ times }));
  legend(byId('echo-legend'), survey.echoes[0], survey.version);
  fill('cut-datum', [], () => view.datum, datum => state.set({ datum, sunk: 0 }));
  fill('cut-reach', [], () => String(view.reach), reach => state.set({ reach: Number(reach) }));
  fill('cut-stretch', [], () => String(view.stretch), stretch => state.set({ stretch: Number(stretch) }));
  const legends = () => {
    legend(byId('map-legend'), survey.maps.find(m => m.name === view.ground) ?? survey.sections.find(q => `slice.${q.name}` === view.ground), survey.version);
    for (const id of ['cut-legend', 'volume-legend']) legend(byId(id), survey.sections.find(q => q.name === view.shows), survey.version);
  };
  state.on(changed => { if (changed.has('ground') || changed.has('shows')) legends(); });
  legends();
  const slider = byId('slice') as HTMLInputElement;
  slider.min = '0';
  slider.max = String(survey.volume.levels - 1);
  slider.addEventListener('input', () => state.set({ slice: Number(slider.value) }));
  const slice = () => {
    byId('slice-pick').hidden = !view.ground.startsWith('slice.');
    slider.value = String(view.slice);
    byId('slice-burial').textContent = units.length.write(state.sliceBurial, 2);
  };
  state.on(slice);
  slice();
  const given = (name: string) => name === 'magnetics' ? survey.magnetics > 0 : name !== 'finds' || survey.outcomes.length > 0;
  byId('layers').replaceChildren(...bases(state), ...layers.filter(([name]) => given(name)).map(([name, words]) => {
    const label = document.createElement('label'), check = document.createElement('input');
    check.type = 'checkbox';
    check.checked = state.shown(name);
    check.addEventListener('change', () => state.set({ hidden: check.checked ? view.hidden.filter(h => h !== name) : [...view.hidden, name] }));
    label.append(check, ` ${words}`);
    return label;
  }));
  signKey(byId('signs'));
  byId('map-in').addEventListener('click', () => plan.zoom(1.6));
  byId('map-out').addEventListener('click', () => plan.zoom(1 / 1.6));
  byId('map-all').addEventListener('click', () => plan.all());
  byId('map-measure').addEventListener('click', () => plan.setMode('measure'));
  byId('map-cut').addEventListener('click', () => plan.setMode('cut'));
  plan.onDrawn = (kind, points) => undersand.ask(kind, points.map(p => p.map(x => x.toFixed(2)).join(', ')).join('; '));
  plan.onMode = () => {
    byId('map-measure').setAttribute('aria-pressed', String(plan.mode === 'measure'));
    byId('map-cut').setAttribute('aria-pressed', String(plan.mode === 'cut'));
  };
}

// How strongly each base map shows; 0 is not at all.
function bases(state: State): HTMLElement[] {
  return state.survey.bases.map((b, i) => {
    const label = document.createElement('label'), range = document.createElement('input'), words = document.createElement('span');
    range.type = 'range';
    range.max = '100';
    range.step = '5';
    range.value = String(state.view.bases[i]);
    const say = () => { words.textContent = `${b.name}, ${state.view.bases[i]} %`; };
    range.addEventListener('input', () => { state.set({ bases: state.view.bases.map((o, k) => k === i ? Number(range.value) : o) }); say(); });
    say();
    label.className = 'pick base';
    label.append(words, range);
    return label;
  });
}

function keys(state: State, plan: Plan, section: Section, lay: () => Promise<void>): void {
  const next = <T>(all: T[], now: T) => all[(all.indexOf(now) + 1) % all.length]!;
  const cut = () => {
    const t = state.chosen;
    if (!t) return;
    const [e, n] = t.at, half = 4, eastWest = [e - half, n, e + half, n], same = JSON.stringify(state.view.path.map(x => +x.toFixed(2))) === JSON.stringify(eastWest.map(x => +x.toFixed(2)));
    state.set({ line: '', path: same ? [e, n - half, e, n + half] : eastWest, from: 0, to: 0 });
  };
  const palette = new Palette(() => findable(state, plan, section, acts), words => {
    const { grid, degrees } = readPlace(words);
    const offer = (at: [number, number], words: string, more: string): Findable | null => isNear(survey.extent, ...at)
      ? { words: `Place ${words}`, more, act: () => { plan.goTo(at); state.point({ e: at[0], n: at[1] }); } } : null;
    return degrees && offer(plan.fromGeo(degrees), `${+degrees[1].toFixed(7)}°, ${+degrees[0].toFixed(7)}°`, 'latitude, longitude') || grid && offer(grid, grid.join(', '), survey.crs) || null;
  });
  const survey = state.survey;
  const acts: Record<string, () => void> = {
    j: () => undersand.ask('step', 'next'), k: () => undersand.ask('step', 'previous'),
    a: () => undersand.ask('verdict', 'Accept'), d: () => undersand.ask('verdict', 'Doubt'), r: () => undersand.ask('verdict', 'Reject'),
    1: () => undersand.ask('priority', '1'), 2: () => undersand.ask('priority', '2'), 3: () => undersand.ask('priority', '3'),
    u: () => undersand.ask('undo', null), c: () => undersand.ask('compare', null), p: () => palette.open(), n: () => document.getElementById('note')?.focus(), '/': () => document.getElementById('filter')?.focus(),
    z: () => { const t = state.chosen; if (t) { plan.goTo(t.at); section.goTo(t); } }, x: cut, 0: () => { plan.all(); section.all(); },
    m: () => plan.setMode('measure'), o: () => plan.setMode('outline'), b: () => plan.setMode('split'), f: () => plan.finish(), s: () => plan.setMode('cut'), h: () => void lay(), '+': () => plan.zoom(1.6), '=': () => plan.zoom(1.6), '-': () => plan.zoom(1 / 1.6),
    l: () => state.set({ line: next(state.survey.lines.map(l => l.name), state.view.line), path: [], from: 0, to: 0 }),
    q: () => state.set({ ground: next([...state.survey.maps.map(m => m.name), ...state.survey.sections.map(q => `slice.${q.name}`), 'none'], state.view.ground) }),
    '[': () => state.set({ slice: Math.max(state.view.slice - 1, 0) }), ']': () => state.set({ slice: Math.min(state.view.slice + 1, state.survey.volume.levels - 1) }),
    w: () => state.set({ shows: next(state.survey.sections.map(q => q.name), state.view.shows) }),
    t: () => undersand.theme(next(undersand.themes, document.documentElement.dataset['theme'] ?? 'light')),
    v: () => state.set({ low: next(lows, state.view.low) }), g: () => state.set({ low: 'volume', as: next(ways, state.view.as) }),
    '?': () => help()?.showModal(),
  };
  document.addEventListener('keydown', e => {
    const at = e.target as HTMLElement;
    if (e.ctrlKey || e.metaKey || e.altKey || document.querySelector('dialog[open]') || at.matches('input, textarea, select')) {
      if (e.key === 'Escape' && at.matches('input, textarea')) at.blur();
      return;
    }
    const act = acts[e.key];
    if (!act) return;
    e.preventDefault();
    act();
  });
}

const commands: [string, string][] = [['a', 'Accept the chosen target'], ['d', 'Doubt the chosen target'], ['r', 'Reject the chosen target'], ['n', 'Write a note'], ['u', 'Undo'], ['x', 'Cut through the chosen target'], ['z', 'Go to the chosen target'], ['0', 'Whole survey'], ['m', 'Measure'], ['o', 'Outline the chosen target by hand'], ['b', 'Split the chosen target'], ['s', 'Draw a section'], ['h', 'Lay the seabed by hand over the echoes'], ['c', 'Hold to compare'], ['v', 'Section, volume or echoes beneath the plan'], ['g', 'Volume: slices, greatest, surface'], ['t', 'Next theme'], ['?', 'Keys']];

function findable(state: State, plan: Plan, section: Section, acts: Record<string, () => void>): Findable[] {
  const { survey } = state;
  return [
    ...survey.targets.map((t, i) => ({ words: `Target ${nameOf(t, i)}`, more: `${t.id} ${t.verdict}`, act: () => { state.set({ target: t.id }); undersand.ask('choose', t.id); plan.goTo(t.at); section.goTo(t); } })),
    ...commands.filter(([key]) => key !== 'h' || document.getElementById('echo-lay')).map(([key, words]) => ({ words, more: key, act: () => acts[key]?.() })),
    ...unitNames.map(name => ({ words: `Show lengths in ${name}`, more: 'units', act: () => undersand.units(name) })),
    ...survey.lines.map(l => ({ words: `Section along ${l.name}`, more: units.length.write(l.length, 0), act: () => state.set({ line: l.name, path: [], from: 0, to: 0 }) })),
    ...survey.maps.map(m => ({ words: `Show ${m.title}`, more: 'plan', act: () => state.set({ ground: m.name }) })),
    ...survey.sections.map(q => ({ words: `Slice of ${q.title}`, more: 'plan', act: () => state.set({ ground: `slice.${q.name}` }) })),
  ];
}
