import type { XY } from '../../frame/frame';
import { distanceM, perimeterM, type Ring } from '../../frame/shapes';

/** More stakes than this nobody sets for one outline. Our choice, no source. */
const mostStakes = 18;
/** Outlines that are curved are staked so far apart at most, metres. Common practice, no source. */
const everyM = 1.5;
/** Corners nearer together are one to whoever drives stakes, metres. */
const leastM = 0.35;

/**
 * Places of stakes along an outline: its corners where they are few, else places evenly apart, so that a rope laid through them
 * follows it.
 */
export function stakesAlong(ring: Ring): XY[] {
  const corners = ring.filter(
    (at, i) => distanceM(at, ring[(i + 1) % ring.length]) >= leastM || ring.length <= 4,
  );
  if (corners.length >= 3 && corners.length <= mostStakes) return corners;
  const lengthM = perimeterM(ring);
  const count = Math.min(mostStakes, Math.max(8, Math.ceil(lengthM / everyM)));
  return evenly(ring, lengthM / count, count);
}

function evenly(ring: Ring, stepM: number, count: number): XY[] {
  const places: XY[] = [];
  let leftM = 0;
  for (let i = 0; i < ring.length && places.length < count; i++) {
    const [a, b] = [ring[i], ring[(i + 1) % ring.length]];
    const sideM = distanceM(a, b);
    while (leftM < sideM && places.length < count) {
      const share = leftM / sideM;
      places.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
      leftM += stepM;
    }
    leftM -= sideM;
  }
  return places;
}

/** A round part of an outline: its middle, and the stretch of corners that lies on the circle. */
export interface RoundPart {
  readonly centre: XY;
  readonly radiusM: number;
  readonly from: XY;
  readonly to: XY;
}

/** Corners that miss a circle by less lie on it, metres. */
const roundM = 0.02;
/** Fewer corners make a polygon, not a round part. */
const leastCorners = 6;
/** Larger circles nobody swings with a string, metres. */
const largestM = 15;

/** Round parts of an outline, the longest first found; none for outlines of straight sides. */
export function roundParts(ring: Ring): RoundPart[] {
  const parts: RoundPart[] = [];
  const count = ring.length;
  for (let start = 0; start < count;) {
    let best: { end: number; centre: XY; radiusM: number } | null = null;
    for (let end = start + leastCorners - 1; end < start + count; end++) {
      const circle = circleThrough(ring, start, end);
      if (circle === null) break;
      best = { end, ...circle };
    }
    if (best === null) {
      start++;
      continue;
    }
    const { end, centre, radiusM } = best;
    parts.push({ centre, radiusM, from: ring[start], to: ring[end % count] });
    start = end;
  }
  return parts;
}

/** The circle through first, middle and last of a stretch of corners; `null` where one between misses it. */
function circleThrough(
  ring: Ring,
  start: number,
  end: number,
): { centre: XY; radiusM: number } | null {
  const at = (i: number): XY => ring[i % ring.length];
  const [[ax, ay], [bx, by], [cx, cy]] = [at(start), at(Math.floor((start + end) / 2)), at(end)];
  const twice = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by));
  if (Math.abs(twice) < 1e-9) return null;
  const [a2, b2, c2] = [ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy];
  const centre: XY = [
    (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / twice,
    (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / twice,
  ];
  const radiusM = distanceM(centre, [ax, ay]);
  if (radiusM > largestM) return null;
  for (let i = start; i <= end; i++) {
    if (Math.abs(distanceM(centre, at(i)) - radiusM) > roundM) return null;
  }
  return { centre, radiusM };
}
