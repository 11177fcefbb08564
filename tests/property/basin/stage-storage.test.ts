import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  areaAt,
  depthAt,
  stageStorage,
  storageTable,
  volumeAt,
} from '../../../lib/basin/form/stage-storage';
import { basinOutline, rimAt } from '../../../lib/siting/sizing/basin-outline';
import { built, falling } from '../../unit/basin/made-basin';

/** Numbers spread evenly: those of the library crowd at 0. */
const between = (from: number, to: number) =>
  fc.integer({ min: 0, max: 10_000 }).map((i) => from + ((to - from) * i) / 10_000);

/** Any table: depths that ascend from 0, areas that never shrink, the first perhaps 0. */
const tables = fc
  .array(
    fc.record({
      stepM: between(0.001, 0.5),
      moreM2: between(0, 20),
    }),
    { minLength: 1, maxLength: 40 },
  )
  .chain((steps) => fc.record({ steps: fc.constant(steps), firstM2: between(0, 10) }))
  .map(({ steps, firstM2 }) => {
    const depths = [0];
    const areas = [firstM2];
    for (const { stepM, moreM2 } of steps) {
      depths.push(depths[depths.length - 1] + stepM);
      areas.push(areas[areas.length - 1] + moreM2);
    }
    return storageTable(
      Float64Array.from(depths),
      Float64Array.from(areas),
      depths[depths.length - 1],
    );
  });
const shares = between(0, 1.3);

describe('a table of stage and storage', () => {
  it('gives depth and volume as inverses of each other', () => {
    fc.assert(
      fc.property(tables, shares, (table, share) => {
        const depthM = share * table.depthsM[table.depthsM.length - 1];
        const volumeM3 = volumeAt(table, depthM);
        expect(volumeAt(table, depthAt(table, volumeM3))).toBeCloseTo(volumeM3, 9);
        // where no area is, depth cannot be told from volume
        if (areaAt(table, depthM) > 1e-3) expect(depthAt(table, volumeM3)).toBeCloseTo(depthM, 6);
      }),
      { seed: 71, numRuns: 500 },
    );
  });

  it('grows with depth, by the area', () => {
    fc.assert(
      fc.property(tables, shares, between(1e-6, 0.1), (table, share, moreM) => {
        const depthM = share * table.depthsM[table.depthsM.length - 1];
        const grown = volumeAt(table, depthM + moreM) - volumeAt(table, depthM);
        const [before, after] = [areaAt(table, depthM), areaAt(table, depthM + moreM)];
        expect(after).toBeGreaterThanOrEqual(before);
        expect(grown).toBeGreaterThanOrEqual(before * moreM - 1e-9);
        expect(grown).toBeLessThanOrEqual(after * moreM + 1e-9);
      }),
      { seed: 72, numRuns: 500 },
    );
  });

  it('rises without a break for any usual basin, up to the area of its outline', () => {
    const basins = fc.record({
      form: fc.constantFrom('round', 'oval', 'kidney', 'teardrop'),
      aspect: between(1, 3),
      turnRad: between(0, 6.28),
      areaM2: between(2, 60),
      pondingDepthM: between(0.02, 0.6),
      sideSlope: between(0.5, 5),
      freeboardM: between(0, 0.04),
      slope: between(0, 0.12),
    });
    fc.assert(
      fc.property(basins, ({ form, aspect, turnRad, areaM2, slope, ...shape }) => {
        const outline = basinOutline(form, aspect, turnRad);
        const made = built(
          { ...shape, rim: rimAt(outline, [15, 12], areaM2) },
          falling(slope),
          0.1,
        );
        const { depthsM, areasM2, volumesM3, overflowDepthM } = stageStorage(made);
        for (let i = 1; i < depthsM.length; i++) {
          expect(depthsM[i]).toBeGreaterThan(depthsM[i - 1]);
          expect(areasM2[i]).toBeGreaterThanOrEqual(areasM2[i - 1]);
          expect(volumesM3[i]).toBeGreaterThanOrEqual(volumesM3[i - 1]);
        }
        expect(areasM2[areasM2.length - 1]).toBeCloseTo(areaM2, 6);
        expect(depthsM).toContain(overflowDepthM);
        expect(overflowDepthM).toBeLessThanOrEqual(shape.pondingDepthM + 1e-9);
      }),
      { seed: 73, numRuns: 40 },
    );
  });
});
