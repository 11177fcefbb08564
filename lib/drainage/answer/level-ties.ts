import type { Relevelled } from '../../ground/relevelled';
import type { LocalPlan } from '../../plan/local-plan';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { ErrorModel } from '../height-error/error-field';

/** Levels that stand for the elevation inside an outline, and whether both agree around it. Field names are those of the JSON output. */
export interface LevelTieRow {
  /** Id of the outline. */
  readonly feature: string;
  /** Whether the levels replace the elevation. */
  readonly replaced: boolean;
  /** Levels inside. */
  readonly levels: number;
  /** Levels outside or on the outline, where the elevation was compared. */
  readonly ties: number;
  /** Levels less elevation there, on average; null without any. The levels were set on the elevation by it. */
  readonly offset_m: number | null;
  /** What the stated errors allow; null where the levels have a zero of their own. */
  readonly offset_allowed_m: number | null;
  /** Standard deviation about the average; null of fewer than two. */
  readonly spread_m: number | null;
  readonly spread_allowed_m: number;
  /** Null where it cannot be told. */
  readonly holds: boolean | null;
  readonly says: string;
}

/** So many standard deviations are put down to error. Our choice, no source. */
const allowedDeviations = 2;
/** Fewer ties tell a slip from a difference of the zeros only by luck. Our choice, no source. */
const fewestTies = 3;

/**
 * Whether levels and elevation agree at the outlines inside which one replaces the other: their mean difference against
 * the errors of both, of which that of the elevation is shared by neighbouring heights for its long-range part and
 * evens out for its short-range one; their spread against the short-range part alone.
 *
 * @param errors - of the elevation.
 */
export function levelTies(
  all: readonly Relevelled[],
  { plan }: LocalPlan,
  errors: ErrorModel,
): LevelTieRow[] {
  const units = plan.lotfall.units ?? 'metric';
  return all.map(({ id, fault, levels, tie }) => {
    const { count, offsetM, spreadM, accuracyM, isOwnZero } = tie;
    const shortM2 = errors.shortM ** 2 + accuracyM ** 2;
    const offsetAllowedM =
      allowedDeviations * Math.sqrt(errors.longM ** 2 + shortM2 / Math.max(1, count));
    const row = {
      feature: id,
      replaced: fault === null,
      levels,
      ties: count,
      offset_m: offsetM,
      offset_allowed_m: isOwnZero ? null : offsetAllowedM,
      spread_m: spreadM,
      spread_allowed_m: allowedDeviations * Math.sqrt(shortM2),
    };
    const isOff = !isOwnZero && offsetM !== null && Math.abs(offsetM) > offsetAllowedM;
    const isUneven = spreadM !== null && spreadM > row.spread_allowed_m;
    const holds = isOff || isUneven ? false : count < fewestTies ? null : true;
    return { ...row, holds, says: fault ?? words({ ...row, holds }, { isOff, isUneven }, units) };
  });
}

function words(
  row: Omit<LevelTieRow, 'says'>,
  { isOff, isUneven }: { readonly isOff: boolean; readonly isUneven: boolean },
  units: UnitSystem,
): string {
  const { ties, offset_m: offsetM, spread_m: spreadM, offset_allowed_m: allowedM } = row;
  const length = (metres: number): string => formatLength(Math.abs(metres), units);
  const replaced = `${row.levels} ${row.levels === 1 ? 'level replaces' : 'levels replace'} the elevation’s heights inside it`;
  if (offsetM === null) {
    return `${replaced}, and no level outside or on the outline ties the two together: read three or more there, where the ground is as it was.`;
  }
  const at = `at the ${ties === 1 ? 'one level' : `${ties} levels`} outside or on the outline`;
  const set = 'they were set on the elevation by that, so that no step stands at the outline';
  const offset =
    allowedM === null
      ? `their zero lies ${length(offsetM)} ${offsetM > 0 ? 'below' : 'above'} that of the elevation ${at}, by which they were set on it`
      : `they lie ${length(offsetM)} ${offsetM < 0 ? 'lower' : 'higher'} than the elevation ${at}, ${isOff ? `more than the ${length(allowedM)} that the errors of both allow` : 'which the errors of both allow'}; ${set}`;
  const spread =
    spreadM === null
      ? ''
      : `; from one to the next that differs by ${length(spreadM)}${isUneven ? `, more than the ${length(row.spread_allowed_m)} that the errors allow` : ''}`;
  const todo = [
    ...(isOff
      ? [
          'Check the unit and the vertical datum of both and the height of the mark; where the ground there has changed too, draw the outline around that as well.',
        ]
      : []),
    ...(isUneven
      ? [
          'The ground there has changed too, or a level is off: read those again, or draw the outline farther out.',
        ]
      : []),
    ...(ties < fewestTies
      ? ['Three ties or more tell a slip from a difference of the zeros.']
      : []),
  ];
  return [`${replaced}; ${offset}${spread}.`, ...todo].join(' ');
}
