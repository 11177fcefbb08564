import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../../lib/elevation/grid';
import { gridBounds, gridCorners } from '../../../../lib/elevation/grid-corners';
import { shade } from '../../../../lib/elevation/picture/shade';
import { localFrame, makeFrame } from '../../../../lib/frame/frame';

function slope(east: number, north: number, size = 9): Grid {
  const z = Float32Array.from(
    { length: size * size },
    (_, i) => 50 + east * (i % size) - north * Math.floor(i / size),
  );
  const frame = localFrame([-77, 38.8]);
  return { width: size, height: size, cellM: 1, westM: -4.5, northM: 4.5, z, datumM: 0, frame };
}

function middle(grid: Grid): number[] {
  const at = 4 * (Math.floor(grid.height / 2) * grid.width + Math.floor(grid.width / 2));
  return Array.from(shade(grid, { exaggeration: 1 }).slice(at, at + 4));
}

describe('shade', () => {
  it('leaves flat ground and no data clear', () => {
    expect(shade(slope(0, 0)).every((value) => value === 0)).toBe(true);
    const grid = slope(0.2, 0.2);
    grid.z[40] = Number.NaN;
    expect(middle(grid)).toEqual([0, 0, 0, 0]);
  });

  it('lays ink on slopes that turn from the north-west and light on those that face it', () => {
    // Rising to the south-east: the slope faces north-west.
    const [facing, away] = [middle(slope(0.3, -0.3)), middle(slope(-0.3, 0.3))];
    expect(away.slice(0, 3)).toEqual([0x15, 0x22, 0x2e]);
    expect(facing.slice(0, 3)).toEqual([0xff, 0xf1, 0xd6]);
    expect(away[3]).toBeGreaterThan(facing[3]);
    expect(middle(slope(-0.5, 0.5))[3]).toBeGreaterThan(away[3]);
    expect(middle(slope(-3, 3))[3]).toBeCloseTo(255 * 0.72, -1);
  });

  it('does not let slopes along the main light go flat', () => {
    for (const grid of [slope(0.4, 0.4), slope(-0.4, -0.4)])
      expect(middle(grid)[3]).toBeGreaterThan(5);
  });

  it('shades beside no data as if the ground went on level', () => {
    const grid = slope(-0.3, 0);
    for (let row = 0; row < 9; row++) grid.z[row * 9 + 5] = Number.NaN;
    expect(middle(grid)[3]).toBeGreaterThan(0);
    expect(middle(grid)[3]).toBeLessThan(middle(slope(-0.3, 0))[3]);
  });

  it('makes gentle ground visible by itself', () => {
    const gentle = shade(slope(-0.01, 0.01));
    expect(gentle[4 * 40 + 3]).toBeGreaterThan(20);
  });
});

describe('gridCorners', () => {
  it('go round from the north-west and lie half a cell outside the outermost centres', () => {
    const grid = slope(0, 0);
    const { toLocal } = makeFrame(grid.frame);
    const expected = [
      [-4.5, 4.5],
      [4.5, 4.5],
      [4.5, -4.5],
      [-4.5, -4.5],
    ];
    gridCorners(grid).forEach((corner, i) => {
      const [x, y] = toLocal(corner);
      expect(x).toBeCloseTo(expected[i][0], 6);
      expect(y).toBeCloseTo(expected[i][1], 6);
    });
    const [west, south, east, north] = gridBounds(grid);
    expect(west).toBeLessThan(east);
    expect(south).toBeLessThan(north);
  });
});
