import type { XY } from '../frame/frame';
import { segmentCrossing } from '../frame/shapes';
import type { CatchLine } from './catches';
import { footOn } from './turns';

/** A length of the side being drawn at which its end would be level with a corner or meet an edge. */
export interface Flag {
  readonly lengthM: number;
  readonly at: XY;
  /** The number of the drawn corner that it would be level with, from 1; null where it meets an edge. */
  readonly levelWith: number | null;
}

/** Lengths nearer to one another than this have one flag. */
const apartM = 0.05;
const leastM = 0.1;

/**
 * What a tape laid from the last corner towards a place would pass, up to a length, in order.
 *
 * @param corners - drawn so far, the last one where the tape begins.
 */
export function flagsAlong(
  corners: readonly XY[],
  towards: XY,
  lines: readonly CatchLine[],
  upToM: number,
): Flag[] {
  const from = corners[corners.length - 1];
  const lengthM = Math.hypot(towards[0] - from[0], towards[1] - from[1]);
  if (lengthM === 0) return [];
  const on = (alongM: number): XY => [
    from[0] + ((towards[0] - from[0]) / lengthM) * alongM,
    from[1] + ((towards[1] - from[1]) / lengthM) * alongM,
  ];
  const flags: Flag[] = [];
  corners.slice(0, -1).forEach((corner, i) => {
    const { at, alongM } = footOn(from, towards, corner);
    flags.push({ lengthM: alongM, at, levelWith: i + 1 });
  });
  const end = on(upToM);
  for (const line of lines) {
    for (let i = 1; i < line.length; i++) {
      const at = segmentCrossing(from, end, line[i - 1], line[i]);
      if (at === undefined) continue;
      flags.push({ lengthM: Math.hypot(at[0] - from[0], at[1] - from[1]), at, levelWith: null });
    }
  }
  const within = flags.filter((flag) => flag.lengthM >= leastM && flag.lengthM <= upToM);
  within.sort((a, b) => a.lengthM - b.lengthM);
  return within.filter((flag, i) => i === 0 || flag.lengthM - within[i - 1].lengthM >= apartM);
}
