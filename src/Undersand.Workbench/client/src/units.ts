/** What lengths are shown in: all that comes from the server is in metres and is converted here; what the server writes itself it converts in LengthUnit.cs. Grid coordinates stay in metres. */
import type { Scale } from './diagram';
import { decimals, roundStep } from './marks';

/** A unit of length; a number keeps its decimals whatever the unit. */
class LengthUnit {
  constructor(readonly name: string, readonly metres: number) {}

  of(metres: number): number { return metres / this.metres; }

  write(metres: number, places: number): string { return `${this.of(metres).toFixed(places)} ${this.name}`; }

  /** A length that was set or is round, without zeros at its end. */
  given(metres: number, places = 2): string { return `${+this.of(metres).toFixed(places)} ${this.name}`; }
}

// A yard is 0.9144 m exactly (international yard and pound agreement of 1959; 24 Federal Register 5348), a foot a third of that and a fathom six feet.
const metre = new LengthUnit('m', 1), foot = new LengthUnit('ft', 0.3048), fathom = new LengthUnit('fathoms', 1.8288);
const kilometre = new LengthUnit('km', 1000), centimetre = new LengthUnit('cm', 0.01);

/** Depth: of what lies below the water surface. Length: of burial, size, distance and height above the seabed. */
const all: Record<string, { depth: LengthUnit; length: LengthUnit }> = {
  metres: { depth: metre, length: metre }, feet: { depth: foot, length: foot }, fathoms: { depth: fathom, length: foot },
};

export const unitNames = Object.keys(all);

/** As the server chose for this page; another choice loads the page anew. */
export const units = all[document.documentElement.dataset['units'] ?? ''] ?? all['metres']!;

/** A length as people say it: in metres also as kilometres and centimetres. */
export function sized(metres: number): string {
  const unit = units.length !== metre ? units.length : metres >= 1000 ? kilometre : metres >= 1 ? metre : centimetre;
  return unit.given(metres, unit === centimetre ? 1 : 3);
}

/** A length that is round in its unit, so that about so many fit into a span. */
export function roundLength(span: number, about: number): number { return roundStep(units.length.of(span), about) * units.length.metres; }

/** A scale from a number of metres to another, in about so many steps that are round in the unit shown. */
export function scaleOf(words: string, unit: LengthUnit, from: number, to: number, about: number, at: (metres: number) => number, leastPlaces = 0): Scale {
  const step = roundStep(unit.of(to - from), about), places = Math.max(leastPlaces, decimals(step));
  return { words, from: unit.of(from), to: unit.of(to), step, at: value => at(value * unit.metres), write: value => value.toFixed(places) };
}

/** Round values along a legend, seven at most. */
export function ticks(low: number, high: number): number[] {
  const step = roundStep(high - low, 3.5), first = Math.ceil(low / step - 1e-9);
  return Array.from({ length: Math.floor(high / step + 1e-9) - first + 1 }, (_, i) => +((first + i) * step).toFixed(6));
}
