import { usualElevation } from '../../../lib/drainage/height-error/error-defaults';
import { usualAccuracyM } from '../../../lib/levels/readings';
import { practice, sourceLine } from '../../../lib/source';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';

/** What somebody has to begin with. */
export type WayName = 'file' | 'survey' | 'string' | 'nothing';

/** One way to begin: what it is called, what it needs, and what it is good for. */
export interface Way {
  readonly name: WayName;
  /** On the sheet and as a key. */
  readonly letter: string;
  readonly title: string;
  readonly line: string;
  readonly good: string;
  /** How sure the heights are, with where that comes from. */
  readonly sure: (units: UnitSystem) => string;
}

const byHand = (units: UnitSystem): string =>
  `± ${formatLength(usualAccuracyM, units, usualAccuracyM)} a reading, with care; ${sourceLine(practice)}`;

/** In the order of their letters. */
export const ways: readonly Way[] = [
  {
    name: 'file',
    letter: 'A',
    title: 'A height file',
    line: 'Bare earth, 1 m or finer, as a GeoTIFF.',
    good: 'whole lots and streets: which way water goes, and how much',
    sure: (units) =>
      `± ${formatLength(usualElevation.rmseM, units)}, as usual for ${usualElevation.name}; ${sourceLine(usualElevation.source)}`,
  },
  {
    name: 'survey',
    letter: 'B',
    title: 'A survey, or levels',
    line: 'Spot levels, a rod book, a grading plan.',
    good: 'a wall, a line, a plan that is to be checked',
    sure: () => 'as sure as whoever measured says',
  },
  {
    name: 'string',
    letter: 'C',
    title: 'String and stakes',
    line: 'A string or a hose, and a tape: some twenty readings in an hour.',
    good: 'one wet corner, to the centimetre',
    sure: byHand,
  },
  {
    name: 'nothing',
    letter: 'D',
    title: 'Nothing yet',
    line: 'Distances, buried lines and soil need no heights; puddles do.',
    good: 'what must keep how far from what, whom to ask, how fast the soil takes water',
    sure: () => 'no heights, so nothing is said about where water stands',
  },
];

/** The way of a letter, as a key gives it; null for other keys. */
export function wayOf(letter: string): WayName | null {
  return ways.find((way) => way.letter === letter.toUpperCase())?.name ?? null;
}
