import { roofsOf } from '../../../../../lib/drainage/storm/roof-water';
import { makeFrame, type FrameSpec } from '../../../../../lib/frame/frame';
import { centroid, contains } from '../../../../../lib/frame/shapes';
import { toLocal } from '../../../../../lib/plan/local-plan';
import type { Plan } from '../../../../../lib/plan/schema';

/** Plan area of the roofs whose middle lies on the own lot, square metres; a building without a roof drawn counts as its own. */
export function ownRoofAreaM2(plan: Plan, frame: FrameSpec): number {
  const local = toLocal(plan, makeFrame(frame));
  const lots = local.of.lot.filter(({ feature }) => feature.properties.own);
  return roofsOf(local)
    .filter(({ outline }) => lots.some(({ shape }) => contains(shape.rings, centroid([outline]))))
    .reduce((sum, { areaM2 }) => sum + areaM2, 0);
}
