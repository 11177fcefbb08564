import { expect, it } from 'vitest';
import { designBasins } from '../../../../lib/basin/design/design-basins';
import { isDesigned } from '../../../../lib/basin/design/design-result';
import { builtOf, uptakeOf } from '../../../../lib/basin/design/for-drainage';
import { withUptake } from '../../../../lib/drainage/storm/basin-uptake';
import { drainLot } from '../../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, planOf, polygonOf } from '../../ground/plane-lot';

const elevation = groundOf(40, 40, 0.5, (_, y) => 4 + 0.03 * y);
/** 4.7 m2: on cells of 50 cm a basin that is hard to make out. */
const plan = planOf([
  polygonOf('lot', box(5, 5, 35, 35), { kind: 'lot', own: true }),
  polygonOf('b', box(15.1, 15.1, 17.6, 16.98), { kind: 'basin', ponding_depth_m: 0.12 }),
]);
const shape = shapeGround(elevation, plan);
const storm = stormOnGround(shape, plan, 40);
const designed = designBasins({ elevation, plan, shape, storm });
const about = { crs: 'test', built: builtOf(designed) };

it('gives a basin in the drainage result the area, storage, cut and fill of its design', () => {
  const design = designed.basins.find(isDesigned)!;
  const taking = withUptake(shape, uptakeOf(designed), 24);
  const { basins, edits } = drainLot(taking, stormOnGround(taking, plan, 40), plan, about);
  const [row] = basins;
  expect(row.area_m2).toBeCloseTo(design.basin.area_m2, 9);
  expect(row.area_m2).toBeCloseTo(2.5 * 1.88, 2);
  expect(row.holds_m3).toBe(design.basin.storage_m3);
  expect(row.cut_m3).toBe(design.balance.cut_m3);
  expect(row.fill_m3).toBe(design.quantities.find(({ name }) => name === 'berm fill')?.volume_m3);
  const edit = edits.find(({ id }) => id === 'b')!;
  expect([edit.cut_m3, edit.fill_m3]).toEqual([row.cut_m3, row.fill_m3]);
});

it('names what the cells of the elevation hold beside it, which is what a static storm fills', () => {
  const [row] = drainLot(shape, storm, plan, about).basins;
  expect(row.standing_m3).toBeLessThanOrEqual(row.cells_hold_m3 + 1e-9);
  expect(Math.abs(row.cells_hold_m3 - (row.holds_m3 ?? 0))).toBeGreaterThan(0.01);
});

it('leaves storage, cut and fill open where no basin was worked out', () => {
  const { basins, edits } = drainLot(shape, storm, plan, { crs: 'test' });
  expect(basins[0]).toMatchObject({ holds_m3: null, cut_m3: null, fill_m3: null });
  expect(edits.find(({ id }) => id === 'b')).toMatchObject({ cut_m3: null, fill_m3: null });
});
