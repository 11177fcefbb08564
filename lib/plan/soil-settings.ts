/** What of the soil is written in the plan: readings of tests in it, and what is to be made of them. */
import * as v from 'valibot';

const depthM = v.pipe(v.number(), v.minValue(0), v.maxValue(100));
const holeDiameterM = v.pipe(v.number(), v.minValue(0.01), v.maxValue(5));
const rateMmPerH = v.pipe(v.number(), v.minValue(0), v.maxValue(5000));

/** The twelve textures of the USDA triangle. */
export const usdaTexture = v.picklist([
  'sand',
  'loamy-sand',
  'sandy-loam',
  'loam',
  'silt-loam',
  'silt',
  'sandy-clay-loam',
  'clay-loam',
  'silty-clay-loam',
  'sandy-clay',
  'silty-clay',
  'clay',
]);

export const soilGroup = v.picklist(['A', 'B', 'C', 'D']);

/** One look at the water in a test: minutes since the first, depth over the bottom of the hole or ring. */
const reading = v.looseObject({
  minutes: v.pipe(v.number(), v.minValue(0), v.maxValue(100_000)),
  water_depth_m: depthM,
});

/** A hole filled once and watched: how deep the water was, for how many hours, and what was left of it then. */
const filling = v.looseObject({
  water_depth_m: depthM,
  hours: v.pipe(v.number(), v.gtValue(0), v.maxValue(1000)),
  /** None when not given: the hole was empty. */
  left_m: v.optional(depthM),
});

/** Properties of a `soil-test`. */
export const soilTest = {
  /** A hole dug by hand, an augered borehole, or a ring pressed into the ground. */
  method: v.optional(v.picklist(['hole', 'borehole', 'ring'])),
  on: v.optional(v.string()),
  diameter_m: v.optional(holeDiameterM),
  hole_depth_m: v.optional(depthM),
  readings: v.optional(v.array(reading)),
  /** The first, second, third filling of one hole, as counties ask; the last counts where there are no readings. */
  fillings: v.optional(v.array(filling)),
  /** Made at the depth of a basin's bottom, which is meant when not given, or in a layer within 1.5 m below it. */
  level: v.optional(v.picklist(['bottom', 'below'])),
  texture: v.optional(usdaTexture),
  /** Depths below the surface at which these were met. */
  limiting_layer_m: v.optional(depthM),
  water_table_m: v.optional(depthM),
  rock_m: v.optional(depthM),
};

export const soilSettings = v.looseObject({
  group: v.optional(soilGroup),
  /** For the published size factors. */
  texture: v.optional(v.picklist(['sandy', 'silty', 'clayey'])),
  usda_texture: v.optional(usdaTexture),
  /** Infiltration rate for design, typed in by hand; counts before tests and texture. */
  rate_mm_per_h: v.optional(rateMmPerH),
  /** A percolation test of which the time is known: so many minutes for a fall, at a depth of water in a round hole. */
  percolation: v.optional(
    v.looseObject({
      minutes: v.pipe(v.number(), v.gtValue(0), v.maxValue(100_000)),
      fall_m: v.pipe(v.number(), v.gtValue(0), v.maxValue(100)),
      diameter_m: holeDiameterM,
      water_depth_m: depthM,
    }),
  ),
  /** Measured rate of the slowest layer within 1.5 m below the bottom, where no test was made in it. */
  layer_below_mm_per_h: v.optional(rateMmPerH),
  /** What several tests come to. */
  combine: v.optional(v.picklist(['slowest', 'geometric-mean'])),
  /** Which published correction takes the wall's share off a hole, dug or bored. */
  borehole: v.optional(v.picklist(['falling-head', 'reduction-factor'])),
  /** What a measured rate is divided by for design. */
  safety_factor: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(20))),
  /** Share of the fillable pores that hold water when the storm begins. */
  initial_saturation: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1))),
  /** Seasonal high water and rock below the surface, where no test gives them. */
  water_table_m: v.optional(depthM),
  rock_m: v.optional(depthM),
  /** Hours in which the surface must be empty again by the local rule. */
  drain_limit_h: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(240))),
});

export type UsdaTexture = v.InferOutput<typeof usdaTexture>;
export type SoilSettings = v.InferOutput<typeof soilSettings>;
