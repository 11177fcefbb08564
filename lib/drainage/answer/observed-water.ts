import { contains } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { designInfiltration } from '../../soil/design-infiltration';
import { hourS, mmPerHOfMPerS } from '../../units/units';
import { errorsOf } from '../height-error/error-defaults';
import type { ShapedGround } from '../storm/shaped-ground';
import { stormOnGround } from '../storm/storm-on-ground';
import { deepestNear } from './deepest-near';

/** Water that somebody saw beside what is reckoned for the same rain. Field names are those of the JSON output. */
export interface ObservedRow {
  readonly feature: string;
  readonly name: string;
  readonly on: string | null;
  /** Rain that the pool is reckoned for, and whether it is that of the plan's event for want of the day's. */
  readonly rain_mm: number;
  readonly rain_assumed: boolean;
  readonly seen_depth_m: number | null;
  readonly computed_depth_m: number;
  /** Seen less computed. */
  readonly difference_m: number | null;
  readonly result: 'agrees' | 'deeper' | 'shallower' | 'not-seen' | 'unknown';
  /** How fast the ground took the water: at least by when it was gone, at most by when it still stood, mm an hour. */
  readonly took_at_least_mm_per_h: number | null;
  readonly took_at_most_mm_per_h: number | null;
  /** What the soil is reckoned with for design, mm an hour. */
  readonly design_mm_per_h: number | null;
  readonly soil: 'agrees' | 'slower' | 'faster' | 'unknown';
  /** The basin that it was seen in. */
  readonly basin: string | null;
  readonly why: readonly string[];
}

/** Water is looked for so far around the place, metres; and two depths agree that differ by less. Our choices, no source. */
const aroundM = 0.75;
const leastApartM = 0.03;
/** A soil's rate for design is set so far below what a hole shows; up to so many times faster is no contradiction. */
const safeTimes = 4;
/** Gone so many times later than by that rate, it was slower, whenever somebody looked. Our choices, no source. */
const slowTimes = 2;
/** Standing for so many hours is too long for plants and people. See the limits of drain-down. */
const wetH = 48;

/**
 * Compares what was seen with what is reckoned: the pool at the place after the rain of that day, and the time that it stood with the soil's
 * rate.
 *
 * Cost: a storm for each depth of rain that was seen.
 */
export function observedWater(
  shape: ShapedGround,
  plan: LocalPlan,
  eventMm: number,
): ObservedRow[] {
  const seen = plan.of.observation;
  if (seen.length === 0) return [];
  const { lotfall } = plan.plan;
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const { rateMPerS } = designInfiltration(lotfall.soil, tests);
  const { rmse_m } = lotfall.elevation ?? {};
  const { shortM } = errorsOf(shape.elevation.cellM, rmse_m === undefined ? {} : { rmseM: rmse_m });
  const depths = new Map<number, Float32Array>();
  return seen.map((observation) => {
    const given = observation.feature.properties.rain_mm;
    const rainMm = given ?? eventMm;
    const depthM = depths.get(rainMm) ?? stormOnGround(shape, plan, rainMm).depthM.slice();
    depths.set(rainMm, depthM);
    return rowOf(observation, {
      plan,
      rainMm,
      computedM: deepestNear(shape.ground.grid, depthM, observation.shape.at, aroundM),
      apartM: Math.max(leastApartM, 2 * shortM),
      designMPerS: rateMPerS,
    });
  });
}

interface Reckoned {
  readonly plan: LocalPlan;
  readonly rainMm: number;
  readonly computedM: number;
  /** Depths agree that differ by no more. */
  readonly apartM: number;
  readonly designMPerS: number | null;
}

