import type { LocalPlan } from '../../plan/local-plan';
import { eventDuration } from '../../storm/event-duration';
import { runOffLaw } from '../../storm/run-off-law';
import type { StormPools } from './pour-storm';
import { roofWater, type RoofWater } from './roof-water';
import type { SettledStorm } from './settle-storm';
import type { ShapedGround } from './shaped-ground';
import { letStand } from './storm-on-ground';
import { roofSurface, surfaceRunOffM, surfaces, type Surfaces } from './surface-run-off';
import { waterSurface } from './water-surface';

/** All that every storm on one ground and its surfaces has in common. */
export interface RainReady {
  readonly shape: ShapedGround;
  readonly surfaces: Surfaces;
  readonly roofs: RoofWater;
  /** Written to by every storm: run-off by cell. */
  readonly putDown: Float64Array<ArrayBuffer>;
}

/**
 * Makes a ground ready to be asked for one storm after another.
 *
 * Good for as long as the shape, the plan's features and its soil stay the same; what the plan says of storm or thaw
 * may change.
 * Cost: O(n), once.
 */
export function readyForRain(shape: ShapedGround, plan: LocalPlan): RainReady {
  const { ground, terrain } = shape;
  return {
    shape,
    surfaces: surfaces(ground, plan),
    roofs: roofWater(ground, plan),
    putDown: new Float64Array(terrain.z.length),
  };
}

/** Standing water at the end of one depth of rain. */
export interface Ponding {
  readonly rainMm: number;
  readonly stormPools: StormPools;
  /** By cell, metres. */
  readonly depthM: Float32Array<ArrayBuffer>;
}

/**
 * Pools of one depth of the plan's storm or thaw, without drawing them: what `stormOnGround` finds, to rounding.
 *
 * @param plan - with the features that the ground was made ready with.
 * @param rainMm - of the whole event, at least 0.
 * Cost: as `settleStorm`.
 */
export function poolsAt(ready: RainReady, plan: LocalPlan, rainMm: number): SettledStorm {
  const { shape, roofs, putDown } = ready;
  const { lotfall } = plan.plan;
  const law = runOffLaw(lotfall, rainMm);
  surfaceRunOffM(shape.ground.grid, shape.ground, ready.surfaces, law, putDown);
  const laid = {
    roofRunOffM: law.runOffMm(roofSurface) / 1000,
    durationH: eventDuration(lotfall).hours,
  };
  return letStand(shape, plan, laid, putDown, roofs).settled;
}

/**
 * The plan's storm on the same ground with another depth of rain: only pools and their depths are worked out anew.
 *
 * @param plan - with the features that the ground was made ready with.
 * @param depthM - receives the depths when given.
 * @returns depths as `stormOnGround` gives them, to rounding.
 * Cost: as `poolsAt`, and the cells of low spots.
 */
export function pondingAt(
  ready: RainReady,
  plan: LocalPlan,
  rainMm: number,
  depthM: Float32Array<ArrayBuffer> = new Float32Array(ready.shape.terrain.z.length),
): Ponding {
  const { pools } = poolsAt(ready, plan, rainMm);
  waterSurface(ready.shape.terrain, pools, depthM);
  return { rainMm, stormPools: pools, depthM };
}
