import type { CrossingPair } from '../../../lib/drainage/answer/crossing-pairs';
import {
  crossingFigures,
  crossingPlace,
  peakWords,
  toldCrossings,
  changedPairs,
} from '../../../lib/drainage/answer/crossing-words';
import type { LineCrossings } from '../../../lib/drainage/answer/line-crossings';
import type { UnitSystem } from '../../../lib/units/units';
import { table } from '../writing/table';

/** Where water crosses the lot's line; empty where none does. */
export function crossingsText(crossings: LineCrossings | null, units: UnitSystem): string {
  if (crossings === null) return '';
  const rows = toldCrossings(crossings.rows);
  if (rows.length === 0) return '';
  return `Where water crosses the lot’s line (a way that winds over it counts each time):\n${table(
    rows.map((row) => [`  ${crossingPlace(row, units)}`, crossingFigures(row, units)]),
  )}\n${peakWords(crossings)}`;
}

/** The same places in two states. */
export function crossingPairsText(
  pairs: readonly CrossingPair[],
  states: readonly string[],
  crossings: LineCrossings | null,
  units: UnitSystem,
): string {
  const told = changedPairs(pairs);
  if (told.length === 0 || crossings === null) return '';
  const rows = told.flatMap(({ before, after }) => {
    const row = after ?? before;
    if (row === null) return [];
    const [was, is] = [before, after].map((side) =>
      side === null ? 'none there' : crossingFigures(side, units),
    );
    return [[`  ${crossingPlace(row, units)}`, was, is]];
  });
  return `Where water crosses the lot’s line otherwise:\n${table([['', ...states], ...rows])}\n${peakWords(crossings)}`;
}
