import type { DesignResult } from '../../basin/design/design-result';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import type { Grid } from '../../elevation/grid';
import { orSaid } from '../../errors';
import type { JobSettings } from '../../plan/job-settings';
import type { LocalPlan } from '../../plan/local-plan';
import type { Plant } from '../../planting/plant';
import type { PlantingPlan } from '../../planting/planting-plan';
import type { UnitSystem } from '../../units/units';
import type { Day } from '../dates/day';
import { jobDates, type JobDates } from '../dates/job-dates';
import { readPriceList, type PriceList } from '../orders/price-list';
import { readQuotes, type Quote } from '../orders/quotes';
import { datesAsked } from './dates-of-plan';
import { gardensOfDesign } from './gardens-of-design';
import { orderOfJob, type OrderDocument } from './order-of-job';
import { plantingOfJob } from './planting-of-job';
import { plantsOf } from './plants-of-job';
import { usualPeople, usualWheelM, workOfJob, type WorkDocument } from './work-of-job';

/** What leads from a design to a dug garden; a part is `null` where the plan lacks what it takes, and `lacks` says so. */
export interface JobDocuments {
  readonly order: OrderDocument | null;
  readonly work: WorkDocument | null;
  readonly planting: readonly PlantingPlan[] | null;
  readonly dates: JobDates | null;
  readonly lacks: {
    readonly order: readonly string[];
    readonly work: readonly string[];
    readonly planting: readonly string[];
    readonly dates: readonly string[];
  };
}

export interface JobInput {
  readonly plan: LocalPlan;
  /** What is said of the job; the plan's own when not given. */
  readonly job?: JobSettings;
  /** `null` without elevation. */
  readonly elevation: Grid | null;
  readonly design: DesignResult | null;
  readonly built: ReadonlyMap<string, BasinAsBuilt>;
  readonly today: Day;
}

const noPrices =
  'No price list is given, so nothing is priced: open one (--prices, or under Orders).';
const noPlants =
  'No plants are named, so none are set: name a region or open a list (--region or --plants, or under Plants).';

/**
 * Orders, steps, plants and dates of a plan by what it says of its job. What cannot be read is no error here: the part that
 * hangs on it says so, and the others are there.
 *
 * Cost: for each garden that of building it once more, a tenth larger, and of laying out its plants.
 */
export function jobDocuments(input: JobInput): JobDocuments {
  const { plan, elevation, design, built, today } = input;
  const { lotfall } = plan.plan;
  const job: JobSettings = input.job ?? lotfall.job ?? {};
  const units = lotfall.units ?? 'metric';
  const dates = datesPart(plan, job, today);
  const gardens = design === null ? [] : gardensOfDesign(plan, design, built);
  if (gardens.length === 0 || elevation === null || design === null) {
    const why =
      plan.of.basin.length === 0
        ? 'There is no garden on the plan.'
        : elevation === null
          ? 'Without elevation nothing is known of the earth to be moved.'
          : 'No garden can be dug as drawn.';
    const { lacks } = dates;
    return {
      ...{ order: null, work: null, planting: null, dates: dates.of },
      lacks: { order: [why], work: [why], planting: [why], dates: lacks },
    };
  }
  const tables = readTables(job, units);
  const { prices, quotes, plants } = tables;
  const grid = job.plant_grid ?? 'triangular';
  return {
    order: orderOfJob({
      ...{ elevation, plan, gardens, quotes, plants },
      options: {
        system: units,
        ...(prices === null ? {} : { prices }),
        ...(job.payload_kg === undefined ? {} : { payloadKg: job.payload_kg }),
      },
    }),
    work: workOfJob(gardens, design, units, {
      people: job.people ?? usualPeople,
      wheelM: job.wheel_m ?? usualWheelM,
    }),
    planting:
      plants === null
        ? null
        : plantingOfJob(plan, gardens, plants, { grid, seenFromDeg: job.seen_from_deg ?? null }),
    dates: dates.of,
    lacks: { ...tables.lacks, work: [], dates: dates.lacks },
  };
}

function datesPart(
  { plan, of }: LocalPlan,
  job: JobSettings,
  today: Day,
): { readonly of: JobDates | null; readonly lacks: readonly string[] } {
  if (of.basin.length === 0) return { of: null, lacks: ['There is no garden on the plan.'] };
  const lacks: string[] = [];
  const asked = orSaid(lacks, () => datesAsked(plan, job, today));
  if (asked === null) return { of: null, lacks };
  return asked.question === null
    ? { of: null, lacks: asked.lacks }
    : { of: jobDates(asked.question), lacks };
}

interface Tables {
  readonly prices: PriceList | null;
  readonly quotes: readonly Quote[];
  readonly plants: readonly Plant[] | null;
  readonly lacks: { readonly order: readonly string[]; readonly planting: readonly string[] };
}

/** The tables that are kept in a plan, read. */
function readTables(job: JobSettings, units: UnitSystem): Tables {
  const { price_list: priceList, quotes: quoted } = job;
  const order: string[] = [];
  const planting: string[] = [];
  const prices =
    priceList === undefined
      ? null
      : orSaid(order, () => readPriceList(priceList.csv, priceList.name));
  if (priceList === undefined) order.push(noPrices);
  const quotes =
    quoted === undefined || prices === null
      ? []
      : (orSaid(order, () => readQuotes(quoted.csv, quoted.name)) ?? []);
  const plants = orSaid(planting, () => plantsOf(job, units));
  if (plants === null && planting.length === 0) planting.push(noPlants);
  return { prices, quotes, plants, lacks: { order, planting } };
}
