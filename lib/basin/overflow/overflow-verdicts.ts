import type { MetInlet, OverflowCourse, OverflowWay } from '../../drainage/answer/overflow-course';
import type { LocalPlan } from '../../plan/local-plan';
import { formatVolume } from '../../units/format';
import { overflowVerdict, type CrossedLowSpot, type OverflowVerdict } from './overflow-verdict';

/** One way of a basin's overflow, and what it reaches. */
export interface JudgedWay {
  readonly way: OverflowWay;
  readonly verdict: OverflowVerdict;
}

/** What is said of all of a basin's overflow. */
export interface JudgedOverflow {
  /** In the order of the course. */
  readonly ways: readonly JudgedWay[];
  /** The worst of them, with what pipes on the way take. */
  readonly verdict: OverflowVerdict;
}

const badness = { pass: 0, check: 1, fail: 2 } as const;

/** Judges each way that a basin's overflow takes; the worst counts, and of equals the one that takes most. */
export function overflowVerdicts(
  { ways, inlets }: OverflowCourse,
  plan: LocalPlan,
  basinId: string,
  lowSpots: readonly CrossedLowSpot[],
): JudgedOverflow {
  const judged = ways.map((way) => ({
    way,
    verdict: overflowVerdict(way, plan, basinId, lowSpots),
  }));
  const worst = judged.reduce<OverflowVerdict>(
    (most, { verdict }) => (badness[verdict.result] > badness[most.result] ? verdict : most),
    judged.at(0)?.verdict ?? overflowVerdict({ legs: [], ends: 'edge-of-data' }, plan, basinId),
  );
  const pipes = inlets.map((inlet) => inletWords(inlet, plan));
  return { ways: judged, verdict: { ...worst, why: [worst.why, ...pipes].join(' ') } };
}

/** What an inlet does with the overflow that comes to it, in one sentence. */
function inletWords(
  { drain, comesM3PerS, roomM3PerS, takesM3PerS, blocked }: MetInlet,
  plan: LocalPlan,
): string {
  const { units = 'metric' } = plan.plan.lotfall;
  const feature = plan.byId.get(drain);
  const name =
    feature?.feature.properties.name ?? `${(feature?.kind ?? 'drain').replace('-', ' ')} ${drain}`;
  const perMinute = (flowM3PerS: number): string => formatVolume(flowM3PerS * 60, units);
  if (blocked) return `On its way ${name} is blocked and takes nothing.`;
  if (roomM3PerS === 0) return `On its way ${name} has no room for any.`;
  if (takesM3PerS < comesM3PerS) {
    return `On its way ${name} takes ${perMinute(takesM3PerS)} a minute of the ${perMinute(comesM3PerS)} that come at the peak; what exceeds it goes on over the ground.`;
  }
  return `On its way ${name} takes all that comes, ${perMinute(comesM3PerS)} a minute at the peak; it has room for ${perMinute(roomM3PerS)}.`;
}
