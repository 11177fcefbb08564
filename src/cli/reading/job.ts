import { basename } from 'node:path';
import { readDay, readDayOfYear, type DateOrder } from '../../../lib/handover/dates/day';
import { readSpan } from '../../../lib/handover/dates/notice';
import { sellingUnit } from '../../../lib/handover/orders/measures';
import type { JobSettings, KeptTable } from '../../../lib/plan/job-settings';
import type { Plan } from '../../../lib/plan/schema';
import { starterLists } from '../../../lib/planting/starter-lists';
import { bearingOfPoint } from '../../../lib/units/compass';
import { parseBearing } from '../../../lib/units/parse-angle';
import { parseLength } from '../../../lib/units/parse-length';
import type { UnitSystem } from '../../../lib/units/units';
import type { Call } from '../command';
import { usage } from '../usage';
import { readText } from './read-text';

/**
 * What the plan says of its job, and in its place what the call says. A command that does not know an option takes what the
 * plan has.
 *
 * @throws {InputError} for options that cannot be read and tables that are not there.
 */
export async function jobOf(call: Call, { lotfall }: Plan): Promise<JobSettings> {
  const plants = await plantsNamed(call);
  const given: Partial<JobSettings> = {
    ...datesGiven(call),
    ...crewGiven(call, lotfall.units ?? 'metric'),
    price_list: await tableOf(call, 'prices', 'the price list'),
    quotes: await tableOf(call, 'quotes', 'the list of quotes'),
    ...plants,
  };
  const said = Object.entries(given).filter(([, value]) => value !== undefined);
  const { plant_list: kept, ...job } = lotfall.job ?? {};
  return {
    ...job,
    ...(kept === undefined || given.plant_region !== undefined ? {} : { plant_list: kept }),
    ...(Object.fromEntries(said) as Partial<JobSettings>),
  };
}

/** How dates that may be read two ways are meant, where the call says. */
export function orderOf(call: Call): DateOrder | undefined {
  const order = call.option('date-order');
  if (order === undefined || order === 'month-first' || order === 'day-first') return order;
  throw usage(`'${order}' is no order of dates`, 'use month-first or day-first');
}

function datesGiven(call: Call): Partial<JobSettings> {
  const order = orderOf(call);
  const day = (option: string): string | undefined => {
    const named = call.option(option);
    return named === undefined ? undefined : readDay(named, `--${option}`, order);
  };
  const span = (option: string): string | undefined => {
    const named = call.option(option);
    return named === undefined ? undefined : readSpan(named, `--${option}`).words;
  };
  const holidays = call.option('holidays');
  const hires = call.all('hire');
  return {
    dig: day('dig'),
    dig_days: daysOf(call),
    notice: span('notice'),
    private_notice: span('private-notice'),
    valid: span('valid'),
    valid_from: validFrom(call),
    holidays: holidays
      ?.split(',')
      .filter((each) => each.trim() !== '')
      .map((each) => readDay(each, '--holidays', order)),
    ...frostOf(call),
    plant: day('plant'),
    lead: span('lead'),
    hires: hires.length === 0 ? undefined : [...hires],
  };
}

function validFrom(call: Call): 'request' | 'start' | undefined {
  const from = call.option('valid-from');
  if (from === undefined || from === 'request' || from === 'start') return from;
  throw usage(`'${from}' is no day that marks count from`, 'use request or start');
}

const mostDays = 366;

function daysOf(call: Call): number | undefined {
  const named = call.option('days');
  if (named === undefined) return undefined;
  const days = Number(named);
  if (Number.isInteger(days) && days >= 1 && days <= mostDays) return days;
  throw usage(`'${named}' is no number of days to dig`, `give 1 to ${mostDays}`);
}

function frostOf(call: Call): Partial<JobSettings> {
  const [last, first] = ['last-frost', 'first-frost'].map((option) => {
    const named = call.option(option);
    return named === undefined ? undefined : readDayOfYear(named, `--${option}`);
  });
  if (last === undefined && first === undefined) return {};
  if (last !== undefined && first !== undefined) return { last_frost: last, first_frost: first };
  throw usage('only one of the frost dates is given', 'give --last-frost and --first-frost');
}

const mostPeople = 50;

function crewGiven(call: Call, units: UnitSystem): Partial<JobSettings> {
  return { people: peopleOf(call), wheel_m: wheelOf(call, units), payload_kg: payloadOf(call) };
}

function peopleOf(call: Call): number | undefined {
  const named = call.option('people');
  if (named === undefined) return undefined;
  const people = Number(named);
  if (Number.isInteger(people) && people >= 1 && people <= mostPeople) return people;
  throw usage(`'${named}' people do not dig a garden`, `give 1 to ${mostPeople}`);
}

function wheelOf(call: Call, units: UnitSystem): number | undefined {
  const named = call.option('wheel');
  if (named === undefined) return undefined;
  const metres = parseLength(named, units, { field: 'way of the barrow' });
  if (metres > 0) return metres;
  throw usage(`'${named}' is no way to wheel soil`, 'give the length of the way, as 15 m');
}

function payloadOf(call: Call): number | undefined {
  const named = call.option('payload');
  if (named === undefined) return undefined;
  const [, figure, name] = /^([\d.]+)\s*([a-z-]+)$/i.exec(named.trim()) ?? [];
  const unit = sellingUnit(name ?? '');
  const kg = Number(figure) * (unit?.factor ?? NaN);
  if (unit?.unit === 'kg' && kg > 0) return kg;
  throw usage(`'${named}' is no weight`, 'write it like 750kg, 1.5t or 1600lb');
}

/** A table that the call names, as it stands in its file. */
async function tableOf(call: Call, option: string, what: string): Promise<KeptTable | undefined> {
  const path = call.option(option);
  if (path === undefined) return undefined;
  return { name: basename(path), csv: await readText(path, what) };
}

const regions = starterLists.map(({ id }) => id).join(', ');

/** Plants that the call names: their list takes the place of a region in the plan, and a region that of a list. */
async function plantsNamed(call: Call): Promise<Partial<JobSettings>> {
  const region = call.option('region');
  const option = call.option('list') === undefined ? 'plants' : 'list';
  const list = await tableOf(call, option, 'the list of plants');
  if (region !== undefined && list !== undefined) {
    throw usage('both a region and a list are given', `keep one of --region and --${option}`);
  }
  if (region !== undefined && !starterLists.some(({ id }) => id === region)) {
    throw usage(
      `there is no list of plants for '${region}'`,
      `use ${regions}, or a list of your own`,
    );
  }
  const grid = call.option('grid');
  if (grid !== undefined && grid !== 'square' && grid !== 'triangular') {
    throw usage(`plants stand on no grid '${grid}'`, 'use square or triangular');
  }
  const view = call.option('view');
  const seen = view === undefined ? undefined : (bearingOfPoint(view) ?? parseBearing(view));
  const named: Partial<JobSettings> = { plant_grid: grid, seen_from_deg: seen };
  if (list !== undefined) return { ...named, plant_list: list };
  return { ...named, plant_region: region };
}
