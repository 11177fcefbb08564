import { makeFrame, localFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';

export { box } from '../ground/plane-lot';

/** A frame for plans drawn in metres: in the test's corner of the world, origin at the lot. */
export const frame = makeFrame(localFrame([-86.6, 44.9]));

type Properties = { kind: PlanFeature['properties']['kind'] } & Record<string, unknown>;

/** A feature drawn in local metres. A closed ring need not repeat its first corner. */
export interface Drawn {
  readonly id: string;
  readonly properties: Properties;
  readonly point?: XY;
  readonly line?: readonly XY[];
  readonly rings?: readonly (readonly XY[])[];
}

/** The local plan of features drawn in metres, made through longitude and latitude as a real one is. */
export function planOf(...drawn: readonly Drawn[]): LocalPlan {
  const globe = (at: XY): LngLat => frame.toLngLat(at);
  const features = drawn.map(({ id, properties, point, line, rings }) => ({
    type: 'Feature',
    id,
    properties,
    geometry:
      point !== undefined
        ? { type: 'Point', coordinates: globe(point) }
        : line !== undefined
          ? { type: 'LineString', coordinates: line.map(globe) }
          : {
              type: 'Polygon',
              coordinates: (rings ?? []).map((ring) => [...ring, ring[0]].map(globe)),
            },
  }));
  const plan = { type: 'FeatureCollection', features, lotfall: { version: 1 } } as unknown as Plan;
  return toLocal(plan, frame);
}

/** A regular ring of corners about a centre. */
export function disc(centre: XY, radiusM: number, corners = 64): XY[] {
  return Array.from({ length: corners }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / corners;
    return [centre[0] + radiusM * Math.cos(angle), centre[1] + radiusM * Math.sin(angle)];
  });
}
