import type { BasinDesign } from '../../basin/design/design-result';
import { withWater, type DesignQuestion } from '../../basin/design/worked-basin';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import { fillAndDrain } from '../../basin/filling/fill-and-drain';
import { eventInflow } from '../../basin/filling/inflow';
import { stormAt } from '../../basin/overflow/notch-storm';
import type { Settings } from '../../plan/schema';
import { designInfiltration } from '../../soil/design-infiltration';
import { greenAmptSoil } from '../../soil/green-ampt-soil';
import { waterEvent } from '../../storm/water-event';
import { hourS, mmPerHOfMPerS } from '../../units/units';
import type { Verdict } from '../../verdict';
import type { LogRow } from './read-log';
import {
  rateOfRow,
  refitRate,
  type DryingTime,
  type RainSeen,
  type RateOfRow,
  type RefitRate,
} from './refit-rate';

/** What a log of checks says of one garden. Field names are those of the JSON output. */
export interface GardenLog {
  readonly id: string;
  readonly name: string;
  readonly rows: readonly {
    readonly date: string;
    readonly rain_mm: number;
    readonly dry_h: number;
    readonly still_wet: boolean;
    /** What the design reckons for that rain; `null` where it stays wet, or the soil is unknown. */
    readonly reckoned_h: number | null;
    readonly rate_mm_per_h: number | null;
    /** `null` where it was looked at before the limit and still wet. */
    readonly in_time: boolean | null;
    readonly why: string | null;
    readonly note: string;
  }[];
  readonly limit_h: number;
  readonly designed_mm_per_h: number | null;
  readonly refit: {
    readonly rate_mm_per_h: number;
    readonly between_mm_per_h: readonly [number, number];
    readonly looks: number;
    readonly method: string;
    /** After the plan's storm, at the rate and at its slow and fast end; `null` where it stays wet. */
    readonly plan_storm_h: number | null;
    readonly plan_storm_between_h: readonly [number | null, number | null];
  } | null;
  /** Whether it does what was designed. */
  readonly result: Verdict;
  readonly why: string;
  readonly what_to_do: readonly string[];
}

/** Two weeks: longer than anybody waits. */
const horizonH = 336;
/** Slower than this share of its earlier rate, a garden is silting up. Our choice, no source. */
const slowedShare = 0.7;
/** A rate that is open by more than this, from its slow to its fast end, is not to be designed with. Our choice, no source. */
const wideRatio = 10;
/** Looks from which on a trend is looked for. */
const looksForTrend = 4;

/**
 * Reads a log against a garden as it was designed: the soil's rate as the garden itself shows it, and what follows.
 *
 * Each look is a storm of that depth, spread as the plan's, or even where its time was written down, filled and drained at rates
 * until the hours agree.
 *
 * Cost: some forty storms for each look, half a second or so.
 */
export function gardenLog(
  question: DesignQuestion,
  built: BasinAsBuilt,
  design: BasinDesign,
  log: readonly LogRow[],
): GardenLog {
  const { lotfall } = question.plan.plan;
  const drying = dryingTimeOf(question, built, lotfall);
  const tests = question.plan.of['soil-test'].map(({ feature }) => feature);
  const designedMPerS = designInfiltration(lotfall.soil, tests).rateMPerS;
  const limitH = design.drain_down.limit_h;
  const ordered = [...log].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  const told = ordered.map((row) => rateOfRow(row, drying));
  const fit = refitRate(told);
  const planRain: RainSeen = { rainMm: design.storm.rain_mm, rainH: null };
  const hoursAt = (rateMPerS: number): number => drying(planRain, rateMPerS);
  const late = ordered.filter((row) => isLate(row, limitH));
  const standsH = fit === null ? null : [...fit.between, fit.rateMPerS].map(hoursAt);
  const { result, why } = verdictOf({ ordered, late, standsH, limitH });
  return {
    id: design.id,
    name: design.name,
    rows: ordered.map((row, i) => ({
      date: row.day,
      rain_mm: row.rainMm,
      dry_h: row.dryH,
      still_wet: row.stillWet,
      reckoned_h: designedMPerS === null ? null : finite(drying(row, designedMPerS)),
      rate_mm_per_h: mmPerH(told[i].rateMPerS),
      in_time: isLate(row, limitH) ? false : row.stillWet ? null : true,
      why: told[i].why,
      note: row.note,
    })),
    limit_h: limitH,
    designed_mm_per_h: mmPerH(designedMPerS),
    refit:
      fit === null || standsH === null
        ? null
        : {
            rate_mm_per_h: fit.rateMPerS * mmPerHOfMPerS,
            between_mm_per_h: [fit.between[0] * mmPerHOfMPerS, fit.between[1] * mmPerHOfMPerS],
            looks: fit.count,
            method: fit.method,
            plan_storm_h: finite(standsH[2]),
            plan_storm_between_h: [finite(standsH[0]), finite(standsH[1])],
          },
    result,
    why,
    what_to_do: whatToDo(result, told, fit),
  };
}

/** Whether a look found it wet longer than the limit. */
function isLate({ dryH, stillWet }: LogRow, limitH: number): boolean {
  return dryH > limitH || (stillWet && dryH === limitH);
}

