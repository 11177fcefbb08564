import { expect, it } from 'vitest';
import type { Ledger } from '../../../lib/drainage/answer/ledger';
import { endsUp } from '../../../src/app/ledger/bars';

it('says that what has soaked in includes what surfaces hold', () => {
  const ledger: Ledger = {
    lot: 'own',
    rain_m3: 3,
    run_on_m3: 0,
    sump_m3: 0,
    soaked_m3: 3,
    standing_m3: 0,
    basin_m3: 0,
    basin_soaked_m3: 0,
    barrel_m3: 0,
    sewer_m3: 0,
    passed_on_m3: 0,
    error_m3: 0,
    run_on_from: [],
    passed_on_to: [],
  };
  expect(endsUp(ledger).find(({ volumeM3 }) => volumeM3 === 3)?.label).toBe(
    'soaked in or held on surfaces',
  );
});
