import { describe, expect, it } from 'vitest';
import { cellAt } from '../../../lib/elevation/grid';
import { basinDefaults, ground, groundAgain } from '../../../lib/ground/ground';
import { freeboardM } from '../../../lib/ground/basin-form';
import { box, groundOf, lineOf, planOf, polygonOf } from './plane-lot';

/** Falls 3 % to the east from 5 m. */
const slope = () => groundOf(40, 30, 0.5, (x) => 5 - 0.03 * x);

describe('ground from elevation and plan', () => {
  it('is the elevation itself for an empty plan, and leaves the elevation as it was', () => {
    const elevation = slope();
    const before = elevation.z.slice();
    const made = ground(elevation, planOf([]));
    expect(made.grid.z).toEqual(before);
    ground(elevation, planOf([polygonOf('b', box(10, 10, 20, 20), { kind: 'building' })]));
    expect(elevation.z).toEqual(before);
  });

  it('raises a building to one level above all ground around, and marks it', () => {
    const made = ground(
      slope(),
      planOf([polygonOf('b', box(10, 10, 20, 20), { kind: 'building' })]),
    );
    const inside = cellAt(made.grid, 15.2, 15.2);
    expect(made.grid.z[inside]).toBeGreaterThan(10);
    expect(made.grid.z[cellAt(made.grid, 10.2, 10.2)]).toBe(made.grid.z[inside]);
    expect(made.obstacle.reduce((sum, cell) => sum + cell, 0)).toBe(400);
    expect(made.sheltered[cellAt(made.grid, 9.7, 15)]).toBe(0);
  });

  it('is the same again on other heights, dug below the datum too, as made from them alone', () => {
    const plan = planOf([
      polygonOf('own', box(2, 2, 36, 28), { kind: 'lot', own: true }),
      polygonOf('house', box(10, 10, 20, 20), { kind: 'building' }),
      polygonOf('roof', box(9, 9, 21, 21), { kind: 'roof' }),
      polygonOf('basin', box(24, 10, 32, 18), { kind: 'basin', ponding_depth_m: 0.3 }),
    ]);
    const other = groundOf(40, 30, 0.5, (x, y) => 1.2 - 0.01 * x + 0.002 * y);
    const alone = ground(other, plan);
    const before = ground(slope(), plan);
    expect(groundAgain(before, { ...other, z: other.z.slice() }, plan, other)).toEqual(alone);
    expect(before).toEqual(ground(slope(), plan));
  });

  it('sets a wall up by its height, edge to edge', () => {
    const made = ground(
      slope(),
      planOf([
        lineOf(
          'w',
          [
            [20, 2],
            [27, 28],
          ],
          { kind: 'wall', height_m: 0.4 },
        ),
      ]),
    );
    const plain = slope();
    const cell = cellAt(plain, 20, 2.1);
    expect(made.grid.z[cell] - plain.z[cell]).toBeCloseTo(0.4, 5);
  });

  it('gives each cell to the first lot that holds it', () => {
    const made = ground(
      slope(),
      planOf([
        polygonOf('own', box(0, 0, 20, 30), { kind: 'lot', own: true }),
        polygonOf('next', box(15, 0, 40, 30), { kind: 'lot', own: false, name: 'Next door' }),
      ]),
    );
    expect(made.lots.map((lot) => [lot.id, lot.cells.length])).toEqual([
      ['own', 40 * 60],
      ['next', 40 * 60],
    ]);
    expect(made.lotOf[cellAt(made.grid, 18, 5)]).toBe(0);
  });
});

describe('a basin cut into the ground', () => {
  const basin = (properties: object = {}) =>
    polygonOf('basin', box(18, 12, 24, 16), { kind: 'basin', ...properties });

  it('has its floor a ponding depth below its overflow, and its rim a freeboard above', () => {
    const made = ground(slope(), planOf([basin({ ponding_depth_m: 0.2, side_slope: 2 })]));
    const [form] = made.basins;
    expect(form.rimM - form.overflowM).toBeCloseTo(freeboardM, 6);
    expect(form.overflowM - form.floorM).toBeCloseTo(0.2, 6);
    expect(made.grid.z[cellAt(made.grid, 21.2, 14.2)]).toBeCloseTo(form.floorM, 5);
    // The mean of the ground along the rim of a plane is the ground at its middle.
    expect(form.rimM).toBeCloseTo(5 - 0.03 * 21, 1);
  });

  it('has a notch no wider than its rim is long, and says so', () => {
    const [wide] = ground(slope(), planOf([basin({ overflow_width_m: 500 })])).basins;
    expect(wide.overflowWidthM).toBeCloseTo(20, 3);
    expect(wide.notes.join(' ')).toContain('A notch of 500.0 m is wider than the rim is long');
    const [narrow] = ground(slope(), planOf([basin({ overflow_width_m: 2 })])).basins;
    expect([narrow.overflowWidthM, narrow.notes]).toEqual([2, []]);
  });

  it('cuts on the high side and fills on the low side', () => {
    const { basins, grid } = ground(slope(), planOf([basin()]));
    expect(basins[0].cutM3).toBeGreaterThan(0);
    expect(basins[0].fillM3).toBeGreaterThan(0);
    const plain = slope();
    const low = cellAt(plain, 24.1, 12.6);
    expect(grid.z[low]).toBeGreaterThan(plain.z[low]);
    const far = cellAt(plain, 30, 25);
    expect(grid.z[far]).toBe(plain.z[far]);
  });

  it('holds on level ground what a bowl of that shape holds, but for the grid', () => {
    const level = groundOf(40, 30, 0.1, () => 5);
    const made = ground(level, planOf([basin({ ponding_depth_m: 0.3, side_slope: 2 })]));
    const [form] = made.basins;
    let held = 0;
    for (const cell of form.cells) held += Math.max(0, form.overflowM - made.grid.z[cell]) * 0.01;
    // Frustum of a 6 by 4 m rim with sides 1 : 2, from 0.05 m below the rim down by 0.3 m, by Simpson's rule (exact here).
    const section = (belowRimM: number) => (6 - 4 * belowRimM) * (4 - 4 * belowRimM);
    const closed = (0.3 / 6) * (section(0.05) + 4 * section(0.2) + section(0.35));
    expect(held).toBeGreaterThan(closed * 0.97);
    expect(held).toBeLessThan(closed * 1.03);
  });

  it('puts the notch where the plan says, else at the lowest ground along the rim', () => {
    const east = ground(slope(), planOf([basin()])).basins[0].overflowAt;
    expect(east[0]).toBeGreaterThan(23.5);
    const north = ground(
      slope(),
      planOf([basin({ overflow: planOf([]).frame.toLngLat([21, 18]) })]),
    ).basins[0].overflowAt;
    expect(north[0]).toBeCloseTo(21, 1);
    expect(north[1]).toBeCloseTo(16, 1);
  });

  it('is left out where its rim lies off the data', () => {
    const made = ground(
      slope(),
      planOf([polygonOf('b', box(100, 100, 104, 104), { kind: 'basin' })]),
    );
    expect(made.basins).toEqual([]);
    expect(basinDefaults.pondingDepthM).toBeGreaterThan(0);
  });
});
