/** What the user knows better than the tables about earth that is dug and material that is ordered. */
import * as v from 'valibot';
import { layerMaterial } from './basin-properties';

export const earthSettings = v.looseObject({
  /** Loose volume for one in the ground, less 1. */
  swell: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(2))),
  /** Trodden-in volume for one in the ground. */
  compacted: v.optional(v.pipe(v.number(), v.minValue(0.3), v.maxValue(1.5))),
  /** What is ordered over the volume in place, by material: 0.1 for a tenth more. */
  order_more: v.optional(v.record(layerMaterial, v.pipe(v.number(), v.minValue(0), v.maxValue(1)))),
});

export type EarthSettings = v.InferOutput<typeof earthSettings>;
