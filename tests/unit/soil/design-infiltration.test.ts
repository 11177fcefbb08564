import { describe, expect, it } from 'vitest';
import { usualFactor } from '../../../lib/soil/design-factor';
import { designInfiltration } from '../../../lib/soil/design-infiltration';
import { printStep } from '../../../lib/soil/step';
import { inPerH, soilTestIn } from './soil-test';

const one = soilTestIn(
  [
    [0, 8],
    [60, 7],
  ],
  { name: 'by the fence' },
  'a',
);
const four = soilTestIn(
  [
    [0, 8],
    [60, 4],
  ],
  {},
  'b',
);
const unusable = soilTestIn(
  [
    [0, 8],
    [60, 9],
  ],
  { name: 'wet hole' },
  'c',
);
const tight = soilTestIn(
  [
    [0, 8],
    [60, 8],
  ],
  {},
  'd',
);

describe('the design rate', () => {
  it('is unknown while nothing is given', () => {
    const design = designInfiltration(undefined, []);
    expect(design.rateMPerS).toBeNull();
    expect(design.from).toBe('none');
    expect(designInfiltration({}, [soilTestIn([])]).rateMPerS).toBeNull();
  });

  it('takes the first of typed, tests, texture, feel and group', () => {
    const untyped = { usda_texture: 'loam', texture: 'clayey', group: 'A' } as const;
    const typed = designInfiltration({ ...untyped, rate_mm_per_h: 25.4 }, [one]);
    expect([typed.from, typed.factor]).toEqual(['typed', 1]);
    expect(inPerH(typed.rateMPerS)).toBeCloseTo(1, 9);
    expect(designInfiltration(untyped, [one]).from).toBe('tests');
    const loam = designInfiltration(untyped, [unusable]);
    expect([loam.from, inPerH(loam.rateMPerS)]).toEqual(['texture', expect.closeTo(0.3, 9)]);
    const clayey = designInfiltration({ texture: 'clayey', group: 'A' }, []);
    expect([clayey.from, inPerH(clayey.rateMPerS)]).toEqual(['texture', expect.closeTo(0.06, 9)]);
    const groups = (['A', 'B', 'C', 'D'] as const).map((group) =>
      inPerH(designInfiltration({ group }, []).rateMPerS),
    );
    [0.3, 0.15, 0.05, 0].forEach((rate, i) => {
      expect(groups[i]).toBeCloseTo(rate, 9);
    });
  });

  it('divides only what was measured by the factor', () => {
    const usual = designInfiltration({}, [one]);
    expect(inPerH(usual.measuredMPerS)).toBeCloseTo(1, 9);
    expect(inPerH(usual.rateMPerS)).toBeCloseTo(1 / usualFactor, 9);
    expect(usual.source?.title).toContain('safety correction');
    const own = designInfiltration({ safety_factor: 4 }, [one]);
    expect(inPerH(own.rateMPerS)).toBeCloseTo(0.25, 9);
    expect(own.source).toBeNull();
    expect(designInfiltration({ safety_factor: 4, usda_texture: 'loam' }, []).factor).toBe(1);
  });

  it('takes the slowest of several tests, or their geometric mean', () => {
    expect(inPerH(designInfiltration({}, [four, one]).measuredMPerS)).toBeCloseTo(1, 9);
    const mean = designInfiltration({ combine: 'geometric-mean' }, [four, one]);
    expect(inPerH(mean.measuredMPerS)).toBeCloseTo(2, 9);
    expect(mean.steps.map((step) => printStep(step, 'us'))).toEqual([
      {
        words: 'The geometric mean of 2 tests',
        formula: '(4 in/h × 1 in/h)^(1/2)',
        result: '2 in/h',
      },
      { words: 'Divided by the factor for design', formula: '2 in/h ÷ 2.5', result: '0.8 in/h' },
    ]);
  });

  it('is zero in the mean as in the slowest when one test found none', () => {
    for (const combine of ['slowest', 'geometric-mean'] as const) {
      expect(designInfiltration({ combine }, [four, tight]).rateMPerS).toBe(0);
    }
  });

  it('leaves out a test that cannot be used, and says which', () => {
    const design = designInfiltration({}, [unusable, one]);
    expect(inPerH(design.measuredMPerS)).toBeCloseTo(1, 9);
    expect(design.notes[0]).toMatch(
      /^wet hole is left out\. Reading \d: The water has risen\..*choose/,
    );
    expect(design.tests).toHaveLength(2);
  });

  it.each([
    ['typed', { rate_mm_per_h: 20 }],
    ['texture', { usda_texture: 'loam' }],
    ['group', { group: 'B' }],
    ['none', undefined],
  ] as const)('says so too where the rate is %s and no other test stands', (from, soil) => {
    const design = designInfiltration(soil, [unusable]);
    expect(design.from).toBe(from);
    expect(design.notes[0]).toContain('wet hole is left out');
  });

  it('says what a rate of zero means and what to do', () => {
    const typed = designInfiltration({ rate_mm_per_h: 0 }, []);
    expect(typed.notes.join()).toMatch(/rate is zero: .* stays\. Test at other places, or plan/);
    expect(designInfiltration({}, [tight]).notes).toEqual(expect.arrayContaining([...typed.notes]));
  });

  it('takes the slowest texture that tests found where the plan gives none', () => {
    const found = (texture: 'sand' | 'clay-loam') => soilTestIn([], { texture });
    expect(designInfiltration({}, [found('sand'), found('clay-loam')]).soil.texture).toBe(
      'clay-loam',
    );
    expect(designInfiltration({ usda_texture: 'loam' }, [found('sand')]).soil.texture).toBe('loam');
  });

  it('warns of soil that is too fast, too slow, or typed faster than measured', () => {
    const fast = soilTestIn([
      [0, 20],
      [60, 8],
    ]);
    expect(designInfiltration({}, [fast]).notes.join()).toContain('8.3 in/h');
    expect(designInfiltration({ usda_texture: 'clay' }, []).notes.join()).toContain('underdrain');
    expect(designInfiltration({ rate_mm_per_h: 100 }, [one]).notes[0]).toContain('faster than');
  });
});

