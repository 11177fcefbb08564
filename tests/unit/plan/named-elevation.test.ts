import { describe, expect, it } from 'vitest';
import { drawnOn, elevationWords, onElevation } from '../../../lib/plan/named-elevation';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan, Settings } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';

const planOn = (elevation?: Settings['elevation']): Plan => ({
  type: 'FeatureCollection',
  features: [],
  lotfall: { version: 1, ...(elevation === undefined ? {} : { elevation }) },
});
const file = { name: 'yard.tif', sizeBytes: 1200, crc32: '0f6c22a9' };

describe('the elevation that a plan names', () => {
  it.each([
    ['unnamed', undefined],
    ['unnamed', { rmse_m: 0.1 }],
    ['same', { source: 'yard.tif' }],
    ['same', { source: 'heights/yard.tif', size_bytes: 1200 }],
    ['same', { source: 'renamed.tif', size_bytes: 1200, crc32: '0f6c22a9' }],
    ['unsure', { source: 'field.tif' }],
    ['unsure', { source: 'field.tif', size_bytes: 1200 }],
    ['other', { source: 'yard.tif', size_bytes: 1201 }],
    ['other', { source: 'yard.tif', size_bytes: 1200, crc32: '0f6c22a8' }],
  ] as const)('is %s: %o', (expected, named) => {
    expect(drawnOn(planOn(named), file)).toBe(expected);
  });

  it('of an address is told by name and size', () => {
    const far = { name: 'https://maps.example/yard.tif', sizeBytes: null, crc32: null };
    const plan = planOn({ source: far.name, size_bytes: 1200, crc32: '0f6c22a9' });
    expect(drawnOn(plan, far)).toBe('same');
    // The checksum that the plan had is not known to be this one's.
    expect(onElevation(plan, far).lotfall.elevation).toEqual({ source: far.name });
  });

  it('is written with size and checksum, and read again', () => {
    const text = writePlan(onElevation(planOn(), file));
    const { plan } = readPlan(text, 'a.plan.geojson');
    expect(plan.lotfall.elevation).toEqual({
      source: 'yard.tif',
      size_bytes: 1200,
      crc32: '0f6c22a9',
    });
    expect(drawnOn(plan, file)).toBe('same');
    expect(elevationWords(plan)).toBe('yard.tif (1 kB)');
    expect(onElevation(plan, file)).toBe(plan);
  });

  it('keeps what is said of its error and unit, unless it was said of another file', () => {
    const said = { rmse_m: 0.07, vertical_unit_m: 0.3048 };
    expect(onElevation(planOn(said), file).lotfall.elevation).toMatchObject(said);
    expect(
      onElevation(planOn({ source: 'yard.tif', size_bytes: 9, ...said }), file).lotfall.elevation,
    ).toEqual({ source: 'yard.tif', size_bytes: 1200, crc32: '0f6c22a9' });
  });
});
