import type { BasinToFill } from '../filling/basin-water';
import { inchM } from '../../units/units';
import { bowlStorage, type Bowl, type InsetAreas } from '../form/bowl-storage';
import { fillAndDrain, type FillSummary, type Inflow } from '../filling/fill-and-drain';

/** A basin whose size is open: its outline up to scale, everything else as it is. */
export interface SizingTask extends Omit<BasinToFill, 'storage'> {
  readonly outline: InsetAreas;
  readonly bowl: Bowl;
  /** What comes over the rim and what falls; taken to stay as it is while the size changes. */
  readonly inflow: Inflow;
}

/** Sizes that are looked at. */
export const sizeBounds = {
  /** From about 5 ft2 to a quarter acre. */
  areaM2: [0.5, 1000],
  /** Up to 18 in, which no handbook for lots goes beyond. Common practice, no source. */
  pondingDepthM: [0, 18 * inchM],
  /** From an eighth of an inch to a metre. */
  rainMm: [3, 1000],
} as const;

/** Sizes are found to this share of themselves. */
const tolerance = 0.004;
/** Overflow below this share of the inflow is none. */
const noOverflow = 1e-4;
/** Coarser than for a design: sizing runs it dozens of times. */
const sizingStrips = 5;
const sizingStepS = 120;

/** A task's basin at a size. */
export function basinAt(task: SizingTask, bowl: Bowl = task.bowl): BasinToFill {
  const { layers, subsoil, underdrain, notch, outline } = task;
  return { layers, subsoil, underdrain, notch, storage: bowlStorage(outline, bowl) };
}

/** How an event goes through a task's basin at another size. Cost: some milliseconds. */
export function tryBowl(
  task: SizingTask,
  bowl: Partial<Bowl> = {},
  inflow: Inflow = task.inflow,
): FillSummary {
  return fillAndDrain(basinAt(task, { ...task.bowl, ...bowl }), inflow, {
    strips: sizingStrips,
    stepS: sizingStepS,
  }).summary;
}

/**
 * Least area that captures a share of the inflow at a ponding depth, m2; `null` when the largest looked at does not.
 *
 * A larger basin overflows no more, so the area is found by halving. Cost: about fifteen runs.
 */
export function areaForShare(
  task: SizingTask,
  share: number,
  pondingDepthM = task.bowl.pondingDepthM,
): number | null {
  return leastOf(
    (areaM2) => tryBowl(task, { areaM2, pondingDepthM }).capturedShare >= share,
    ...sizeBounds.areaM2,
  );
}

/** Least ponding depth that captures a share of the inflow on the task's area, metres; `null` when none looked at does. */
export function depthForShare(task: SizingTask, share: number): number | null {
  return leastOf(
    (pondingDepthM) => tryBowl(task, { pondingDepthM }).capturedShare >= share,
    ...sizeBounds.pondingDepthM,
  );
}

/**
 * The largest event of the plan's kind that the basin holds without overflow, millimetres: 0 when the least looked at
 * overflows, `null` when the largest does not.
 *
 * @param inflowOf - the inflow of the event at a depth.
 */
export function largestHeldMm(
  basin: BasinToFill,
  inflowOf: (rainMm: number) => Inflow,
): number | null {
  const overflows = (rainMm: number): boolean => {
    const options = { strips: sizingStrips, stepS: sizingStepS, horizonH: 0 };
    const { overflowM3, inflowM3 } = fillAndDrain(basin, inflowOf(rainMm), options).summary;
    return overflowM3 > noOverflow * inflowM3;
  };
  const [leastMm, mostMm] = sizeBounds.rainMm;
  const first = leastOf(overflows, leastMm, mostMm);
  if (first === null) return null;
  // what was found overflows; a hair less does not
  return first === leastMm ? 0 : first * (1 - tolerance);
}

/**
 * Least value between two for which something holds that, once it holds, goes on holding; `null` when it does not hold at the
 * upper one.
 */
export function leastOf(
  holds: (value: number) => boolean,
  from: number,
  to: number,
): number | null {
  if (holds(from)) return from;
  if (!holds(to)) return null;
  let low = from;
  let high = to;
  while (high - low > tolerance * high) {
    // the middle of the logarithms, as bounds lie far apart
    const middle = low > 0 && high > 4 * low ? Math.sqrt(low * high) : (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