function rowOf(
  { id, feature, shape }: LocalFeature<'observation'>,
  { plan, rainMm, computedM, apartM, designMPerS }: Reckoned,
): ObservedRow {
  const { depth_m, on, rain_mm, gone_after_h, still_after_h } = feature.properties;
  const seenM = depth_m ?? null;
  const differenceM = seenM === null ? null : seenM - computedM;
  const result = depthResult(seenM, computedM, apartM);
  const stoodM = seenM ?? computedM;
  const atLeast = rateOf(stoodM, gone_after_h);
  const atMost = rateOf(stoodM, still_after_h);
  const design = designMPerS === null ? null : designMPerS * mmPerHOfMPerS;
  const soil = soilResult(atLeast, atMost, design);
  const basin = plan.of.basin.find((each) => contains(each.shape.rings, shape.at));
  return {
    feature: id,
    name: featureName(feature),
    on: on ?? null,
    rain_mm: rainMm,
    rain_assumed: rain_mm === undefined,
    seen_depth_m: seenM,
    computed_depth_m: computedM,
    difference_m: differenceM,
    result,
    took_at_least_mm_per_h: atLeast,
    took_at_most_mm_per_h: atMost,
    design_mm_per_h: design,
    soil,
    basin: basin?.id ?? null,
    why: [
      depthWords[result],
      ...soilWords[soil],
      ...(rain_mm === undefined
        ? [
            'The day’s rain is not given, so that of the plan’s event is taken: look it up and add it.',
          ]
        : []),
      ...(basin !== undefined && Math.max(gone_after_h ?? 0, still_after_h ?? 0) > wetH
        ? ailing
        : []),
    ],
  };
}

function depthResult(
  seenM: number | null,
  computedM: number,
  apartM: number,
): ObservedRow['result'] {
  if (seenM === null) return 'unknown';
  if (seenM === 0) return computedM > apartM ? 'not-seen' : 'agrees';
  const differenceM = seenM - computedM;
  if (Math.abs(differenceM) <= apartM) return 'agrees';
  return differenceM > 0 ? 'deeper' : 'shallower';
}

const depthWords: Readonly<Record<ObservedRow['result'], string>> = {
  agrees: 'The pool that is reckoned agrees with what was seen, within the error of the heights.',
  deeper:
    'It stood deeper than is reckoned: more water comes there (a downspout, a neighbour, water in the ground), or the heights miss the hollow. Level the edge of the puddle and the place where it spills.',
  shallower:
    'It stood shallower than is reckoned: it spills lower than the heights say, soaks away while it rains, or less comes there. Level the place where it spills.',
  'not-seen':
    'No water was seen where some is reckoned: the hollow may have a way out that the heights do not show, or the soil took it.',
  unknown: 'How deep it stood is not given, so the depth is not compared.',
};

const soilWords: Readonly<Record<ObservedRow['soil'], readonly string[]>> = {
  agrees: ['The time that it stood agrees with the soil’s rate for design.'],
  slower: [
    'It stood longer than the soil’s rate for design says: that rate is too fast for this place. Test a hole there, and look for water in the ground in the wet season.',
  ],
  faster: [
    'It was gone much faster than the soil’s rate for design says: it may have run off, or the soil takes more than is reckoned.',
  ],
  unknown: [],
};

/** Of a garden that stays wet; common practice, no source. */
const ailing: readonly string[] = [
  'A garden that stands wet so long: its surface may be sealed with fines (scrape off the top, rake, new mulch), the soil below too slow (test a hole at its bottom), water in the ground too high (look in a hole 3 ft deep in the wet season), or more may come than it was made for. Until that is known lower the notch, so that it ponds less deep; an underdrain helps only where it has a lower end (common practice, no source).',
];

/** Millimetres an hour that take a depth away in a time; null where either is not known. */
function rateOf(depthM: number, hours: number | undefined): number | null {
  if (hours === undefined || hours === 0 || depthM === 0) return null;
  return (depthM / (hours * hourS)) * mmPerHOfMPerS;
}

function soilResult(
  atLeast: number | null,
  atMost: number | null,
  design: number | null,
): ObservedRow['soil'] {
  if (design === null || (atLeast === null && atMost === null)) return 'unknown';
  if (atMost !== null && atMost < design) return 'slower';
  // Gone by an hour, it may have been gone well before.
  if (atLeast !== null && slowTimes * atLeast < design) return 'slower';
  return atLeast !== null && atLeast > safeTimes * design ? 'faster' : 'agrees';
}
