import fc from 'fast-check';
import type Geometry from 'jsts/org/locationtech/jts/geom/Geometry.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import GeoJSONReader from 'jsts/org/locationtech/jts/io/GeoJSONReader.js';
import IsValidOp from 'jsts/org/locationtech/jts/operation/valid/IsValidOp.js';
import { describe, expect, it } from 'vitest';
import type { LngLat } from '../../../lib/frame/frame';
import { ringFault } from '../../../lib/plan/ring-fault';
import { ownMsSince } from '../own-time';

const at = (x: number, y: number): LngLat => [-70.4 + x * 1e-5, 39.77 + y * 1e-5];
const closed = (...corners: [number, number][]): LngLat[] =>
  [...corners, corners[0]].map(([x, y]) => at(x, y));

describe('ringFault', () => {
  it('finds nothing wrong with an outline, however it turns, with repeats or a hole', () => {
    expect(ringFault([closed([0, 0], [9, 0], [9, 9], [0, 9])])).toBeUndefined();
    expect(ringFault([closed([0, 9], [9, 9], [9, 9], [9, 0], [0, 0])])).toBeUndefined();
    expect(
      ringFault([closed([0, 0], [9, 0], [9, 9], [0, 9]), closed([2, 2], [4, 2], [4, 4])]),
    ).toBeUndefined();
  });

  it('says where a bow-tie crosses, even one whose halves cancel', () => {
    const fault = ringFault([closed([0, 0], [4, 4], [4, 0], [0, 4])]);
    expect(fault?.what).toBe('crosses');
    expect(fault?.at[0]).toBeCloseTo(at(2, 2)[0], 9);
    expect(fault?.at[1]).toBeCloseTo(at(2, 2)[1], 9);
  });

  it('says that a line there and back has no area', () => {
    expect(ringFault([closed([0, 0], [9, 0], [4, 0])])?.what).toBe('no-area');
    expect(ringFault([closed([0, 0], [9, 0], [4, 0], [2, 0])])?.what).toBe('no-area');
    expect(ringFault([closed([0, 0], [9, 3])])?.what).toBe('no-area');
    expect(ringFault([closed([3, 3], [3, 3], [3, 3])])?.what).toBe('no-area');
  });

  it('refuses holes that cross the outline or lie outside it', () => {
    const outer = closed([0, 0], [9, 0], [9, 9], [0, 9]);
    expect(ringFault([outer, closed([7, 2], [12, 2], [7, 5])])?.what).toBe('crosses');
    expect(ringFault([outer, closed([12, 2], [14, 2], [12, 5])])?.what).toBe('hole-outside');
  });

  it('agrees with an independent library on random outlines', () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 6 }));
    const reader = new GeoJSONReader(new GeometryFactory());
    fc.assert(
      fc.property(fc.array(corner, { minLength: 3, maxLength: 8 }), (corners) => {
        const ring = [...corners, corners[0]];
        const geometry: unknown = reader.read({ type: 'Polygon', coordinates: [ring] });
        expect(ringFault([closed(...corners)]) === undefined).toBe(
          IsValidOp.isValid(geometry as Geometry),
        );
      }),
      { seed: 21, numRuns: 5000 },
    );
  });

  it('does not slow down out of proportion with many corners', () => {
    const star = (count: number) =>
      Array.from({ length: count + 1 }, (_, i): LngLat => {
        const turn = ((i % count) / count) * 2 * Math.PI;
        const reach = i % 2 === 0 ? 40 : 39.9;
        return at(reach * Math.cos(turn), reach * Math.sin(turn));
      });
    const start = process.cpuUsage();
    expect(ringFault([star(10_000)])).toBeUndefined();
    expect(ownMsSince(start)).toBeLessThan(2000);
  });
});
