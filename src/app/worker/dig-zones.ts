import type { FeatureCollection, MultiPolygon } from 'geojson';
import { makeFrame, type Frame, type FrameSpec } from '../../../lib/frame/frame';
import type { Rings } from '../../../lib/frame/shapes';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import { checkedBasins } from '../../../lib/setback/rules/checked-basins';
import { digArea } from '../../../lib/setback/locate/dig-area';
import { handDigZones } from '../../../lib/setback/locate/hand-dig-zones';
import { locateTerms } from '../../../lib/setback/locate/locate-request';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';

/** Ground to be dug, and the zones along lines in which only hand tools are used. */
export type DigZones = FeatureCollection<
  MultiPolygon,
  | { role: 'dig' }
  /** `located`: a locate of the line is current; else it may lie elsewhere. */
  | { role: 'hand-dig'; located: boolean }
>;

/**
 * The ground that building the plan's basins touches and the zones along its lines in which only hand tools are used,
 * as in the locate request, ready to be drawn.
 *
 * @param today - ISO date on which locates must be current.
 */
export async function digZones(plan: Plan, spec: FrameSpec, today: string): Promise<DigZones> {
  const frame = makeFrame(spec);
  const local = toLocal(plan, frame);
  const area = await digArea(local, checkedBasins(local));
  const { toleranceM } = locateTerms(ruleSetOf(plan.lotfall));
  const zones = await handDigZones(local, toleranceM, today);
  return {
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        properties: { role: 'dig' },
        geometry: { type: 'MultiPolygon', coordinates: onGlobe(area.polygons, frame) },
      },
      ...zones.map(({ state, polygons }) => ({
        type: 'Feature' as const,
        properties: { role: 'hand-dig' as const, located: state === 'current' },
        geometry: { type: 'MultiPolygon' as const, coordinates: onGlobe(polygons, frame) },
      })),
    ],
  };
}

function onGlobe(polygons: readonly Rings[], { toLngLat }: Frame): number[][][][] {
  return polygons.map((rings) =>
    rings.map((ring) => [...ring, ring[0]].map((at) => [...toLngLat(at)])),
  );
}
