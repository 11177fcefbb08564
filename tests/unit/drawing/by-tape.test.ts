import { describe, expect, it } from 'vitest';
import { alongAndOut, tapesFault, twoTapes } from '../../../lib/drawing/by-tape';

describe('two tapes', () => {
  it('meet where the closed form of a 3-4-5 triangle has it, on both sides', () => {
    const met = twoTapes({ from: [0, 0], lengthM: 3 }, { from: [5, 0], lengthM: 4 });
    if (!met.meet) throw new Error('They meet');
    const [left, right] = met.crossings;
    expect(left[0]).toBeCloseTo(1.8, 12);
    expect(left[1]).toBeCloseTo(2.4, 12);
    expect(right[1]).toBeCloseTo(-2.4, 12);
  });

  it('that miss each other say by how much, in the units of the plan', () => {
    const short = twoTapes({ from: [0, 0], lengthM: 3 }, { from: [5, 0], lengthM: 1.6 });
    expect(short).toMatchObject({ meet: false, why: 'short' });
    expect(tapesFault(short, 'metric')).toContain('40 cm is missing');
    const long = twoTapes({ from: [0, 0], lengthM: 9 }, { from: [5, 0], lengthM: 2 });
    expect(tapesFault(long, 'metric')).toContain('2.00 m past');
    expect(tapesFault(long, 'us')).toContain('6 ft 7 in past');
    const same = twoTapes({ from: [5, 0], lengthM: 9 }, { from: [5, 0], lengthM: 2 });
    expect(tapesFault(same, 'us')).toContain('same place');
  });

  it('that miss by less than a tape is read to just touch', () => {
    const met = twoTapes({ from: [0, 0], lengthM: 3 }, { from: [0, 5], lengthM: 1.996 });
    if (!met.meet) throw new Error('They meet');
    expect(met.crossings[0][0]).toBeCloseTo(0, 12);
    expect(met.crossings[0][1]).toBeCloseTo(3.0015984, 6);
    expect(tapesFault(met, 'metric')).toBeNull();
  });
});

describe('along a wall and square out', () => {
  it('goes out to the right of the way', () => {
    // North along the wall, so east is right.
    expect(alongAndOut([10, 20], [10, 30], 6.2, 1.5)).toEqual([11.5, 26.2]);
    expect(alongAndOut([10, 20], [10, 30], -1, -2)).toEqual([8, 19]);
  });
});
