import type { SoilSettings } from '../../plan/soil-settings';
import type { Source } from '../../source';
import type { Verdict } from '../../verdict';

/** A published limit on how long water may stand. */
export interface DrainLimit {
  readonly hours: number;
  readonly name: string;
  /** What the source says in its own figures. */
  readonly published: string;
  readonly source: Source;
}

/** Limits from strict to lax; the first is what to aim for, the second is the usual one. */
export const drainLimits: readonly DrainLimit[] = [
  {
    hours: 24,
    name: 'aim',
    published: '12-24 h',
    source: {
      title: 'Stormwater education pages, rain gardens',
      publisher: 'Iowa stormwater education partnership',
      year: null,
      mark: 'seen',
    },
  },
  {
    hours: 48,
    name: 'usual limit',
    published: 'standing water gone in under 48 h',
    source: {
      title: 'Rain Garden Design, Plants for Rain Gardens (NebGuides G1758, G1759)',
      publisher: 'University of Nebraska-Lincoln Extension',
      year: 2007,
      mark: 'seen',
    },
  },
  {
    hours: 72,
    name: 'longest published',
    published: 'no ponding beyond 3 days',
    source: {
      title: 'Low-impact backyard guide, chapter 5, Backyard rain garden design',
      publisher: 'North Carolina State University',
      year: null,
      mark: 'seen',
    },
  },
];

/** Counts where the plan gives none, and in the rule sets that name none of their own. */
export const usualDrainLimit = drainLimits[1];

/** Eggs need so many days to adult mosquitoes. Source: University of Wisconsin-Extension, questions and answers (seen). */
const mosquitoDays = { from: 7, to: 12 } as const;

/** What is known of how long water stands. Hours; `null` where it still stands at the end of the time looked at. */
export interface DrainTimes {
  /** After the rain of the plan's event. */
  readonly afterRainH: number | null;
  /** From full to the sill, layers full as well, with no more rain. */
  readonly fromFullH: number | null;
  /** How long was looked at, hours. */
  readonly followedH: number;
  /** What brings the water; rain where it is not said. */
  readonly event?: 'storm' | 'thaw';
  /** Whether the rate of the soil below is known. */
  readonly rateKnown: boolean;
  /** Where the rate stands in a table: the depth over the most that such soils take, hours. Left out where it was measured. */
  readonly fastestH?: number | undefined;
  /** Whether nothing but a soil map's group tells of the soil. */
  readonly byMap?: boolean;
}

/** How the basin's drain-down stands against a limit. */
export interface DrainJudgement {
  readonly result: Verdict;
  readonly limitH: number;
  /** The longer of the two times; `null` when unknown or still standing. */
  readonly judgedH: number | null;
  readonly why: string;
  /** Whether the limit is the plan's own. */
  readonly isLocal: boolean;
  /** `null` for the plan's own limit. */
  readonly source: Source | null;
  /** Each published limit with what the judged time says to it. */
  readonly against: readonly {
    readonly limit: DrainLimit;
    readonly result: Verdict;
  }[];
}

/**
 * How the time that water stands is to a limit, for design and rules alike.
 *
 * @param hours - by the rate that is counted on, the least that such soils take; `Infinity` for water that still stands,
 *   `undefined` while nothing is known.
 * @param about - hours by the most that such soils take, where the rate is a table's; whether only a soil map tells of them.
 */
export function drainVerdict(
  hours: number | undefined,
  limitH: number,
  { fastestH, byMap = false }: Pick<DrainTimes, 'fastestH' | 'byMap'>,
): Verdict {
  if (hours === undefined) return fastestH !== undefined && fastestH > limitH ? 'fail' : 'check';
  if (hours > limitH) return fastestH !== undefined && fastestH <= limitH ? 'check' : 'fail';
  return byMap ? 'check' : 'pass';
}

/**
 * Judges how long water stands: the longer of the time after the event's rain and of that from full. The latter is what the handbooks'
 * depths rest on (what soaks in during the time allowed), and does not hang on the storm.
 *
 * Without a known rate of the soil nothing passes, and by a soil map alone neither; by a table's rate, which is the least
 * that such soils take, nothing fails that might drain in time by the most. Within the limit but above the 24 h to aim for, the words say so.
 */
export function judgeDrainDown(times: DrainTimes, soil: SoilSettings | undefined): DrainJudgement {
  const own = soil?.drain_limit_h;
  const usual = usualDrainLimit;
  const limitH = own ?? usual.hours;
  const { rateKnown, afterRainH, fromFullH } = times;
  const hours = rateKnown ? Math.max(afterRainH ?? Infinity, fromFullH ?? Infinity) : undefined;
  const judgedH = hours === undefined || hours === Infinity ? null : hours;
  const judge = (limit: number): Verdict => drainVerdict(hours, limit, rateKnown ? times : {});
  const result = judge(limitH);
  return {
    result,
    limitH,
    judgedH,
    why:
      result === 'check' && times.rateKnown
        ? `${wordsOf(times, judgedH, limitH)} That is by the least that such soils take: test the soil at the place.`
        : wordsOf(times, judgedH, limitH),
    isLocal: own !== undefined,
    source: own === undefined ? usual.source : null,
    against: drainLimits.map((limit) => ({ limit, result: judge(limit.hours) })),
  };
}

function wordsOf(times: DrainTimes, judgedH: number | null, limitH: number): string {
  if (!times.rateKnown) {
    return 'How long water stands cannot be told: nothing is known of the soil. Dig a hole and see how fast it empties.';
  }
  const limit = `the limit is ${hoursText(limitH)}`;
  if (judgedH === null) {
    const breeds =
      times.followedH >= 24 * mosquitoDays.from
        ? ` Mosquitoes need ${mosquitoDays.from} to ${mosquitoDays.to} days of it.`
        : '';
    return `Water still stands after ${hoursText(times.followedH)}; ${limit}.${breeds}`;
  }
  const { afterRainH, fromFullH } = times;
  const water = times.event === 'thaw' ? 'thaw' : 'rain';
  const after =
    afterRainH === 0
      ? `No water stands when the ${water} is over`
      : `The surface is empty ${hoursText(afterRainH ?? 0)} after the ${water}`;
  const words = `${after}, and ${hoursText(fromFullH ?? 0)} after it was full; ${limit}`;
  const aimH = drainLimits[0].hours;
  return judgedH <= limitH && judgedH > aimH ? `${words}, ${hoursText(aimH)} better.` : `${words}.`;
}

/** Hours as people say them: minutes below one hour, days from four on. */
export function hoursText(hours: number): string {
  if (hours < 1) return `${Math.round(hours * 60)} min`;
  if (hours < 10) return `${Number(hours.toFixed(1))} h`;
  return hours < 96 ? `${Math.round(hours)} h` : `${Number((hours / 24).toFixed(1))} days`;
}
