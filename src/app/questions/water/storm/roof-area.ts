import { makeFrame, type FrameSpec } from '../../../../../lib/frame/frame';
import { areaM2, centroid, contains } from '../../../../../lib/frame/shapes';
import { toLocal } from '../../../../../lib/plan/local-plan';
import type { Plan } from '../../../../../lib/plan/schema';

/** Plan area of the roofs whose middle lies on the own lot, square metres; a building without a roof drawn counts as its own. */
export function ownRoofAreaM2(plan: Plan, frame: FrameSpec): number {
  const { of } = toLocal(plan, makeFrame(frame));
  const lots = of.lot.filter(({ feature }) => feature.properties.own);
  const roofed = new Set(of.roof.map(({ feature }) => feature.properties.building));
  const covers = [...of.roof, ...of.building.filter(({ id }) => !roofed.has(id))];
  return covers
    .map(({ shape }) => shape.rings)
    .filter((rings) => lots.some(({ shape }) => contains(shape.rings, centroid(rings))))
    .reduce((sum, rings) => sum + areaM2(rings), 0);
}
