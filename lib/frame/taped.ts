import type { XY } from './frame';
import { areaM2, distanceM, nearestOnSegment, segmentCrossing } from './shapes';

/** What a tape laid along points measures. */
export interface Taped {
  /** Of each leg; the last one closes the ring where it is closed. */
  readonly legsM: readonly number[];
  /** From the first point along the tape to each point, and round to the first again where it is closed. */
  readonly runningM: readonly number[];
  readonly totalM: number;
  /** What the tape encloses; null where it is not closed, has fewer than three points, or crosses itself. */
  readonly areaM2: number | null;
  /** Whether a leg of a closed tape crosses another, so that it encloses no one area. */
  readonly crosses: boolean;
}

/**
 * Measures along points.
 *
 * @param points - in true ground metres. @param closed - whether the tape is led back to the first; of three points or more.
 */
export function taped(points: readonly XY[], closed: boolean): Taped {
  const isRing = closed && points.length > 2;
  const line = isRing ? [...points, points[0]] : points;
  const legsM: number[] = [];
  const runningM: number[] = points.length > 0 ? [0] : [];
  for (let i = 1; i < line.length; i++) {
    legsM.push(distanceM(line[i - 1], line[i]));
    runningM.push(runningM[i - 1] + legsM[i - 1]);
  }
  const crosses = isRing && crossesItself(line);
  return {
    legsM,
    runningM,
    totalM: runningM.at(-1) ?? 0,
    areaM2: isRing && !crosses ? areaM2([points]) : null,
    crosses,
  };
}

/** Whether two legs of a closed line that do not follow one another meet. */
function crossesItself(line: readonly XY[]): boolean {
  const legs = line.length - 1;
  for (let a = 0; a < legs; a++) {
    for (let b = a + 2; b < legs; b++) {
      const areNeighbours = a === 0 && b === legs - 1;
      if (areNeighbours) continue;
      if (segmentCrossing(line[a], line[a + 1], line[b], line[b + 1]) !== undefined) return true;
    }
  }
  return false;
}

/** The place so far along a line; its ends where that is before or beyond it. */
export function placeAlong(points: readonly XY[], alongM: number): XY {
  let left = Math.max(0, alongM);
  for (let i = 1; i < points.length; i++) {
    const [[x0, y0], [x1, y1]] = [points[i - 1], points[i]];
    const legM = distanceM(points[i - 1], points[i]);
    if (left <= legM && legM > 0)
      return [x0 + ((x1 - x0) * left) / legM, y0 + ((y1 - y0) * left) / legM];
    left -= legM;
  }
  return points[points.length - 1];
}

/** How far along a line the place on it lies that is nearest to another, and how far off that one is, metres. */
export function nearestAlong(
  points: readonly XY[],
  to: XY,
): { readonly alongM: number; readonly awayM: number } {
  let nearest = { alongM: 0, awayM: Infinity };
  let before = 0;
  for (let i = 1; i < points.length; i++) {
    const foot = nearestOnSegment(to, points[i - 1], points[i]);
    const awayM = distanceM(to, foot);
    if (awayM < nearest.awayM) {
      nearest = { alongM: before + distanceM(points[i - 1], foot), awayM };
    }
    before += distanceM(points[i - 1], points[i]);
  }
  return nearest;
}
