/** Properties of a `basin` in the plan. */
import * as v from 'valibot';
import type { LngLat } from '../frame/frame';

const metres = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
/** Beyond these no basin on a lot goes: a slip of the unit, not a design. Our choices, no source. */
const bowlDepth = v.pipe(v.number(), v.minValue(0), v.maxValue(3));
export const mostDigM = 10;
const digDepth = v.pipe(v.number(), v.minValue(0), v.maxValue(mostDigM));
const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));

/** What a layer is made of. */
export const layerMaterial = v.picklist([
  'mulch',
  'planting-mix',
  'compost',
  'topsoil',
  'coarse-sand',
  'gravel',
]);

/** One layer below the floor; figures not given are those usual for its material. */
const layer = v.looseObject({
  material: layerMaterial,
  thickness_m: digDepth,
  porosity: v.optional(share),
  field_capacity: v.optional(share),
  conductivity_mm_per_h: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(1_000_000))),
});

/** A perforated pipe in the lowest layer. */
const underdrain = v.looseObject({
  diameter_m: v.optional(v.pipe(v.number(), v.minValue(0.01), v.maxValue(1))),
  /** Of its invert over the bottom of the dig. */
  height_m: v.optional(digDepth),
  /** Most that it lets out. */
  capacity_m3_per_h: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(10_000))),
});

export function basinProperties(
  position: v.GenericSchema<LngLat>,
  sideSlope: v.GenericSchema<number>,
) {
  return {
    ponding_depth_m: v.optional(bowlDepth),
    /** Thickness of all layers below the floor. */
    dig_depth_m: v.optional(digDepth),
    side_slope: v.optional(sideSlope),
    overflow: v.optional(position),
    /** Height of the rim over the notch. */
    freeboard_m: v.optional(bowlDepth),
    /** Width of the notch. */
    overflow_width_m: v.optional(metres),
    /** Depth of the storm that the notch is made for, rarer than the plan's own. */
    notch_rain_mm: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2000))),
    /** Bottom up. */
    layers: v.optional(v.array(layer)),
    underdrain: v.optional(underdrain),
  };
}

export type LayerMaterial = v.InferOutput<typeof layerMaterial>;
export type LayerProperties = v.InferOutput<typeof layer>;
export type UnderdrainProperties = v.InferOutput<typeof underdrain>;
