import { describe, expect, it } from 'vitest';
import { antecedentCurveNumber } from '../../../lib/storm/antecedent';
import {
  averagedRunOff,
  compositeCurveNumber,
  volumetricCoefficient,
} from '../../../lib/storm/composite-curve-number';
import { curveNumber, hasConditions, type Cover } from '../../../lib/storm/curve-numbers';
import { runOffMm } from '../../../lib/storm/run-off';
import { spreadCredit } from '../../../lib/storm/unconnected-paving';

const inch = 25.4;
const runOffIn = (rainIn: number, number: number): number => runOffMm(rainIn * inch, number) / inch;
const weighted = (parts: readonly (readonly [number, number])[]): number =>
  averagedRunOff(
    parts.map(([areaM2, each]) => ({ areaM2, curveNumber: each })),
    1,
  ).averageCurveNumber;

describe('worked examples of TR-55, chapter 2 (all seen): 250 acres, 6.0 in of rain', () => {
  it('2-1: pasture in good condition, 30 % B and 70 % C: 70.1, run-off 2.81 in', () => {
    const average = weighted([
      [30, 61],
      [70, 74],
    ]);
    expect(average).toBeCloseTo(70.1, 1);
    expect(runOffIn(6, Math.round(average))).toBeCloseTo(2.81, 2);
  });

  it('2-2: half-acre lots of 70 and 80 beside open ground of 74: 75.2, run-off 3.28 in', () => {
    const average = weighted([
      [75, 70],
      [100, 80],
      [75, 74],
    ]);
    expect(average).toBeCloseTo(75.2, 6);
    expect(runOffIn(6, Math.round(average))).toBeCloseTo(3.28, 2);
  });

  it('2-3: the same with lots 35 % sealed: 74 and 82, together 77.2, run-off 3.48 in', () => {
    const lot = (openCurveNumber: number): number =>
      Math.round(compositeCurveNumber({ openCurveNumber, sealedShare: 0.35, unconnectedShare: 0 }));
    expect([lot(61), lot(74)]).toEqual([74, 82]);
    const average = weighted([
      [75, lot(61)],
      [100, lot(74)],
      [75, 74],
    ]);
    expect(average).toBeCloseTo(77.2, 6);
    expect(runOffIn(6, Math.round(average))).toBeCloseTo(3.48, 2);
  });
});

describe('composite curve numbers, TR-55 figures 2-3 and 2-4 and appendix F (seen)', () => {
  it('gives 68 for 61 with 20 % sealed and connected', () => {
    const lot = { openCurveNumber: 61, sealedShare: 0.2, unconnectedShare: 0 };
    expect(compositeCurveNumber(lot)).toBeCloseTo(68.4, 6);
  });

  it('gives 66 for the same with three quarters of it unconnected (from memory: the example beside figure 2-4)', () => {
    const lot = { openCurveNumber: 61, sealedShare: 0.2, unconnectedShare: 0.75 };
    expect(Math.round(compositeCurveNumber(lot))).toBe(66);
  });

  it('credits unconnected paving with the difference of two such numbers (computed)', () => {
    // half an acre of lawn on soil group B with 20 % sealed, three quarters of it unconnected
    const half = 0.5 * 43_560;
    const lot = {
      open: [
        {
          surface: { cover: 'lawn', condition: 'good', group: 'B' },
          areaM2: 0.8 * half,
        },
      ],
      sealedM2: 0.2 * half,
      unconnectedM2: 0.15 * half,
    } as const;
    const overLotIn = (0.15 * spreadCredit(lot, 'average', 98)(6 * inch)) / inch;
    // 2.657 in on 68.4 less 2.407 in on 65.625
    expect(overLotIn).toBeCloseTo(runOffIn(6, 68.4) - runOffIn(6, 65.625), 9);
    expect(overLotIn).toBeCloseTo(0.251, 3);
  });

  it('gives 78.5 for 74 with 25 % sealed, half of it unconnected (computed)', () => {
    const lot = { openCurveNumber: 74, sealedShare: 0.25, unconnectedShare: 0.5 };
    expect(compositeCurveNumber(lot)).toBeCloseTo(78.5, 6);
  });

  it('gives no credit from 30 % sealed on', () => {
    const lot = { openCurveNumber: 74, sealedShare: 0.3 };
    expect(compositeCurveNumber({ ...lot, unconnectedShare: 1 })).toBe(
      compositeCurveNumber({ ...lot, unconnectedShare: 0 }),
    );
  });
});

/** TR-55 tables 2-2a and 2-2c (seen): soil groups A to D, for poor, fair and good condition where the table has them. */
const published: [Cover, number[], number[]?, number[]?][] = [
  ['lawn', [68, 79, 86, 89], [49, 69, 79, 84], [39, 61, 74, 80]],
  ['woods', [45, 66, 77, 83], [36, 60, 73, 79], [30, 55, 70, 77]],
  // 'brush', the nearest row
  ['bed', [48, 67, 77, 83], [35, 56, 70, 77], [30, 48, 65, 73]],
  ['meadow', [30, 58, 71, 78]],
  ['gravel', [76, 85, 89, 91]],
  ['paving', [98, 98, 98, 98]],
  ['bare', [77, 86, 91, 94]],
  // rain runs through its boards to bare ground
  ['deck', [77, 86, 91, 94]],
];

