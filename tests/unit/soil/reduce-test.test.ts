import { describe, expect, it } from 'vitest';
import { reduceTest } from '../../../lib/soil/reduce-test';
import { printStep } from '../../../lib/soil/step';
import { testProblems } from '../../../lib/soil/test-problems';
import { inPerH, soilTestIn } from './soil-test';

describe('a test’s figures', () => {
  it('are silent while there are none', () => {
    expect(testProblems(soilTestIn([]).properties)).toEqual([]);
    expect(reduceTest(soilTestIn([]).properties).rateMPerS).toBeNull();
  });

  it.each([
    ['one reading', [[0, 6]], {}, null, 'One reading'],
    [
      'a borehole without a diameter',
      [
        [0, 6],
        [10, 5],
      ],
      { method: 'borehole' },
      null,
      'diameter',
    ],
    [
      'water that rises',
      [
        [0, 6],
        [10, 5],
        [20, 5.5],
      ],
      {},
      2,
      'has risen',
    ],
    [
      'times that stand still',
      [
        [0, 6],
        [10, 5],
        [10, 4],
      ],
      {},
      2,
      'not later',
    ],
    [
      'times that go back',
      [
        [0, 6],
        [10, 5],
        [5, 4],
      ],
      {},
      2,
      'not later',
    ],
    [
      'more water than hole',
      [
        [0, 12],
        [10, 11],
      ],
      { hole_depth_m: 0.2 },
      0,
      'more water than the hole',
    ],
    [
      'a dry start',
      [
        [0, 0],
        [10, 0],
      ],
      {},
      0,
      'no water in the hole',
    ],
  ] as const)('stop at %s', (_, readings, properties, row, words) => {
    const test = soilTestIn(readings, properties).properties;
    const stopping = testProblems(test).filter(({ stops }) => stops);
    expect(stopping.some((each) => each.row === row && each.text.includes(words))).toBe(true);
    expect(reduceTest(test).rateMPerS).toBeNull();
  });

  it('are doubted, but used, when they are very deep or very slow', () => {
    const test = soilTestIn([
      [0, 150],
      [5000, 140],
    ]).properties;
    expect(testProblems(test).map(({ row, stops }) => [row, stops])).toEqual([
      [0, false],
      [1, false],
      [1, false],
    ]);
    expect(reduceTest(test).rateMPerS).toBeGreaterThan(0);
  });
});

describe('a reading out of turn', () => {
  it('is told once, without guessing at its water', () => {
    const test = soilTestIn([
      [0, 6],
      [30, 4],
      [20, 5],
    ]).properties;
    expect(testProblems(test).map(({ row }) => row)).toEqual([2]);
  });
});

