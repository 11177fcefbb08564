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
    expect(designInfiltration({}, [tight]).notes).toEqual(typed.notes);
  });

  it('takes the slowest texture that tests found where the plan gives none', () => {
    const found = (texture: 'sand' | 'clay-loam') => soilTestIn([], { texture });
    expect(designInfiltration({}, [found('sand'), found('clay-loam')]).texture).toBe('clay-loam');
    expect(designInfiltration({ usda_texture: 'loam' }, [found('sand')]).texture).toBe('loam');
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
