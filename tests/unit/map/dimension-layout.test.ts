import { describe, expect, it } from 'vitest';
import { layDimensions, type PlacedDimension } from '../../../src/app/map/overlay/dimension-layout';
import { fitPadding } from '../../../src/app/map/overlay/fit-padding';
import { scaleBar } from '../../../src/app/map/overlay/scale-bar';
import type { ScreenXY } from '../../../src/app/map/layers/screen-xy';

const basin: ScreenXY[] = Array.from({ length: 41 }, (_, i) => {
  const turn = (i / 40) * 2 * Math.PI;
  return [400 + 60 * Math.cos(turn), 300 + 40 * Math.sin(turn)];
});

/** Corners of a label's box. */
function corners({ at, turnDeg }: PlacedDimension, widthPx: number): ScreenXY[] {
  const turn = (turnDeg * Math.PI) / 180;
  return [-0.5, 0.5].flatMap((along) =>
    [-6, 6].map((across): ScreenXY => [
      at[0] + along * widthPx * Math.cos(turn) - across * Math.sin(turn),
      at[1] + along * widthPx * Math.sin(turn) + across * Math.cos(turn),
    ]),
  );
}

function isInBasin([x, y]: ScreenXY): boolean {
  return ((x - 400) / 60) ** 2 + ((y - 300) / 40) ** 2 < 1;
}

describe('layDimensions', () => {
  it('writes along a line that is long enough, readable from below', () => {
    const [place] = layDimensions(
      [{ id: 'a', from: [300, 100], to: [100, 120], labelWidthPx: 80 }],
      [basin],
      800,
      600,
    );
    expect(place.leader).toBeNull();
    expect(Math.abs(place.turnDeg)).toBeLessThan(90);
    expect(place.at[0]).toBeCloseTo(200, -1);
  });

  it('keeps labels of short dimensions off the basin', () => {
    const ways: [ScreenXY, ScreenXY][] = [
      [
        [460, 300],
        [480, 300],
      ],
      [
        [340, 300],
        [322, 296],
      ],
      [
        [400, 340],
        [402, 356],
      ],
      [
        [400, 260],
        [396, 238],
      ],
    ];
    const placed = layDimensions(
      ways.map(([from, to], i) => ({ id: `d${i}`, from, to, labelWidthPx: 96 })),
      [basin],
      800,
      600,
    );
    expect(placed).toHaveLength(4);
    for (const place of placed) {
      for (const corner of corners(place, 96)) expect(isInBasin(corner)).toBe(false);
    }
  });

  it('does not put two labels on one another', () => {
    const twin = { from: [500, 300], to: [520, 300], labelWidthPx: 90 } as const;
    const [a, b] = layDimensions(
      [
        { id: 'a', ...twin },
        { id: 'b', ...twin },
      ],
      [],
      800,
      600,
    );
    expect(Math.abs(a.at[0] - b.at[0]) > 80 || Math.abs(a.at[1] - b.at[1]) > 14).toBe(true);
  });

  it('stays on the sheet', () => {
    const [place] = layDimensions(
      [{ id: 'a', from: [785, 20], to: [799, 20], labelWidthPx: 90 }],
      [],
      800,
      600,
    );
    for (const [x, y] of corners(place, 90)) {
      expect(x).toBeLessThanOrEqual(800);
      expect(y).toBeGreaterThanOrEqual(0);
    }
  });
});

describe('scaleBar', () => {
  it.each([
    [0.05, 'metric'],
    [0.31, 'metric'],
    [0.043, 'us'],
    [1.7, 'us'],
  ] as const)('has round parts and fits, at %f m a pixel in %s units', (metresPerPx, units) => {
    const bar = scaleBar(metresPerPx, units, 200);
    const lengthPx = bar.parts * bar.partPx;
    expect(lengthPx).toBeLessThanOrEqual(200.001);
    expect(lengthPx).toBeGreaterThan(100);
    expect([1, 2, 2.5, 5]).toContainEqual(
      Number((bar.part / 10 ** Math.floor(Math.log10(bar.part) + 1e-9)).toFixed(6)),
    );
    expect((bar.partPx * metresPerPx) / bar.part).toBeCloseTo(units === 'us' ? 0.3048 : 1, 9);
  });
});

describe('fitPadding', () => {
  const base = { top: 40, right: 30, bottom: 50, left: 30 };
  const block = { widthPx: 300, heightPx: 120 };

  it('clears the block beside a tall lot and below a wide one', () => {
    expect(fitPadding(base, block, 1000, 700, 0.5)).toEqual({ ...base, right: 314 });
    expect(fitPadding(base, block, 1000, 700, 2.2)).toEqual({ ...base, bottom: 134 });
  });

  it('leaves room for the lot on a sheet smaller than its margins', () => {
    const { left, right, top, bottom } = fitPadding(base, block, 60, 100, 1);
    expect(left + right).toBeLessThanOrEqual(48.001);
    expect(top + bottom).toBeLessThanOrEqual(80.001);
  });

  it('takes parts whose figures keep clear of each other on a narrow sheet', () => {
    for (const metresPerPx of [0.09, 0.11, 0.13, 0.2]) {
      const { part, parts, unit, partPx } = scaleBar(metresPerPx, 'metric', 130);
      const letters = `${part * parts} ${unit}`.length + String(part * (parts - 1)).length;
      expect(partPx).toBeGreaterThan(letters * 2.8 + 3);
    }
  });
});
