import { describe, expect, it } from 'vitest';
import { catchmentCells } from '../../property/drainage/catchment-sums';
import { pourStorm, type StormPools } from '../../../lib/drainage/storm/pour-storm';
import { buildTerrain, type Terrain } from '../../../lib/drainage/terrain/terrain';
import { cellsBelowLevel, levelFor, waterSurface } from '../../../lib/drainage/storm/water-surface';

/** A trough one cell wide between walls 9 high; water moves along it only. */
function trough(...heights: number[]): Terrain {
  const wall = heights.map(() => 9);
  return buildTerrain(Float32Array.from([...wall, ...heights, ...wall]), heights.length, 3);
}

/** Pours an amount into the pits of the named cells of a trough. */
function poured(terrain: Terrain, amounts: Record<number, number>): StormPools {
  const inflow = new Float64Array(terrain.tree.pits + 1);
  for (const [column, amount] of Object.entries(amounts)) {
    inflow[terrain.catchment[terrain.width + Number(column)]] += amount;
  }
  return pourStorm(terrain, inflow);
}

function waterLevels(terrain: Terrain, pools: StormPools): number[] {
  const { depth } = waterSurface(terrain, pools);
  const from = terrain.width;
  return Array.from(terrain.z.subarray(from, 2 * from), (height, at) => height + depth[from + at]);
}

describe('pouring into a single low spot', () => {
  const terrain = trough(9, 3, 1, 3, 7, 9);

  it('raises the water level by volume over area, step by step', () => {
    expect(waterLevels(terrain, poured(terrain, { 2: 1 }))).toEqual([9, 3, 2, 3, 7, 9]);
    expect(waterLevels(terrain, poured(terrain, { 2: 5 }))).toEqual([9, 4, 4, 4, 7, 9]);
  });

  it('spills off the map what it cannot hold', () => {
    const capacity = 6 + 8 + 6 + 2;
    const pools = poured(terrain, { 1: capacity + 5 });
    expect(pools.outflow).toBe(5);
    expect([pools.stored[0], pools.spilled[0], pools.full[0], pools.destination[0]]).toEqual([
      capacity,
      5,
      1,
      -1,
    ]);
  });

  it('is full to the brim, and spills nothing, at exactly its capacity', () => {
    const pools = poured(terrain, { 1: 22 });
    expect([pools.full[0], pools.spilled[0], pools.destination[0], pools.outflow]).toEqual([
      1, 0, -1, 0,
    ]);
  });
});

describe('pouring into two low spots that merge', () => {
  const terrain = trough(9, 2, 4, 1, 8);

  it('leaves the other one dry until the first is full', () => {
    const pools = poured(terrain, { 1: 2 });
    expect(pools.count).toBe(1);
    expect(waterLevels(terrain, pools)).toEqual([9, 4, 4, 1, 8]);
  });

  it('spills into the other one, upstream first', () => {
    const pools = poured(terrain, { 1: 3 });
    expect(pools.count).toBe(2);
    expect([...pools.spilled]).toEqual([1, 0]);
    expect([...pools.destination]).toEqual([1, -1]);
    expect([...pools.ownInflow]).toEqual([3, 0]);
    expect([...pools.inflow]).toEqual([3, 1]);
    expect(waterLevels(terrain, pools)).toEqual([9, 4, 4, 2, 8]);
  });

  it('makes one pool of both when both are full', () => {
    const pools = poured(terrain, { 1: 5 });
    expect(pools.count).toBe(1);
    expect(pools.node[0]).toBe(3);
    expect(pools.full[0]).toBe(0);
    expect(waterLevels(terrain, pools)).toEqual([9, 4, 4, 4, 8]);
    expect(waterLevels(terrain, poured(terrain, { 3: 8 }))).toEqual([9, 5, 5, 5, 8]);
  });
});

describe('pouring into a chain', () => {
  // three low spots, each spilling east into the next, the last one off the map
  const terrain = trough(9, 6, 7, 4, 5, 2, 3);

  it('passes on what runs over from one to the next and off the map', () => {
    const pools = poured(terrain, { 1: 10 });
    expect([...pools.inflow]).toEqual([10, 9, 8]);
    expect([...pools.stored]).toEqual([1, 1, 1]);
    expect([...pools.destination]).toEqual([1, 2, -1]);
    expect(pools.outflow).toBe(7);
  });

  it('names no destination while a full one passes nothing on', () => {
    const pools = poured(terrain, { 1: 1, 3: 0.5 });
    expect([...pools.full]).toEqual([1, 0]);
    expect([...pools.spilled]).toEqual([0, 0]);
    expect([...pools.destination]).toEqual([-1, -1]);
  });

  it('takes run-off where it falls, and loses none', () => {
    const pools = pourStorm(
      terrain,
      catchmentCells(terrain).map((cells) => cells * 0.5),
    );
    const stored = pools.stored.reduce((sum, volume) => sum + volume, 0);
    expect(stored + pools.outflow).toBeCloseTo(terrain.z.length * 0.5, 12);
  });
});

describe('level for a volume', () => {
  const terrain = trough(9, 3, 1, 3, 7, 9);
  const node = terrain.tree.root[1];

  it.each([
    [0, 1],
    [0.5, 1.5],
    [2, 3],
    [3.5, 3.5],
    [14, 7],
    [16, 7.5],
    [22, 9],
    [99, 9],
  ])('of %d is %d', (volume, level) => {
    expect(levelFor(terrain, node, volume)).toBeCloseTo(level, 12);
  });

  it('goes with the cells below it', () => {
    expect([...cellsBelowLevel(terrain, node, 2)]).toEqual([8]);
    expect([...cellsBelowLevel(terrain, node, 3.5)].toSorted()).toEqual([7, 8, 9]);
  });
});
