import { expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { isOnLot, standingText, standsOnLotM3 } from '../../../lib/drainage/answer/standing-on-lot';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

const dent = (x: number, y: number, cx: number, cy: number, radiusM: number, deepM: number) =>
  Math.max(0, deepM * (1 - Math.hypot(x - cx, y - cy) / radiusM));

/** Falls 3 % to the south: a pool over the east line, deepest on the neighbour's ground, one on the lot, and a puddle. */
const elevation = groundOf(60, 60, 0.5, (x, y) => {
  const pools = dent(x, y, 40.6, 20, 4, 0.4) + dent(x, y, 28, 20, 3, 0.3);
  return 3 + 0.03 * y - pools - dent(x, y, 33, 34, 0.7, 0.1);
});
const plan = planOf([
  polygonOf('own', box(20, 10, 40, 50), { kind: 'lot', own: true }),
  polygonOf('east', box(40, 10, 55, 50), { kind: 'lot', own: false }),
  polygonOf('basin', box(22, 12, 27, 16), { kind: 'basin', ponding_depth_m: 0.2 }),
]);
const shape = shapeGround(elevation, plan);
const storm = stormOnGround(shape, plan, 60);
const result = drainLot(shape, storm, plan, { crs: 'test' });

it('is one figure, by ledger, by low spots and puddles, and by depths', () => {
  const standing = result.standing_on_lot!;
  expect(standing.volume_m3).toBe(result.ledger?.standing_m3);
  expect(standing.in_low_spots_m3 + standing.in_puddles_m3).toBeCloseTo(standing.volume_m3, 12);
  expect(standsOnLotM3(shape, storm.depthM)).toBeCloseTo(standing.volume_m3, 5);
  expect(standing.in_puddles_m3).toBeGreaterThan(0.001);
});

it('counts a pool over the lot line by what of it stands on the lot, and no basin', () => {
  const over = result.standing.find(
    ({ id }) => result.low_spots.find((spot) => spot.id === id)?.lot === 'east',
  )!;
  expect(isOnLot(over)).toBe(true);
  expect(over.on_lot_m3).toBeGreaterThan(0.1 * over.volume_m3);
  expect(over.on_lot_m3).toBeLessThan(0.6 * over.volume_m3);
  const basin = result.standing.find((row) => row.basin !== null)!;
  expect(basin.volume_m3).toBeGreaterThan(1);
  expect(isOnLot(basin)).toBe(false);
  expect(result.standing_on_lot?.low_spots).toBe(2);
});

it('says how many low spots are worth listing and what small puddles add', () => {
  const text = standingText(result.standing_on_lot!, 'a 60 mm storm', 'the lot', 'metric');
  expect(text).toMatch(
    /^[\d.]+ (m³|L) of a 60 mm storm stand on the lot, what basins hold apart: [\d.]+ (m³|L) in 2 low spots, [\d.]+ L in small puddles$/,
  );
  const none = { volume_m3: 0, low_spots: 0, in_low_spots_m3: 0, in_puddles_m3: 0 };
  expect(standingText(none, 'a thaw', 'the lot', 'us')).toMatch(/^Nothing of a thaw stands on/);
  const film = { ...none, volume_m3: 0.02, in_puddles_m3: 0.02 };
  expect(standingText(film, 'a thaw', 'the lot', 'metric')).toMatch(/: all in puddles/);
});
