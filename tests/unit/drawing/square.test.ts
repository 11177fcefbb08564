import { describe, expect, it } from 'vitest';
import type { XY } from '../../../lib/frame/frame';
import { closedSquare, heldSquare, outOf, rectangleOn } from '../../../lib/drawing/square';

function close(a: readonly XY[], b: readonly XY[]): void {
  expect(a.length).toBe(b.length);
  a.forEach(([x, y], i) => {
    expect(x).toBeCloseTo(b[i][0], 9);
    expect(y).toBeCloseTo(b[i][1], 9);
  });
}

describe('right angles', () => {
  it('a rectangle stands on the right of its side, or on the left with a width below zero', () => {
    close(rectangleOn([0, 0], [0, 4], 3), [
      [0, 0],
      [0, 4],
      [3, 4],
      [3, 0],
    ]);
    expect(rectangleOn([0, 0], [0, 4], -3)[2][0]).toBeCloseTo(-3, 12);
    expect(outOf([0, 0], [0, 4], [2, 9])).toBeCloseTo(2, 12);
  });

  it('held, the pointer keeps to the square of the last side or goes straight on', () => {
    close([heldSquare([0, 0], [0, 8], [5, 8.7])], [[5, 8]]);
    close([heldSquare([0, 0], [0, 8], [0.4, 12])], [[0, 12]]);
  });
});

describe('closing square', () => {
  it('puts in the fourth corner of a rectangle', () => {
    const closed = closedSquare([
      [0, 0],
      [0, 8.35],
      [12.4, 8.35],
    ]);
    close(closed?.corners ?? [], [
      [0, 0],
      [0, 8.35],
      [12.4, 8.35],
      [12.4, 0],
    ]);
    close([closed?.sidesM as unknown as XY], [[8.35, 12.4]]);
  });

  it('lengthens a last side that runs as the first one does', () => {
    const closed = closedSquare([
      [0, 0],
      [0, 8.35],
      [12.4, 8.35],
      [12.4, 3.15],
    ]);
    close(closed?.corners ?? [], [
      [0, 0],
      [0, 8.35],
      [12.4, 8.35],
      [12.4, 0],
    ]);
  });

  it('closes an outline round a corner', () => {
    const closed = closedSquare([
      [0, 0],
      [0, 6],
      [4, 6],
      [4, 3],
      [9, 3],
    ]);
    close(closed?.corners.slice(-1) ?? [], [[9, 0]]);
  });

  it('is not offered where it would give no side', () => {
    expect(
      closedSquare([
        [0, 0],
        [0, 6],
      ]),
    ).toBeNull();
    expect(
      closedSquare([
        [0, 0],
        [0, 6],
        [0.001, 9],
      ]),
    ).toBeNull();
  });
});