function finite(hours: number): number | null {
  return Number.isFinite(hours) ? hours : null;
}

function mmPerH(rateMPerS: number | null): number | null {
  return rateMPerS === null ? null : rateMPerS * mmPerHOfMPerS;
}

function dryingTimeOf(
  question: DesignQuestion,
  built: BasinAsBuilt,
  lotfall: Settings,
): DryingTime {
  const tests = question.plan.of['soil-test'].map(({ feature }) => feature);
  const infiltration = designInfiltration(lotfall.soil, tests);
  // its texture counts even where no rate is known
  const floor = greenAmptSoil({ ...infiltration, rateMPerS: 1 }, lotfall.soil)?.soil ?? null;
  const [part] = withWater(question, built, floor, lotfall);
  const inflows = new Map<string, ReturnType<typeof eventInflow>>();
  return ({ rainMm, rainH }, conductivityMPerS) => {
    const key = `${rainMm} ${rainH ?? ''}`;
    let inflow = inflows.get(key);
    if (inflow === undefined) {
      const settings = stormAt(lotfall, rainMm);
      const asSeen: Settings =
        rainH === null
          ? settings
          : {
              ...settings,
              storm: { rain_mm: rainMm, duration_h: rainH, pattern: 'uniform' },
            };
      inflow = eventInflow(part.catchment, waterEvent(asSeen));
      inflows.set(key, inflow);
    }
    const subsoil = floor === null ? null : { ...floor, conductivityMPerS };
    const { summary } = fillAndDrain({ ...part.linked.basin, subsoil }, inflow, { horizonH });
    return summary.drainDownS === null ? Infinity : summary.drainDownS / hourS;
  };
}

interface Judged {
  readonly ordered: readonly LogRow[];
  readonly late: readonly LogRow[];
  /** After the plan's storm at the slow end, the fast end and the middle of the rate; `null` without a rate. */
  readonly standsH: readonly number[] | null;
  readonly limitH: number;
}

function verdictOf({ ordered, late, standsH, limitH }: Judged): { result: Verdict; why: string } {
  const seen =
    late.length === 0
      ? `it was found wet longer than ${limitH} h in none of ${ordered.length} looks`
      : `it stood longer than ${limitH} h in ${late.length} of ${ordered.length} looks`;
  if (standsH === null) {
    return {
      result: late.length > 1 ? 'fail' : 'check',
      why: `As seen, ${seen}; no look tells the soil’s rate.`,
    };
  }
  const [slow, fast, middle] = standsH;
  const text = (hours: number): string =>
    Number.isFinite(hours) ? `${Math.round(hours)} h` : 'longer than two weeks';
  const storm = `after the plan’s storm it should stand ${text(middle)} (${text(fast)} to ${text(slow)}); the limit is ${limitH} h`;
  const why = `As seen, ${seen}; ${storm}.`;
  if (late.length > 1 || fast > limitH) return { result: 'fail', why };
  return { result: late.length === 0 && slow <= limitH ? 'pass' : 'check', why };
}

function whatToDo(result: Verdict, told: readonly RateOfRow[], fit: RefitRate | null): string[] {
  const known = told.flatMap(({ rateMPerS, isMost }) =>
    rateMPerS === null || isMost ? [] : [rateMPerS],
  );
  const lines: string[] = [];
  if (result === 'fail') {
    lines.push(
      'Look for a crust or a mat of leaves: rake it off, fork the floor open when it is dry, renew the mulch, and log the next rains.',
      'If it stays slow, lower the sill so that less stands, or see what the design offers for slow soil with the rate below.',
    );
  }
  if (result === 'check') lines.push('Log some more rains: the larger, the more they tell.');
  if (known.length >= looksForTrend) {
    const half = Math.floor(known.length / 2);
    const mean = (list: readonly number[]): number =>
      Math.exp(list.reduce((sum, each) => sum + Math.log(each), 0) / list.length);
    if (mean(known.slice(-half)) < slowedShare * mean(known.slice(0, half))) {
      lines.push(
        'It is getting slower from look to look: silt is closing it. Clear what comes in with the water, and rake the floor.',
      );
    }
  }
  const bound = Math.min(
    ...told.flatMap(({ rateMPerS, isMost }) => (isMost && rateMPerS !== null ? [rateMPerS] : [])),
  );
  if (fit !== null && bound < fit.between[0]) {
    lines.push(
      `A look that was still wet allows ${inWords(bound)} at most, less than the others show: look at that rain again.`,
    );
  }
  if (fit !== null) {
    lines.push(
      fit.between[1] / fit.between[0] <= wideRatio
        ? `To reckon with what the garden shows, set the soil’s rate in the plan to ${inWords(fit.rateMPerS)} and design again.`
        : 'The looks lie too far apart to give the soil a rate: check hours and rain, and log more.',
    );
  }
  lines.push(
    'At each look: inlet and notch clear, stones in place, mulch 5 to 8 cm (2 to 3 in), berm whole, nothing washed out below.',
  );
  return lines;
}

function inWords(rateMPerS: number): string {
  return `${(rateMPerS * mmPerHOfMPerS).toPrecision(3)} mm/h`;
}
