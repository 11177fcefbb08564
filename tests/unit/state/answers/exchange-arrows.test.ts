import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import { exchangeArrows } from '../../../../src/app/state/answers/exchange-arrows';
import { box, frame, planOf, polygonOf } from '../../ground/plane-lot';

const { plan } = planOf([
  polygonOf('own', box(0, 0, 20, 20), { kind: 'lot', own: true }),
  polygonOf('east', box(20, 0, 40, 20), { kind: 'lot', own: false }),
  polygonOf('far', box(40, 0, 60, 20), { kind: 'lot', own: false }),
]);
const exchange: DrainageResult['exchange'] = [
  { from: 'east', to: 'own', volume_m3: 0.66 },
  { from: 'own', to: 'east', volume_m3: 0.3 },
  { from: 'far', to: 'east', volume_m3: 2 },
  { from: 'own', to: null, volume_m3: 9 },
];
const ledger = {
  lot: 'own',
  run_on_from: [{ lot: 'east', name: 'east', volume_m3: 0.48 }],
  passed_on_to: [{ lot: 'east', name: 'east', volume_m3: 0.3 }],
} as unknown as NonNullable<DrainageResult['ledger']>;
const arrows = (of: DrainageResult['ledger']) =>
  exchangeArrows({ exchange, ledger: of }, plan, frame.spec, 'metric').map(
    ({ id, text, isMet }) => [id, text, isMet] as const,
  );

describe('who sends what to whom, on the sheet', () => {
  it('says at the lot being planned what its ledger says', () => {
    expect(arrows(ledger)).toEqual([
      ['far east', '2.0 m³', false],
      ['own east', '300 L', true],
      ['east own', '480 L', true],
    ]);
  });

  it('is what each lot passes on where there is no ledger', () => {
    expect(arrows(null)).toEqual([
      ['east own', '660 L', true],
      ['own east', '300 L', true],
      ['far east', '2.0 m³', false],
    ]);
  });
});
