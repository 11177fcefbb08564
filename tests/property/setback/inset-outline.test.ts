import fc from 'fast-check';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import GeoJSONReader from 'jsts/org/locationtech/jts/io/GeoJSONReader.js';
import BufferOp from 'jsts/org/locationtech/jts/operation/buffer/BufferOp.js';
import DistanceOp from 'jsts/org/locationtech/jts/operation/distance/DistanceOp.js';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { insetOutline } from '../../../lib/setback/measure/inset-outline';
import {
  boundaryDistance,
  isInside,
  outlineOf,
  separation,
} from '../../../lib/setback/measure/outline';

const reader = new GeoJSONReader(new GeometryFactory());
/** A star-shaped ring about the origin, often with hollows, turning either way. */
const ring = fc
  .tuple(
    fc.array(fc.double({ min: 1, max: 8, noNaN: true }), { minLength: 3, maxLength: 14 }),
    fc.boolean(),
  )
  .map(([radii, turned]): XY[] => {
    const corners = radii.map((radius, i): XY => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
    return turned ? corners.reverse() : corners;
  });
const place = fc.tuple(
  fc.double({ min: -12, max: 12, noNaN: true }),
  fc.double({ min: -12, max: 12, noNaN: true }),
);

describe('insetOutline', () => {
  it('is as far from any place as the shrunken ring of a general geometry library', () => {
    fc.assert(
      fc.property(
        ring,
        fc.double({ min: 0.1, max: 2, noNaN: true }),
        place,
        (corners, inset, at) => {
          const rim = outlineOf({ type: 'polygon', rings: [corners] });
          const found = insetOutline(rim, inset);
          const polygon: unknown = reader.read({
            type: 'Polygon',
            coordinates: [[...corners, corners[0]]],
          });
          const shrunk: unknown = BufferOp.bufferOp(polygon, -inset, 64);
          // That library can leave a part that is not so far inside, or is a needle: those are left to the other test.
          const depths = (shrunk as { getCoordinates(): { x: number; y: number }[] })
            .getCoordinates()
            .map(({ x, y }) => (isInside(rim, x, y) ? boundaryDistance(rim, x, y) : 0));
          fc.pre(depths.length > 0 && depths.every((depth) => depth > inset - 0.005));
          fc.pre((shrunk as { getArea(): number }).getArea() > 0.05);
          if (found === null) throw new Error('nothing left inside');
          const expected = DistanceOp.distance(
            shrunk,
            reader.read({ type: 'Point', coordinates: at }),
          ) as number;
          const { distanceM } = separation(found, outlineOf({ type: 'point', at }));
          // Corners so sharp that the floor runs out into a needle differ by the needle's tip.
          expect(Math.abs(distanceM - expected)).toBeLessThan(0.03);
        },
      ),
      { seed: 21, numRuns: 500 },
    );
  });

  it('lies inside the rim, and holds exactly the places that far from it', () => {
    fc.assert(
      fc.property(
        ring,
        fc.double({ min: 0.1, max: 1.5, noNaN: true }),
        place,
        (corners, inset, at) => {
          const rim = outlineOf({ type: 'polygon', rings: [corners] });
          const found = insetOutline(rim, inset);
          const [x, y] = at;
          const depth = isInside(rim, x, y) ? boundaryDistance(rim, x, y) : 0;
          if (Math.abs(depth - inset) < 0.005) return;
          expect(found !== null && isInside(found, x, y)).toBe(depth > inset);
        },
      ),
      { seed: 22, numRuns: 2000 },
    );
  });
});
