import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accumulate } from '../../../lib/drainage/accumulate';
import { catchmentSums } from '../../../lib/drainage/catchment-sums';
import { followLot, type Flow, type Pools } from '../../../lib/drainage/lot-ledger';
import { LEAVES, neighbourOffsets, NONE } from '../../../lib/drainage/neighbours';
import { pourStorm } from '../../../lib/drainage/pour-storm';
import { buildTerrain } from '../../../lib/drainage/terrain';
import { waterSurface } from '../../../lib/drainage/water-surface';

interface Case {
  readonly flow: Flow;
  readonly pools: Pools;
  readonly ownerOf: Int16Array;
  readonly depthM: Float32Array;
  readonly runOff: Float64Array;
}

/** Random ground with two or three lots laid on it as boxes, and a random run-off on every cell. */
const cases = fc
  .record({
    width: fc.integer({ min: 3, max: 12 }),
    height: fc.integer({ min: 3, max: 12 }),
    seed: fc.integer({ min: 1, max: 2 ** 30 }),
    rough: fc.double({ min: 0, max: 2, noNaN: true }),
  })
  .map(({ width, height, seed, rough }): Case => {
    const random = generator(seed);
    const size = width * height;
    const z = Float32Array.from(
      { length: size },
      (_, i) => 2 + 0.3 * Math.floor(i / width) + rough * random(),
    );
    const ownerOf = new Int16Array(size).fill(-1);
    for (let lot = 0; lot < 3; lot++) {
      const west = Math.floor(random() * width);
      const north = Math.floor(random() * height);
      const east = west + 1 + Math.floor(random() * width);
      const south = north + 1 + Math.floor(random() * height);
      for (let row = north; row < Math.min(height, south); row++) {
        for (let column = west; column < Math.min(width, east); column++) {
          if (ownerOf[row * width + column] === -1) ownerOf[row * width + column] = lot;
        }
      }
    }
    const runOff = Float64Array.from({ length: size }, () => random());
    const terrain = buildTerrain(z, width, height);
    const storm = pourStorm(terrain, catchmentSums(terrain, runOff));
    const { tree, receiver, catchment } = terrain;
    const spills = (pool: number): boolean => storm.spilled[pool] > 0;
    return {
      flow: { width, receiver, catchment, passingM3: accumulate(receiver, width, runOff) },
      pools: {
        count: storm.count,
        ofCatchment: storm.poolOfPit,
        storedM3: storm.stored,
        spilledM3: storm.spilled,
        spillFrom: Int32Array.from({ length: storm.count }, (_, i) =>
          spills(i) ? tree.spillFrom[storm.node[i]] : -1,
        ),
        spillTo: Int32Array.from({ length: storm.count }, (_, i) =>
          spills(i) ? tree.spillTo[storm.node[i]] : -1,
        ),
        order: Int32Array.from({ length: storm.count }, (_, i) => i),
        drains: [],
      },
      ownerOf,
      depthM: waterSurface(terrain, storm).depth,
      runOff,
    };
  });

describe('following water over a lot line', () => {
  it('balances: run-off of the lot and run-on equal what stays and what is passed on', () => {
    fc.assert(
      fc.property(cases, ({ flow, pools, ownerOf, depthM, runOff }) => {
        for (let lot = 0; lot < 3; lot++) {
          const { runOnM3, passedOnM3, storedM3 } = followLot(flow, pools, ownerOf, lot, 3, depthM);
          const own = runOff.reduce((sum, depth, i) => sum + (ownerOf[i] === lot ? depth : 0), 0);
          expect(own + total(runOnM3)).toBeCloseTo(storedM3 + total(passedOnM3), 9);
          for (const volume of [...runOnM3, ...passedOnM3]) expect(volume).toBeGreaterThan(-1e-9);
          expect(runOnM3[lot]).toBeCloseTo(0, 9);
          expect(passedOnM3[lot]).toBeCloseTo(0, 9);
        }
      }),
      { numRuns: 1500, seed: 7 },
    );
  });

  it('agrees with following every cell by itself where no water stands', () => {
    fc.assert(
      fc.property(cases, ({ flow, pools, ownerOf, depthM, runOff }) => {
        if (pools.count > 0) return;
        const offsets = neighbourOffsets(flow.width);
        for (let lot = 0; lot < 3; lot++) {
          const runOn = new Float64Array(4);
          const passedOn = new Float64Array(4);
          runOff.forEach((volume, start) => {
            let been = ownerOf[start] === lot;
            let lastExit = -1;
            for (let cell = start; ;) {
              const code = flow.receiver[cell];
              if (code === NONE || code === LEAVES) {
                if (been && ownerOf[cell] === lot) lastExit = 3;
                break;
              }
              const next = cell + offsets[code];
              const owner = (at: number): number => (ownerOf[at] === -1 ? 3 : ownerOf[at]);
              if (ownerOf[next] === lot && !been) {
                runOn[owner(cell)] += volume;
                been = true;
              }
              if (ownerOf[cell] === lot && ownerOf[next] !== lot) lastExit = owner(next);
              cell = next;
            }
            if (been) passedOn[lastExit] += volume;
          });
          const found = followLot(flow, pools, ownerOf, lot, 3, depthM);
          for (let owner = 0; owner <= 3; owner++) {
            expect(found.runOnM3[owner]).toBeCloseTo(runOn[owner], 9);
            expect(found.passedOnM3[owner]).toBeCloseTo(passedOn[owner], 9);
          }
        }
      }),
      { numRuns: 1500, seed: 11 },
    );
  });
});

function total(volumes: Float64Array): number {
  return volumes.reduce((sum, volume) => sum + volume, 0);
}

/** Park and Miller's minimal standard generator. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
