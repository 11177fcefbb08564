import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../lib/elevation/grid';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { ruleSets } from '../../../lib/setback/sets/rule-sets';
import type { SetbackResult } from '../../../lib/setback/judge/setback-result';
import type { SetbackInput } from '../../../lib/setback/judge/setback-input';
import { box, disc, frame, planOf, type Drawn } from '../../unit/setback/plan-of';

const cells = 120;

/** Ground over 120 m x 120 m that rises to the east, steeper from a line on. */
function ground(slope: number, bankAtM: number, bankSlope: number): Grid {
  const z = Float32Array.from({ length: cells * cells }, (_, i) => {
    const x = (i % cells) + 0.5 - cells / 2;
    return slope * x + bankSlope * Math.max(0, x - bankAtM);
  });
  return {
    width: cells,
    height: cells,
    cellM: 1,
    westM: -cells / 2,
    northM: cells / 2,
    z,
    datumM: 100,
    frame: frame.spec,
  };
}

const place = fc.tuple(
  fc.double({ min: -20, max: 20, noNaN: true }),
  fc.double({ min: -20, max: 20, noNaN: true }),
);
const maybe = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(value, { nil: undefined });
const upTo = (max: number): fc.Arbitrary<number> => fc.double({ min: 0, max, noNaN: true });

/** A kind of feature somewhere near the basin: as a point, a line or a square, with what a plan may say of it. */
const feature = fc
  .tuple(
    fc.constantFrom(
      { kind: 'building', as: 'square' },
      { kind: 'septic-field', as: 'square' },
      { kind: 'septic-tank', as: 'point' },
      { kind: 'well', as: 'point' },
      { kind: 'tree', as: 'point' },
      { kind: 'wall', as: 'line' },
      { kind: 'downspout', as: 'point' },
      { kind: 'easement', as: 'square' },
      { kind: 'basin', as: 'square' },
      { kind: 'utility', as: 'line' },
    ),
    place,
    fc.record({
      foundation: maybe(fc.constantFrom('basement', 'crawl-space', 'slab', 'none')),
      trunk_diameter_m: maybe(upTo(1)),
      canopy_radius_m: maybe(upTo(8)),
    }),
  )
  .map(([{ kind, as }, [x, y], said]): Drawn => {
    const properties = { kind, service: 'gas', roof: 'r', ...said } as Drawn['properties'];
    const id = kind;
    if (as === 'point') return { id, properties, point: [x, y] };
    if (as === 'line') {
      return {
        id,
        properties,
        line: [
          [x, y],
          [x + 10, y],
        ],
      };
    }
    return { id, properties, rings: [box(x, y, x + 6, y + 6)] };
  });

const bindings = ['advice', 'should', 'must'];
const fails = ({ results }: { results: readonly SetbackResult[] }): SetbackResult[] =>
  results.filter(({ result }) => result === 'fail');

describe('the strictest set', () => {
  it('lets nothing pass that any other set fails', () => {
    const strictest = ruleSets.find(({ id }) => id === 'strictest')!;
    fc.assert(
      fc.property(
        fc.array(feature, { minLength: 1, maxLength: 4 }),
        fc.record({
          lotM: fc.double({ min: 4, max: 40, noNaN: true }),
          slope: upTo(0.4),
          bankAtM: fc.double({ min: 0, max: 50, noNaN: true }),
          bankSlope: upTo(0.4),
          waterTableM: maybe(upTo(3)),
          rockM: maybe(upTo(3)),
          bottomDepthM: maybe(upTo(1)),
          rate: maybe(upTo(40)),
          drainDownH: maybe(upTo(100)),
          standingM: upTo(0.1),
          overflowTo: maybe(place),
        }),
        (drawn, made) => {
          const { lotM } = made;
          const plan = planOf(
            {
              id: 'own',
              properties: { kind: 'lot', own: true },
              rings: [box(-lotM, -lotM, lotM, lotM)],
            },
            {
              id: 'next',
              properties: { kind: 'lot', own: false },
              rings: [box(lotM, -lotM, lotM + 20, lotM)],
            },
            ...drawn.map((each, i) => ({ ...each, id: `f${i}` })),
          );
          const grid = ground(made.slope, made.bankAtM, made.bankSlope);
          const input: Omit<SetbackInput, 'ruleSet'> = {
            plan,
            basins: [
              {
                id: 'b',
                rim: disc([0, 0], 2, 24),
                bottomDepthM: made.bottomDepthM,
                drainDownH: made.drainDownH,
                overflowWays: made.overflowTo && [[[2, 0], made.overflowTo]],
              },
            ],
            elevation: grid,
            today: '2026-05-10',
            soil: {
              ...(made.waterTableM === undefined ? {} : { water_table_m: made.waterTableM }),
              ...(made.rockM === undefined ? {} : { rock_m: made.rockM }),
              ...(made.rate === undefined ? {} : { rate_mm_per_h: made.rate }),
            },
            standing: { grid, depthM: new Float32Array(grid.z.length).fill(made.standingM) },
          };
          const strict = fails(checkSetbacks({ ...input, ruleSet: strictest }));
          for (const ruleSet of ruleSets) {
            for (const row of fails(checkSetbacks({ ...input, ruleSet }))) {
              const found = strict.some(
                (each) =>
                  // of what overflow comes to the first is named
                  (each.feature === row.feature ||
                    row.feature === null ||
                    row.rule === 'overflow') &&
                  bindings.indexOf(each.binding) >= bindings.indexOf(row.binding),
              );
              expect(found, `${ruleSet.id} ${row.rule} ${row.feature}`).toBe(true);
            }
          }
        },
      ),
      { seed: 43, numRuns: 120 },
    );
  });
});
