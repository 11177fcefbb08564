import { expect, it } from 'vitest';
import { openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../../lib/elevation/window/read-window';
import { levelsElevation } from '../../../../lib/levels/levels-elevation';
import { readPlan } from '../../../../lib/plan/read-plan';
import { writePlan } from '../../../../lib/plan/write-plan';
import { makeLevelGround } from '../../../../src/app/state/files/level-ground';
import { levelGroundName } from '../../../../src/app/state/files/level-ground-name';
import { drops, yard } from '../../../cli/levelled-yard';

const plan = readPlan(JSON.stringify(yard(drops)), 'yard').plan;

it('ground of levels reads back as it was made, cell for cell', async () => {
  const { source, rmseM } = await makeLevelGround(plan);
  if (!('blob' in source)) throw new Error('a file of the page’s own');
  const { grid } = await readWindow(await openElevation(source));
  const made = levelsElevation(plan, 'yard');
  expect(rmseM).toBe(made.rmseM);
  const { grid: own } = made.elevation;
  expect([grid.width, grid.height]).toEqual([own.width, own.height]);
  expect(grid.cellM).toBeCloseTo(own.cellM, 9);
  own.z.forEach((z, cell) => {
    if (Number.isNaN(z)) expect(grid.z[cell]).toBeNaN();
    else expect(grid.z[cell] + grid.datumM).toBeCloseTo(z + own.datumM, 4);
  });
});

it('has the name of what it is made from: the same after saving, another where a level or a puddle is', () => {
  const name = levelGroundName(plan);
  expect(name).toMatch(/^ground of 26 levels [0-9a-f]{4}\.tif$/);
  expect(levelGroundName(readPlan(writePlan(plan), 'yard').plan)).toBe(name);
  const lower = yard((height, i) => drops(height - (i === 3 ? 0.01 : 0)));
  expect(levelGroundName(readPlan(JSON.stringify(lower), 'yard').plan)).not.toBe(name);
  const [lot] = plan.features;
  const without = { ...plan, features: plan.features.filter((feature) => feature !== lot) };
  expect(levelGroundName(without)).toBe(name);
});