describe('curve numbers of surfaces', () => {
  it.each(published)('of %s are those of the table', (cover, poor, fair = poor, good = poor) => {
    const row = (condition: 'poor' | 'fair' | 'good'): number[] =>
      (['A', 'B', 'C', 'D'] as const).map((group) => curveNumber(cover, condition, group));
    expect([row('poor'), row('fair'), row('good')]).toEqual([poor, fair, good]);
    expect(hasConditions(cover)).toBe(good !== poor);
  });
});

describe('initial loss and small rains', () => {
  it.each([
    [40, 3],
    [60, 1.333],
    [75, 0.667],
    [90, 0.222],
    [98, 0.041],
  ])('curve number %s loses %s in first (TR-55 table 4-1, seen)', (number, lossIn) => {
    expect(200 / number - 2).toBeCloseTo(lossIn, 3);
    expect(runOffIn(200 / number - 2, number)).toBeLessThan(1e-9);
    expect(runOffIn(200 / number - 2 + 0.02, number)).toBeGreaterThan(0);
  });

  it('prints 7.0 in on 50 as 1.68 where the equation has 1.667 (TR-55 table 2-1, seen)', () => {
    expect(runOffIn(7, 50)).toBeCloseTo(1.667, 3);
    expect(Math.abs(runOffIn(7, 50) - 1.68)).toBeLessThan(0.015);
  });

  it('loses much of a small rain on a roof: 1 in gives 0.791 in on 98, 0.563 in on 95 (Pandit and Regan 1998, seen)', () => {
    expect(runOffIn(1, 98)).toBeCloseTo(0.791, 3);
    expect(runOffIn(1, 95)).toBeCloseTo(0.563, 3);
  });

  it('shows what averaging loses: 69.8 against 28.5 ft3 off a roof and a lawn (computed; NEH 630-10 example 10-5 says the same)', () => {
    const { apartMm, averagedMm, averageCurveNumber } = averagedRunOff(
      [
        { areaM2: 1000, curveNumber: 98 },
        { areaM2: 2000, curveNumber: 74 },
      ],
      inch,
    );
    expect(averageCurveNumber).toBeCloseTo(82, 9);
    expect((apartMm / inch / 12) * 3000).toBeCloseTo(69.77, 1);
    expect((averagedMm / inch / 12) * 3000).toBeCloseTo(28.55, 1);
  });

  it('nothing has no average', () => {
    expect(averagedRunOff([], 25).apartMm).toBe(0);
  });

  it('gives 0.625 in of 1.25 on ground half sealed by the volumetric coefficient (Iowa 2C-6, seen)', () => {
    expect(1.25 * volumetricCoefficient(0.5)).toBeCloseTo(0.625, 9);
    expect(1.25 * volumetricCoefficient(0)).toBeCloseTo(0.0625, 9);
    expect(1.25 * volumetricCoefficient(1)).toBeCloseTo(1.1875, 9);
  });
});

/** NEH 630 chapter 10, table 10-1 (seen): average, dry, wet. */
const table =
  '98:94/99 95:87/98 92:81/97 90:78/96 88:75/95 86:72/94 85:70/94 84:68/93 82:66/92 80:63/91 78:60/90 76:58/89 75:57/88 74:55/88 72:53/86 70:51/85 68:48/84 66:46/82 65:45/82 64:44/81 62:42/79 61:41/78 60:40/78 58:38/76 56:36/75 55:35/74 54:34/73 52:32/71 50:31/70 48:29/68 46:27/66 45:26/65 44:25/64 42:24/62 40:22/60 39:21/59 36:19/56 35:18/55 32:16/52 30:15/50';

describe('dry and wet ground, NEH 630 chapter 10 (seen)', () => {
  it.each(table.split(' ').map((row) => row.split(/[:/]/).map(Number)))(
    'turns %s into %s and %s, as table 10-1 has it',
    (average, dry, wet) => {
      expect(antecedentCurveNumber(average, 'dry')).toBe(dry);
      expect(antecedentCurveNumber(average, 'wet')).toBe(wet);
      expect(antecedentCurveNumber(average, 'average')).toBe(average);
    },
  );

  it('takes the line between rows: 49 and 71', () => {
    expect(antecedentCurveNumber(49, 'dry')).toBe(30);
    expect(antecedentCurveNumber(49, 'wet')).toBe(69);
    expect(antecedentCurveNumber(71, 'dry')).toBe(52);
    expect(antecedentCurveNumber(71, 'wet')).toBe(85.5);
  });

  it('reproduces examples 10-1 and 10-2: 4.3 in give 1.82, on dry ground 0.65, on wet 3.01 in', () => {
    expect(curveNumber('lawn', 'good', 'C')).toBe(74);
    expect(runOffIn(4.3, 74)).toBeCloseTo(1.82, 2);
    expect(runOffIn(4.3, antecedentCurveNumber(74, 'dry'))).toBeCloseTo(0.65, 2);
    expect(runOffIn(4.3, antecedentCurveNumber(74, 'wet'))).toBeCloseTo(3.01, 2);
  });
});
