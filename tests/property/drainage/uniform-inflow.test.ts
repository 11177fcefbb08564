import fc from 'fast-check';
import { expect, it } from 'vitest';
import { catchmentSums, uniformInflow } from '../../../lib/drainage/catchment-sums';
import { buildTerrain } from '../../../lib/drainage/terrain';

it('gives for one depth everywhere what summing that depth cell by cell gives, nodata left out', () => {
  const height = fc.oneof(
    { weight: 6, arbitrary: fc.integer({ min: 8, max: 40 }).map((eighths) => eighths / 8) },
    { weight: 1, arbitrary: fc.constant(Number.NaN) },
  );
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 9 }),
      fc.array(height, { minLength: 9, maxLength: 90 }),
      fc.integer({ min: 0, max: 64 }),
      (width, heights, eighths) => {
        const rows = Math.floor(heights.length / width);
        const z = Float32Array.from(heights.slice(0, rows * width));
        const terrain = buildTerrain(z, width, rows);
        const depth = eighths / 8;
        const summed = catchmentSums(terrain, new Float64Array(z.length).fill(depth));
        expect([...uniformInflow(terrain, depth)]).toEqual([...summed]);
      },
    ),
    { numRuns: 300, seed: 5 },
  );
});
