import { difference, featureCollection, intersect, polygon as turfPolygon } from '@turf/turf';
import type { Feature, MultiPolygon, Polygon } from 'geojson';
import type { XY } from '../../frame/frame';
import { areaM2, distanceM, nearestOnSegment, type Ring } from '../../frame/shapes';

/** One of the two sides of a roof. */
export interface RoofSide {
  readonly areaM2: number;
  /** Whether a point on the eaves or at a downspout lies on this side. */
  readonly has: (at: XY) => boolean;
}

/** How far a ridge is led on beyond the roof, metres: more than any roof is long. */
const beyondM = 1000;

/**
 * The two sides of a roof on either hand of its ridge, whose ends are led on straight to the eaves.
 *
 * @param outline - the eaves.
 * @param ridge - two points or more.
 * @returns left side first, seen along the ridge; null when the ridge does not divide the roof.
 */
export function roofSides(
  outline: Ring,
  ridge: readonly XY[],
): readonly [RoofSide, RoofSide] | null {
  if (ridge.length < 2 || distanceM(ridge[0], ridge[ridge.length - 1]) === 0) return null;
  const line = ledOn(ridge);
  const roof = planar(outline);
  const leftHand = planar([...line, ...farLeft(line)]);
  const pair = featureCollection([roof, leftHand]);
  const left = areaOf(intersect(pair));
  const right = areaOf(difference(pair));
  const least = 1e-6 * (left + right);
  if (left <= least || right <= least) return null;
  return [
    { areaM2: left, has: (at) => isLeftOf(line, at) },
    { areaM2: right, has: (at) => !isLeftOf(line, at) },
  ];
}

function ledOn(ridge: readonly XY[]): XY[] {
  const last = ridge.length - 1;
  const away = (from: XY, at: XY): XY => {
    const scale = beyondM / (distanceM(from, at) || 1);
    return [at[0] + (at[0] - from[0]) * scale, at[1] + (at[1] - from[1]) * scale];
  };
  return [away(ridge[1], ridge[0]), ...ridge, away(ridge[last - 1], ridge[last])];
}

/** Two corners that close a line led on to a polygon on its left. */
function farLeft(line: readonly XY[]): [XY, XY] {
  const [first, last] = [line[0], line[line.length - 1]];
  const length = distanceM(first, last);
  const nx = ((first[1] - last[1]) / length) * beyondM;
  const ny = ((last[0] - first[0]) / length) * beyondM;
  return [
    [last[0] + nx, last[1] + ny],
    [first[0] + nx, first[1] + ny],
  ];
}

/** Which hand of a line a point is on, by the segment nearest to it; at a corner by the two that meet there together. */
function isLeftOf(line: readonly XY[], at: XY): boolean {
  let best = Infinity;
  let side = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1], line[i]];
    const away = distanceM(at, nearestOnSegment(at, a, b));
    const length = distanceM(a, b) || 1;
    const turn = ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / length;
    if (away > best + 1e-9) continue;
    // Nearest to a corner, the segment that the point is further off to the side of decides.
    if (away < best - 1e-9 || Math.abs(turn) > Math.abs(side)) side = turn;
    best = Math.min(best, away);
  }
  return side > 0;
}

function planar(ring: Ring): Feature<Polygon> {
  return turfPolygon([[...ring, ring[0]].map(([x, y]) => [x, y])]);
}

function areaOf(found: Feature<Polygon | MultiPolygon> | null): number {
  if (found === null) return 0;
  const { geometry } = found;
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  return polygons.reduce(
    (sum, rings) => sum + areaM2(rings.map((ring) => ring.map(([x, y]): XY => [x, y]))),
    0,
  );
}
