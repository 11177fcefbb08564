import { describe, expect, it } from 'vitest';
import { workTime } from '../../../lib/handover/building/digging-time';
import { cubicYardM3 } from '../../../lib/units/units';

const dig = { digM3: 10, wheelM3: 0, layM3: 0, plants: 0 };
const crew = { people: 2, wheelM: 10 };

describe('time of digging', () => {
  it('is a range between paid labour and people at home, by soil', () => {
    const clay = workTime(dig, { soil: 'clay' }, crew);
    // 0.46 m3 an hour in clay; half a cubic yard in a day of 6 h
    expect(clay.person_hours[0]).toBeCloseTo(10 / 0.46, 9);
    expect(clay.person_hours[1]).toBeCloseTo((10 / (0.5 * cubicYardM3)) * 6, 9);
    const sand = workTime(dig, { soil: 'sandy soil' }, crew);
    expect(sand.person_hours[0]).toBeCloseTo(10 / 0.66, 9);
    for (const [from, to] of [clay.person_hours, sand.person_hours]) {
      expect(from).toBeLessThan(to);
    }
    expect(clay.tasks[0].quick_source).toMatch(/\(seen\)$/);
    expect(clay.tasks[0].slow_source).toMatch(/\(from memory\)$/);
  });

  it('takes more people fewer days, whole ones', () => {
    const one = workTime(dig, { soil: 'clay' }, { ...crew, people: 1 });
    const four = workTime(dig, { soil: 'clay' }, { ...crew, people: 4 });
    expect(one.days[0]).toBe(4);
    expect(four.days[0]).toBe(1);
    expect(four.person_hours).toEqual(one.person_hours);
  });

  it('grows with the way of the barrow, beyond the table in proportion', () => {
    const wheel = (wheelM: number): number =>
      workTime(
        { digM3: 0, wheelM3: 21.3, layM3: 0, plants: 0 },
        { soil: 'clay' },
        { people: 1, wheelM },
      ).person_hours[0];
    expect(wheel(50)).toBeCloseTo(10, 9);
    expect(wheel(100)).toBeCloseTo(20, 9);
    expect(wheel(15)).toBeLessThan(wheel(25));
  });
});
