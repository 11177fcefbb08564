import { throwIfCancelled, type Progress } from '../../errors';
import { batchSize, fewestSurfaces, isSettled, mostSurfaces } from './certainty-result';
import { mergeTallies, type Tallies } from './certainty-tallies';

/** Runs the surfaces `from` up to but without `to` of one study. */
export type RunBatch = (from: number, to: number) => Promise<Tallies>;

/**
 * Runs surfaces in rounds of two batches until the answer is settled (see `isSettled`) or there are enough.
 *
 * The two batches of a round are asked for at once, so that two workers can share them. Where it stops depends on
 * the counts alone, not on who made them.
 *
 * @param options.surfaces - run just so many, whether settled or not.
 * @param options.onTallies - told what there is after each round.
 * @throws {Cancelled}
 */
export async function untilSettled(
  run: RunBatch,
  options: {
    readonly surfaces?: number;
    readonly signal?: AbortSignal;
    readonly onProgress?: Progress;
    readonly onTallies?: (tallies: Tallies) => void;
  } = {},
): Promise<Tallies> {
  const { surfaces, signal, onProgress, onTallies } = options;
  const most = surfaces ?? mostSurfaces;
  let tallies: Tallies | null = null;
  for (let done = 0; ;) {
    throwIfCancelled(signal);
    onProgress?.(done / most, `${done} equally likely surfaces tried`);
    const middle = Math.min(most, done + batchSize);
    const end = Math.min(most, middle + batchSize);
    const ranges = [
      [done, middle],
      [middle, end],
    ].filter(([from, to]) => to > from);
    const parts = await Promise.all(ranges.map(([from, to]) => run(from, to)));
    tallies = mergeTallies(tallies === null ? parts : [tallies, ...parts]);
    done = end;
    onTallies?.(tallies);
    const isEnough = surfaces === undefined && done >= fewestSurfaces && isSettled(tallies);
    if (done >= most || isEnough) return tallies;
  }
}