describe('the rate of a test', () => {
  it('is that of the last interval', () => {
    const { rateMPerS, interval, notes } = reduceTest(
      soilTestIn([
        [0, 8],
        [15, 6],
        [30, 5],
        [45, 4.5],
      ]).properties,
    );
    expect(inPerH(rateMPerS)).toBeCloseTo(2, 9);
    expect(interval).toEqual([2, 3]);
    expect(notes[0]).toBe(
      'The rate was not steady: the last interval is 50 % slower than the one before. Go on until they agree within a tenth.',
    );
  });

  it('is not steady when it changes by more than a tenth', () => {
    const said = (third: number): string =>
      reduceTest(
        soilTestIn([
          [0, 8],
          [15, 7],
          [30, 7 - third],
        ]).properties,
      ).notes.join();
    expect(said(0.85)).toContain('15 % slower');
    expect(said(1.15)).toContain('15 % faster');
    expect(said(0.92)).not.toContain('steady');
  });

  it('is called steady by saying nothing', () => {
    const { notes } = reduceTest(
      soilTestIn([
        [0, 8],
        [15, 7],
        [30, 6.02],
      ]).properties,
    );
    expect(notes.join()).not.toContain('steady');
  });

  it('does not take an empty hole for a tight one', () => {
    const { rateMPerS, interval, notes } = reduceTest(
      soilTestIn([
        [0, 6],
        [30, 3],
        [60, 0],
        [90, 0],
        [120, 0],
      ]).properties,
    );
    expect(inPerH(rateMPerS)).toBeCloseTo(6, 9);
    expect(interval).toEqual([1, 2]);
    expect(notes[0]).toContain('ran dry');
  });

  it('is zero, in a sentence, where the water does not fall', () => {
    for (const method of ['hole', 'ring', 'borehole'] as const) {
      const { rateMPerS, notes } = reduceTest(
        soilTestIn(
          [
            [0, 6],
            [30, 6],
          ],
          { method, diameter_m: 0.2 },
        ).properties,
      );
      expect(rateMPerS).toBe(0);
      expect(notes[0]).toContain('the rate is zero');
    }
  });

  it('of a borehole is the slower correction unless the plan says otherwise', () => {
    const test = soilTestIn(
      [
        [0, 12],
        [30, 10],
      ],
      { method: 'borehole', diameter_m: 0.2 },
    ).properties;
    const slower = reduceTest(test);
    const faster = reduceTest(test, 'reduction-factor');
    expect(slower.rateMPerS).toBe(slower.corrected?.['falling-head']);
    expect(faster.rateMPerS).toBe(slower.corrected?.['reduction-factor']);
    expect(slower.rateMPerS).toBeLessThan(faster.rateMPerS ?? 0);
  });

  it('of a dug hole has the wall’s share taken off, as a borehole’s', () => {
    const readings = [
      [0, 7],
      [60, 6],
    ] as const;
    const dug = reduceTest(soilTestIn(readings, { method: 'hole', diameter_m: 0.2032 }).properties);
    const bored = reduceTest(
      soilTestIn(readings, { method: 'borehole', diameter_m: 0.2032 }).properties,
    );
    expect(inPerH(dug.rateMPerS)).toBeCloseTo(4 / (4 + 13), 9);
    expect(dug.rateMPerS).toBe(bored.rateMPerS);
    expect(dug.notes.join()).toContain('screening test');
  });

  it('of a dug hole without a diameter is that of the narrowest, and says so', () => {
    const dug = (diameter_m?: number) =>
      reduceTest(
        soilTestIn(
          [
            [0, 7],
            [60, 6],
          ],
          { method: 'hole', ...(diameter_m === undefined ? {} : { diameter_m }) },
        ).properties,
      );
    expect(dug().rateMPerS).toBe(dug(0.1).rateMPerS);
    expect(dug().rateMPerS).toBeLessThan(dug(0.2).rateMPerS ?? 0);
    expect(dug().notes.join()).toContain('diameter is not given');
    expect(dug(0.1).notes.join()).not.toContain('diameter is not given');
  });

  it('of a ring has no wall to take off', () => {
    const ring = reduceTest(
      soilTestIn(
        [
          [0, 4],
          [60, 3],
        ],
        { method: 'ring', diameter_m: 0.3 },
      ).properties,
    );
    expect(ring.corrected).toBeNull();
    expect(inPerH(ring.rateMPerS)).toBeCloseTo(1, 9);
  });
});

describe('the arithmetic on paper', () => {
  const { steps } = reduceTest(
    soilTestIn(
      [
        [0, 12],
        [30, 10],
      ],
      { method: 'borehole', diameter_m: 0.2032 },
    ).properties,
  );

  it('has the numbers in it, in the user’s units', () => {
    const us = steps.map((step) => printStep(step, 'us'));
    expect(us.map(({ formula, result }) => `${formula} = ${result}`)).toEqual([
      '12 in − 10 in = 2 in',
      '30 min − 0 min = 30 min',
      '2 in ÷ 30 min = 4 in/h',
      '(12 in + 10 in) ÷ 2 = 11 in',
      '4 in/h × 4 in ÷ (4 in + 2 × 11 in) = 0.615 in/h',
      '(2 × 12 in − 2 in) ÷ 8 in + 1 = 3.75',
      '4 in/h ÷ 3.75 = 1.07 in/h',
      '0.615 in/h × 24 h = 14.77 in',
    ]);
    expect(printStep(steps[2], 'metric')).toEqual({
      words: 'The level fell at',
      formula: '50.8 mm ÷ 30 min',
      result: '102 mm/h',
    });
  });
});
