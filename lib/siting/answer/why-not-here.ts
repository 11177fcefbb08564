import type { XY } from '../../frame/frame';
import { checkSetbacks } from '../../setback/judge/check-setbacks';
import type { SetbackResult } from '../../setback/judge/setback-result';
import type { SetbackInput } from '../../setback/judge/setback-input';

/** A rule that forbids a place. */
export interface Forbidding {
  /** The full row: rule, feature, distances, words, source. */
  readonly row: SetbackResult;
  /** How far the place is from complying, metres; `null` when that is not a matter of distance. */
  readonly shortByM: number | null;
}

/**
 * Why a basin cannot lie here: every rule that a basin's rim at this point breaks, binding ones first, the worst first.
 *
 * @param radiusM - asks for a round basin of this radius about the point instead of a single point of its rim.
 * @returns an empty list when nothing forbids the place.
 */
export function whyNotHere(
  input: Omit<SetbackInput, 'basins'>,
  point: XY,
  radiusM = 0,
): Forbidding[] {
  const { results } = checkSetbacks({
    ...input,
    basins: [{ id: 'here', rim: radiusM > 0 ? circle(point, radiusM) : [point] }],
  });
  const order = { must: 0, should: 1, advice: 2 };
  return results
    .filter((row) => row.result === 'fail')
    .sort((a, b) => order[a.binding] - order[b.binding])
    .map((row) => ({ row, shortByM: row.margin_m === null ? null : -row.margin_m }));
}

function circle(centre: XY, radiusM: number): XY[] {
  return Array.from({ length: 48 }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / 48;
    return [centre[0] + radiusM * Math.cos(angle), centre[1] + radiusM * Math.sin(angle)];
  });
}
