import { describe, expect, it } from 'vitest';
import { blur } from '../../../../lib/elevation/picture/blur';
import { chooseInterval, contours } from '../../../../lib/elevation/picture/contours';
import type { Grid } from '../../../../lib/elevation/grid';
import { localFrame } from '../../../../lib/frame/frame';
import type { XY } from '../../../../lib/frame/frame';

function gridOf(
  width: number,
  height: number,
  cellM: number,
  z: (x: number, y: number) => number,
  datumM = 0,
): Grid {
  const [westM, northM] = [-(width / 2) * cellM, (height / 2) * cellM];
  const values = Float32Array.from({ length: width * height }, (_, i) =>
    z(westM + ((i % width) + 0.5) * cellM, northM - (Math.floor(i / width) + 0.5) * cellM),
  );
  return { width, height, cellM, westM, northM, z: values, datumM, frame: localFrame([0, 50]) };
}

const lengthM = (line: readonly XY[]): number =>
  line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - line[i][0], y - line[i][1]), 0);

describe('contours', () => {
  it('of a plane are straight lines at their elevations, from border to border', () => {
    const grid = gridOf(60, 40, 2, (x) => 10 + 0.1 * x, 90);
    const levels = contours(grid, { intervalM: 1 });
    expect(levels.map(({ elevationM }) => elevationM)).toEqual([
      95, 96, 97, 98, 99, 100, 101, 102, 103, 104, 105,
    ]);
    expect(levels.filter(({ index }) => index).map(({ elevationM }) => elevationM)).toEqual([
      95, 100, 105,
    ]);
    for (const { elevationM, lines } of levels) {
      expect(lines).toHaveLength(1);
      for (const [x] of lines[0]) expect(x).toBeCloseTo((elevationM - 100) / 0.1, 3);
      // From the centre of the first row of cells to that of the last.
      expect(lengthM(lines[0])).toBeCloseTo(39 * 2, 6);
    }
  });

  it('of a cone are closed circles', () => {
    const grid = gridOf(81, 81, 0.5, (x, y) => 20 - Math.hypot(x, y));
    const level = contours(grid, { intervalM: 10, smoothingM: 0 }).find(
      ({ elevationM }) => elevationM === 10,
    )!;
    expect(level.lines).toHaveLength(1);
    const [circle] = level.lines;
    expect(circle[0]).toEqual(circle.at(-1));
    for (const [x, y] of circle) expect(Math.hypot(x, y)).toBeCloseTo(10, 1);
    expect(lengthM(circle)).toBeCloseTo(20 * Math.PI, 0);
  });

  it('end at cells without data and never run along them', () => {
    const plane = gridOf(40, 40, 1, (x) => 30 + x);
    const z = plane.z.slice();
    for (let row = 10; row < 20; row++) for (let c = 15; c < 25; c++) z[row * 40 + c] = Number.NaN;
    const levels = contours({ ...plane, z }, { intervalM: 1, smoothingM: 0 });
    for (const { elevationM, lines } of levels) {
      for (const [x] of lines.flat()) expect(x).toBeCloseTo(elevationM - 30, 6);
    }
    const cut = levels.find(({ elevationM }) => elevationM === 30)!;
    expect(cut.lines).toHaveLength(2);
    // 9 m above the hole and 19 m below it: from the last whole square of four cells to the border.
    expect(cut.lines.map(lengthM).sort((a, b) => a - b)).toEqual([9, 19]);
    const whole = levels.find(({ elevationM }) => elevationM === 20)!;
    expect(whole.lines.map(lengthM)).toEqual([39]);
  });

  it('are few enough to read at the chosen interval', () => {
    for (const reliefM of [0.3, 1, 1.6, 4, 12, 80, 900]) {
      const intervalM = chooseInterval(reliefM);
      expect(reliefM / intervalM).toBeLessThanOrEqual(24);
      expect(reliefM / intervalM).toBeGreaterThan(5);
    }
    expect(chooseInterval(1.6)).toBe(0.1);
    // Whole feet for who has heights in feet.
    expect(chooseInterval(6, 'us') / 0.3048).toBeCloseTo(1, 12);
    expect(chooseInterval(90, 'us') / 0.3048).toBeCloseTo(20, 12);
  });

  it('of nothing are none', () => {
    const empty = gridOf(5, 5, 1, () => Number.NaN);
    expect(contours(empty, { intervalM: 1 })).toEqual([]);
    expect(
      contours(
        gridOf(5, 5, 1, () => 3),
        { intervalM: 1 },
      ),
    ).toEqual([]);
  });
});

describe('blur', () => {
  it('leaves a plane as it is, away from the border', () => {
    const { z, width, height } = gridOf(30, 30, 1, (x, y) => 50 + x + 2 * y);
    const smooth = blur(z, width, height, 2);
    for (let row = 7; row < 23; row++) {
      for (let c = 7; c < 23; c++) expect(smooth[row * 30 + c]).toBeCloseTo(z[row * 30 + c], 4);
    }
  });

  it('keeps no data where it is and does not draw neighbours down', () => {
    const { z, width, height } = gridOf(9, 9, 1, () => 7);
    z[40] = Number.NaN;
    const smooth = blur(z, width, height, 1.5);
    smooth.forEach((value, i) => {
      if (i === 40) expect(value).toBeNaN();
      else expect(value).toBeCloseTo(7, 5);
    });
  });

  it('spreads a spike by the Gaussian', () => {
    const z = new Float32Array(21 * 21);
    z[10 * 21 + 10] = 1;
    const smooth = blur(z, 21, 21, 2);
    expect(smooth.reduce((a, b) => a + b)).toBeCloseTo(1, 3);
    expect(smooth[10 * 21 + 12] / smooth[10 * 21 + 10]).toBeCloseTo(Math.exp(-0.5), 4);
  });
});
