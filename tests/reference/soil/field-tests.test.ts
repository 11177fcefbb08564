import { describe, expect, it } from 'vitest';
import { designInfiltration } from '../../../lib/soil/design-infiltration';
import { reducePercolation, reduceTest, wettedAreaM2 } from '../../../lib/soil/reduce-test';
import { parsePercolationTime, parseRate } from '../../../lib/units/rate';
import { inPerH, soilTestIn } from '../../unit/soil/soil-test';

describe('field tests', () => {
  // Riverside County, Low Impact Development BMP Design Handbook, appendix A (from memory), recomputed from the geometry.
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

  // Worked by hand: 4 in/h x 4 / (4 + 2 x 11) and 4 in/h / ((24 - 2) / 8 + 1).
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

  // A watershed district's handout (from memory): 1 in in 4 h is 6 in a day, which is plain arithmetic.
  it('give the handout’s day: 1 in in 4 h is 6 in', () => {
    const { steps } = reduceTest(
      soilTestIn([
        [0, 7],
        [240, 6],
      ]).properties,
    );
    expect(steps.at(-1)?.result.value).toBeCloseTo(6 * 0.0254, 12);
  });

  // A garden magazine's rule (from memory): half an inch in an hour is 12 in a day, plain arithmetic too.
  it('give the can’s day: 0.5 in in 1 h is 12 in', () => {
    const { steps } = reduceTest(
      soilTestIn([
        [0, 6],
        [60, 5.5],
      ]).properties,
    );
    expect(steps.at(-1)?.result.value).toBeCloseTo(12 * 0.0254, 12);
  });

  // City of Santa Ana, California, building permit file, document 549205, pp. 52 and 54 (seen): level falls and corrected
  // rates of two borings, safety factor 2.
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
  it('turn a percolation time into a fall of the level', () => {
    const read = parsePercolationTime('5.41 min/in', 'us');
    expect(inPerH((read?.fallM ?? 0) / (read?.timeS ?? 1))).toBeCloseTo(11.09, 2);
  });
});

describe('a percolation test', () => {
  const inchM = 0.0254;
  /** 20 min/in in a hole of 4 in with 6 in of water. */
  const percolation = {
    minutes: 20,
    fall_m: inchM,
    diameter_m: 4 * inchM,
    water_depth_m: 6 * inchM,
  };

  // Worked by hand: pi / 4 x (4 in)^2 + pi x 4 in x 6 in = 12.566 + 75.398 in2.
  it('wets 0.6109 ft2 of a 4 in hole with 6 in of water', () => {
    expect(wettedAreaM2(2 * inchM, 6 * inchM) / 0.3048 ** 2).toBeCloseTo(0.6109, 4);
  });

  // Worked by hand: 3 in/h x 12.566 / 87.965 = 0.4286 in/h; by half the wall 3 / (6 / 2 + 1) = 0.75 in/h.
  it('gives what its bottom took', () => {
    expect(inPerH(reducePercolation(percolation).rateMPerS)).toBeCloseTo(3 / 7, 9);
    expect(inPerH(reducePercolation(percolation, 'reduction-factor').rateMPerS)).toBeCloseTo(
      0.75,
      9,
    );
  });

  it('is divided by the factor for design as any test', () => {
    const design = designInfiltration({ percolation }, []);
    expect(design).toMatchObject({ from: 'tests', factor: 2.5 });
    expect(inPerH(design.rateMPerS)).toBeCloseTo(3 / 7 / 2.5, 9);
    expect(design.notes.join()).toContain('not a rate of infiltration');
  });
});

describe('a slower layer below', () => {
  // The Toronto-area guide's own example (seen): 30 mm/h at the bottom over 12 mm/h below, ratio 2.5, factor 3.5.
  it('gives the guide’s example: 8.6 mm/h for design', () => {
    const atRate = (mmPerH: number, level: 'bottom' | 'below', id: string) =>
      soilTestIn(
        [
          [0, 8],
          [60, 8 - mmPerH / 25.4],
        ],
        { level },
        id,
      );
    const design = designInfiltration({}, [
      atRate(30, 'bottom', 'upper'),
      atRate(12, 'below', 'deeper'),
    ]);
    expect(design.factor).toBe(3.5);
    expect((design.rateMPerS ?? 0) * 3.6e6).toBeCloseTo(8.6, 1);
    expect(design.source?.section).toContain('ratio');
    expect(
      design.steps.find(({ formula }) => formula === '{bottom} ÷ {below}')?.result.value,
    ).toBeCloseTo(2.5, 9);
  });
});
