import { describe, expect, it } from 'vitest';
import { drainFromFullS } from '../../../lib/basin/filling/drain-from-full';
import { stageStorage } from '../../../lib/basin/form/stage-storage';
import { built, oval } from '../../unit/basin/made-basin';
import { layer, mmPerH, onSoil, roundBowl } from '../../unit/basin/made-basins';

const rate = 6.35;
const sillM = 0.15;

/**
 * Under a loss of so much over every wetted square metre dV = -K A dt, and dV = A dh whatever the shape, so that a bowl
 * full to its sill is empty after h / K. Less than a millimetre counts as empty.
 */
const closedS = sillM / (rate * mmPerH);
/** Seconds in which it drains, over those of the closed form. */
function share(basin: Parameters<typeof drainFromFullS>[0], strips?: number): number {
  return (drainFromFullS(basin, strips === undefined ? {} : { strips }) ?? Infinity) / closedS;
}

describe('draining under a constant loss', () => {
  it.each([
    ['a cone', roundBowl(0, 6, sillM, 0.2)],
    ['a steep cone', roundBowl(0, 1, sillM, 0.2)],
    ['a cone with its tip cut off', roundBowl(0.3, 3, sillM, 0.2)],
    ['a cylinder', roundBowl(1.5, 0, sillM, 0.2)],
  ])('takes h / K within one per cent in %s, in however many strips', (_, storage) => {
    for (const strips of [undefined, 2, 3, 5, 40]) {
      expect(Math.abs(share(onSoil(storage, rate), strips) - 1)).toBeLessThan(0.01);
      const layered = onSoil(storage, rate, [layer(0.3, 0.45, 0.14, 30)]);
      expect(Math.abs(share(layered, strips) - 1)).toBeLessThan(0.01);
    }
  });

  it('takes as long in a pointed bowl that is cut into the ground', () => {
    const radiusM = 8 * (sillM + 0.05);
    const made = built({
      rim: oval([15, 12], radiusM, radiusM, 720),
      pondingDepthM: sillM,
      freeboardM: 0.05,
      sideSlope: 8,
    });
    expect(Math.abs(share(onSoil(stageStorage(made), rate)) - 1)).toBeLessThan(0.01);
  });
});
