import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { followLot } from './follow-lot';
import { lotFlux, type LotFlux } from '../../../lib/drainage/answer/lot-flux';
import { originToEnd, type OriginToEnd } from '../../../lib/drainage/answer/origin-to-end';
import { stormFlow } from '../../../lib/drainage/storm/kept-water';
import { settleStorm } from '../../../lib/drainage/storm/settle-storm';
import { waterSurface } from '../../../lib/drainage/storm/water-surface';
import { makeRouting } from '../../../lib/drainage/terrain/routing';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import type { Conduit } from '../../../lib/ground/conduits';
import { noiseGround, randomFrom } from './grounds';

const lots = 4;

/** Random ground cut into random lots, a random storm on it, and drains from some pits to some cells. */
const cases = fc
  .tuple(
    noiseGround(5, 14),
    fc.integer({ min: 1, max: 2 ** 30 }),
    fc.double({ min: 0.02, max: 6, noNaN: true }),
  )
  .map(([{ width, height, z }, seed, most]) => {
    const random = randomFrom(seed);
    const ownerOf = Int32Array.from(z, () => -1);
    for (let lot = 0; lot < lots; lot++) {
      const west = Math.floor(random() * width);
      const north = Math.floor(random() * height);
      for (let row = north; row < Math.min(height, north + 2 + 5 * random()); row++) {
        for (let column = west; column < Math.min(width, west + 2 + 5 * random()); column++) {
          if (ownerOf[row * width + column] === -1) ownerOf[row * width + column] = lot;
        }
      }
    }
    const putDown = Float64Array.from(z, () => most * random());
    const terrain = buildTerrain(z, width, height);
    const conduits = [...terrain.tree.pitCells.slice(1, terrain.tree.pits + 1)]
      .filter(() => random() < 0.3)
      .map((inlet, k): Conduit => ({
        id: `drain ${k}`,
        inlet,
        outlet:
          random() < 0.4
            ? 'storm-sewer'
            : random() < 0.3
              ? 'soil'
              : Math.floor(random() * z.length),
        capacityM3PerS: (random() * most) / 3600,
        blocked: false,
        pipe: null,
      }));
    const routing = makeRouting(terrain);
    const storm = settleStorm(
      { routing, ground: { conduits, pipes: new Map() }, cellM2: 1 },
      putDown,
      { durationH: 1 },
    );
    const flow = stormFlow(putDown, storm, 1);
    return { ownerOf, flow, depthM: waterSurface(terrain, storm.pools).depth };
  });

/** What an owner gets from others less what it gives them. */
const netInto = ({ lines }: LotFlux, owner: number): number =>
  lines.reduce((sum, { a, b, aToBM3, bToAM3 }) => {
    if (a === owner) return sum + bToAM3 - aToBM3;
    return b === owner ? sum + aToBM3 - bToAM3 : sum;
  }, 0);

describe('what crosses lot lines', () => {
  it('balances for each lot and for all other ground', () => {
    fc.assert(
      fc.property(cases, ({ ownerOf, flow, depthM }) => {
        const flux = lotFlux(flow, ownerOf, lots, depthM);
        for (let owner = 0; owner <= lots; owner++) {
          const ends =
            flux.standsM3[owner] + flux.sewerM3[owner] + flux.soilM3[owner] + flux.offDataM3[owner];
          expect(flux.putDownM3[owner] + netInto(flux, owner)).toBeCloseTo(ends, 8);
        }
      }),
      { numRuns: 400, seed: 5 },
    );
  });

  it('is net what following the water of one lot says runs on to it less what it passes on', () => {
    fc.assert(
      fc.property(cases, ({ ownerOf, flow, depthM }) => {
        const flux = lotFlux(flow, ownerOf, lots, depthM);
        for (let lot = 0; lot < lots; lot++) {
          const { runOnM3, passedOnM3 } = followLot(flow, ownerOf, lot, lots, depthM);
          const offDataM3 = flux.offDataM3[lot];
          const net = runOnM3.reduce((a, b) => a + b, 0) - passedOnM3.reduce((a, b) => a + b, 0);
          expect(netInto(flux, lot) - offDataM3).toBeCloseTo(net, 8);
        }
      }),
      { numRuns: 200, seed: 6 },
    );
  });

  it('is with winding never less than without, and net the same', () => {
    fc.assert(
      fc.property(cases, ({ ownerOf, flow, depthM }) => {
        for (const line of lotFlux(flow, ownerOf, lots, depthM).lines) {
          const { aToBM3, bToAM3, aToBGrossM3, bToAGrossM3 } = line;
          expect(Math.min(aToBM3, bToAM3)).toBeGreaterThanOrEqual(0);
          expect(aToBGrossM3 - aToBM3).toBeGreaterThan(-1e-9);
          expect(aToBGrossM3 - bToAGrossM3).toBeCloseTo(aToBM3 - bToAM3, 8);
        }
      }),
      { numRuns: 200, seed: 8 },
    );
  });

  it('ends where the water of all lots together ends, drains and all', () => {
    fc.assert(
      fc.property(cases, ({ ownerOf, flow, depthM }) => {
        const flux = lotFlux(flow, ownerOf, lots, depthM);
        const rows = originToEnd(flow, ownerOf, lots, depthM);
        const sum = (of: (row: OriginToEnd) => boolean): number =>
          rows.filter(of).reduce((total, { volumeM3 }) => total + volumeM3, 0);
        const all = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);
        for (let owner = 0; owner <= lots; owner++) {
          expect(sum(({ origin }) => origin === owner)).toBeCloseTo(flux.putDownM3[owner], 6);
          expect(sum(({ end }) => end === owner)).toBeCloseTo(flux.standsM3[owner], 6);
        }
        expect(sum(({ end }) => end === 'storm-sewer')).toBeCloseTo(all(flux.sewerM3), 6);
        expect(sum(({ end }) => end === 'soil')).toBeCloseTo(all(flux.soilM3), 6);
        expect(sum(({ end }) => end === 'off-map')).toBeCloseTo(all(flux.offDataM3), 6);
      }),
      { numRuns: 200, seed: 9 },
    );
  });

  it('adds up where two lots are one, the line between them gone', () => {
    fc.assert(
      fc.property(cases, ({ ownerOf, flow, depthM }) => {
        const apart = lotFlux(flow, ownerOf, lots, depthM);
        const joined = lotFlux(
          flow,
          ownerOf.map((owner) => (owner === 1 ? 0 : owner)),
          lots,
          depthM,
        );
        const between = ({ lines }: LotFlux, from: number, to: number): number =>
          lines.reduce((sum, { a, b, aToBGrossM3, bToAGrossM3 }) => {
            if (a === from && b === to) return sum + aToBGrossM3;
            return a === to && b === from ? sum + bToAGrossM3 : sum;
          }, 0);
        for (const other of [2, 3, 4]) {
          expect(between(joined, 0, other)).toBeCloseTo(
            between(apart, 0, other) + between(apart, 1, other),
            8,
          );
          expect(between(joined, other, 0)).toBeCloseTo(
            between(apart, other, 0) + between(apart, other, 1),
            8,
          );
        }
        expect(joined.lines.every(({ a, b }) => a !== 1 && b !== 1)).toBe(true);
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});
