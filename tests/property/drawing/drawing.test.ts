import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { grownSharp, joined, splitBy } from '../../../lib/drawing/areas';
import { mirroredIn, movedBy, turnedAbout } from '../../../lib/drawing/move-shape';
import { withSideLength } from '../../../lib/drawing/side-length';
import { closedSquare, rectangleOn } from '../../../lib/drawing/square';
import { alongAndOut, twoTapes } from '../../../lib/drawing/by-tape';
import { directionOf, footOn, onwards, onwardsAfterTurn, turnAt } from '../../../lib/drawing/turns';
import type { XY } from '../../../lib/frame/frame';
import { areaM2, distanceM, perimeterM } from '../../../lib/frame/shapes';

const metre = fc.double({ min: -80, max: 80, noNaN: true });
const place = fc.tuple(metre, metre) as fc.Arbitrary<XY>;
const length = fc.double({ min: 0.5, max: 60, noNaN: true });
const angle = fc.double({ min: -179, max: 179, noNaN: true });

function same(a: XY, b: XY): void {
  expect(distanceM(a, b)).toBeLessThan(1e-8);
}

/** A rectangle anywhere, turned anyhow. */
const rectangle = fc
  .tuple(place, fc.double({ min: 0, max: 360, noNaN: true }), length, length)
  .map(([from, deg, along, out]) => rectangleOn(from, onwards(from, deg, along), out));

describe('places by measure', () => {
  it('lie as far off, in the direction and after the turn that were typed', () => {
    fc.assert(
      fc.property(place, place, angle, length, (before, from, turn, lengthM) => {
        fc.pre(distanceM(before, from) > 0.1);
        const to = onwardsAfterTurn(before, from, turn, lengthM);
        expect(distanceM(from, to)).toBeCloseTo(lengthM, 9);
        expect(turnAt(before, from, to)).toBeCloseTo(turn, 6);
        same(onwards(from, directionOf(from, to), lengthM), to);
      }),
    );
  });

  it('from two tapes are as far from both as was taped', () => {
    fc.assert(
      fc.property(place, place, place, (a, b, at) => {
        fc.pre(distanceM(a, b) > 0.5);
        const tapes = [a, b].map((from) => ({ from, lengthM: distanceM(from, at) }));
        const met = twoTapes(tapes[0], tapes[1]);
        if (!met.meet) throw new Error('They meet where they were taped from');
        for (const crossing of met.crossings) {
          for (const { from, lengthM } of tapes) {
            expect(Math.abs(distanceM(from, crossing) - lengthM)).toBeLessThan(1e-5);
          }
        }
        const nearest = Math.min(...met.crossings.map((crossing) => distanceM(crossing, at)));
        // Where they barely cross, the last digit of a length is many of the place.
        expect(nearest).toBeLessThan(1e-4);
      }),
    );
  });

  it('along and out come back as their foot', () => {
    fc.assert(
      fc.property(place, place, metre, metre, (a, b, along, out) => {
        fc.pre(distanceM(a, b) > 0.5);
        const at = alongAndOut(a, b, along, out);
        const foot = footOn(a, b, at);
        expect(foot.alongM).toBeCloseTo(along, 7);
        expect(distanceM(foot.at, at)).toBeCloseTo(Math.abs(out), 7);
      }),
    );
  });
});

describe('motions', () => {
  it('keep lengths, and undone they are nothing', () => {
    fc.assert(
      fc.property(place, place, place, place, angle, (p, q, a, b, deg) => {
        fc.pre(distanceM(a, b) > 0.5);
        for (const [there, back] of [
          [movedBy(...a), movedBy(-a[0], -a[1])],
          [turnedAbout(a, deg), turnedAbout(a, -deg)],
          [mirroredIn(a, b), mirroredIn(b, a)],
        ]) {
          expect(distanceM(there(p), there(q))).toBeCloseTo(distanceM(p, q), 7);
          same(back(there(p)), p);
        }
      }),
    );
  });
});

describe('rectangles', () => {
  it('close square from three of their corners', () => {
    fc.assert(
      fc.property(rectangle, (corners) => {
        const closed = closedSquare(corners.slice(0, 3));
        same(closed?.corners[3] ?? [NaN, NaN], corners[3]);
      }),
    );
  });

  it('with another side stay rectangles of that side', () => {
    fc.assert(
      fc.property(
        rectangle,
        fc.nat(3),
        length,
        fc.constantFrom('start', 'end'),
        (corners, side, lengthM, moves) => {
          const next = withSideLength(corners, side, lengthM, moves, true);
          const ring = (i: number): XY => next[i % 4];
          expect(distanceM(ring(side), ring(side + 1))).toBeCloseTo(lengthM, 7);
          expect(distanceM(ring(side + 2), ring(side + 3))).toBeCloseTo(lengthM, 6);
          expect(Math.abs(turnAt(ring(side), ring(side + 1), ring(side + 2)))).toBeCloseTo(90, 4);
        },
      ),
    );
  });

  it('grown by eaves have the area that the formula says, cut they keep it, and joined it is back', async () => {
    await fc.assert(
      fc.asyncProperty(
        rectangle,
        fc.double({ min: 0.1, max: 2, noNaN: true }),
        fc.double({ min: 0.2, max: 0.8, noNaN: true }),
        async (corners, eavesM, part) => {
          // A smaller piece is what a line leaves that runs along a side, and is dropped.
          fc.pre(areaM2([corners]) * Math.min(part, 1 - part) > 0.1);
          const [grown] = await grownSharp([corners], eavesM);
          expect(areaM2(grown)).toBeCloseTo(
            areaM2([corners]) + perimeterM(corners) * eavesM + 4 * eavesM ** 2,
            5,
          );
          const [a, b, c, d] = corners;
          const along = distanceM(a, b) * part;
          const cut = await splitBy(
            [corners],
            [alongAndOut(a, b, along, -90), alongAndOut(a, b, along, 90)],
          );
          expect(cut).toHaveLength(2);
          expect(areaM2(cut[0]) + areaM2(cut[1])).toBeCloseTo(areaM2([corners]), 5);
          const whole = await joined(cut);
          expect(whole).toHaveLength(1);
          expect(whole[0][0]).toHaveLength(4);
          expect(areaM2(whole[0])).toBeCloseTo(areaM2([[a, b, c, d]]), 5);
        },
      ),
      { numRuns: 40 },
    );
  });
});
