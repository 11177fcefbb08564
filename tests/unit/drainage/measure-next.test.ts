import { expect, it } from 'vitest';
import { measureNext, nextReadings } from '../../../lib/drainage/answer/measure-next';
import type { LowSpotRow } from '../../../lib/drainage/answer/drainage-result';
import type { XY } from '../../../lib/frame/frame';
import type { LevelReading } from '../../../lib/levels/readings';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { box, frame, groundOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const level = (name: string, at: XY): LevelReading => ({
  id: name,
  name,
  at: frame.toLngLat(at),
  heightM: 1,
  accuracyM: 0.01,
});
const spot = (number: number, volume_m3: number, spill: XY, deepest: XY): LowSpotRow => ({
  id: `low-${number}`,
  number,
  volume_m3,
  area_m2: 10,
  depth_m: 0.1,
  spill: frame.toLngLat(spill),
  deepest: frame.toLngLat(deepest),
  lot: null,
  doubtful: false,
  enclosed: false,
  outline: { type: 'MultiPolygon', coordinates: [] },
});
const grid = groundOf(40, 40, 1, () => 1);
const house = polygonOf('house', box(10, 10, 20, 18), { kind: 'building' });

it('asks for the spill of the largest low spot first, then a bare wall, with two tapes from levels', () => {
  const levels = [level('a', [9, 9]), level('b', [21, 9]), level('c', [9, 19])];
  const found = measureNext(levels, planOf([house]), grid, [
    spot(1, 1, [30, 30], [9, 9.2]),
    spot(2, 5, [25, 5], [28, 8]),
  ]);
  expect(found.map(({ what, feature }) => [what, feature])).toEqual([
    ['spill', 'low-2'],
    ['spill', 'low-1'],
    ['wall', 'house'],
    ['deepest', 'low-2'],
  ]);
  expect(found[0].from.map(({ level: name }) => name)).toEqual(['b', 'a']);
  expect(found[0].from[0].distance_m).toBeCloseTo(Math.hypot(4, 4), 3);
  // The north-east corner has no level near it.
  const [x, y] = frame.toLocal(found[2].at);
  expect(x + y).toBeGreaterThan(34);
});

it('asks for nothing that was read', () => {
  const around = [9, 12, 15, 18, 21].flatMap((x) => [9, 12, 15, 19].map((y): XY => [x, y]));
  const levels = [...around, [25, 5] as XY, [28, 8] as XY].map((at, i) => level(`l${i}`, at));
  expect(measureNext(levels, planOf([house]), grid, [spot(1, 5, [25, 5.4], [28, 8])])).toEqual([]);
});

it('asks within an outline of newer levels alone, on ground of a file', () => {
  const outline = polygonOf('again', box(4, 4, 36, 30), { kind: 'relevelled-ground' });
  const levels = [
    [6, 6],
    [34, 6],
    [34, 28],
    [6, 28],
    [2, 2],
  ].map(([x, y], i) => pointOf(`l${i}`, [x, y], { kind: 'spot-height', elevation_m: 101 }));
  const next = (features: Parameters<typeof planOf>[0]) => {
    const plan = planOf(features);
    return nextReadings(shapeGround(grid, plan), plan, [
      spot(1, 5, [25, 5], [28, 8]),
      spot(2, 9, [38, 38], [39, 35]),
    ]).map(({ what, feature }) => [what, feature]);
  };
  expect(next([house, outline, ...levels])).toEqual([
    ['spill', 'low-1'],
    ['wall', 'house'],
    ['deepest', 'low-1'],
  ]);
  expect(next([house, ...levels])).toEqual([]);
});
