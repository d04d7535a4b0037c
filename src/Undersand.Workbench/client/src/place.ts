/** A place as people write it: pairs it may mean, easting and northing, or longitude and latitude in degrees. */
export function readPlace(words: string): { grid?: [number, number]; degrees?: [number, number] } {
  const plain = words.toLowerCase().replaceAll(/[°º'′’"″”]/g, ' ').replaceAll(/\s+/g, ' ').trim(), part = String.raw`(\d[\d.]*(?: \d[\d.]*){0,2}) ?`;
  const sides = new RegExp(`^${part}([ns])[ ,;]+${part}([ew])$`).exec(plain);
  if (sides) return kept(degrees(sides[3]!) * (sides[4] === 'w' ? -1 : 1), degrees(sides[1]!) * (sides[2] === 's' ? -1 : 1));
  const pair = /^(?:e ?)?(-?\d[\d.]*)(?: ?[,;] ?| )(?:n ?)?(-?\d[\d.]*)$/.exec(plain);
  if (!pair) return {};
  const [a, b] = [Number(pair[1]), Number(pair[2])];
  return Number.isFinite(a + b) ? { grid: [a, b], ...plain.startsWith('e') ? {} : kept(b, a) } : {};
}

// Degrees, then minutes, then seconds: each below 60.
function degrees(words: string): number {
  const parts = words.split(' ').map(Number);
  return parts.slice(1).some(p => p >= 60) ? NaN : parts.reduce((sum, p, i) => sum + p / 60 ** i, 0);
}

function kept(longitude: number, latitude: number): { degrees?: [number, number] } {
  return Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90 ? { degrees: [longitude, latitude] } : {};
}
