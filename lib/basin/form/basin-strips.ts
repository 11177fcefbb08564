import { areaAt, type StageStorage } from './stage-storage';

/** A part of the bowl between two heights over its lowest point. */
export interface Strip {
  readonly lowM: number;
  readonly highM: number;
  readonly areaM2: number;
  /** Area of everything that lies lower, m2. */
  readonly lowerM2: number;
}

/**
 * The level floor, the sides up to the sill, and what lies between sill and rim; none without area. Strips grow with the
 * height over the floor: the lowest are where a bowl empties last, and in a pointed one they are small.
 */
export function stripsOf(storage: StageStorage, count: number): Strip[] {
  const { depthsM, overflowDepthM } = storage;
  const topM = depthsM[depthsM.length - 1];
  const bounds = [0];
  for (let i = 1; i <= count; i++) bounds.push(overflowDepthM * (i / count) ** 2);
  if (topM > overflowDepthM) bounds.push(topM);
  const sides = bounds.slice(1).map((highM, i) => {
    const lowerM2 = areaAt(storage, bounds[i]);
    return { lowM: bounds[i], highM, areaM2: areaAt(storage, highM) - lowerM2, lowerM2 };
  });
  // under water as soon as there is any
  const floor = { lowM: -1, highM: 0, areaM2: areaAt(storage, 0), lowerM2: 0 };
  return [floor, ...sides].filter(({ areaM2, lowM, highM }) => areaM2 > 0 && highM > lowM);
}
