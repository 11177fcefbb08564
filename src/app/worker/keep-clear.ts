import type { FeatureCollection, MultiPolygon, Polygon } from 'geojson';
import { type FrameSpec, makeFrame } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import type { Plan } from '../../../lib/plan/schema';
import { keepClearZones } from '../../../lib/setback/rules/keep-clear-zones';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';

/** Keep-clear zones; zones of one `rule` share an angle of hatching and a letter. */
export type KeepClear = FeatureCollection<Polygon | MultiPolygon, { rule: string; letter: string }>;

/** The keep-clear zones of a plan's rule set, one feature for each zone, ready to be drawn. */
export async function keepClear(plan: Plan, spec: FrameSpec): Promise<KeepClear> {
  const frame = makeFrame(spec);
  const local = toLocal(plan, frame);
  const zones = await keepClearZones(local, ruleSetOf(plan.lotfall));
  return {
    type: 'FeatureCollection',
    features: zones.map((zone) => ({
      type: 'Feature',
      properties: { rule: zone.rule, letter: zone.letter },
      geometry: {
        type: 'MultiPolygon',
        coordinates: zone.polygons.map((rings) =>
          rings.map((ring) => [...ring, ring[0]].map((at) => [...frame.toLngLat(at)])),
        ),
      },
    })),
  };
}
