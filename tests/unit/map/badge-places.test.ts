import { describe, expect, it } from 'vitest';
import { badgePlaces, badgeRadiusPx } from '../../../src/app/map/overlay/badge-places';
import type { ScreenXY } from '../../../src/app/map/layers/screen-xy';
import type { Site } from '../../../src/app/map/layers/drawn-sites';

const site = (rank: number, x: number, y: number): Site => ({ rank, ring: [], at: [x, y] });
const toScreen = ([x, y]: readonly [number, number]): ScreenXY => [x, y];
const basin: ScreenXY[] = [
  [80, 80],
  [140, 80],
  [140, 130],
  [80, 130],
  [80, 80],
];
const nearest = ([x, y]: ScreenXY): number =>
  Math.hypot(Math.max(80 - x, 0, x - 140), Math.max(80 - y, 0, y - 130));

describe('badges of sites', () => {
  it('stand in the middle of their site where nothing is in the way', () => {
    const [badge] = badgePlaces([site(1, 300, 200)], [basin], toScreen);
    expect(badge).toMatchObject({ at: [300, 200], from: null });
  });

  it('stand clear of a basin that lies there, close by, with a line to their site', () => {
    for (const [x, y] of [
      [110, 105],
      [78, 90],
      [139, 129],
      [150, 100],
    ] as const) {
      const [badge] = badgePlaces([site(1, x, y)], [basin], toScreen);
      expect(nearest(badge.at)).toBeGreaterThanOrEqual(badgeRadiusPx);
      expect(badge.from).toEqual([x, y]);
      expect(Math.hypot(badge.at[0] - x, badge.at[1] - y)).toBeLessThanOrEqual(62);
    }
  });

  it('do not cover one another', () => {
    const sites = [1, 2, 3, 4].map((rank) => site(rank, 110, 105 + rank));
    const places = badgePlaces(sites, [basin], toScreen).map(({ at }) => at);
    places.forEach((a, i) => {
      for (const b of places.slice(0, i)) {
        expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeGreaterThanOrEqual(2 * badgeRadiusPx);
      }
    });
  });
});
