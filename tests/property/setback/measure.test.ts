import fc from 'fast-check';
import { Geodesic } from 'geographiclib-geodesic';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import GeoJSONReader from 'jsts/org/locationtech/jts/io/GeoJSONReader.js';
import DistanceOp from 'jsts/org/locationtech/jts/operation/distance/DistanceOp.js';
import RelateOp from 'jsts/org/locationtech/jts/operation/relate/RelateOp.js';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { contains, nearest, type Shape } from '../../../lib/frame/shapes';
import {
  boundaryDistance,
  insideSeparation,
  isInside,
  outlineOf,
  pointDistance,
  separation,
} from '../../../lib/setback/measure/outline';
import { frame } from '../../unit/setback/plan-of';

const reader = new GeoJSONReader(new GeometryFactory());
const metre = fc.double({ min: -60, max: 60, noNaN: true });
const point = fc.tuple(metre, metre);

/** A star-shaped ring about a centre: simple, often with hollows. */
const star = fc
  .tuple(
    point,
    fc.array(fc.double({ min: 0.5, max: 12, noNaN: true }), { minLength: 3, maxLength: 20 }),
  )
  .map(([centre, radii]): XY[] =>
    radii.map((radius, i): XY => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
    }),
  );
const polygon = fc.tuple(star, fc.boolean()).map(([ring, holed]): Shape => {
  const middle = ring.reduce(
    (sum, at) => [sum[0] + at[0] / ring.length, sum[1] + at[1] / ring.length],
    [0, 0],
  );
  const hole = ring.map((at): XY => [
    middle[0] + 0.1 * (at[0] - middle[0]),
    middle[1] + 0.1 * (at[1] - middle[1]),
  ]);
  const fits = holed && hole.every((at) => contains([ring], at));
  return { type: 'polygon', rings: fits ? [ring, hole] : [ring] };
});
const line = fc
  .array(point, { minLength: 2, maxLength: 8 })
  .map((points): Shape => ({ type: 'line', points }));
const spot = point.map((at): Shape => ({ type: 'point', at }));
const feature = fc.oneof(polygon, line, spot);
const rim = star.map((ring): Shape => ({ type: 'polygon', rings: [ring] }));

function asJsts(shape: Shape): unknown {
  const geometry: unknown = reader.read(
    shape.type === 'point'
      ? { type: 'Point', coordinates: shape.at }
      : shape.type === 'line'
        ? { type: 'LineString', coordinates: shape.points }
        : { type: 'Polygon', coordinates: shape.rings.map((ring) => [...ring, ring[0]]) },
  );
  return geometry;
}

function edges(shape: Shape): unknown {
  const rings = shape.type === 'polygon' ? shape.rings.map((ring) => [...ring, ring[0]]) : [];
  const geometry: unknown = reader.read({ type: 'MultiLineString', coordinates: rings });
  return geometry;
}

