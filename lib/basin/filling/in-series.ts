import { InputError } from '../../errors';
import type { BasinToFill } from './basin-water';
import {
  fillAndDrain,
  type FillAndDrainOptions,
  type FilledBasin,
  type Inflow,
} from './fill-and-drain';

/** A basin with its own inflow, and where its overflow goes. */
export interface LinkedBasin {
  readonly id: string;
  readonly basin: BasinToFill;
  /** What comes to it beside other basins' overflow. */
  readonly inflow: Inflow;
  /** Basin that its overflow reaches, and how long that takes; `null` for none. */
  readonly overflowsTo: { readonly id: string; readonly delayS: number } | null;
}

export interface FilledInSeries extends FilledBasin {
  readonly id: string;
  /** All that came over the rim, other basins' overflow included. */
  readonly inflow: Inflow;
  /** Of it, from other basins, m3. */
  readonly fromOverflowM3: number;
}

/**
 * Fills basins of which some overflow into others, each after all that overflow into it. Overflow comes late by its delay and
 * is otherwise lost to nothing.
 *
 * @returns in the order given.
 * @throws {InputError} `basins-in-a-circle` when overflow would come back to where it came from.
 */
export function fillInSeries(
  basins: readonly LinkedBasin[],
  options: FillAndDrainOptions = {},
): FilledInSeries[] {
  const done = new Map<string, FilledInSeries>();
  for (const linked of upstreamFirst(basins)) {
    const above = basins.filter(({ overflowsTo }) => overflowsTo?.id === linked.id);
    let { inflow } = linked;
    let fromOverflowM3 = 0;
    for (const { id, overflowsTo } of above) {
      const filled = done.get(id);
      if (filled === undefined || overflowsTo === null) continue;
      inflow = withOverflow(inflow, filled, overflowsTo.delayS);
      fromOverflowM3 += filled.summary.overflowM3;
    }
    const filled = fillAndDrain(linked.basin, inflow, options);
    done.set(linked.id, { ...filled, id: linked.id, inflow, fromOverflowM3 });
  }
  return basins.flatMap(({ id }) => done.get(id) ?? []);
}

/** The basins with each after those that overflow into it. */
function upstreamFirst(basins: readonly LinkedBasin[]): LinkedBasin[] {
  const ordered: LinkedBasin[] = [];
  const left = new Set(basins);
  while (left.size > 0) {
    const free = [...left].filter(
      ({ id }) => ![...left].some((each) => each.overflowsTo?.id === id && each.id !== id),
    );
    if (free.length === 0 || free.some(({ id, overflowsTo }) => overflowsTo?.id === id)) {
      throw new InputError({
        code: 'basins-in-a-circle',
        where: [...left].map(({ id }) => id).join(', '),
        problem: 'the overflow of these basins comes back to where it came from',
        remedy: 'move a notch so that each spills to lower ground',
      });
    }
    for (const each of free) {
      ordered.push(each);
      left.delete(each);
    }
  }
  return ordered;
}

/** An inflow with another basin's overflow added to it, late by a delay and even within each entry of its series. */
function withOverflow(inflow: Inflow, { series }: FilledBasin, delayS: number): Inflow {
  const { stepS } = inflow;
  const { timeS, overflowM3PerS } = series;
  let endS = 0;
  for (let i = 1; i < timeS.length; i++) if (overflowM3PerS[i] > 0) endS = timeS[i] + delayS;
  const length = Math.max(inflow.runOnM3.length, Math.ceil(endS / stepS));
  const runOnM3 = new Float64Array(length);
  runOnM3.set(inflow.runOnM3);
  const rainMm = new Float64Array(length);
  rainMm.set(inflow.rainMm);
  for (let i = 1; i < timeS.length; i++) {
    const flow = overflowM3PerS[i];
    if (flow === 0) continue;
    const from = timeS[i - 1] + delayS;
    const to = timeS[i] + delayS;
    const lastStep = Math.min(length - 1, Math.ceil(to / stepS) - 1);
    for (let step = Math.floor(from / stepS); step <= lastStep; step++) {
      const lastsS = Math.min(to, (step + 1) * stepS) - Math.max(from, step * stepS);
      runOnM3[step] += flow * Math.max(0, lastsS);
    }
  }
  return { stepS, runOnM3, rainMm };
}
