import { distance } from '@turf/turf';
import type { CrossingRow, LineCrossings } from './line-crossings';

/** One place at which water crosses the line, in two answers; `null` in the one where none does. */
export interface CrossingPair {
  readonly before: CrossingRow | null;
  readonly after: CrossingRow | null;
}

/** Middles of one place that lie no farther apart are the same, metres. Our choice, no source. */
const samePlaceM = 3;

/**
 * Sets the places at which water crosses the lot's line in two answers beside each other: those of one way, lot and
 * means whose middles are nearest, each once.
 *
 * @returns those of the later answer in its order, then what only the earlier has.
 */
export function crossingPairs(
  before: LineCrossings | null,
  after: LineCrossings | null,
): CrossingPair[] {
  const free = [...(before?.rows ?? [])];
  const pairs = (after?.rows ?? []).map((row): CrossingPair => {
    const near = free
      .map((other, index) => ({ index, awayM: awayM(row, other) }))
      .filter((each) => each.awayM <= samePlaceM)
      .sort((a, b) => a.awayM - b.awayM)
      .at(0);
    if (near === undefined) return { before: null, after: row };
    const [was] = free.splice(near.index, 1);
    return { before: was, after: row };
  });
  return [...pairs, ...free.map((row): CrossingPair => ({ before: row, after: null }))];
}

function awayM(a: CrossingRow, b: CrossingRow): number {
  if (a.direction !== b.direction || a.lot !== b.lot || a.by !== b.by) return Infinity;
  if (a.at === null || b.at === null) return a.at === b.at ? 0 : Infinity;
  return distance([...a.at], [...b.at], { units: 'meters' });
}
