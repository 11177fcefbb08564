/** A locator's answer that leaves no line on the plan, in the plan's settings. */
import * as v from 'valibot';
import type { LngLat } from '../frame/frame';
import { ringFault } from './ring-fault';

/** Most corners of the ground that one answer covers: far more than a dig needs. Own choice. */
const mostCorners = 2000;

/** Ground that a locator was asked about: the whole own lot, or an outline. */
function locatedGround(position: v.GenericSchema<LngLat>) {
  const rings = v.pipe(v.array(v.pipe(v.array(position), v.minLength(4))), v.minLength(1));
  const what =
    "expected 'lot', or a GeoJSON Polygon or MultiPolygon whose outlines do not cross themselves";
  return v.pipe(
    v.union(
      [
        v.literal('lot'),
        v.looseObject({ type: v.literal('Polygon'), coordinates: rings }),
        v.looseObject({
          type: v.literal('MultiPolygon'),
          coordinates: v.pipe(v.array(rings), v.minLength(1)),
        }),
      ],
      what,
    ),
    v.check((area) => {
      if (area === 'lot') return true;
      const polygons = area.type === 'Polygon' ? [area.coordinates] : area.coordinates;
      const corners = polygons.flat().reduce((sum, ring) => sum + ring.length, 0);
      return corners <= mostCorners && polygons.every((each) => ringFault(each) === undefined);
    }, what),
  );
}

/**
 * The answer of a locator who came and found none of some services in the ground asked about. What it does not say of
 * ground or service it does not answer.
 */
export function clearLocate(
  position: v.GenericSchema<LngLat>,
  day: v.GenericSchema<string>,
  service: v.GenericSchema<string, UtilityService>,
) {
  return v.pipe(
    v.looseObject({
      found: v.literal(
        'no-lines',
        "expected 'no-lines': a line that was found is drawn and located",
      ),
      /** What was looked for. */
      services: v.pipe(v.array(service), v.minLength(1, 'expected at least one service')),
      by: v.picklist(['public', 'private']),
      on: day,
      /** Last day on which the answer may be relied on. */
      until: day,
      /** Number of the ticket or report. */
      reference: v.optional(v.pipe(v.string(), v.maxLength(200))),
      /** Where was looked; an answer without it covers no ground that is known. */
      area: v.optional(locatedGround(position)),
    }),
    v.check(
      ({ on, until }) => on <= until,
      'expected `until` not to be before `on`, the day of the answer',
    ),
  );
}

type UtilityService = 'electric' | 'gas' | 'water' | 'sewer' | 'communications' | 'reclaimed-water';
