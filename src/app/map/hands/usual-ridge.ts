import type { LngLat } from '../../../../lib/frame/frame';

/** The ridge stops short of the gables by this part of its length each, so that its ends are not under other handles. */
const shortByShare = 0.12;

/**
 * Where the ridge of a roof usually runs: along its longest side, through its middle.
 *
 * @param ring - the roof's outline, the first place repeated at the end.
 * @returns two ends inside the outline's reach.
 */
export function usualRidge(ring: readonly LngLat[]): [LngLat, LngLat] {
  const corners = ring.slice(0, -1);
  const [lng0, lat0] = corners[0];
  // Degrees of longitude are shorter: both axes in degrees of latitude.
  const narrow = Math.cos((lat0 * Math.PI) / 180);
  const flat = corners.map(([lng, lat]): [number, number] => [(lng - lng0) * narrow, lat - lat0]);
  let along: [number, number] = [1, 0];
  let longest = 0;
  flat.forEach((from, i) => {
    const to = flat[(i + 1) % flat.length];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length <= longest) return;
    longest = length;
    along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  });
  const ahead = flat.map(([x, y]) => x * along[0] + y * along[1]);
  const aside = flat.map(([x, y]) => y * along[0] - x * along[1]);
  const [first, last] = [Math.min(...ahead), Math.max(...ahead)];
  const middle = (Math.min(...aside) + Math.max(...aside)) / 2;
  const end = (at: number): LngLat => [
    lng0 + (at * along[0] - middle * along[1]) / narrow,
    lat0 + at * along[1] + middle * along[0],
  ];
  const short = shortByShare * (last - first);
  return [end(first + short), end(last - short)];
}
