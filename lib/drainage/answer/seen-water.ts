import type { LngLat } from '../../frame/frame';
import { featuresOf, type FeatureOf, type Plan } from '../../plan/schema';
import { hourS } from '../../units/units';

/** What the storm computed has to do with what somebody saw. */
export interface SeenAgainst {
  /** Computed depth at a place when the storm is over, metres; null where no ground was read. */
  readonly depthAt: (place: LngLat) => number | null;
  readonly rainMm: number;
  /** Vertical error of the heights, metres. */
  readonly errorM: number;
  /** Infiltration for design, m/s; null where nothing is known of the soil. */
  readonly rateMPerS: number | null;
}

/** Water that somebody saw beside what was computed there. */
export interface SeenWater {
  readonly id: string;
  readonly seen: FeatureOf<'observation'>['properties'];
  readonly computedM: number | null;
  /**
   * How the depths compare; `other-rain` where what fell differs from the storm, `unread` where there is no ground, `unsaid`
   * where nobody says how deep it was.
   */
  readonly depth: 'agrees' | 'seen-only' | 'computed-only' | 'deeper' | 'shallower' | Unjudged;
  /** How fast it went, m/s: at least, where it was gone by then, at most where it still stood; null where nobody says. */
  readonly fell: { readonly mPerS: number; readonly bound: 'at-least' | 'at-most' } | null;
  /** Whether that fits the rate for design; null where one of the two is not known. */
  readonly rate: 'fits' | 'slower' | 'faster' | null;
}

type Unjudged = 'other-rain' | 'unread' | 'unsaid';

/** Storms that differ by no more than this share are compared. Our choice, no source. */
const sameRainShare = 0.15;
/** Depths by eye and rule are good to so much, metres. Our choice, no source. */
const readToM = 0.02;
/** Less than a film is none, metres. Our choice, no source. */
const noneM = 0.01;
/** A rate this many times the other is another. Our choice, no source: hand tests of one yard differ by as much. */
const otherRate = 3;

/**
 * Every observation of a plan beside what the storm computed there. Depths that differ by less than the heights' error and
 * what an eye reads agree.
 */
export function seenWater(plan: Plan, against: SeenAgainst): SeenWater[] {
  return featuresOf(plan, 'observation')
    .filter(({ properties }) => properties.state !== 'gone')
    .map(({ id, geometry, properties }) => {
      const computedM = against.depthAt(geometry.coordinates);
      const fell = fellBy(properties, computedM);
      return {
        id,
        seen: properties,
        computedM,
        depth: compared(properties, computedM, against),
        fell,
        rate: rateOf(fell, against.rateMPerS),
      };
    });
}

function compared(
  { depth_m: seenM, rain_mm: fallenMm }: SeenWater['seen'],
  computedM: number | null,
  { rainMm, errorM }: SeenAgainst,
): SeenWater['depth'] {
  if (computedM === null) return 'unread';
  if (seenM === undefined) return 'unsaid';
  if (fallenMm !== undefined && Math.abs(fallenMm - rainMm) > sameRainShare * rainMm) {
    return 'other-rain';
  }
  const isSeen = seenM >= noneM;
  const isComputed = computedM >= noneM;
  if (Math.abs(seenM - computedM) <= Math.max(errorM, readToM) && isSeen === isComputed) {
    return 'agrees';
  }
  if (!isComputed) return isSeen ? 'seen-only' : 'agrees';
  if (!isSeen) return 'computed-only';
  return seenM > computedM ? 'deeper' : 'shallower';
}

/** How fast water of a depth went, where somebody says when it was gone or that it still stood. */
function fellBy(
  { depth_m, gone_after_h: gone, still_after_h: still }: SeenWater['seen'],
  computedM: number | null,
): SeenWater['fell'] {
  const depthM = depth_m ?? computedM ?? 0;
  if (depthM < noneM) return null;
  if (gone !== undefined && gone > 0) return { mPerS: depthM / (gone * hourS), bound: 'at-least' };
  if (still !== undefined && still > 0)
    return { mPerS: depthM / (still * hourS), bound: 'at-most' };
  return null;
}

function rateOf(fell: SeenWater['fell'], designMPerS: number | null): SeenWater['rate'] {
  if (fell === null || designMPerS === null || designMPerS <= 0) return null;
  if (fell.bound === 'at-most') return designMPerS > otherRate * fell.mPerS ? 'slower' : 'fits';
  return fell.mPerS > otherRate * designMPerS ? 'faster' : 'fits';
}
