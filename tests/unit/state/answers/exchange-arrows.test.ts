import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import { exchangeArrows } from '../../../../src/app/state/answers/exchange-arrows';
import { box, frame, planOf, polygonOf } from '../../ground/plane-lot';

const { plan } = planOf([
  polygonOf('own', box(0, 0, 20, 20), { kind: 'lot', own: true }),
  polygonOf('east', box(20, 0, 40, 20), { kind: 'lot', own: false }),
  polygonOf('far', box(40, 0, 60, 20), { kind: 'lot', own: false }),
]);
const row = (from: string, to: string | null, volume_m3: number) => ({
  from,
  to,
  volume_m3,
  net_m3: volume_m3,
});
const exchange: DrainageResult['exchange'] = [
  row('east', 'own', 0.66),
  row('own', 'east', 0.3),
  row('far', 'east', 2),
  row('far', 'own', 0.04),
  row('own', null, 9),
];

describe('who sends what to whom, on the sheet', () => {
  it('is what crosses each line between lots, both ways', () => {
    const arrows = exchangeArrows({ exchange }, plan, frame.spec, 'metric');
    expect(arrows.map(({ id, text, isMet }) => [id, text, isMet])).toEqual([
      ['east own', '660 L', true],
      ['own east', '300 L', true],
      ['far east', '2.0 m³', false],
    ]);
  });
});
