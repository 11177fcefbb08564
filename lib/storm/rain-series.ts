/** Water that comes down (rain) or is set free (melt), in equal steps of time from the beginning of the event. */
export interface RainSeries {
  readonly stepS: number;
  /** Depth in each step, millimetres. */
  readonly depthsMm: Float64Array;
}

/** Depth of the whole series, millimetres. */
export function totalMm({ depthsMm }: RainSeries): number {
  let sum = 0;
  for (const depth of depthsMm) sum += depth;
  return sum;
}
