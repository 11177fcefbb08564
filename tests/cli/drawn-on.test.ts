import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { demoElevation, readDemoPlan, save, tempFolder } from './inputs';
import { documentOf, lotfalls } from './run-lotfall';

const at = tempFolder();

/** The demo plan, with other words on its elevation. */
function planSaying(name: string, elevation: object): string {
  const plan = readDemoPlan();
  return save(at(name), { ...plan, lotfall: { ...plan.lotfall, elevation } });
}

describe('a plan that was drawn on another elevation than the one named', () => {
  it('is judged with a word on it, and without what it says of the other one’s heights', async () => {
    const feet = { rmse_m: 0.5, vertical_unit_m: 0.3048 };
    const size = { size_bytes: 98_765, crc32: '0f6c22a9' };
    const other = planSaying('other.geojson', { source: 'lot.elevation.tif', ...size, ...feet });
    const same = planSaying('same.geojson', { source: 'lot.elevation.tif' });
    const renamed = planSaying('renamed.geojson', { source: 'field.tif', rmse_m: 0.07 });
    const [said, plain, moved, checked] = await lotfalls(
      ['drainage', other, '-e', demoElevation, '--json'],
      ['drainage', same, '-e', demoElevation, '--json'],
      ['drainage', renamed, '-e', demoElevation, '--json'],
      ['setbacks', other, '-e', demoElevation, '--json'],
    );
    const result = documentOf(said) as DrainageResult;
    const judged = documentOf(plain) as DrainageResult;
    expect(result.notes).toContain(
      'The plan was drawn on lot.elevation.tif (99 kB); lot.elevation.tif is another file, so what the plan says of its heights’ error and unit does not count.',
    );
    // In feet every low spot would have a third of its depth.
    expect(result.low_spots).toEqual(judged.low_spots);
    expect(judged.notes.join()).not.toContain('drawn on');
    expect((documentOf(moved) as DrainageResult).notes).toContain(
      'The plan was drawn on field.tif, not on lot.elevation.tif.',
    );
    expect((documentOf(checked) as { notes: string[] }).notes.join()).toContain('drawn on');
  });
});
