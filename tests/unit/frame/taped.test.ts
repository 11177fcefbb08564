import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { nearestAlong, placeAlong, taped } from '../../../lib/frame/taped';

const corner: XY[] = [
  [0, 0],
  [3, 0],
  [3, 4],
];

describe('a tape', () => {
  it('measures each leg and the run so far', () => {
    expect(taped(corner, false)).toEqual({
      legsM: [3, 4],
      runningM: [0, 3, 7],
      totalM: 7,
      areaM2: null,
      crosses: false,
    });
  });

  it('closed encloses an area, and is as long as the way round', () => {
    const round = taped(corner, true);
    expect(round.areaM2).toBeCloseTo(6, 12);
    expect(round.totalM).toBeCloseTo(12, 12);
    expect(round.legsM).toHaveLength(3);
  });

  it('that crosses itself encloses none', () => {
    const eight: XY[] = [
      [0, 0],
      [4, 4],
      [4, 0],
      [0, 4],
    ];
    expect(taped(eight, true)).toMatchObject({ areaM2: null, crosses: true });
    expect(taped(eight, false).crosses).toBe(false);
  });

  it('of one point or none measures nothing, closed or not', () => {
    expect(taped([], true)).toMatchObject({ legsM: [], runningM: [], totalM: 0, areaM2: null });
    expect(taped([[2, 2]], true)).toMatchObject({ legsM: [], runningM: [0], totalM: 0 });
    expect(taped(corner.slice(0, 2), true)).toMatchObject({ totalM: 3, areaM2: null });
  });
});

it('finds the place so far along a line, and its ends beyond it', () => {
  expect(placeAlong(corner, 5)).toEqual([3, 2]);
  expect(placeAlong(corner, -1)).toEqual([0, 0]);
  expect(placeAlong(corner, 99)).toEqual([3, 4]);
});

it('finds how far along a line another place lies, and how far off', () => {
  expect(nearestAlong(corner, [4, 2])).toEqual({ alongM: 5, awayM: 1 });
  const places = [0, 1.3, 3, 4.5, 7];
  for (const alongM of places) {
    const found = nearestAlong(corner, placeAlong(corner, alongM));
    expect(found.alongM).toBeCloseTo(alongM, 12);
    expect(found.awayM).toBeCloseTo(0, 12);
  }
});
