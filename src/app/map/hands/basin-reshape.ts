import type { Polygon } from 'geojson';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../../lib/frame/frame';
import { areaM2, centroid, type Rings } from '../../../../lib/frame/shapes';
import { basinOutline, type OutlineForm } from '../../../../lib/siting/sizing/basin-outline';
import { handRim } from './hand-rim';
import { distanceToRing } from '../../../../lib/frame/distance-to-ring';
import { tidyGeometry } from '../../state/plan/tidy-geometry';

/** Length over width that a form takes at least and at most: less is nearly round, more hardly a garden. Choices. */
const leastAspect = 1.3;
const mostAspect = 3;

/**
 * An area in one of the usual forms: of the same size about the same centre, its long side along that of the area, as
 * many times longer than wide (within limits). Of the two ways round, the one that lies closer to the outline there is.
 */
export function inForm(area: readonly (readonly LngLat[])[], form: OutlineForm): Polygon {
  const frame = makeFrame(localFrame(area[0][0]));
  const rings: Rings = area.map((ring) => ring.slice(0, -1).map((at) => frame.toLocal(at)));
  const centre = centroid(rings);
  const sizeM2 = areaM2(rings);
  const main = mainDirection(rings, centre);
  const aspect =
    form === 'round' ? 1 : Math.min(mostAspect, Math.max(leastAspect, main.lengthOverWidth));
  const ways = [main.turnRad, main.turnRad + Math.PI].map((turn) =>
    handRim(basinOutline(form, aspect, turn), centre, sizeM2),
  );
  const closed = [...rings[0], rings[0][0]];
  const [first, second] = ways.map((rim) => apart(rim, closed));
  const rim = second < first ? ways[1] : ways[0];
  const ring = [...rim, rim[0]].map((at) => [...frame.toLngLat(at)]);
  return tidyGeometry({ type: 'Polygon', coordinates: [ring] }) as Polygon;
}

/** How far a rim lies from an outline: the mean over its corners. */
function apart(rim: readonly XY[], outline: readonly XY[]): number {
  return rim.reduce((sum, corner) => sum + distanceToRing(outline, corner), 0) / rim.length;
}

/**
 * The direction along which an area is longest, radians counter-clockwise from east, and how many times longer than
 * wide an ellipse with the same second moments is. East for an area that is alike in all directions.
 *
 * Second moments of a polygon about its centre of area, by the usual sum over its sides (Green's theorem).
 */
function mainDirection(rings: Rings, [x0, y0]: XY): { turnRad: number; lengthOverWidth: number } {
  let [xx, yy, xy] = [0, 0, 0];
  rings.forEach((ring, nth) => {
    let [sumXx, sumYy, sumXy, twice] = [0, 0, 0, 0];
    ring.forEach((corner, i) => {
      const next = ring[(i + 1) % ring.length];
      const [ax, ay, bx, by] = [corner[0] - x0, corner[1] - y0, next[0] - x0, next[1] - y0];
      const cross = ax * by - bx * ay;
      twice += cross;
      sumXx += cross * (ax * ax + ax * bx + bx * bx);
      sumYy += cross * (ay * ay + ay * by + by * by);
      sumXy += cross * (2 * ax * ay + ax * by + bx * ay + 2 * bx * by);
    });
    // Holes take away, whichever way a ring turns.
    const sign = twice < 0 === (nth === 0) ? -1 : 1;
    xx += (sign * sumXx) / 12;
    yy += (sign * sumYy) / 12;
    xy += (sign * sumXy) / 24;
  });
  const middle = (xx + yy) / 2;
  const spread = Math.hypot((xx - yy) / 2, xy);
  const isAlike = spread < 1e-6 * middle;
  return {
    turnRad: isAlike ? 0 : Math.atan2(2 * xy, xx - yy) / 2,
    lengthOverWidth: Math.sqrt((middle + spread) / Math.max(middle - spread, 1e-9)),
  };
}
