import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { cellsInside } from '../../../lib/ground/rasterise';
import { lotCatchments } from '../../../lib/siting/water/lot-catchments';
import { searchSites } from '../../../lib/siting/search/search-sites';
import type { SitingInput } from '../../../lib/siting/sizing/siting-input';
import type { Catchments } from '../../../lib/siting/water/catchments';
import { planOf } from '../../unit/setback/plan-of';
import { box, fallingSouth, inputOf } from '../../unit/siting/sloping-lot';

const plan = planOf(
  { id: 'lot', properties: { kind: 'lot', own: true }, rings: [box(0, 0, 40, 50)] },
  {
    id: 'house',
    properties: { kind: 'building', foundation: 'slab' },
    rings: [box(12, 32, 26, 44)],
  },
  {
    id: 'roof',
    properties: { kind: 'roof', building: 'house' },
    rings: [box(12, 32, 26, 44)],
  },
  { id: 'east', properties: { kind: 'downspout', roof: 'roof', share: 0.5 }, point: [26.4, 32] },
  { id: 'west', properties: { kind: 'downspout', roof: 'roof', share: 0.5 }, point: [11.6, 32] },
);

/** Real ground: a slope with swells, its water routed and its roof shared out. */
function swelling(slope: number, swellM: number, turn: number): SitingInput {
  const plane = fallingSouth(-6, 56, 52, 62, 1, slope);
  const grid = {
    ...plane,
    z: plane.z.map((z, i) => {
      const x = i % plane.width;
      const y = Math.floor(i / plane.width);
      return z + swellM * Math.sin(x / 5 + turn) * Math.cos(y / 7 - turn);
    }),
  };
  const shape = shapeGround(grid, plan);
  const storm = stormOnGround(shape, plan, 40);
  return inputOf(plan, grid, [], {
    catchments: lotCatchments(shape, storm, plan),
    runOffDepthM: 0.01,
    roofRunOffM: 0.04,
    basins: 2,
  });
}

const ground = fc.record({
  slope: fc.double({ min: 0.01, max: 0.06, noNaN: true }),
  swellM: fc.double({ min: 0, max: 0.25, noNaN: true }),
  turn: fc.double({ min: 0, max: 6, noNaN: true }),
});

function total(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

describe('catchApart', () => {
  it('shares out exactly what reaches any of the places, no square metre and no roof twice', () => {
    fc.assert(
      fc.property(
        ground,
        fc.array(fc.tuple(fc.integer({ min: 2, max: 34 }), fc.integer({ min: 2, max: 26 })), {
          minLength: 2,
          maxLength: 3,
        }),
        ({ slope, swellM, turn }, corners) => {
          const { catchments, elevation } = swelling(slope, swellM, turn);
          const taken = new Set<number>();
          const groups = corners.map(([x, y]) => {
            const cells = cellsInside(elevation, [box(x, y, x + 4, y + 4)]);
            const own = cells.filter((cell) => !taken.has(cell));
            own.forEach((cell) => taken.add(cell));
            return own;
          });
          fc.pre(groups.every(({ length }) => length > 0));
          const whole = catchments.catchAt(Int32Array.from([...taken].sort((a, b) => a - b)));
          const { catches, onward } = catchments.catchApart(groups);
          expect(total(catches.map(({ areaM2 }) => areaM2))).toBeCloseTo(whole.areaM2, 3);
          expect(total(catches.map(({ runOffM3 }) => runOffM3))).toBeCloseTo(whole.runOffM3, 6);
          catchments.roofs.forEach((_, roof) => {
            const shares = catches.map(({ roofShares }) => roofShares[roof]);
            expect(total(shares)).toBeCloseTo(whole.roofShares[roof], 6);
            expect(total(shares)).toBeLessThanOrEqual(1 + 1e-6);
          });
          onward.forEach((shares, i) => {
            expect(shares[i]).toBe(0);
            expect(total(shares)).toBeLessThanOrEqual(1 + 1e-6);
          });
        },
      ),
      { seed: 31, numRuns: 12 },
    );
  });
});

describe('basins that share the water', () => {
  it('keep its balance, and lead each roof to one of them', async () => {
    await fc.assert(
      fc.asyncProperty(ground, async ({ slope, swellM, turn }) => {
        const input = swelling(slope, swellM, turn);
        const { joint } = await searchSites(input);
        if (joint === null) return;
        const { basins } = joint;
        expect(basins).toHaveLength(2);
        for (const basin of basins) {
          const arrivesM3 = basin.inflow_m3 + basin.from_overflow_m3;
          expect(basin.captured_m3 + basin.overflow_m3).toBeCloseTo(arrivesM3, 9);
          expect(basin.captured_m3).toBeLessThanOrEqual(basin.bowl_m3 + 1e-9);
          expect(basin.setbacks.summary.must_fail).toBe(0);
        }
        const sentM3 = total(basins.map(({ from_overflow_m3 }) => from_overflow_m3));
        const goesOnM3 = total(basins.map(({ overflow_m3 }) => overflow_m3));
        expect(sentM3).toBeLessThanOrEqual(goesOnM3 + 1e-9);
        expect(joint.inflow_m3).toBeCloseTo(total(basins.map(({ inflow_m3 }) => inflow_m3)), 9);
        expect(joint.captured_m3).toBeCloseTo(joint.inflow_m3 - (goesOnM3 - sentM3), 9);
        expect(total(basins.map(({ share }) => share))).toBeCloseTo(1, 9);
        expectRoofsOnce(input.catchments, basins);
      }),
      { seed: 32, numRuns: 3 },
    );
  });
});

/** No outlet's water is counted twice: what arrives by itself and what is led make no more than the roof. */
function expectRoofsOnce(
  { roofs }: Catchments,
  basins: readonly {
    readonly led: readonly { readonly roof: string; readonly area_m2: number }[];
  }[],
): void {
  const led = basins.flatMap((basin) => basin.led);
  expect(new Set(led.map(({ roof }) => roof)).size).toBe(led.length);
  for (const { roof, area_m2 } of led) {
    const whole = roofs.find(({ id }) => id === roof)?.areaM2 ?? 0;
    expect(area_m2).toBeLessThanOrEqual(whole + 1e-6);
  }
}
