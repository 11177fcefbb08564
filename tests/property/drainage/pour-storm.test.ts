import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { catchmentCells, catchmentSums } from './catchment-sums';
import { pourStorm, type StormPools } from '../../../lib/drainage/storm/pour-storm';
import { buildTerrain, type Terrain } from '../../../lib/drainage/terrain/terrain';
import { waterSurface } from '../../../lib/drainage/storm/water-surface';
import {
  hasThreeWayPass,
  neighboursOf,
  noiseGround,
  smallGround,
  sum,
  type SmallGround,
} from './grounds';
import { Parcels } from './parcels';

const settings = { numRuns: 400, seed: 20251127 };
const rain = fc.integer({ min: 0, max: 400 }).map((hundredth) => hundredth / 100);

function terrainOf({ z, width, height }: SmallGround): Terrain {
  return buildTerrain(z, width, height);
}

/** Depths that differ from cell to cell. */
function depthsFor(terrain: Terrain, most: number): Float64Array {
  return Float64Array.from(terrain.z, (height, cell) =>
    Number.isNaN(height) ? Number.NaN : (most * ((cell * 7919) % 13)) / 13,
  );
}

function uniform(terrain: Terrain, depth: number): StormPools {
  return pourStorm(
    terrain,
    catchmentCells(terrain).map((cells) => cells * depth),
  );
}

describe('pouring a storm', () => {
  it('keeps the balance: what flows in is stored or leaves, pool by pool and in all', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), rain, (ground, most) => {
        const terrain = terrainOf(ground);
        const inflow = catchmentSums(terrain, depthsFor(terrain, most));
        const pools = pourStorm(terrain, inflow);
        const received = pools.ownInflow.slice();
        let leaving = inflow[0];
        for (let pool = 0; pool < pools.count; pool++) {
          expect(pools.inflow[pool]).toBeCloseTo(received[pool], 9);
          expect(pools.stored[pool] + pools.spilled[pool]).toBeCloseTo(pools.inflow[pool], 9);
          expect(pools.stored[pool]).toBeLessThanOrEqual(
            terrain.volume[pools.node[pool]] * (1 + 1e-12),
          );
          const to = pools.destination[pool];
          if (to < 0) leaving += pools.spilled[pool];
          else received[to] += pools.spilled[pool];
          if (to >= 0) expect(to).toBeGreaterThan(pool);
        }
        const total = sum(inflow);
        expect(Math.abs(leaving - pools.outflow)).toBeLessThanOrEqual(1e-12 * (1 + total));
        const rest = total - sum(pools.stored) - pools.outflow;
        expect(Math.abs(rest)).toBeLessThanOrEqual(1e-12 * (1 + total));
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('leaves the ground dry without rain, and every low spot full after enough of it', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const terrain = terrainOf(ground);
        expect(uniform(terrain, 0).count).toBe(0);
        const { depth } = waterSurface(terrain, uniform(terrain, 1e6));
        expect(depth).toEqual(
          terrain.filled.map((level, cell) => (Number.isNaN(level) ? 0 : level - terrain.z[cell])),
        );
      }),
      settings,
    );
  });

  it('sends off no less when it rains more', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), rain, rain, (ground, one, more) => {
        const terrain = terrainOf(ground);
        const less = uniform(terrain, one).outflow;
        expect(uniform(terrain, one + more).outflow).toBeGreaterThanOrEqual(less - 1e-9);
      }),
      settings,
    );
  });

  it('counts an inflow at a point like rain in that point’s catchment', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), rain, fc.nat(), (ground, most, at) => {
        const terrain = terrainOf(ground);
        const cell = at % ground.z.length;
        if (Number.isNaN(ground.z[cell])) return;
        const depths = depthsFor(terrain, most);
        const atPoint = catchmentSums(terrain, depths);
        atPoint[terrain.catchment[cell]] += 5;
        depths[cell] += 5;
        const asRain = pourStorm(terrain, catchmentSums(terrain, depths));
        const poured = pourStorm(terrain, atPoint);
        expect(poured.outflow).toBeCloseTo(asRain.outflow, 9);
        expect(sum(poured.stored)).toBeCloseTo(sum(asRain.stored), 9);
      }),
      settings,
    );
  });

  it('covers each pit by the pool that holds its water', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), rain, (ground, most) => {
        const terrain = terrainOf(ground);
        const { tree } = terrain;
        const inflow = catchmentSums(terrain, depthsFor(terrain, most));
        const pools = pourStorm(terrain, inflow);
        const own = new Float64Array(pools.count);
        for (let pit = 1; pit <= tree.pits; pit++) {
          const pool = pools.poolOfPit[pit];
          if (pool < 0) {
            expect(inflow[pit]).toBe(0);
            continue;
          }
          own[pool] += inflow[pit];
          const node = pools.node[pool];
          expect(tree.pitOrder.subarray(tree.pitStart[node], tree.pitEnd[node])).toContain(pit);
        }
        own.forEach((amount, pool) => {
          expect(amount).toBeCloseTo(pools.ownInflow[pool], 9);
        });
      }),
      settings,
    );
  });
});

describe('water surface', () => {
  it('holds the stored volume, and stands level over each connected stretch of water', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), rain, (ground, most) => {
        const terrain = terrainOf(ground);
        const pools = pourStorm(terrain, catchmentSums(terrain, depthsFor(terrain, most)));
        const { depth, level, cells } = waterSurface(terrain, pools);
        expect(sum(depth)).toBeCloseTo(sum(pools.stored), 3);
        expect(sum(cells)).toBe(depth.filter((under) => under > 0).length);
        for (let cell = 0; cell < depth.length; cell++) {
          if (depth[cell] <= 1e-5) continue;
          const own = level[pools.poolOfPit[terrain.catchment[cell]]];
          expect(terrain.z[cell] + depth[cell]).toBeCloseTo(own, 4);
          for (const next of neighboursOf(ground, cell)) {
            if (depth[next] > 1e-5) {
              expect(terrain.z[next] + depth[next]).toBeCloseTo(own, 4);
            }
          }
        }
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('is what moving parcels of water one by one ends in, in any order and in two halves', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        noiseGround(4, 12),
        rain,
        fc.integer({ min: 1, max: 1000 }),
        (ground, most, stride) => {
          const terrain = terrainOf(ground);
          if (hasThreeWayPass(ground) || new Set(ground.z).size < ground.z.length) return;
          const depths = depthsFor(terrain, most);
          const parcels = new Parcels(ground, terrain.receiver);
          const cells = Array.from(ground.z.keys());
          cells.sort((a, b) => ((a * stride) % 1009) - ((b * stride) % 1009));
          for (let half = 0; half < 2; half++) {
            for (const cell of cells) parcels.drop(cell, depths[cell] / 2);
          }

          const pools = pourStorm(terrain, catchmentSums(terrain, depths));
          const { depth } = waterSurface(terrain, pools);
          expect(pools.outflow).toBeCloseTo(parcels.outflow, 9);
          depth.forEach((under, cell) => {
            expect(under).toBeCloseTo(parcels.surface[cell] - ground.z[cell], 5);
          });
          compared++;
        },
      ),
      { ...settings, numRuns: 1000 },
    );
    expect(compared).toBeGreaterThan(300);
  });
});
