import { describe, expect, it } from 'vitest';
import { finishedBasin } from '../../../../lib/basin/form/finished-basin';
import { cellAt, cellCentre } from '../../../../lib/elevation/grid';
import type { XY } from '../../../../lib/frame/frame';
import { distanceM } from '../../../../lib/frame/shapes';
import { freeboardM } from '../../../../lib/ground/basin-form';
import { basinShape, ground, groundBeforeBasin } from '../../../../lib/ground/ground';
import { heightAt } from '../../../../lib/ground/height-at';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import { built, falling, level, oval, turnedBox } from '../made-basin';

describe('the finished ground of a basin', () => {
  it('is cut by the code that cuts the coarse ground, at the same heights', () => {
    const plan = planOf([
      polygonOf('b', box(10, 8, 18, 14), { kind: 'basin', ponding_depth_m: 0.2 }),
    ]);
    const elevation = falling(0.04);
    const coarse = ground(elevation, plan).basins[0];
    const fine = finishedBasin(
      groundBeforeBasin(elevation, plan, 'b'),
      basinShape(plan.of.basin[0]),
    );
    if ('notDug' in fine) throw new Error(fine.notDug);
    expect(fine.form.rimM).toBeCloseTo(coarse.rimM, 9);
    expect(fine.form.floorM).toBeCloseTo(coarse.floorM, 9);
    expect(fine.form.overflowAt).toEqual(coarse.overflowAt);
    expect(fine.form.cutM3 / coarse.cutM3).toBeCloseTo(1, 1);
    const coarseGrid = ground(elevation, plan).grid;
    for (const cell of coarse.cells) {
      const at = cellCentre(coarseGrid, cell);
      const away = Math.min(at[0] - 10, 18 - at[0], at[1] - 8, 14 - at[1]);
      if (away < 0.5) continue;
      // where floor and side meet, interpolation between fine cells rounds the corner a little
      expect(Math.abs(heightAt(fine.grid, at) - coarseGrid.z[cell])).toBeLessThan(0.01);
    }
  });

  it('has no step anywhere: from cell to cell it rises by the side slope at most', () => {
    const slope = 0.05;
    const made = built({ sideSlope: 3 }, falling(slope));
    const { grid } = made;
    const mostM = grid.cellM * (1 / 3 + slope) * Math.SQRT2 + 1e-4;
    let steepest = 0;
    for (let row = 0; row < grid.height; row++) {
      for (let column = 1; column < grid.width; column++) {
        const cell = row * grid.width + column;
        steepest = Math.max(steepest, Math.abs(grid.z[cell] - grid.z[cell - 1]));
      }
    }
    expect(steepest).toBeLessThan(mostM);
  });

  it('has a level berm on the low side and a bank on the high side', () => {
    const made = built({ freeboardM: 0.05 }, falling(0.05));
    const { form, grid, before } = made;
    const height = (x: number, y: number): number => heightAt(grid, [x, y]);
    // low side: the rim runs at x = 18, north of the notch
    expect(height(18.2, 13.6)).toBeCloseTo(form.rimM, 3);
    expect(height(18.2, 13.6)).toBeGreaterThan(heightAt(before, [18.2, 13.6]) + 0.1);
    expect(height(18.45, 13.6)).toBeCloseTo(form.rimM - 0.05, 2);
    // high side: the bank rises from the rim at 1 : 3
    expect(height(11.85, 12)).toBeCloseTo(form.rimM + 0.05, 3);
    expect(height(11.85, 12)).toBeLessThan(heightAt(before, [11.85, 12]) - 0.05);
    expect(height(10, 12)).toBeCloseTo(heightAt(before, [10, 12]), 6);
    expect(form.cutM3).toBeGreaterThan(form.fillM3);
    expect(form.fillM3).toBeGreaterThan(0.2);
  });

  it('lets water out through the notch and nowhere else', () => {
    const { form, grid } = built({ overflowWidthM: 0.6, freeboardM: 0.1 }, falling(0.04));
    const low: XY[] = [];
    for (let cell = 0; cell < grid.z.length; cell++) {
      const at = cellCentre(grid, cell);
      const onRim =
        Math.abs(Math.max(Math.abs(at[0] - 15) - 3, Math.abs(at[1] - 12) - 2)) < grid.cellM;
      if (onRim && grid.z[cell] < form.rimM - 0.06) low.push(at);
    }
    expect(low.length).toBeGreaterThan(5);
    for (const at of low) expect(distanceM(at, form.overflowAt)).toBeLessThan(0.3 + 0.1 * 3);
    expect(grid.z[cellAt(grid, ...form.overflowAt)]).toBeCloseTo(form.overflowM, 4);
    // the east side is lowest, and the notch in its middle
    expect(distanceM(form.overflowAt, [18, 12])).toBeLessThan(0.3);
  });

  it('takes freeboard and width of the notch from the plan, else the usual', () => {
    const named = built({ freeboardM: 0.15, overflowWidthM: 2 });
    expect(named.form.rimM - named.form.overflowM).toBeCloseTo(0.15, 9);
    expect(named.form.overflowWidthM).toBe(2);
    const usual = built();
    expect(usual.form.freeboardM).toBe(freeboardM);
  });

  it('is V-shaped where the rim is too narrow, and says how deep it gets', () => {
    const made = built({ rim: turnedBox([15, 12], 6, 1.2), pondingDepthM: 0.4 });
    // half the width over the slope, less the freeboard
    expect(made.form.pondingDepthM).toBeCloseTo(0.6 / 3 - freeboardM, 3);
    expect(made.notes.join()).toMatch(/Too narrow for 40 cm .* 15 cm below the overflow/);
  });

  it('does not dig upright sides, and says what it does instead', () => {
    const made = built({ sideSlope: 0 });
    expect(made.form.sideSlope).toBe(0.5);
    expect(made.notes.join()).toMatch(/side slope of 0 : 1 would not stand/);
  });

  it('says why it cannot be dug', () => {
    const shape = { id: 'b', rim: oval([15, 12], 3, 2), pondingDepthM: 0.15, sideSlope: 3 };
    const why = (change: object, grid = level()): string => {
      const made = finishedBasin(grid, { ...shape, ...change });
      return 'notDug' in made ? made.notDug : '';
    };
    expect(why({ rim: oval([29, 12], 3, 2) })).toMatch(/leaves the elevation data/);
    expect(why({ freeboardM: 8 })).toMatch(/meet 67 cm below the rim, .* freeboard of 800 cm/);
    const bow: XY[] = [
      [10, 10],
      [14, 14],
      [14, 10],
      [10, 14],
    ];
    expect(why({ rim: bow })).toMatch(/crosses itself/);
    expect(why({})).toBe('');
    const hole = level();
    hole.z[cellAt(hole, 12.1, 12)] = NaN;
    hole.z[cellAt(hole, 11.6, 12)] = NaN;
    expect(why({}, hole)).toMatch(/leaves the elevation data/);
  });

  it('keeps heights positive where the ground is low, by lowering its datum', () => {
    const low = { ...level(), z: level().z.map(() => 1.02) };
    const made = built({}, low);
    expect(Math.min(...made.grid.z)).toBeGreaterThan(0.99);
    expect(made.grid.datumM + made.form.rimM).toBeCloseTo(101.02, 4);
    expect(made.before.datumM + made.before.z[0]).toBeCloseTo(101.02, 4);
  });

  it('tells how much of the bowl lies on fill', () => {
    const steep = built({ rim: turnedBox([15, 12], 8, 6), pondingDepthM: 0.1 }, falling(0.1));
    expect(steep.floorOnFill.areaM2).toBeGreaterThan(5);
    expect(steep.notes.join()).toMatch(/lies on fill/);
    expect(built().floorOnFill.areaM2).toBe(0);
  });
});
