import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { levelTies } from '../../../lib/drainage/answer/level-ties';
import { addError, shakenGrid } from '../../../lib/drainage/height-error/error-field';
import { errorsOf } from '../../../lib/drainage/height-error/error-defaults';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { Workspace } from '../../../lib/drainage/terrain/workspace';
import { cellAt, type Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { ground, groundWithoutBasins } from '../../../lib/ground/ground';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, planOf, pointOf, polygonOf } from './plane-lot';

const around = (ring: readonly XY[]): PlanFeature =>
  polygonOf('again', ring, { kind: 'relevelled-ground' });
const level = (at: XY, i: number, properties: object): PlanFeature =>
  pointOf(`spot-height-${i + 1}`, at, { kind: 'spot-height', ...properties });

const outline = box(10, 10, 30, 26);
const inside: readonly XY[] = [
  [13, 13],
  [27, 13],
  [27, 23],
  [13, 23],
  [20, 18],
  [17, 15],
  [24, 21],
];
const outside: readonly XY[] = [
  [6, 6],
  [34, 7],
  [33, 30],
  [8, 29],
  [10, 18],
];
const plane = (x: number, y: number): number => 5 + 0.02 * x + 0.03 * y;
const yard = (height: (x: number, y: number) => number = plane): Grid =>
  groundOf(40, 36, 0.5, height);

/** Levels of a height for each place, above the zero of the elevation and `offM` more. */
function read(
  height: (x: number, y: number) => number,
  offM = 0,
  places = [...inside, ...outside],
) {
  return places.map((at, i) => level(at, i, { elevation_m: 100 + height(...at) + offM }));
}

const heightAt = (grid: Grid, [x, y]: XY): number => grid.z[cellAt(grid, x, y)] + grid.datumM;

/** Water that the ground can hold, m3. */
function held({ z, width, height, cellM }: Grid): number {
  const { filled } = buildTerrain(z, width, height);
  return filled.reduce((sum, level, cell) => sum + (level - z[cell]), 0) * cellM ** 2;
}

const errors = errorsOf(0.5, { rmseM: 0.1 });
const tieOf = (elevation: Grid, plan: LocalPlan) =>
  levelTies(ground(elevation, plan).relevelled, plan, errors)[0];

