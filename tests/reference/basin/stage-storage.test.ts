import { describe, expect, it } from 'vitest';
import { areaAt, stageStorage, volumeAt } from '../../../lib/basin/form/stage-storage';
import { footM } from '../../../lib/units/units';
import { built, falling, level, oval, turnedBox } from '../../unit/basin/made-basin';
import type { FinishedBasin } from '../../../lib/basin/form/finished-basin';

const cubicFoot = footM ** 3;

/** Volume to the sill. */
function holds(finished: FinishedBasin): number {
  const table = stageStorage(finished);
  return volumeAt(table, table.overflowDepthM);
}

describe('stage and storage against closed forms', () => {
  it('holds 79.0 ft3 in a prismoid of 20 by 10 ft, half a foot deep, sides 3 : 1', () => {
    // V = h / 6 (200 + 4 * 157.25 + 119), however it lies on the cells.
    for (const turn of [0, 0.3, Math.PI / 4]) {
      const made = built({
        rim: turnedBox([15.013, 12.021], 20 * footM, 10 * footM, turn),
        pondingDepthM: 0.5 * footM,
        freeboardM: 0,
      });
      const table = stageStorage(made);
      expect(holds(made) / cubicFoot).toBeGreaterThan(78.95);
      expect(holds(made) / cubicFoot).toBeLessThan(79.05);
      expect(table.areasM2[0] / footM ** 2).toBeCloseTo(119, 1);
      expect(areaAt(table, 0.25 * footM) / footM ** 2).toBeCloseTo(157.25, 1);
      expect(areaAt(table, 0.5 * footM) / footM ** 2).toBeCloseTo(200, 6);
    }
  });

  it('is the frustum of a cone for a round basin', () => {
    const made = built({ rim: oval([15, 12], 3, 3, 720), pondingDepthM: 0.3, sideSlope: 2 });
    const top = 3 - 0.05 * 2;
    const bottom = top - 0.3 * 2;
    const closed = ((Math.PI * 0.3) / 3) * (top ** 2 + bottom ** 2 + top * bottom);
    expect(holds(made) / closed).toBeCloseTo(1, 3);
    expect(stageStorage(made).areasM2[0] / (Math.PI * bottom ** 2)).toBeCloseTo(1, 3);
  });

  it('is a whole cone where the sides meet', () => {
    const made = built({ rim: oval([15, 12], 1.2, 1.2, 720), pondingDepthM: 1, sideSlope: 3 });
    const radius = 1.2 - 0.05 * 3;
    expect(holds(made) / ((Math.PI / 3) * radius ** 2 * (radius / 3))).toBeCloseTo(1, 2);
    expect(stageStorage(made).areasM2[0]).toBeLessThan(0.01);
  });

  it('has the area of the ellipse at the rim: 20 by 10 ft are 157.1 ft2', () => {
    const table = stageStorage(built({ rim: oval([15, 12], 10 * footM, 5 * footM) }));
    expect(table.areasM2[table.areasM2.length - 1] / footM ** 2).toBeCloseTo(157.08, 2);
  });

  it('is an ellipse moved inward: its area less rim times way plus that of a round corner', () => {
    // Steiner's formula is exact for a convex outline while no corner of the inner one is lost.
    const table = stageStorage(
      built({ rim: oval([15, 12], 3, 2.5, 720), pondingDepthM: 0.15, freeboardM: 0, sideSlope: 3 }),
    );
    // Ramanujan's second series for the length of an ellipse.
    const h = ((3 - 2.5) / (3 + 2.5)) ** 2;
    const rimM = Math.PI * (3 + 2.5) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    const way = 0.15 * 3;
    const floor = Math.PI * 3 * 2.5 - rimM * way + Math.PI * way ** 2;
    expect(table.areasM2[0] / floor).toBeCloseTo(1, 3);
  });

  it('comes closer with finer cells, about fourfold for half the side', () => {
    const exact = 79 * cubicFoot;
    const error = (cellM: number): number => {
      let worst = 0;
      for (const turn of [0.3, Math.PI / 4]) {
        const shape = {
          rim: turnedBox([15.013, 12.021], 20 * footM, 10 * footM, turn),
          pondingDepthM: 0.5 * footM,
          freeboardM: 0,
        };
        worst = Math.max(worst, Math.abs(holds(built(shape, level(), cellM)) - exact));
      }
      return worst;
    };
    const [coarse, middle, fine] = [0.2, 0.1, 0.05].map(error);
    expect(middle).toBeLessThan(coarse / 2.5);
    expect(fine).toBeLessThan(middle / 2.5);
    expect(fine / exact).toBeLessThan(0.001);
  });

  it('agrees with the water over each cell of the finished ground', () => {
    const made = built({ rim: oval([15, 12], 3.2, 2.2), pondingDepthM: 0.2 }, falling(0.05));
    const { form, grid } = made;
    const table = stageStorage(made);
    for (const depthM of [0.05, 0.1, 0.2]) {
      let over = 0;
      for (const cell of form.cells) over += Math.max(0, form.floorM + depthM - grid.z[cell]);
      expect(Math.abs((over * grid.cellM ** 2) / volumeAt(table, depthM) - 1)).toBeLessThan(0.001);
    }
  });
});