describe('separation', () => {
  it('agrees with a general geometry library', () => {
    fc.assert(
      fc.property(rim, feature, (basin, other) => {
        const found = separation(outlineOf(basin), outlineOf(other));
        const expected = DistanceOp.distance(asJsts(basin), asJsts(other)) as number;
        expect(found.distanceM).toBeCloseTo(expected, 9);
        expect(Math.hypot(found.from[0] - found.to[0], found.from[1] - found.to[1])).toBeCloseTo(
          expected,
          9,
        );
        expect(nearest(basin, other).distanceM).toBeCloseTo(expected, 9);
      }),
      { seed: 11, numRuns: 600 },
    );
  });

  it('is deep exactly where shapes share ground, and no deeper than the basin', () => {
    fc.assert(
      fc.property(rim, feature, (basin, other) => {
        const found = separation(outlineOf(basin), outlineOf(other));
        if (found.distanceM > 0) expect(found.penetrationM).toBe(0);
        if (other.type === 'point' && found.penetrationM > 0) {
          expect(basin.type === 'polygon' && contains(basin.rings, other.at)).toBe(true);
        }
        expect(found.penetrationM).toBeLessThanOrEqual(12);
      }),
      { seed: 12, numRuns: 400 },
    );
  });

  it('is as deep as the deepest place of either outline in the other, to half a centimetre', () => {
    let overlapping = 0;
    fc.assert(
      fc.property(rim, fc.oneof(polygon, line), (basin, other) => {
        const found = separation(outlineOf(basin), outlineOf(other));
        if (found.penetrationM === 0) return;
        overlapping++;
        const sampled = Math.max(
          deepestSample(other, basin),
          other.type === 'polygon' ? deepestSample(basin, other) : 0,
        );
        expect(found.penetrationM).toBeGreaterThan(sampled - 0.006);
        // Between samples 2 cm apart a place may be 1 cm deeper.
        const middle = middleDepth(basin, other);
        expect(found.penetrationM).toBeLessThan(Math.max(sampled + 0.011, middle + 1e-9));
      }),
      { seed: 18, numRuns: 300 },
    );
    expect(overlapping).toBeGreaterThan(20);
  });

  it('does not change when the frame is moved', () => {
    fc.assert(
      fc.property(rim, feature, fc.integer({ min: -3000, max: 3000 }), (basin, other, shift) => {
        const before = separation(outlineOf(basin), outlineOf(other));
        const after = separation(outlineOf(moved(basin, shift)), outlineOf(moved(other, shift)));
        expect(after.distanceM).toBeCloseTo(before.distanceM, 7);
        expect(after.penetrationM).toBeCloseTo(before.penetrationM, 6);
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  it('is the true distance on the ground, to a centimetre in 150 m', () => {
    fc.assert(
      fc.property(rim, feature, (basin, other) => {
        const { distanceM, from, to } = separation(outlineOf(basin), outlineOf(other));
        const [lng0, lat0] = frame.toLngLat(from);
        const [lng1, lat1] = frame.toLngLat(to);
        const geodesic = Geodesic.WGS84.Inverse(lat0, lng0, lat1, lng1).s12;
        expect(Math.abs((geodesic ?? NaN) - distanceM)).toBeLessThan(0.01);
      }),
      { seed: 14, numRuns: 300 },
    );
  });
});

describe('insideSeparation', () => {
  it('is positive only for a rim wholly in the lot, and then the distance between the edges', () => {
    fc.assert(
      fc.property(rim, polygon, fc.double({ min: 1, max: 6, noNaN: true }), (basin, lot, grow) => {
        const wide = scaled(lot, grow);
        const found = insideSeparation(outlineOf(basin), outlineOf(wide));
        const within = RelateOp.covers(asJsts(wide), asJsts(basin)) as boolean;
        if (within) {
          const expected = DistanceOp.distance(edges(basin), edges(wide)) as number;
          expect(found.distanceM).toBeCloseTo(expected, 8);
        } else {
          expect(found.distanceM).toBeLessThan(1e-9);
        }
      }),
      { seed: 15, numRuns: 500 },
    );
  });
});

describe('pointDistance', () => {
  it('changes no faster than the point moves', () => {
    fc.assert(
      fc.property(feature, point, point, (shape, a, b) => {
        const outline = outlineOf(shape);
        const change = Math.abs(pointDistance(outline, ...a) - pointDistance(outline, ...b));
        expect(change).toBeLessThanOrEqual(Math.hypot(a[0] - b[0], a[1] - b[1]) + 1e-9);
      }),
      { seed: 16, numRuns: 300 },
    );
  });
});

/** Depth of the deepest of places 2 cm apart along one shape's edges that lie inside another. */
function deepestSample(along: Shape, within: Shape): number {
  const outline = outlineOf(within);
  const { segments } = outlineOf(along);
  let deepest = 0;
  for (let s = 0; s < segments.length; s += 4) {
    const [ax, ay, bx, by] = segments.subarray(s, s + 4);
    const steps = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 0.02));
    for (let k = 0; k <= steps; k++) {
      const x = ax + ((bx - ax) * k) / steps;
      const y = ay + ((by - ay) * k) / steps;
      if (isInside(outline, x, y)) deepest = Math.max(deepest, boundaryDistance(outline, x, y));
    }
  }
  return deepest;
}

/** Depth of the mean of a rim's corners in both shapes. */
function middleDepth(basin: Shape, other: Shape): number {
  if (basin.type !== 'polygon' || other.type !== 'polygon') return 0;
  const [ring] = basin.rings;
  const x = ring.reduce((sum, at) => sum + at[0] / ring.length, 0);
  const y = ring.reduce((sum, at) => sum + at[1] / ring.length, 0);
  const [a, b] = [outlineOf(basin), outlineOf(other)];
  if (!isInside(a, x, y) || !isInside(b, x, y)) return 0;
  return Math.min(boundaryDistance(a, x, y), boundaryDistance(b, x, y));
}

function moved(shape: Shape, by: number): Shape {
  const move = ([x, y]: XY): XY => [x + by, y - 2 * by];
  if (shape.type === 'point') return { type: 'point', at: move(shape.at) };
  if (shape.type === 'line') return { type: 'line', points: shape.points.map(move) };
  return { type: 'polygon', rings: shape.rings.map((ring) => ring.map(move)) };
}

function scaled(shape: Shape, by: number): Shape {
  if (shape.type !== 'polygon') return shape;
  return {
    type: 'polygon',
    rings: shape.rings.map((ring) => ring.map(([x, y]): XY => [x * by, y * by])),
  };
}