describe('levels that replace the elevation inside an outline', () => {
  it('leave a plane that both have as it is, and hold no water', () => {
    const elevation = yard();
    const plan = planOf([around(outline), ...read(plane)]);
    const made = ground(elevation, plan);
    made.grid.z.forEach((z, cell) => {
      expect(z).toBeCloseTo(elevation.z[cell], 4);
    });
    expect(held(made.grid)).toBeLessThan(1e-3);
    expect(tieOf(elevation, plan)).toMatchObject({
      replaced: true,
      levels: 7,
      ties: 5,
      holds: true,
    });
  });

  it('are set on the elevation by what both differ by around it, with no dam or pool at the outline', () => {
    const elevation = yard();
    const plan = planOf([around(outline), ...read(plane, 0.45)]);
    const made = ground(elevation, plan);
    made.grid.z.forEach((z, cell) => {
      expect(z).toBeCloseTo(elevation.z[cell], 4);
    });
    expect(held(made.grid)).toBeLessThan(1e-3);
    const tie = tieOf(elevation, plan);
    expect(tie.offset_m).toBeCloseTo(0.45, 3);
    expect(tie.spread_m).toBeCloseTo(0, 3);
    expect(tie.holds).toBe(false);
    expect(tie.says).toMatch(/45 cm higher.*more than.*Check the unit and the vertical datum/);
  });

  it('take drops below a string as well, whose zero is found by those outside', () => {
    const elevation = yard();
    const drops = [...inside, ...outside].map((at, i) =>
      level(at, i, { drop_m: 2 - plane(...at) }),
    );
    const plan = planOf([around(outline), ...drops]);
    const { grid } = ground(elevation, plan);
    expect(heightAt(grid, [20, 18])).toBeCloseTo(100 + plane(20, 18), 2);
    const tie = tieOf(elevation, plan);
    expect(tie).toMatchObject({ holds: true, offset_allowed_m: null });
    expect(tie.says).toMatch(/their zero lies 1\d\d\.\d+ m above/);
    const alone = planOf([around(outline), ...drops.slice(0, inside.length)]);
    expect(ground(elevation, alone).grid.z).toEqual(elevation.z);
    expect(tieOf(elevation, alone).says).toMatch(/zero of their own.*read three or more there/);
  });

  it('put the ground that was made since in place of the old, and none of it beyond the outline', () => {
    const made = (x: number, y: number): number =>
      plane(x, y) + 0.6 * Math.max(0, 1 - Math.hypot(x - 20, y - 18) / 9);
    const elevation = yard();
    const { grid } = ground(elevation, planOf([around(outline), ...read(made)]));
    for (const at of inside) expect(heightAt(grid, at)).toBeCloseTo(100 + made(...at), 1);
    for (const at of [
      [5, 5],
      [9.6, 20],
      [20, 26.4],
    ] as XY[])
      expect(heightAt(grid, at)).toBeCloseTo(heightAt(elevation, at), 6);
    const steps = [9.75, 10.25, 10.75].map((x) => heightAt(grid, [x, 18]));
    expect(Math.abs(steps[1] - steps[0])).toBeLessThan(0.05);
    expect(groundWithoutBasins(elevation, planOf([around(outline), ...read(made)])).z).toEqual(
      grid.z,
    );
  });

  it('are named where they say nothing of the elevation, with why', () => {
    const plan = planOf([level([20, 20], 0, { drop_m: 1 }), level([22, 20], 1, {})]);
    const { edits } = ground(yard(), plan);
    expect(edits.map(({ id, notes }) => `${id}: ${notes.join(' ')}`)).toEqual([
      expect.stringMatching(/^spot-height-1: Its drop below a mark says nothing/),
      expect.stringMatching(/^spot-height-2: It has neither a height nor a drop/),
    ]);
  });

  it('say where levels around do not agree among themselves', () => {
    const uneven = read(plane).map((each, i) =>
      i === inside.length
        ? level(outside[0], i, { elevation_m: 100 + plane(...outside[0]) - 0.5 })
        : each,
    );
    const tie = tieOf(yard(), planOf([around(outline), ...uneven]));
    expect(tie.holds).toBe(false);
    expect(tie.says).toMatch(/from one to the next.*more than.*draw the outline farther out/);
  });

  it.each<[string, readonly PlanFeature[], RegExp]>([
    ['too few levels', read(plane).slice(0, 2), /2 levels inside.*three are the fewest/],
    [
      'levels in one line',
      [0, 1, 2, 3].map((i) => level([14 + i, 14 + i], i, { elevation_m: 105 })),
      /on one line.*the elevation’s heights stay/,
    ],
  ])('leave the elevation as it is with %s, and say so', (_, levels, sentence) => {
    const elevation = yard();
    const plan = planOf([around(outline), ...levels]);
    const tie = tieOf(elevation, plan);
    expect(tie.replaced).toBe(false);
    expect(tie.says).toMatch(sentence);
  });

  it('are no surer than they were read where the elevation is shaken, and the elevation outside is as unsure as it was', () => {
    const elevation = yard();
    const plan = planOf([around(outline), ...read(plane)]);
    const off: Record<'inside' | 'outside', number> = { inside: 0, outside: 0 };
    const draws = 40;
    for (let index = 0; index < draws; index++) {
      const z = new Float32Array(elevation.z.length);
      addError(elevation, errors, { seed: 3, index }, z, new Workspace(), 1);
      const { grid } = ground(shakenGrid(elevation, errors, z, 1), plan);
      off.inside += (heightAt(grid, [20, 18]) - heightAt(elevation, [20, 18])) ** 2 / draws;
      off.outside += (heightAt(grid, [4, 30]) - heightAt(elevation, [4, 30])) ** 2 / draws;
    }
    expect(Math.sqrt(off.inside)).toBeGreaterThan(0.006);
    expect(Math.sqrt(off.inside)).toBeLessThan(0.015);
    expect(Math.sqrt(off.outside)).toBeGreaterThan(0.06);
  });

  it('are exact on any plane, whatever both differ by', () => {
    const share = fc.double({ min: -0.1, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(
        share,
        share,
        fc.double({ min: -1, max: 1, noNaN: true }),
        (east, north, offM) => {
          const tilted = (x: number, y: number): number => 9 + east * x + north * y;
          const elevation = yard(tilted);
          const { grid } = ground(elevation, planOf([around(outline), ...read(tilted, offM)]));
          const worst = grid.z.reduce(
            (most, z, cell) =>
              Math.max(most, Math.abs(z + grid.datumM - elevation.z[cell] - elevation.datumM)),
            0,
          );
          expect(worst).toBeLessThan(1e-3);
        },
      ),
      { seed: 11, numRuns: 12 },
    );
  });
});
