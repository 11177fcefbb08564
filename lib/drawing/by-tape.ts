import type { XY } from '../frame/frame';
import { formatLength } from '../units/format';
import type { UnitSystem } from '../units/units';

/** A distance taped from a known place. */
export interface Tape {
  readonly from: XY;
  readonly lengthM: number;
}

/** Where two tapes meet, or why they do not. */
export type TapesMeet =
  | {
      readonly meet: true;
      /** To the left of the way from the first place to the second, then to the right; the same where they just touch. */
      readonly crossings: readonly [left: XY, right: XY];
    }
  | {
      readonly meet: false;
      /** `short`: together they do not bridge the way; `long`: one reaches past all that the other can. */
      readonly why: 'short' | 'long' | 'same-place';
      /** By how much one of them would have to differ. */
      readonly gapM: number;
    };

/** Tapes are read to the half centimetre or so: those that miss by less just touch. */
const readingM = 0.005;

/** The places that lie at two taped distances from two known places. */
export function twoTapes(first: Tape, second: Tape): TapesMeet {
  const [ax, ay] = first.from;
  const [bx, by] = second.from;
  const apartM = Math.hypot(bx - ax, by - ay);
  if (apartM < readingM) return { meet: false, why: 'same-place', gapM: apartM };
  const shortM = apartM - first.lengthM - second.lengthM;
  const longM = Math.abs(first.lengthM - second.lengthM) - apartM;
  if (shortM > readingM) return { meet: false, why: 'short', gapM: shortM };
  if (longM > readingM) return { meet: false, why: 'long', gapM: longM };
  const alongM = (apartM ** 2 + first.lengthM ** 2 - second.lengthM ** 2) / (2 * apartM);
  const outM = Math.sqrt(Math.max(0, first.lengthM ** 2 - alongM ** 2));
  return {
    meet: true,
    crossings: [
      alongAndOut(first.from, second.from, alongM, -outM),
      alongAndOut(first.from, second.from, alongM, outM),
    ],
  };
}

/** Why two tapes do not meet, as a sentence; null where they do. */
export function tapesFault(met: TapesMeet, units: UnitSystem): string | null {
  if (met.meet) return null;
  const gap = formatLength(met.gapM, units);
  switch (met.why) {
    case 'short':
      return `The two tapes do not meet: ${gap} is missing between them; measure again or type a longer one.`;
    case 'long':
      return `The two tapes do not meet: one reaches ${gap} past all that the other can; measure again or type another length.`;
    case 'same-place':
      return 'Both tapes begin at the same place: choose two corners apart from each other.';
  }
}

/**
 * The place so far along the line from one place to another and so far square out from it, to the right of the way;
 * both may be negative.
 */
export function alongAndOut(from: XY, to: XY, alongM: number, outM: number): XY {
  const lengthM = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] = [(to[0] - from[0]) / lengthM, (to[1] - from[1]) / lengthM];
  return [from[0] + alongM * ux + outM * uy, from[1] + alongM * uy - outM * ux];
}
