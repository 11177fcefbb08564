import fc from 'fast-check';
import { expect, it } from 'vitest';
import { stormFlow } from '../../../lib/drainage/storm/kept-water';
import { followLot } from './follow-lot';
import { makeRouting } from '../../../lib/drainage/terrain/routing';
import { settleStorm } from '../../../lib/drainage/storm/settle-storm';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { waterSurface } from '../../../lib/drainage/storm/water-surface';
import { smallGround, sum } from './grounds';

const noDrains = { conduits: [], pipes: new Map() };

it('loses no water where low spots are too large to be one, whatever they hold and spill', () => {
  fc.assert(
    fc.property(
      smallGround({ least: 4, most: 14, holes: true }),
      fc.double({ min: 0, max: 8, noNaN: true }),
      fc.constantFrom(20, 50, 149),
      (ground, most, cellM2) => {
        const { z, width, height } = ground;
        const terrain = buildTerrain(z, width, height);
        // cells so large that low spots of a few of them are no ponds
        const routing = makeRouting(terrain, cellM2);
        const putDown = Float64Array.from(z, (h, i) =>
          Number.isNaN(h) ? 0 : (most * ((i * 7919) % 13)) / 13,
        );
        const settled = settleStorm({ routing, ground: noDrains, cellM2: 1 }, putDown, {
          durationH: 1,
        });
        const whole = sum(putDown);
        const { pools } = settled;
        expect(Math.abs(whole - pools.outflow - sum(pools.stored))).toBeLessThan(
          1e-9 * (1 + whole),
        );
        for (let pool = 0; pool < pools.count; pool++) {
          const capacity = terrain.volume[pools.node[pool]];
          expect(pools.stored[pool]).toBeLessThanOrEqual(capacity * (1 + 1e-9) + 1e-12);
        }
        const flow = stormFlow(putDown, settled, 1);
        const { depth } = waterSurface(terrain, pools);
        const ownerOf = Int32Array.from(z, (_, i) => (i % width < width / 2 ? 0 : -1));
        const row = followLot(flow, ownerOf, 0, 1, depth);
        const own = sum(putDown.filter((_, i) => ownerOf[i] === 0));
        const inM3 = own + sum(row.runOnM3);
        expect(Math.abs(inM3 - row.storedM3 - sum(row.passedOnM3))).toBeLessThan(
          1e-9 * (1 + whole),
        );
      },
    ),
    { numRuns: 600, seed: 9 },
  );
});
