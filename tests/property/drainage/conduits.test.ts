import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature } from '../../../lib/plan/schema';
import {
  box,
  frame,
  groundOf,
  lineOf,
  planOf,
  pointOf,
  polygonOf,
} from '../../unit/ground/plane-lot';

/** Evenly spread; doubles of the library's own crowd around nought. */
const between = (least: number, most: number) =>
  fc.integer({ min: 0, max: 10_000 }).map((part) => least + ((most - least) * part) / 10_000);
const place = fc.tuple(between(0.1, 13.9), between(0.1, 11.9));
const outlet = fc.oneof(
  { weight: 4, arbitrary: place.map((at) => frame.toLngLat(at)) },
  { weight: 1, arbitrary: fc.constant('storm-sewer' as const) },
);

/** Random lumpy ground of 14 by 12 cells with two lots, drains, a pipe, a sump and a house with downspouts. */
const cases = fc.record({
  seed: fc.integer({ min: 1, max: 2 ** 30 }),
  rough: between(0, 1.5),
  rainMm: between(0, 400),
  durationH: between(0, 5),
  lotEast: fc.integer({ min: 2, max: 12 }),
  drains: fc.array(
    fc.record({
      at: place,
      outlet,
      // From such as a trickle fills to more than ever comes.
      capacity: between(-2, 1.5).map((power) => 10 ** power),
      piped: fc.boolean(),
    }),
    { maxLength: 6 },
  ),
  pipe: fc.tuple(place, place),
  sump: place,
  house: fc.boolean(),
});
type Case = typeof cases extends fc.Arbitrary<infer T> ? T : never;

function planFor(one: Case) {
  const features: PlanFeature[] = [
    polygonOf('a', box(0, 0, one.lotEast, 9), { kind: 'lot', own: true }),
    polygonOf('b', box(one.lotEast, 0, 14, 12), { kind: 'lot', own: false }),
    lineOf('pipe', one.pipe, { kind: 'drain-pipe' }),
    pointOf('sump', one.sump, { kind: 'sump-outlet', rate_m3_per_h: 1.5 }),
    ...one.drains.map((drain, i) =>
      pointOf(`d${i}`, drain.at, {
        kind: 'yard-drain',
        capacity_m3_per_h: drain.capacity,
        ...(drain.piped ? { pipe: 'pipe' } : { outlet: drain.outlet }),
      }),
    ),
  ];
  if (one.house) {
    features.push(
      polygonOf('roof', box(4, 4, 8, 8), {
        kind: 'roof',
        ridge: [frame.toLngLat([5, 6]), frame.toLngLat([7, 6])],
      }),
      pointOf('ds1', [4, 4], {
        kind: 'downspout',
        roof: 'roof',
        barrel_m3: 0.2,
        pipe: 'pipe',
      }),
      pointOf('ds2', [8, 8], {
        kind: 'downspout',
        roof: 'roof',
        outlet: frame.toLngLat(one.sump),
      }),
    );
  }
  return planOf(features, { storm: { rain_mm: one.rainMm, duration_h: one.durationH } });
}

function groundFor({ seed, rough }: Case) {
  let state = seed;
  return groundOf(14, 12, 1, (x) => {
    state = (state * 48271) % 2147483647;
    return 4 - 0.05 * x + (rough * state) / 2147483647;
  });
}

describe('conduits on any ground', () => {
  it('neither make nor lose water, and carry no more than they can', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const plan = planFor(one);
        const shape = shapeGround(groundFor(one), plan);
        const storm = stormOnGround(shape, plan, one.rainMm);
        const { stormPools: pools, conduits } = storm;
        const fell = storm.flow.putDownM3.reduce((sum, volumeM3) => sum + volumeM3, 0);
        const letOut = conduits.reduce(
          (sum, { conduit, volumeM3 }) => sum + (typeof conduit.outlet === 'number' ? 0 : volumeM3),
          0,
        );
        const stored = pools.stored.reduce((sum, volume) => sum + volume, 0) * shape.cellM2;
        const stands = storm.depthM.reduce((sum, depth) => sum + depth, 0) * shape.cellM2;
        expect(Math.abs(stored + pools.outflow * shape.cellM2 + letOut - fell)).toBeLessThan(1e-9);
        expect(Math.abs(stands - stored)).toBeLessThan(1e-4 * (1 + stored));
        for (const { conduit, volumeM3 } of conduits) {
          expect(volumeM3).toBeGreaterThanOrEqual(0);
          expect(volumeM3).toBeLessThanOrEqual(
            conduit.capacityM3PerS * 3600 * one.durationH + 1e-9,
          );
        }
        const piped = conduits.filter(({ conduit }) => conduit.pipe === 'pipe');
        const inPipe = piped.reduce((sum, { volumeM3 }) => sum + volumeM3, 0);
        const limit = (shape.ground.pipes.get('pipe')?.capacityM3PerS ?? 0) * 3600 * one.durationH;
        expect(inPipe).toBeLessThanOrEqual(limit + 1e-9);
        for (const stored_ of pools.stored) expect(stored_).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 600, seed: 3 },
    );
  });

  it('leave the ledgers of all lots balanced', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const plan = planFor(one);
        const shape = shapeGround(groundFor(one), plan);
        const storm = stormOnGround(shape, plan, one.rainMm);
        for (const lot of [0, 1]) {
          const row = ledger(shape, storm, plan, lot);
          expect(Math.abs(row.error_m3)).toBeLessThan(1e-9);
          for (const [key, value] of Object.entries(row)) {
            if (key.endsWith('_m3') && key !== 'error_m3') expect(value).toBeGreaterThan(-1e-9);
          }
        }
      }),
      { numRuns: 600, seed: 5 },
    );
  });

  it('give the same answer twice', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const plan = planFor(one);
        const run = () => stormOnGround(shapeGround(groundFor(one), plan), plan, one.rainMm);
        const [first, second] = [run(), run()];
        expect(second.depthM).toEqual(first.depthM);
        expect(second.conduits.map(({ volumeM3 }) => volumeM3)).toEqual(
          first.conduits.map(({ volumeM3 }) => volumeM3),
        );
      }),
      { numRuns: 50, seed: 9 },
    );
  });
});
