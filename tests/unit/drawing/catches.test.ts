import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { catchAt, type CatchKind } from '../../../lib/drawing/catches';

const house: XY[] = [
  [0, 0],
  [10, 0],
  [10, 6],
  [0, 6],
  [0, 0],
];
const reachM = 0.5;

function at(pointer: XY, corners: XY[] = []): [CatchKind, number, number] | null {
  const found = catchAt(pointer, [house], { corners }, reachM);
  return found === null ? null : [found.kind, ...round(found.at)];
}
function round([x, y]: XY): [number, number] {
  return [x, y].map((value) => Math.round(value * 1e6) / 1e6) as [number, number];
}

describe('what catches a corner', () => {
  it('is the corner, before the edge that it ends', () => {
    expect(at([9.8, 0.3])).toEqual(['corner', 10, 0]);
  });
  it('is the middle of a side', () => {
    expect(at([5.1, 0.2])).toEqual(['middle', 5, 0]);
  });
  it('is an edge, at the nearest place of it', () => {
    expect(at([2.7, 0.2])).toEqual(['edge', 2.7, 0]);
  });
  it('is nothing out of reach', () => {
    expect(at([14, 20])).toBeNull();
  });
  it('is where a way from the last corner comes square onto an edge', () => {
    expect(at([10.1, 2.3], [[14, 2.2]])).toEqual(['square-on', 10, 2.2]);
  });
  it('is the line of an edge, beyond its end', () => {
    expect(at([12.5, 6.1])).toEqual(['in-line', 12.5, 6]);
  });
  it('is the way alongside an edge', () => {
    expect(at([13.3, 4.1], [[13.1, -9]])).toEqual(['parallel', 13.1, 4.1]);
  });
  it('is the right angle to the last side, far from everything', () => {
    const corners: XY[] = [
      [30, 30],
      [34, 33],
    ];
    const found = catchAt([31.1, 37.1], [house], { corners }, reachM);
    expect(found?.kind).toBe('right-angle');
    expect(round(found?.at ?? [0, 0])).toEqual([30.988, 37.016]);
    expect(found?.guides).toHaveLength(1);
  });
  it('is where the right angle crosses the line that is level with a corner', () => {
    const corners: XY[] = [
      [30, 30],
      [30, 38],
      [42, 38],
    ];
    const found = catchAt([42.1, 30.2], [house], { corners }, reachM);
    expect(found).toMatchObject({ kind: 'crossing', of: ['right-angle', 'level'] });
    expect(round(found?.at ?? [0, 0])).toEqual([42, 30]);
    expect(found?.guides).toHaveLength(2);
  });
  it('is not the last corner itself', () => {
    const corner: XY = [30, 30];
    expect(at([30.1, 30], [corner])).toBeNull();
  });
});
