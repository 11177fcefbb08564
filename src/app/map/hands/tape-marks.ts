import { footM, type UnitSystem } from '../../../../lib/units/units';

/** A mark on a tape: how far along, how long, and the number at it. */
export interface TapeMark {
  readonly alongPx: number;
  readonly lengthPx: number;
  readonly number: string | null;
}

const closestPx = 4;
const numberedPx = 26;
/** Steps of a tape in metres or feet, each a multiple of those before it that it lies over. */
const steps: Readonly<Record<UnitSystem, readonly number[]>> = {
  metric: [0.1, 0.5, 1, 5, 10, 50, 100],
  us: [0.25, 0.5, 1, 5, 10, 50, 100],
};

/** Marks of a tape of a length on the screen, in the user's unit: as fine as can be told apart, numbered as can be read. */
export function tapeMarks(lengthPx: number, metresPerPx: number, units: UnitSystem): TapeMark[] {
  const unitPx = (units === 'us' ? footM : 1) / metresPerPx;
  const drawn = steps[units].filter((step) => step * unitPx >= closestPx);
  const finest = drawn.at(0);
  if (finest === undefined) return [];
  const numbered =
    steps[units].find((step) => step >= 1 && step * unitPx >= numberedPx) ?? Infinity;
  const count = Math.floor(lengthPx / (finest * unitPx));
  return Array.from({ length: count }, (_, i): TapeMark => {
    const value = Math.round((i + 1) * finest * 100) / 100;
    const rank = drawn.filter((step) => isMultiple(value, step)).length;
    return {
      alongPx: value * unitPx,
      lengthPx: Math.min(11, 2 + 3 * rank),
      number: isMultiple(value, numbered) ? String(value) : null,
    };
  });
}

function isMultiple(value: number, step: number): boolean {
  return Math.abs(value / step - Math.round(value / step)) < 1e-6;
}
