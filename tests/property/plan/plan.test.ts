import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyChange, type Change } from '../../../lib/plan/change';
import { commit, redo, startHistory, undo } from '../../../lib/plan/history';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';

const lng = fc.integer({ min: -864_500_000, max: -863_500_000 }).map((n) => n / 1e7);
const lat = fc.integer({ min: 397_000_000, max: 398_000_000 }).map((n) => n / 1e7);
const position = fc.tuple(lng, lat);
/** Anything that JSON can say. */
const json = fc
  .jsonValue({ noUnicodeString: false })
  .map((value) => JSON.parse(JSON.stringify(value)) as unknown);
/** Properties that no kind knows. */
const extras = fc
  .array(fc.tuple(fc.string(), json), { maxLength: 3 })
  .map((pairs) => Object.fromEntries(pairs.map(([name, value]) => [`x ${name}`, value])));

const geometryAndProperties: fc.Arbitrary<Pick<PlanFeature, 'geometry' | 'properties'>> = fc.oneof(
  fc
    .record({ at: position, radius: fc.double({ min: 0, max: 20, noNaN: true }), extras })
    .map(({ at, radius, extras }) => ({
      geometry: { type: 'Point' as const, coordinates: at },
      properties: { ...extras, kind: 'tree' as const, canopy_radius_m: radius + 0 },
    })),
  fc
    .record({
      points: fc.uniqueArray(position, { minLength: 2, maxLength: 6, selector: String }),
      extras,
    })
    .map(({ points, extras }) => ({
      geometry: { type: 'LineString' as const, coordinates: points },
      properties: { ...extras, kind: 'utility' as const, service: 'gas' as const },
    })),
  fc
    .record({ at: position, size: fc.integer({ min: 100, max: 9000 }), extras })
    .map(({ at: [x, y], size, extras }) => {
      const [east, north] = [x + size / 1e7, y + size / 1e7].map((n) => Math.round(n * 1e7) / 1e7);
      const ring: [number, number][] = [
        [x, y],
        [east, y],
        [east, north],
        [x, north],
        [x, y],
      ];
      return {
        geometry: { type: 'Polygon' as const, coordinates: [ring] },
        properties: { ...extras, kind: 'lot' as const, own: false, name: 'Reed End' },
      };
    }),
);

function features(prefix: string): fc.Arbitrary<PlanFeature[]> {
  return fc
    .uniqueArray(fc.record({ id: fc.nat(12), rest: geometryAndProperties }), {
      selector: ({ id }) => id,
      maxLength: 8,
    })
    .map((list) =>
      list.map(
        ({ id, rest }) => ({ type: 'Feature', id: `${prefix}${id}`, ...rest }) as PlanFeature,
      ),
    );
}

const plan: fc.Arbitrary<Plan> = fc
  .record({ features: features('f'), rain: fc.option(fc.nat(200), { nil: undefined }) })
  .map(({ features, rain }) => ({
    type: 'FeatureCollection',
    lotfall: rain === undefined ? { version: 1 } : { version: 1, storm: { rain_mm: rain } },
    features,
  }));

const change: fc.Arbitrary<Change> = fc
  .record({
    puts: features('f'),
    deletes: fc.array(fc.nat(12).map((n) => `f${n}`)),
    units: fc.option(fc.constantFrom('us' as const, 'metric' as const), { nil: undefined }),
  })
  .map(({ puts, deletes, units }) => ({
    label: 'change',
    puts,
    deletes,
    ...(units === undefined ? {} : { settings: { version: 1 as const, units } }),
  }));

describe('a plan', () => {
  it('is read back as it was written, unknown properties and all', () => {
    fc.assert(
      fc.property(plan, (plan) => {
        const text = writePlan(plan);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(plan)));
        const again = readPlan(text, 'again').plan;
        expect(writePlan(again)).toBe(text);
        expect(again.features).toEqual(plan.features);
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  it('comes back after any change and its inverse, which do not modify it', () => {
    fc.assert(
      fc.property(plan, change, (plan, change) => {
        const before = JSON.stringify(plan);
        const after = applyChange(plan, change);
        const back = applyChange(after.plan, after.inverse);
        expect(back.plan).toEqual(plan);
        expect(applyChange(back.plan, back.inverse).plan).toEqual(after.plan);
        expect(JSON.stringify(plan)).toBe(before);
      }),
      { seed: 6, numRuns: 500 },
    );
  });

  it('comes back after any run of changes undone, and forward again', () => {
    fc.assert(
      fc.property(plan, fc.array(change, { maxLength: 6 }), (plan, changes) => {
        const last = changes.reduce(commit, startHistory(plan));
        let history = last;
        while (history.done.length > 0) history = undo(history);
        expect(history.plan).toEqual(plan);
        while (history.undone.length > 0) history = redo(history);
        expect(history.plan).toEqual(last.plan);
      }),
      { seed: 7, numRuns: 100 },
    );
  });
});
