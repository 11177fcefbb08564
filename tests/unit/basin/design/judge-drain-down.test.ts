import { describe, expect, it } from 'vitest';
import {
  drainVerdict,
  hoursText,
  judgeDrainDown,
  type DrainTimes,
} from '../../../../lib/basin/design/judge-drain-down';

const times = (
  afterRainH: number | null,
  fromFullH: number | null,
  rateKnown = true,
): DrainTimes => ({
  afterRainH,
  fromFullH,
  followedH: 192,
  rateKnown,
});

describe('judging how long water stands', () => {
  it('by the longer of the two times, against 48 h where the plan gives none', () => {
    expect(judgeDrainDown(times(3, 20), {})).toMatchObject({
      result: 'pass',
      judgedH: 20,
      limitH: 48,
      isLocal: false,
    });
    expect(judgeDrainDown(times(3, 48.1), {})).toMatchObject({ result: 'fail', judgedH: 48.1 });
    expect(judgeDrainDown(times(50, 20), {}).result).toBe('fail');
  });

  it('by what was filled and drained, whatever depth over rate comes to: pores and drains take some', () => {
    expect(drainVerdict(40, 48, { fastestH: 50 })).toBe('pass');
    expect(drainVerdict(undefined, 48, { fastestH: 50 })).toBe('fail');
    expect(drainVerdict(Infinity, 48, { fastestH: 40 })).toBe('check');
  });

  it('against the local limit where there is one', () => {
    expect(judgeDrainDown(times(3, 60), { drain_limit_h: 72 })).toMatchObject({
      result: 'pass',
      limitH: 72,
      isLocal: true,
      source: null,
    });
    expect(judgeDrainDown(times(3, 30), { drain_limit_h: 24 }).result).toBe('fail');
  });

  it('tells each published limit with its source', () => {
    const { against } = judgeDrainDown(times(3, 60), {});
    expect(against.map(({ limit, result }) => [limit.hours, result])).toEqual([
      [24, 'fail'],
      [48, 'fail'],
      [72, 'pass'],
    ]);
    for (const { limit } of against) expect(limit.source.mark).toBe('seen');
  });

  it('by a table’s rate fails only where the most that such soils take is too slow as well', () => {
    const byTable = (fastestH: number, fromFullH: number | null = 60) =>
      judgeDrainDown({ ...times(3, fromFullH), fastestH }, {});
    expect(byTable(15)).toMatchObject({ result: 'check', judgedH: 60 });
    expect(byTable(15).why).toContain('by the least that such soils take');
    expect(byTable(15).against.map(({ result }) => result)).toEqual(['check', 'check', 'pass']);
    expect(byTable(50).result).toBe('fail');
    expect(byTable(15, null).result).toBe('check');
    expect(byTable(15, 20).result).toBe('pass');
    // a soil map is no test
    expect(judgeDrainDown({ ...times(3, 20), fastestH: 2, byMap: true }, {}).result).toBe('check');
  });

  it('never passes on soil that nobody knows', () => {
    const judged = judgeDrainDown(times(0, 0, false), {});
    expect(judged.result).toBe('check');
    expect(judged.judgedH).toBeNull();
    expect(judged.against.every(({ result }) => result === 'check')).toBe(true);
    expect(judged.why).toContain('Dig a hole');
  });

  it('fails what still stands when the time looked at is over, and says how long that was', () => {
    const judged = judgeDrainDown(times(null, 30), { drain_limit_h: 200 });
    expect(judged.result).toBe('fail');
    expect(judged.why).toBe(
      'Water still stands after 8 days; the limit is 8.3 days. Mosquitoes need 7 to 12 days of it.',
    );
  });

  it('says what to aim for when it is within the limit but above 24 h', () => {
    expect(judgeDrainDown(times(0, 30), {}).why).toBe(
      'No water stands when the rain is over, and 30 h after it was full; the limit is 48 h, 24 h better.',
    );
    expect(judgeDrainDown(times(2.25, 20), {}).why).toBe(
      'The surface is empty 2.3 h after the rain, and 20 h after it was full; the limit is 48 h.',
    );
  });

  it('speaks of the thaw where that is what brings the water', () => {
    const why = (afterH: number) => judgeDrainDown({ ...times(afterH, 20), event: 'thaw' }, {}).why;
    expect(why(0)).toContain('when the thaw is over, and');
    expect(why(2)).toContain('2 h after the thaw, and');
  });

  it('writes hours as people say them', () => {
    expect([0.5, 1, 9.96, 30.4, 96, 168].map(hoursText)).toEqual([
      '30 min',
      '1 h',
      '10 h',
      '30 h',
      '4 days',
      '7 days',
    ]);
  });
});
