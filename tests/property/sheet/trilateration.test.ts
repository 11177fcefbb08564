import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { distanceM } from '../../../lib/frame/shapes';
import {
  crossingDeg,
  fromBaseLine,
  pointErrorM,
  toBaseLine,
  trilaterate,
} from '../../../lib/sheet/setting-out/trilateration';

const place = fc.tuple(
  fc.double({ min: -30, max: 30, noNaN: true }),
  fc.double({ min: -30, max: 30, noNaN: true }),
);
/** Two corners and a point whose tapes cross at an angle that can be worked with. */
const set = fc
  .tuple(place, place, place)
  .filter(([a, b, at]) => distanceM(a, b) > 1 && distanceM(a, at) > 0.5 && distanceM(b, at) > 0.5)
  .filter(([a, b, at]) => {
    const angle = crossingDeg(at, a, b);
    return angle > 5 && angle < 175;
  });

describe('two tapes', () => {
  it('bring every point back to where it was', () => {
    fc.assert(
      fc.property(set, ([a, b, at]) => {
        const side = toBaseLine(a, b, at).outM > 0 ? 'left' : 'right';
        const found = trilaterate(a, b, distanceM(a, at), distanceM(b, at), side);
        expect(found).not.toBeNull();
        expect(distanceM(found as XY, at)).toBeLessThan(1e-6);
      }),
    );
  });

  it('and so does the base line', () => {
    fc.assert(
      fc.property(set, ([a, b, at]) => {
        const { alongM, outM } = toBaseLine(a, b, at);
        expect(distanceM(fromBaseLine(a, b, alongM, outM), at)).toBeLessThan(1e-9);
      }),
    );
  });

  it('are as far off as is said, in the root mean square over errors of both', () => {
    const tapeM = 0.01;
    fc.assert(
      fc.property(
        set.filter(([a, b, at]) => {
          const angle = crossingDeg(at, a, b);
          return angle > 20 && angle < 160 && Math.abs(toBaseLine(a, b, at).outM) > 1;
        }),
        ([a, b, at]) => {
          const side = toBaseLine(a, b, at).outM > 0 ? 'left' : 'right';
          let squared = 0;
          for (const fromA of [-tapeM, tapeM]) {
            for (const fromB of [-tapeM, tapeM]) {
              const found = trilaterate(
                a,
                b,
                distanceM(a, at) + fromA,
                distanceM(b, at) + fromB,
                side,
              );
              squared += distanceM(found as XY, at) ** 2 / 4;
            }
          }
          const said = pointErrorM(at, a, b, tapeM);
          expect(Math.sqrt(squared)).toBeGreaterThan(0.9 * said);
          expect(Math.sqrt(squared)).toBeLessThan(1.1 * said);
        },
      ),
    );
  });

  it('that are too short for each other meet nowhere', () => {
    expect(trilaterate([0, 0], [10, 0], 4, 5, 'left')).toBeNull();
  });
});
