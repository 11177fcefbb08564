import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stormFlow } from '../../../lib/drainage/storm/kept-water';
import { originToEnd } from '../../../lib/drainage/answer/origin-to-end';
import { followLot } from './follow-lot';
import { makeRouting } from '../../../lib/drainage/terrain/routing';
import { settleStorm } from '../../../lib/drainage/storm/settle-storm';
import { stormShare } from '../../../lib/drainage/storm/storm-share';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { waterSurface } from '../../../lib/drainage/storm/water-surface';
import { hasThreeWayPass, noiseGround, randomFrom, type SmallGround } from './grounds';
import { tagWater } from './tagged-water';

const lots = 3;

/** Random ground, a random storm on it, and boxes of lots. */
const cases = fc
  .tuple(
    noiseGround(4, 11),
    fc.integer({ min: 1, max: 2 ** 30 }),
    fc.double({ min: 0.02, max: 6, noNaN: true }),
  )
  .map(([ground, seed, most]) => {
    const random = randomFrom(seed);
    const { width, height, z } = ground;
    const ownerOf = new Int32Array(z.length).fill(-1);
    for (let lot = 0; lot < lots; lot++) {
      const west = Math.floor(random() * width);
      const north = Math.floor(random() * height);
      for (let row = north; row < Math.min(height, north + 2 + 4 * random()); row++) {
        for (let column = west; column < Math.min(width, west + 2 + 4 * random()); column++) {
          if (ownerOf[row * width + column] === -1) ownerOf[row * width + column] = lot;
        }
      }
    }
    return { ground, ownerOf, putDown: Float64Array.from(z, () => most * random()) };
  });

function settled({ z, width, height }: SmallGround, putDown: Float64Array) {
  const routing = makeRouting(buildTerrain(z, width, height));
  const ground = { conduits: [], pipes: new Map() };
  const storm = settleStorm({ routing, ground, cellM2: 1 }, putDown, { durationH: 1 });
  const flow = stormFlow(putDown, storm, 1);
  const depthM = waterSurface(routing.terrain, storm.pools).depth;
  return { routing, storm, flow, depthM };
}

const total = (values: Iterable<number>): number => {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
};

describe('water followed by the tags that it carries', () => {
  it('stands and leaves where the storm says', () => {
    fc.assert(
      fc.property(cases, ({ ground, putDown }) => {
        if (new Set(ground.z).size < ground.z.length || hasThreeWayPass(ground)) return;
        const tagged = tagWater(ground, putDown);
        const { routing, storm } = settled(ground, putDown);
        expect(storm.pools.outflow).toBeCloseTo(total(tagged.left), 9);
        expect(total(storm.pools.stored)).toBeCloseTo(
          total(tagged.keptByPond.map((water) => total(water))),
          9,
        );
        for (let cell = 0; cell < putDown.length; cell++) {
          const pond = routing.ponds.of[cell];
          expect(pond === 0).toBe(tagged.pondOf[cell] === -1);
          if (pond === 0) expect(storm.arrives[cell]).toBeCloseTo(total(tagged.arrived[cell]), 9);
          else
            expect(storm.pondWater.arrived[pond] - storm.pondWater.passed[pond]).toBeCloseTo(
              total(tagged.keptByPond[tagged.pondOf[cell]]),
              9,
            );
        }
      }),
      { numRuns: 400, seed: 12 },
    );
  });

  it('reaches a place in the shares that the storm says, and the ledger of each lot', () => {
    fc.assert(
      fc.property(cases, ({ ground, putDown, ownerOf }) => {
        if (new Set(ground.z).size < ground.z.length || hasThreeWayPass(ground)) return;
        const tagged = tagWater(ground, putDown);
        const { flow, depthM } = settled(ground, putDown);
        for (let lot = 0; lot < lots; lot++) {
          const isLot = Uint8Array.from(ownerOf, (owner) => (owner === lot ? 1 : 0));
          const come = comeTo(ground, tagged, ownerOf, lot, depthM);
          const share = stormShare(flow, depthM, isLot);
          share.forEach((part, cell) => {
            expect(part * putDown[cell], `cell ${cell}`).toBeCloseTo(come.reached[cell], 4);
          });
          const { runOnM3, passedOnM3, storedM3 } = followLot(flow, ownerOf, lot, lots, depthM);
          expect(storedM3).toBeCloseTo(come.stands, 4);
          // what comes to the lot from outside comes once, and what has been there is there or gone
          const own = total(putDown.filter((_, cell) => ownerOf[cell] === lot));
          expect(total(runOnM3)).toBeCloseTo(total(come.reached) - own, 4);
          expect(own + total(runOnM3)).toBeCloseTo(storedM3 + total(passedOnM3), 9);
          for (const volume of [...runOnM3, ...passedOnM3]) expect(volume).toBeGreaterThan(-1e-9);
        }
      }),
      { numRuns: 400, seed: 13 },
    );
  });
});

