import { describe, expect, it } from 'vitest';
import { grownSharp, joined, splitBy } from '../../../lib/drawing/areas';
import { besideLine } from '../../../lib/drawing/beside-line';
import { withSideLength } from '../../../lib/drawing/side-length';
import { areaM2, boundsOf } from '../../../lib/frame/shapes';
import type { XY } from '../../../lib/frame/frame';

const house: XY[] = [
  [0, 0],
  [10, 0],
  [10, 6],
  [0, 6],
];

describe('areas', () => {
  it('grown keep their corners: eaves of 45 cm', async () => {
    const [eaves] = await grownSharp([house], 0.45);
    expect(eaves[0]).toHaveLength(4);
    expect(boundsOf(eaves[0])).toEqual({ west: -0.45, south: -0.45, east: 10.45, north: 6.45 });
  });

  it('drawn in too far are none', async () => {
    expect(await grownSharp([house], -3.1)).toEqual([]);
    expect(areaM2((await grownSharp([house], -1))[0])).toBeCloseTo(32, 9);
  });

  it('are cut by a line from side to side, and left alone by one that ends inside', async () => {
    const line: XY[] = [
      [4, -1],
      [4, 7],
    ];
    expect((await splitBy([house], line)).map(areaM2)).toEqual([36, 24]);
    expect(await splitBy([house], [line[0], [4, 3]])).toEqual([[house]]);
  });

  it('are cut beside their holes', async () => {
    const hole: XY[] = [
      [1, 1],
      [2, 1],
      [2, 2],
      [1, 2],
    ];
    const pieces = await splitBy(
      [house, hole],
      [
        [4, -1],
        [4, 7],
      ],
    );
    expect(pieces.map(areaM2)).toEqual([36, 23]);
    expect(pieces[1]).toHaveLength(2);
  });

  it('join along an edge that rounding has parted, without corners left on it', async () => {
    const annexe: XY[] = [
      [10.0001, 0.00005],
      [14, 0],
      [14, 6],
      [9.9999, 6],
    ];
    const whole = await joined([[house], [annexe]]);
    expect(whole).toHaveLength(1);
    expect(whole[0]).toHaveLength(1);
    expect(whole[0][0]).toHaveLength(4);
    expect(areaM2(whole[0])).toBeCloseTo(84, 2);
  });

  it('that lie apart stay apart', async () => {
    const shed = house.map(([x, y]): XY => [x + 20, y]);
    expect(await joined([[house], [shed]])).toHaveLength(2);
  });
});

describe('a line beside a line', () => {
  it('keeps to its right with sharp corners', () => {
    expect(
      besideLine(
        [
          [0, 0],
          [0, 5],
          [5, 5],
        ],
        1,
      ),
    ).toEqual([
      [1, 0],
      [1, 4],
      [5, 4],
    ]);
  });
});

describe('a length typed on a side', () => {
  it('takes the next wall of a rectangle along', () => {
    expect(withSideLength(house, 0, 12, 'end', true)).toEqual([
      [0, 0],
      [12, 0],
      [12, 6],
      [0, 6],
    ]);
    expect(withSideLength(house, 0, 12, 'start', true)).toEqual([
      [-2, 0],
      [10, 0],
      [10, 6],
      [-2, 6],
    ]);
    expect(withSideLength(house, 3, 5, 'end', true)).toEqual([
      [0, 1],
      [10, 1],
      [10, 6],
      [0, 6],
    ]);
  });

  it('moves a corner of a triangle alone, and all beyond it on a line', () => {
    const triangle: XY[] = [
      [0, 0],
      [4, 0],
      [0, 3],
    ];
    expect(withSideLength(triangle, 0, 6, 'end', true)).toEqual([
      [0, 0],
      [6, 0],
      [0, 3],
    ]);
    expect(withSideLength(triangle, 0, 6, 'end', false)).toEqual([
      [0, 0],
      [6, 0],
      [2, 3],
    ]);
    expect(withSideLength(triangle, 0, 6, 'start', false)).toEqual([
      [-2, 0],
      [4, 0],
      [0, 3],
    ]);
  });
});
