import type { Bulking } from '../../basin/form/bulking';
import { sourceLine, type Source } from '../../source';
import { cubicYardM3 } from '../../units/units';
import type { Need } from '../orders/needs';

/** Hours that a task takes one person, from quick to slow, and by what. Field names are those of the JSON output. */
export interface TaskTime {
  readonly task: string;
  /** What is done, in `unit`. */
  readonly amount: number;
  readonly unit: 'm3' | 'plants';
  readonly person_hours: readonly [number, number];
  readonly quick_source: string;
  readonly slow_source: string;
}

export interface WorkTime {
  readonly tasks: readonly TaskTime[];
  readonly people: number;
  readonly hours_a_day: number;
  readonly person_hours: readonly [number, number];
  /** With so many people, whole days. */
  readonly days: readonly [number, number];
  readonly note: string;
}

/** What is moved and set, m3 and plants. */
export interface WorkAmounts {
  /** In the ground. */
  readonly digM3: number;
  /** As carried: what is wheeled away or to the berm. */
  readonly wheelM3: number;
  /** As carried: layers and stone that are laid. */
  readonly layM3: number;
  readonly plants: number;
}

const paid: Source = {
  title: 'Output of digging by hand: trench and pit to 1.5 m, fill in layers, wheeling',
  publisher: 'a compendium of a project controls guild, for paid labour',
  year: null,
  mark: 'seen',
};
const atHome: Source = {
  title: 'Digging at home: 1 to 2 yd3 a person and day in loam, half of that in stony clay',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};
const practised = 'common practice, no source';

/** m3 in the ground an hour and person: a trench in this soil by paid labour, the quick end. */
const trenchM3PerH: Readonly<Record<SoilClass, number>> = { loose: 0.66, firm: 0.57, clay: 0.46 };
/** m3 in the ground a day and person at home, the slow end. */
const homeM3PerDay: Readonly<Record<SoilClass, number>> = {
  loose: cubicYardM3,
  firm: cubicYardM3,
  clay: 0.5 * cubicYardM3,
};
/** m3 an hour, wheeled up to 10, 20, 50 m. */
const wheeling: readonly { readonly toM: number; readonly m3PerH: number }[] = [
  { toM: 10, m3PerH: 6.25 },
  { toM: 20, m3PerH: 3.23 },
  { toM: 50, m3PerH: 2.13 },
];
/** m3 an hour, laid by hand in layers of 10 to 20 cm; at home half of that is taken. */
const layingM3PerH = 1.02;
const plantsPerH = { quick: 30, slow: 12 } as const;
/** Hours that people at home dig in a day. Our choice, no source. */
const usualHoursADay = 6;

type SoilClass = 'loose' | 'firm' | 'clay';

function classOf({ soil }: Pick<Bulking, 'soil'>): SoilClass {
  return soil === 'sandy soil' ? 'loose' : soil === 'clay' ? 'clay' : 'firm';
}

export interface Crew {
  readonly people: number;
  /** From the hole to where the soil goes, metres. */
  readonly wheelM: number;
  readonly hoursADay?: number;
}

/** How long a job takes people with spades and barrows, as ranges: quick as paid labour does it, slow as at home. */
export function workTime(
  { digM3, wheelM3, layM3, plants }: WorkAmounts,
  soil: Pick<Bulking, 'soil'>,
  { people, wheelM, hoursADay = usualHoursADay }: Crew,
): WorkTime {
  const kind = classOf(soil);
  const far = wheeling.find(({ toM }) => wheelM <= toM) ?? wheeling[wheeling.length - 1];
  // beyond the table the way is walked as often as it is longer
  const wheelPerH = far.m3PerH * Math.min(1, far.toM / wheelM);
  const tasks: TaskTime[] = [
    task('dig', digM3, trenchM3PerH[kind], homeM3PerDay[kind] / hoursADay, atHome),
    task('wheel away', wheelM3, wheelPerH, wheelPerH / 2, null),
    task('lay sand, mix, mulch and stone', layM3, layingM3PerH, layingM3PerH / 2, null),
    {
      task: 'plant',
      amount: plants,
      unit: 'plants',
      person_hours: [plants / plantsPerH.quick, plants / plantsPerH.slow],
      quick_source: practised,
      slow_source: practised,
    },
  ];
  const all = [0, 1].map((end) => tasks.reduce((sum, each) => sum + each.person_hours[end], 0));
  const daysOf = (hours: number): number => Math.ceil(hours / people / hoursADay - 1e-9);
  return {
    tasks: tasks.filter(({ amount }) => amount > 0),
    people,
    hours_a_day: hoursADay,
    person_hours: [all[0], all[1]],
    days: [daysOf(all[0]), daysOf(all[1])],
    note: `Quick is what paid labour does in ${kind === 'clay' ? 'clay' : `${kind} soil`}; slow is people at home. Roots, stones, rubble and wet soil take longer still, and near lines everything is dug with care.`,
  };
}

/** @param slow - where the slow rate is from; `null` for half of the quick one, common practice. */
function task(
  name: string,
  amount: number,
  quickPerH: number,
  slowPerH: number,
  slow: Source | null,
): TaskTime {
  return {
    task: name,
    amount,
    unit: 'm3',
    person_hours: [amount / quickPerH, amount / slowPerH],
    quick_source: sourceLine(paid),
    slow_source: slow === null ? practised : sourceLine(slow),
  };
}

/** What of a job's needs is dug, wheeled, laid and planted. */
export function workAmounts(needs: readonly Need[]): WorkAmounts {
  const sum = (of: (need: Need) => number | null): number =>
    needs.reduce((total, need) => total + (of(need) ?? 0), 0);
  const isDug = ({ name }: Need): boolean => name === 'cut' || name === 'dig for layers';
  return {
    digM3: sum((need) => (isDug(need) ? need.inPlaceM3 : 0)),
    wheelM3: sum((need) => (isDug(need) ? need.amount : 0)),
    layM3: sum((need) => (need.use === 'buy' && need.unit === 'm3' ? need.amount : 0)),
    plants: sum((need) => (need.name.startsWith('plants') ? need.amount : 0)),
  };
}
