/** What of a storm or a thaw is written in the plan. */
import * as v from 'valibot';
import { dayMin } from '../units/units';

const depthMm = v.pipe(v.number(), v.minValue(0), v.maxValue(2000));
const hours = v.pipe(v.number(), v.minValue(0), v.maxValue(1000));
const temperatureC = v.pipe(v.number(), v.minValue(-60), v.maxValue(50));

/** How the rain of a storm is spread over its duration. */
export const rainPattern = v.picklist([
  'uniform',
  'nrcs-type-1',
  'nrcs-type-1a',
  'nrcs-type-2',
  'nrcs-type-3',
  /** Nested blocks from `depth_table`, the most intense in the middle. */
  'nested',
  /** As measured, from `measured`. */
  'measured',
]);

/** How wet the ground is before it rains. */
export const antecedent = v.picklist(['dry', 'average', 'wet']);

/** Rain depth by duration and return period, as a public table gives it. */
export const depthTable = v.looseObject({
  /** Who published it, and when. */
  source: v.optional(v.string()),
  durations_min: v.pipe(v.array(v.pipe(v.number(), v.minValue(0.1))), v.minLength(1)),
  return_periods_y: v.pipe(v.array(v.pipe(v.number(), v.minValue(0.01))), v.minLength(1)),
  /** A row for each duration, in it a depth for each return period. */
  depths_mm: v.array(v.array(depthMm)),
});

/** A measured storm in equal steps. */
export const measuredRain = v.looseObject({
  source: v.optional(v.string()),
  step_min: v.pipe(v.number(), v.minValue(0.1), v.maxValue(dayMin)),
  depths_mm: v.pipe(v.array(depthMm), v.minLength(1)),
});

export const stormSettings = v.looseObject({
  /** Depth of the whole storm; the pattern only spreads it. */
  rain_mm: depthMm,
  /** How long it rains; drains and sumps run as long. */
  duration_h: v.optional(hours),
  pattern: v.optional(rainPattern),
  antecedent: v.optional(antecedent),
  depth_table: v.optional(depthTable),
  /** Which column of the table a nested storm is made from. */
  return_period_y: v.optional(v.pipe(v.number(), v.minValue(0.01))),
  measured: v.optional(measuredRain),
  /** Rain of 24 h that comes once in two years there, which times of sheet flow hang on; counts before the table's. */
  rain_2y_mm: v.optional(v.pipe(depthMm, v.minValue(1))),
});

/** Snow that melts, on ground in a given state, perhaps with rain on it. */
export const thawSettings = v.looseObject({
  /** Water in the snow when the thaw begins. */
  snow_water_mm: depthMm,
  days: v.pipe(
    v.array(v.looseObject({ mean_c: temperatureC, rain_mm: v.optional(depthMm) })),
    v.minLength(1),
    v.maxLength(60),
  ),
  /** Degree-day coefficient. */
  melt_mm_per_c_day: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(20))),
  /** Daily mean above which snow melts. */
  base_c: v.optional(temperatureC),
  ground: v.picklist(['frozen', 'wet', 'thawed']),
});

export type RainPattern = v.InferOutput<typeof rainPattern>;
export type Antecedent = v.InferOutput<typeof antecedent>;
export type DepthTableSettings = v.InferOutput<typeof depthTable>;
export type StormSettings = v.InferOutput<typeof stormSettings>;
export type ThawSettings = v.InferOutput<typeof thawSettings>;
