import type { Site } from '../layers/drawn-sites';
import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';

/** Half of a badge's width, and the room it keeps from basins and other badges, pixels. */
export const badgeRadiusPx = 13;
const roomPx = 4;

/** A site's badge, and the middle of its site where it had to stand beside it. */
export interface PlacedBadge {
  readonly site: Site;
  readonly at: ScreenXY;
  readonly from: ScreenXY | null;
}

/** How far a badge may stand from its site, pixels: nearest first, all the way round. */
const distancesPx = [26, 36, 48, 62, 78, 96];
const directions = 12;

/**
 * Where the badges of sites stand: in the middle of their site, or as near to it as they keep clear of every basin that is drawn
 * and of each other, so that none covers a basin or catches the pointer meant for it.
 *
 * @param basins - outlines on the screen
 */
export function badgePlaces(
  sites: readonly Site[],
  basins: readonly (readonly ScreenXY[])[],
  toScreen: (place: LngLat) => ScreenXY,
): PlacedBadge[] {
  const placed: PlacedBadge[] = [];
  const isFree = (at: ScreenXY): boolean =>
    basins.every((basin) => clearOf(at, basin) >= badgeRadiusPx + roomPx) &&
    placed.every((other) => distance(other.at, at) >= 2 * badgeRadiusPx + roomPx);
  for (const site of sites) {
    const middle = toScreen(site.at);
    const at = isFree(middle) ? middle : (around(middle).find(isFree) ?? middle);
    placed.push({ site, at, from: at === middle ? null : middle });
  }
  return placed;
}

function around([x, y]: ScreenXY): ScreenXY[] {
  return distancesPx.flatMap((away) =>
    Array.from({ length: directions }, (_, i): ScreenXY => {
      // Upwards first: a hand that points covers what lies below.
      const turn = (2 * Math.PI * i) / directions - Math.PI / 2;
      return [x + away * Math.cos(turn), y + away * Math.sin(turn)];
    }),
  );
}

/** Distance of a place from an outline, 0 inside. */
function clearOf(at: ScreenXY, ring: readonly ScreenXY[]): number {
  let nearest = Infinity;
  let isInside = false;
  for (let i = 0, before = ring.length - 1; i < ring.length; before = i++) {
    const [[x0, y0], [x1, y1]] = [ring[before], ring[i]];
    const squared = (x1 - x0) ** 2 + (y1 - y0) ** 2;
    const t = squared === 0 ? 0 : ((at[0] - x0) * (x1 - x0) + (at[1] - y0) * (y1 - y0)) / squared;
    const along = Math.min(1, Math.max(0, t));
    nearest = Math.min(nearest, distance(at, [x0 + along * (x1 - x0), y0 + along * (y1 - y0)]));
    const crosses = y0 > at[1] !== y1 > at[1];
    if (crosses && at[0] < x0 + ((at[1] - y0) / (y1 - y0)) * (x1 - x0)) isInside = !isInside;
  }
  return isInside ? 0 : nearest;
}

function distance(a: ScreenXY, b: ScreenXY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
