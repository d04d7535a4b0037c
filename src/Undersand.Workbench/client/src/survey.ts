import { ticks, units } from './units';

/** What the server says about the results: see ViewJson on its side. Metres in the survey's reference system; burial and depth grow downwards. A quantity's title, low and high are as shown. */
export interface Quantity { name: string; title: string; meaning: string; low: number; high: number; downwards: boolean; ticks: number[]; measure: 'depth' | 'length' | null }

export interface Line { name: string; length: number; path: number[] }

export interface Target {
  id: string; at: [number, number]; depth: number; ellipse: [major: number, minor: number, azimuth: number]; other?: [number, number];
  burial: number; burialSd: number;
  /** The width is 0 where only the length is resolved. */
  size?: [length: number, width: number, thickness: number, azimuth: number]; probability?: number; verdict: string;
  /** What people drew: easting, northing, easting and so on; ids that it is one thing with. */
  outline: number[]; parts: number[]; mergedWith: string[];
}

/** A layer of the user's own under the survey; pictures with a grid of their own say so. */
export interface Base { name: string; version: string; kind: 'pictures' | 'outlines'; origin?: [number, number]; resolutions?: number[]; tileWidths?: number[]; tileHeights?: number[]; columns?: number[]; rows?: number[] }

/** What was found where someone looked, down to a burial. */
export interface Outcome { at: [number, number]; radius: number; reached: number; seabed: [number | null]; kind: 'object' | 'nothing' | 'natural'; material: string }

export interface Survey {
  name: string; crs: string; code: string; datum: string; proj: string; version: string; newest: string | null;
  extent: [number, number, number, number]; origin: [number, number]; resolutions: number[];
  volume: { voxel: number; corner: [number, number]; counts: [number, number, number]; levels: number; firstBurial: number; firstDepth: number; depthLevels: number };
  maps: Quantity[]; sections: Quantity[]; echoes: Quantity[]; lines: Line[]; targets: Target[];
  bases: Base[]; refused: string[]; magnetics: number; magneticsStandOutFrom: number; outcomes: Outcome[];
}

/** A place farther from the survey is not meant, metres. */
const farthest = 100_000;

/** Whether a place may be meant: within the survey or not too far from it. */
export function isNear([west, south, east, north]: Survey['extent'], e: number, n: number): boolean { return Math.hypot(Math.max(west - e, e - east, 0), Math.max(south - n, n - north, 0)) <= farthest; }

/** What a target is called by its place in the list; to a second judge, who is given no probability, by the blind list's own names. */
export function nameOf(t: Target, index: number): string { return `${t.probability === undefined ? 'B' : ''}${index + 1}`; }

/** Its name with what was said of it. */
export function labelOf(t: Target, index: number): string { return nameOf(t, index) + (t.verdict ? ` ${t.verdict}` : ''); }

export async function load(): Promise<Survey> {
  const answer = await fetch('/api/view');
  if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
  const survey = await answer.json() as Survey;
  for (const q of [...survey.maps, ...survey.sections, ...survey.echoes]) show(q);
  return survey;
}

// From metres to what is shown, where it is a length.
function show(q: Quantity): void {
  if (q.measure) [q.title, q.low, q.high] = [`${q.title}, ${units[q.measure].name}`, units[q.measure].of(q.low), units[q.measure].of(q.high)];
  q.ticks = ticks(q.low, q.high);
}
