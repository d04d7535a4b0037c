/** What the server says about the results: see ViewJson on its side. Metres in the survey's reference system; burial and depth grow downwards. */
export interface Quantity { name: string; title: string; meaning: string; low: number; high: number; downwards: boolean; ticks: number[] }

export interface Line { name: string; length: number; path: number[] }

export interface Target {
  id: string; at: [number, number]; depth: number; ellipse: [major: number, minor: number, azimuth: number]; other?: [number, number];
  burial: number; burialSd: number; size?: [length: number, width: number, thickness: number, azimuth: number]; probability: number; verdict: string;
}

export interface Survey {
  name: string; crs: string; code: string; datum: string; proj: string; version: string; newest: string | null;
  extent: [number, number, number, number]; origin: [number, number]; resolutions: number[];
  volume: { voxel: number; corner: [number, number]; counts: [number, number, number]; levels: number; firstBurial: number; firstDepth: number; depthLevels: number };
  maps: Quantity[]; sections: Quantity[]; echoes: Quantity[]; lines: Line[]; targets: Target[];
}

export async function load(): Promise<Survey> {
  const answer = await fetch('/api/view');
  if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
  return await answer.json() as Survey;
}
