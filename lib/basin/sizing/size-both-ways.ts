import { formatArea } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import {
  classOfDepth,
  sizeByFactor,
  type Drained,
  type SizeFactor,
  type SoilTexture,
} from '../form/size-factors';
import { areaForShare, tryBowl, type SizingTask } from './sizing';

/** The area of a basin by published factors and by its own storm, side by side. */
export interface SizedBothWays {
  readonly soil: SoilTexture;
  readonly factorAreaM2: number;
  /** Each drained area's factor, in the order given. */
  readonly factors: readonly SizeFactor[];
  /** Share of the storm that a basin of that area captures. */
  readonly factorCapturedShare: number;
  readonly wantedShare: number;
  /** Area that captures the wanted share; `null` when none looked at does. */
  readonly stormAreaM2: number | null;
  /** Within a quarter of each other: nearer than the factors themselves are good for. */
  readonly agree: boolean;
  /** Why they differ, with what that comes to. */
  readonly why: string;
}

/** Areas this near each other are taken to say the same. Our choice, no source. */
const nearRatio = 1.25;

/**
 * Sizes a basin both ways, and finds out why they differ: it is simulated again without what the factors do not know of, and
 * what changes the area most is named.
 *
 * The factors aim at most of a year's rain (Wisconsin: all of an average year; Rhode Island: over 90 % of roof run-off),
 * not at one storm, and count lawn like roof.
 *
 * @param drained - ground and roofs that drain here.
 * @param runOffShare - share of the rain on them that runs off in the storm.
 * @param units - that the words are in.
 */
export function sizeBothWays(
  task: SizingTask,
  soil: SoilTexture,
  drained: readonly Drained[],
  wantedShare: number,
  runOffShare: number,
  units: UnitSystem,
): SizedBothWays {
  const { areaM2: factorAreaM2, factors } = sizeByFactor(
    soil,
    classOfDepth(task.bowl.pondingDepthM),
    drained,
  );
  const stormAreaM2 = areaForShare(task, wantedShare);
  const factorCapturedShare =
    factorAreaM2 > 0 ? tryBowl(task, { areaM2: factorAreaM2 }).capturedShare : 0;
  const ratio = stormAreaM2 === null ? Infinity : stormAreaM2 / factorAreaM2;
  const agree = ratio < nearRatio && ratio > 1 / nearRatio;
  return {
    soil,
    factorAreaM2,
    factors,
    factorCapturedShare,
    wantedShare,
    stormAreaM2,
    agree,
    why: agree
      ? 'Both ways come to about the same area.'
      : ratio > 1
        ? whyLarger(task, wantedShare, stormAreaM2, factorAreaM2, units)
        : whySmaller(task, wantedShare, runOffShare, stormAreaM2 ?? factorAreaM2, units),
  };
}

function whyLarger(
  task: SizingTask,
  wantedShare: number,
  areaM2: number | null,
  factorAreaM2: number,
  units: UnitSystem,
): string {
  const half = areaForShare({ ...task, inflow: scaled(task, 0.5) }, wantedShare);
  const about =
    'The factors aim at the rains of a year, most of them small; this is one storm at once.';
  if (areaM2 === null) return `${about} No area looked at captures the wanted share of it.`;
  return half === null
    ? about
    : `${about} With half the water the area would be ${formatArea(half, units)}, against ${formatArea(factorAreaM2, units)} by the factors.`;
}

function whySmaller(
  task: SizingTask,
  wantedShare: number,
  runOffShare: number,
  areaM2: number,
  units: UnitSystem,
): string {
  const withoutPores = areaForShare({ ...task, layers: [] }, wantedShare);
  const asRoof = areaForShare({ ...task, inflow: scaled(task, 1 / runOffShare) }, wantedShare);
  const growth = (found: number | null): number => (found ?? Infinity) / areaM2;
  const reasons: string[] = [];
  if (growth(asRoof) >= nearRatio) {
    reasons.push(
      `${Math.round(runOffShare * 100)} % of the rain runs off in this storm, and the factors count all ground alike (${orMore(asRoof, units)} if all ran off)`,
    );
  }
  if (growth(withoutPores) >= nearRatio) {
    reasons.push(
      `the pores of the layers hold water that the factors do not count (${orMore(withoutPores, units)} without layers)`,
    );
  }
  return reasons.length === 0
    ? 'The storm is smaller than what the factors are made for.'
    : `The storm asks for less: ${reasons.join('; ')}.`;
}

function orMore(areaM2: number | null, units: UnitSystem): string {
  return areaM2 === null ? 'more than any area looked at' : formatArea(areaM2, units);
}

function scaled({ inflow }: SizingTask, factor: number): SizingTask['inflow'] {
  return { ...inflow, runOnM3: inflow.runOnM3.map((each) => each * factor) };
}