describe('where each lot’s water ends', () => {
  it('is where the tags of its water are found', () => {
    fc.assert(
      fc.property(cases, ({ ground, putDown, ownerOf }) => {
        if (new Set(ground.z).size < ground.z.length || hasThreeWayPass(ground)) return;
        const tagged = tagWater(ground, putDown);
        const { flow, depthM } = settled(ground, putDown);
        const place = (cell: number): number => (ownerOf[cell] === -1 ? lots : ownerOf[cell]);
        const expected = new Float64Array((lots + 1) * (lots + 2));
        tagged.left.forEach((volume, tag) => {
          expected[place(tag) * (lots + 2) + lots + 1] += volume;
        });
        tagged.keptByPond.forEach((water, pond) => {
          const wet = [...tagged.pondOf.keys()].filter((cell) => tagged.pondOf[cell] === pond);
          const deep = total(wet.map((cell) => depthM[cell]));
          for (const cell of wet) {
            if (!(depthM[cell] > 0)) continue;
            water.forEach((volume, tag) => {
              expected[place(tag) * (lots + 2) + place(cell)] += (volume * depthM[cell]) / deep;
            });
          }
        });
        const found = new Float64Array(expected.length);
        for (const { origin, end, volumeM3 } of originToEnd(flow, ownerOf, lots, depthM)) {
          const column = typeof end === 'number' ? end : lots + 1;
          found[origin * (lots + 2) + column] += volumeM3;
        }
        expected.forEach((volume, i) => {
          expect(found[i]).toBeCloseTo(volume, 4);
        });
      }),
      { numRuns: 300, seed: 14 },
    );
  });
});

/** How much of each cell's water has been on a lot, told by running the tagged moves through with what has been there apart. */
function comeTo(
  ground: SmallGround,
  { moves, keptByPond, pondOf, arrived }: ReturnType<typeof tagWater>,
  ownerOf: Int32Array,
  lot: number,
  depthM: Float32Array,
): { reached: Float64Array; stands: number } {
  const size = ground.z.length;
  // by cell, by tag: what has not been on the lot; moves come in an order in which each cell's water is whole when it moves on
  const never = Array.from({ length: size }, (_, cell) => {
    const water = new Float64Array(size);
    if (ownerOf[cell] !== lot) water[cell] = arrived[cell][cell] - cameBack(moves, cell);
    return water;
  });
  const inPond = keptByPond.map(() => new Float64Array(size));
  const whole = keptByPond.map(() => new Float64Array(size));
  pondOf.forEach((pond, cell) => {
    if (pond !== -1) arrived[cell].forEach((volume, tag) => (whole[pond][tag] += volume));
  });
  const gathered = new Set<number>();
  const gather = (pond: number): void => {
    if (gathered.has(pond)) return;
    gathered.add(pond);
    pondOf.forEach((each, cell) => {
      if (each === pond) never[cell].forEach((volume, tag) => (inPond[pond][tag] += volume));
    });
  };
  for (const { from, to, water } of moves) {
    const pond = pondOf[from];
    if (pond !== -1) gather(pond);
    for (let tag = 0; tag < size; tag++) {
      if (water[tag] === 0) continue;
      const untouched =
        pond === -1 ? never[from][tag] / arrived[from][tag] : inPond[pond][tag] / whole[pond][tag];
      const isOver = (pond === -1 && ownerOf[from] === lot) || ownerOf[to] === lot;
      if (!isOver) never[to][tag] += water[tag] * untouched;
    }
  }
  const reached = new Float64Array(size);
  let stands = 0;
  for (let tag = 0; tag < size; tag++) {
    let unreached = 0;
    for (let cell = 0; cell < size; cell++) {
      if (pondOf[cell] === -1 && !moves.some(({ from }) => from === cell)) {
        unreached += never[cell][tag];
      }
    }
    reached[tag] = arrivedOf(tag, arrived) - unreached;
  }
  keptByPond.forEach((kept, pond) => {
    gather(pond);
    let on = 0;
    let all = 0;
    let deepest = -1;
    pondOf.forEach((each, cell) => {
      if (each !== pond) return;
      if (deepest === -1 || ground.z[cell] < ground.z[deepest]) deepest = cell;
      all += depthM[cell];
      if (ownerOf[cell] === lot) on += depthM[cell];
    });
    const part = all > 0 ? on / all : ownerOf[deepest] === lot ? 1 : 0;
    stands += part * total(kept);
    kept.forEach((volume, tag) => {
      if (whole[pond][tag] > 0) {
        reached[tag] -= (1 - part) * volume * (inPond[pond][tag] / whole[pond][tag]);
      }
    });
  });
  return { reached, stands };
}

function arrivedOf(tag: number, arrived: readonly Float64Array[]): number {
  return arrived[tag][tag];
}

function cameBack(moves: ReturnType<typeof tagWater>['moves'], cell: number): number {
  return total(moves.filter(({ to }) => to === cell).map(({ water }) => water[cell]));
}
