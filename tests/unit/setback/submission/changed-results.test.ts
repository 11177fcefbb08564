import { describe, expect, it } from 'vitest';
import type { LotFindings } from '../../../../lib/setback/judge/check-lot';
import type { SetbackFindings, SetbackResult } from '../../../../lib/setback/judge/setback-result';
import { changedResults } from '../../../../lib/setback/submission/changed-results';
import { movedWords, resultWords } from '../../../../lib/setback/submission/since-last';

const noLot = { results: [] } as unknown as LotFindings;

/** Findings with only what a comparison looks at. */
function findings(...rows: readonly Partial<SetbackResult>[]): {
  findings: SetbackFindings;
  lot: LotFindings;
} {
  const results = rows.map((row) => ({
    rule: 'foundation',
    title: 'Building foundation',
    basin: 'basin',
    feature: 'house',
    feature_name: 'House',
    binding: 'must',
    result: 'pass',
    measured_m: null,
    ...row,
  }));
  return { findings: { results } as unknown as SetbackFindings, lot: noLot };
}

describe('changedResults', () => {
  it('tells which rules answer otherwise, what got worse first and binding ones before others', () => {
    const { results, measured } = changedResults(
      findings(
        { feature: 'a', result: 'fail' },
        { feature: 'b', result: 'pass' },
        { feature: 'c', result: 'pass', binding: 'should' },
        { feature: 'd', result: 'check' },
        { feature: 'e', result: 'pass', measured_m: 4 },
        { feature: 'f', result: 'pass', measured_m: 4 },
      ),
      findings(
        { feature: 'a', result: 'pass' },
        { feature: 'b', result: 'fail' },
        { feature: 'c', result: 'fail', binding: 'should' },
        { feature: 'e', result: 'pass', measured_m: 4.0001 },
        { feature: 'f', result: 'pass', measured_m: 4.002 },
        { feature: 'g', result: 'check' },
      ),
    );
    expect(results.map(({ feature, from, to }) => [feature, from, to])).toEqual([
      ['b', 'pass', 'fail'],
      ['c', 'pass', 'fail'],
      ['g', null, 'check'],
      ['d', 'check', null],
      ['a', 'fail', 'pass'],
    ]);
    expect(measured.map(({ feature }) => feature)).toEqual(['f']);
  });

  it('keeps apart what concerns no feature by what it is about', () => {
    const about = (name: string, result: 'pass' | 'check') =>
      ({ feature: null, feature_name: name, result }) as const;
    const { results } = changedResults(
      findings(about('rock', 'check'), about('the water table', 'check')),
      findings(about('rock', 'check'), about('the water table', 'pass')),
    );
    expect(results.map(({ feature_name }) => feature_name)).toEqual(['the water table']);
  });

  it('is told in words with the lengths of both', () => {
    const words = resultWords(
      changedResults(
        findings({ result: 'pass', measured_m: 7.6 }),
        findings({ result: 'fail', measured_m: 0.4 }),
      ),
      'metric',
    );
    expect(words).toEqual([
      'Building foundation, House: ✓ meets (7.60 m) → ✕ fails (40 cm); must.',
    ]);
  });
});

describe('movedWords', () => {
  it('tells properties with their units, and no coordinates', () => {
    const property = (name: string, from: unknown, to: unknown) => ({ property: name, from, to });
    const [words] = movedWords(
      {
        settings: [],
        features: [
          {
            feature: 'basin',
            feature_name: 'Rain garden',
            kind: 'basin',
            change: 'changed',
            moved_m: 3.21,
            bearing_deg: 90,
            kept_shape: true,
            farthest_m: 3,
            size: null,
            properties: [
              property('ponding_depth_m', 0.15, 0.2),
              property('overflow', null, [-87.1, 42.5]),
              property('name', 'Bowl', 'Rain garden'),
            ],
          },
        ],
      },
      'metric',
    );
    expect(words).toBe(
      'Rain garden (basin): moved by 3.210 m to the east; ponding depth 15 cm → 20 cm; overflow given; name Bowl → Rain garden.',
    );
  });
});
