import { describe, expect, it } from 'vitest';
import { designInfiltration } from '../../../lib/soil/design-infiltration';
import { reduceTest } from '../../../lib/soil/reduce-test';
import { parseRate } from '../../../lib/units/rate';
import { inPerH, soilTestIn } from '../../unit/soil/soil-test';

describe('field tests', () => {
  // Riverside County handbook's sample, remembered, and recomputed from the geometry.
  it('give the falling-head sample: r 4 in, 47.75 to 46.25 in in 10 min, 0.367 in/h', () => {
    const test = soilTestIn(
      [
        [0, 47.75],
        [10, 46.25],
      ],
      { method: 'borehole', diameter_m: 8 * 0.0254 },
    );
    const { rateMPerS, fallMPerS, corrected } = reduceTest(test.properties);
    expect(inPerH(fallMPerS)).toBeCloseTo(9, 9);
    expect(inPerH(rateMPerS)).toBeCloseTo(0.367, 3);
    // The same readings by the reduction factor, 12.75 (recomputed).
    expect(inPerH(corrected?.['reduction-factor'])).toBeCloseTo(0.706, 3);
    expect(9 / inPerH(corrected?.['reduction-factor'])).toBeCloseTo(12.75, 9);
  });

  // Recomputed from the formulas.
  it('give the shallow hole: r 4 in, 12 to 10 in in 30 min, 0.615 and 1.067 in/h', () => {
    const test = soilTestIn(
      [
        [0, 12],
        [30, 10],
      ],
      { method: 'borehole', diameter_m: 8 * 0.0254 },
    );
    expect(inPerH(reduceTest(test.properties, 'falling-head').rateMPerS)).toBeCloseTo(0.615, 3);
    expect(inPerH(reduceTest(test.properties, 'reduction-factor').rateMPerS)).toBeCloseTo(1.067, 3);
  });

  // A watershed district's handout (seen): 1 in in 4 h is 6 in a day.
  it('give the handout’s day: 1 in in 4 h is 6 in', () => {
    const { steps } = reduceTest(
      soilTestIn([
        [0, 7],
        [240, 6],
      ]).properties,
    );
    expect(steps.at(-1)?.result.value).toBeCloseTo(6 * 0.0254, 12);
  });

  // Garden-press summary (seen): half an inch in an hour is 12 in a day.
  it('give the can’s day: 0.5 in in 1 h is 12 in', () => {
    const { steps } = reduceTest(
      soilTestIn([
        [0, 6],
        [60, 5.5],
      ]).properties,
    );
    expect(steps.at(-1)?.result.value).toBeCloseTo(12 * 0.0254, 12);
  });

  // Santa Ana permit file (seen): level falls and corrected rates of two borings, safety factor 2.
  it.each([
    ['PC-1', 7.19, 0.842, 0.421],
    ['PC-2', 14.97, 1.3585, 0.679],
  ])('give the permit file’s rate for design of %s', (name, fall, corrected, forDesign) => {
    // The file gives no depths; that which its two rates imply is put in: fall / rate = 1 + 2 h / r.
    const radiusIn = 4;
    const meanIn = ((fall / corrected - 1) * radiusIn) / 2;
    const dropIn = fall / 60;
    const test = soilTestIn(
      [
        [0, meanIn + dropIn / 2],
        [1, meanIn - dropIn / 2],
      ],
      { name, method: 'borehole', diameter_m: 2 * radiusIn * 0.0254 },
    );
    const design = designInfiltration({ safety_factor: 2 }, [test]);
    expect(inPerH(design.tests[0].reduced.fallMPerS)).toBeCloseTo(fall, 9);
    expect(inPerH(design.measuredMPerS)).toBeCloseTo(corrected, 9);
    expect(inPerH(design.rateMPerS)).toBeCloseTo(forDesign, 3);
  });
});

describe('units of rates', () => {
  // The same permit file (seen) prints both columns.
  it.each([
    ['7.19 in/h', 0.507e-4],
    ['14.97 in/h', 1.056e-4],
    ['0.1199 in/min', 0.507e-4],
  ])('%s is %f m/s', (text, mPerS) => {
    expect(Math.abs(parseRate(text, 'us') / mPerS - 1)).toBeLessThan(0.0012);
  });

  // 11.08 in/h, 'about 5.41 minutes to percolate 1 inch': in/h = 60 / (min per in).
  it('turn a percolation time into a rate', () => {
    expect(inPerH(parseRate('5.41 min/in', 'us'))).toBeCloseTo(11.09, 2);
    expect(inPerH(parseRate('20 min/in', 'metric'))).toBeCloseTo(3, 9);
    expect(inPerH(parseRate('60 min/in', 'metric'))).toBeCloseTo(1, 9);
  });
});
