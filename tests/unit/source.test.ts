import { describe, expect, it } from 'vitest';
import { bulkingOf } from '../../lib/basin/form/bulking';
import { pondingBySlope } from '../../lib/basin/form/ponding-by-slope';
import { coarseElevation, elevationKinds } from '../../lib/drainage/height-error/error-defaults';
import { planSoil } from '../../lib/soil/plan-soil';
import { designRateTable } from '../../lib/soil/design-rates';
import { ourChoice, practice, source, sourceLine } from '../../lib/source';

describe('a source in one line', () => {
  it('names it, where in it, and how well it is known', () => {
    expect(
      sourceLine({ title: 'A', publisher: 'B', year: 2001, section: 'p. 3', mark: 'seen' }),
    ).toBe('A, B, 2001, p. 3 (seen)');
    expect(sourceLine({ title: 'A', publisher: 'none', year: null, mark: 'from memory' })).toBe(
      'A, undated (from memory)',
    );
  });

  it('is the mark alone where there is none', () => {
    expect(sourceLine(practice)).toBe('common practice, no source');
    expect(sourceLine(ourChoice)).toBe('our choice, no source');
  });
});

describe('the marks', () => {
  it('are one vocabulary, for elevation errors too', () => {
    const marks = source.entries.mark.options;
    expect(marks).toHaveLength(5);
    for (const kind of [...elevationKinds, coarseElevation]) {
      expect(marks).toContain(kind.source.mark);
    }
  });
});

describe('figures and the source they name', () => {
  const within = (text: string): [number, number] => {
    const [, from, to] = /^(\d+) to (\d+) %/.exec(text) ?? [];
    return [Number(from) / 100, Number(to) / 100];
  };

  it.each(['sand', 'loam', 'silt', 'clay'] as const)('swell of %s lies in its range', (texture) => {
    const { swell, swellPublished, swellSource } = bulkingOf(
      planSoil({ usda_texture: texture }, []),
    );
    const [from, to] = within(swellPublished);
    expect(swell).toBeGreaterThanOrEqual(from);
    expect(swell).toBeLessThanOrEqual(to);
    expect(swellSource?.title).toContain('table 4-1');
  });

  it('Minnesota’s rates were read in a copy', () => {
    expect(designRateTable.source).toMatchObject({
      mark: 'seen in a secondary copy',
      publisher: expect.stringContaining('city’s') as string,
    });
  });

  it('slope classes are 5 to 7 and 8 to 12 %, and what they leave open is said', () => {
    expect(pondingBySlope(0.16, 0.06).why).toContain('on ground of 5 to 7 %, and');
    expect(pondingBySlope(0.2, 0.1).why).toContain('on ground of 8 to 12 %, and');
    for (const slope of [0.045, 0.075]) {
      expect(pondingBySlope(0.16, slope).why).toContain('leaves this slope open');
    }
  });
});
