import { localFrame, makeFrame, type Frame, type LngLat } from '../frame/frame';
import { boundsOf, nearest, type Bounds, type PolygonShape, type Shape } from '../frame/shapes';
import { planOutline } from '../plan/plan-area';
import type { Plan } from '../plan/schema';
import type { PlacedPart } from './placed-part';
import { refused } from './refused';

/**
 * How far beyond a distance of the lot a part lies, metres; 0 within.
 *
 * @throws {InputError} `gather-near` where the plan has nothing drawn.
 */
export function nearFilter(plan: Plan, nearM: number): (part: PlacedPart) => number {
  const outline = planOutline(plan);
  if (outline === null) {
    throw refused(
      'the plan',
      'near',
      'it has nothing drawn, so nothing can be near it',
      'draw the lot first, or bring in everything',
    );
  }
  const frame = makeFrame(localFrame(outline[0][0]));
  const lots: PolygonShape[] = outline.map((ring) => ({
    type: 'polygon',
    rings: [local(ring, frame)],
  }));
  const around = boundsOf(lots.flatMap(({ rings }) => rings.flat()));
  return (part) => {
    const shape = localShape(part, frame);
    const apart = boxesApart(around, boundsOf(part.rings.flat().map((at) => frame.toLocal(at))));
    if (apart > nearM) return apart;
    const distance = Math.min(...lots.map((lot) => nearest(lot, shape).distanceM));
    return distance <= nearM ? 0 : distance;
  };
}

function local(ring: readonly LngLat[], frame: Frame) {
  return ring.map((at) => frame.toLocal(at));
}

function localShape({ type, rings }: PlacedPart, frame: Frame): Shape {
  if (type === 'Point') return { type: 'point', at: frame.toLocal(rings[0][0]) };
  if (type === 'LineString') return { type: 'line', points: local(rings[0], frame) };
  return { type: 'polygon', rings: rings.map((ring) => local(ring, frame)) };
}

function boxesApart(a: Bounds, b: Bounds): number {
  const east = Math.max(0, a.west - b.east, b.west - a.east);
  const north = Math.max(0, a.south - b.north, b.south - a.north);
  return Math.hypot(east, north);
}
