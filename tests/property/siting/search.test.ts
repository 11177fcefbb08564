import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { searchSites } from '../../../lib/siting/search/search-sites';
import type { SitingInput } from '../../../lib/siting/sizing/siting-input';
import type { SitingResult } from '../../../lib/siting/sizing/siting-result';
import type { RoofPart } from '../../../lib/siting/water/catchments';
import { box, fallingSouth, inputOf, lotWithHouse } from '../../unit/siting/sloping-lot';

interface Lot {
  readonly widthM: number;
  readonly depthM: number;
  readonly slope: number;
  readonly trees: readonly XY[];
}

const lot = fc.record({
  widthM: fc.integer({ min: 14, max: 30 }),
  depthM: fc.integer({ min: 24, max: 40 }),
  slope: fc.double({ min: 0.005, max: 0.11, noNaN: true }),
  trees: fc.array(
    fc.tuple(
      fc.double({ min: 0, max: 30, noNaN: true }),
      fc.double({ min: 0, max: 40, noNaN: true }),
    ),
    { maxLength: 5 },
  ),
});

/** The lot's input, drawn `shift` metres east and as far south. */
function inputAt({ widthM, depthM, slope, trees }: Lot, shift: number): SitingInput {
  const move = ([x, y]: XY): XY => [x + shift, y - shift];
  const roof: RoofPart = { id: 'r', at: move([widthM - 2.8, depthM - 10.2]), areaM2: 70 };
  const plan = lotWithHouse(
    box(0, 0, widthM, depthM).map(move),
    box(3, depthM - 10, widthM - 3, depthM - 3).map(move),
    ...trees.map((at, i) => ({
      id: `tree-${i}`,
      properties: { kind: 'tree' as const, trunk_diameter_m: 0.25, canopy_radius_m: 2.5 },
      point: move(at),
    })),
  );
  const grid: Grid = fallingSouth(
    -6 + shift,
    depthM + 6 - shift,
    widthM + 12,
    depthM + 12,
    1,
    slope,
  );
  return inputOf(plan, grid, [roof]);
}

/** Each site's middle, size, ground and score, the frame's move taken off. */
function places(result: SitingResult, shift: number): number[][] {
  return result.sites.map(({ at, area_m2, catches_m2, score }) => [
    at[0] - shift,
    at[1] + shift,
    area_m2,
    catches_m2,
    score,
  ]);
}

describe('searchSites', () => {
  it('does not change when the frame is moved', async () => {
    await fc.assert(
      fc.asyncProperty(lot, fc.double({ min: 1, max: 400, noNaN: true }), async (each, shift) => {
        const before = await searchSites(inputAt(each, 0));
        const after = await searchSites(inputAt(each, shift));
        expect(after.allowed_m2).toBe(before.allowed_m2);
        const [first, moved] = [places(before, 0), places(after, shift)];
        expect(moved.length).toBe(first.length);
        moved.flat().forEach((value, i) => {
          expect(Math.abs(value - first.flat()[i])).toBeLessThan(0.0005);
        });
      }),
      { seed: 21, numRuns: 15 },
    );
  });

  it('never offers a site that breaks a binding rule, and always a reason when it offers none', async () => {
    await fc.assert(
      fc.asyncProperty(lot, async (each) => {
        const result = await searchSites(inputAt(each, 0));
        for (const site of result.sites) {
          expect(site.setbacks.summary.must_fail).toBe(0);
          expect(site.score).toBeGreaterThanOrEqual(0);
          expect(site.score).toBeLessThanOrEqual(1);
          expect(site.captured_fraction).toBeLessThanOrEqual(1);
        }
        if (result.sites.length === 0) expect(result.notes.length).toBeGreaterThan(0);
      }),
      { seed: 22, numRuns: 20 },
    );
  });
});
