import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import {
  areaM2,
  centroid,
  contains,
  lengthM,
  nearest,
  nearestEdges,
  perimeterM,
  segmentCrossing,
  signedAreaM2,
  type PolygonShape,
  type Rings,
} from '../../../lib/frame/shapes';

const box = (x: number, y: number, width: number, height: number): XY[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];
const polygon = (...rings: XY[][]): PolygonShape => ({ type: 'polygon', rings });
const frame: Rings = [box(0, 0, 10, 10), box(2, 2, 4, 4)];

describe('areas', () => {
  it('take holes off and do not mind which way a ring turns or whether it is closed', () => {
    expect(areaM2(frame)).toBe(84);
    expect(areaM2([[...box(0, 0, 10, 10)].reverse(), box(2, 2, 4, 4)])).toBe(84);
    expect(areaM2([[...box(0, 0, 10, 10), [0, 0]]])).toBe(100);
    expect(signedAreaM2(box(0, 0, 2, 3))).toBe(6);
  });

  it('keep their digits far from the origin', () => {
    const far = box(0, 0, 0.1, 0.1).map(([x, y]): XY => [x + 5e5, y + 4.4e6]);
    expect(signedAreaM2(far)).toBeCloseTo(0.01, 8);
  });

  it('have their centre where the balance is', () => {
    expect(centroid([box(0, 0, 10, 10)])).toEqual([5, 5]);
    const [x, y] = centroid([box(0, 0, 10, 10), [...box(2, 2, 4, 4)].reverse()]);
    expect(x).toBeCloseTo((500 - 64) / 84, 12);
    expect(y).toBeCloseTo((500 - 64) / 84, 12);
    expect(
      centroid([
        [
          [1, 1],
          [3, 1],
          [2, 1],
        ],
      ]),
    ).toEqual([2, 1]);
  });

  it('measure lines and rings', () => {
    expect(
      lengthM([
        [0, 0],
        [3, 4],
        [3, 5],
      ]),
    ).toBe(6);
    expect(perimeterM(box(0, 0, 2, 3))).toBe(10);
  });
});

describe('contains', () => {
  it('knows holes, and gives a shared edge to one side only', () => {
    expect(contains(frame, [1, 1])).toBe(true);
    expect(contains(frame, [3, 3])).toBe(false);
    expect(contains(frame, [11, 3])).toBe(false);
    const sides = [box(0, 0, 1, 1), box(1, 0, 1, 1)].filter((ring) => contains([ring], [1, 0.5]));
    expect(sides).toHaveLength(1);
  });
});

describe('nearest', () => {
  it('finds the closest points of two outlines', () => {
    expect(nearest(polygon(box(0, 0, 2, 2)), polygon(box(5, 1, 2, 2)))).toMatchObject({
      distanceM: 3,
    });
    const slanted = nearest(
      { type: 'point', at: [0, 0] },
      {
        type: 'line',
        points: [
          [2, 0],
          [0, 2],
        ],
      },
    );
    expect(slanted.distanceM).toBeCloseTo(Math.SQRT2, 14);
    expect(slanted.to[0]).toBeCloseTo(1, 14);
  });

  it('is zero for what touches, crosses or lies inside, and not for what lies in a hole', () => {
    const outer = polygon(box(0, 0, 10, 10));
    expect(nearest(outer, polygon(box(4, 4, 1, 1))).distanceM).toBe(0);
    expect(nearest(polygon(box(4, 4, 1, 1)), outer).distanceM).toBe(0);
    expect(nearest(outer, polygon(box(10, 3, 1, 1))).distanceM).toBe(0);
    expect(
      nearest(outer, {
        type: 'line',
        points: [
          [-5, 5],
          [15, 5],
        ],
      }).distanceM,
    ).toBe(0);
    const ringed = polygon(box(0, 0, 10, 10), box(2, 2, 4, 4));
    expect(nearest(ringed, { type: 'point', at: [3, 4] }).distanceM).toBe(1);
  });

  it('measures to the edge from inside when asked to', () => {
    const outer = polygon(box(0, 0, 10, 10));
    expect(nearestEdges(outer, { type: 'point', at: [4, 5] })).toEqual({
      distanceM: 4,
      from: [0, 5],
      to: [4, 5],
    });
  });

  it('is never above the distance between any two points of the shapes', () => {
    const xy = fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }));
    fc.assert(
      fc.property(
        xy,
        xy,
        xy,
        xy,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (a, b, c, d, s, t) => {
          const along = (p: XY, q: XY, u: number): XY => [
            p[0] + u * (q[0] - p[0]),
            p[1] + u * (q[1] - p[1]),
          ];
          const found = nearest({ type: 'line', points: [a, b] }, { type: 'line', points: [c, d] });
          const [p, q] = [along(a, b, s), along(c, d, t)];
          expect(found.distanceM).toBeLessThanOrEqual(Math.hypot(p[0] - q[0], p[1] - q[1]) + 1e-12);
          expect(Math.hypot(found.from[0] - found.to[0], found.from[1] - found.to[1])).toBeCloseTo(
            found.distanceM,
            12,
          );
        },
      ),
      { seed: 9, numRuns: 1000 },
    );
  });
});

describe('segmentCrossing', () => {
  it('finds crossings, touching ends and overlaps, and nothing for parallels', () => {
    expect(segmentCrossing([0, 0], [2, 2], [0, 2], [2, 0])).toEqual([1, 1]);
    expect(segmentCrossing([0, 0], [2, 0], [2, 0], [3, 1])).toEqual([2, 0]);
    expect(segmentCrossing([0, 0], [2, 0], [1, 0], [3, 0])).toBeDefined();
    expect(segmentCrossing([0, 0], [2, 0], [0, 1], [2, 1])).toBeUndefined();
  });
});