describe('a slower layer below the bottom', () => {
  const below = (mmPerH: number, name = 'deep hole') =>
    soilTestIn(
      [
        [0, 8],
        [60, 8 - mmPerH / 25.4],
      ],
      { level: 'below', name },
      'below',
    );

  it.each([
    [30, 2.5],
    [25.4, 2.5],
    [25.3, 3.5],
    [6.35, 3.5],
    [6.3, 4.5],
    [3.1, 6.5],
    [1.5, 8.5],
  ])('of %f mm/h under 25.4 mm/h asks for the factor %f', (mmPerH, factor) => {
    const design = designInfiltration({}, [one, below(mmPerH)]);
    expect(design.factor).toBe(factor);
    expect(inPerH(design.rateMPerS)).toBeCloseTo(1 / factor, 9);
    // what the plan says of such a layer counts as a test in it
    expect(designInfiltration({ layer_below_mm_per_h: mmPerH }, [one]).factor).toBe(factor);
  });

  it('counts before a smaller factor of the user’s own, not before a greater one', () => {
    const picked = designInfiltration({ safety_factor: 2 }, [one, below(3.1)]);
    expect(picked.factor).toBe(6.5);
    expect(picked.notes.join()).toContain('by the ratio of the rates 6.5 counts');
    expect(designInfiltration({ safety_factor: 10 }, [one, below(3.1)]).factor).toBe(10);
  });

  it('takes no water where that layer takes none', () => {
    const design = designInfiltration({}, [one, below(0)]);
    expect(design.rateMPerS).toBe(0);
    expect(design.notes.join()).toContain('The layer below takes no water (deep hole)');
  });

  it('asks for the greatest factor while only its depth is known', () => {
    const met = (limiting_layer_m: number) =>
      designInfiltration({}, [
        soilTestIn(
          [
            [0, 8],
            [60, 7],
          ],
          { limiting_layer_m, hole_depth_m: 0.5, name: 'by the fence' },
        ),
      ]);
    expect(met(1.9).factor).toBe(8.5);
    expect(met(1.9).notes.join()).toContain('by the fence met a hard or tight layer');
    expect(met(2.1).factor).toBe(2.5);
  });

  it('stands in for the bottom where nothing was tested there', () => {
    const design = designInfiltration({}, [below(10)]);
    expect(design.factor).toBe(2.5);
    expect((design.rateMPerS ?? 0) * 3.6e6).toBeCloseTo(4, 9);
  });
});
