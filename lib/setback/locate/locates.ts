import type { LngLat, Frame } from '../../frame/frame';
import type { PolygonShape, Ring } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { service as serviceNames, type FeatureOf, type Settings } from '../../plan/schema';
import { isCovered, type DigPiece } from './dig-pieces';
import type { Service } from './marking-colours';

/** Who marks lines: the public notice service those of their owners, a private locator those on the lot owner's side. */
export type LocateParty = 'public' | 'private';

export const locateParties: readonly LocateParty[] = ['public', 'private'];

/** Every service that lines in the ground serve, in the order of the plan's schema. */
export const allServices: readonly Service[] = serviceNames.options;

/** What is known about a line's place today. */
export type LocateState =
  'current' | 'never' | 'expired' | 'not-yet' | 'dates-in-doubt' | 'wrong-party' | 'side-unknown';

/**
 * Whether a utility line is located today by the party whose marking counts: the public notice service for its
 * owners' lines, a private locator for lines on the lot owner's side of the meter.
 */
export function locateState(line: FeatureOf<'utility'>, today: string): LocateState {
  const { side, located } = line.properties;
  if (located === undefined) return 'never';
  if (side === undefined) return 'side-unknown';
  if (located.by !== side) return 'wrong-party';
  return inTime(located, today);
}

/** The answer of a locator who came and found no line of some services. ISO dates. */
export interface ClearLocate {
  readonly services: readonly Service[];
  readonly by: LocateParty;
  readonly on: string;
  readonly until: string;
  /** Number of the ticket or report. */
  readonly reference: string | undefined;
  /** The ground that it covers, in local metres; `undefined` where it does not say. */
  readonly area: readonly PolygonShape[] | undefined;
}

/** The answers without a line that the plan's settings keep, with their ground in local metres. */
export function clearLocates({
  plan,
  frame,
  of,
}: Pick<LocalPlan, 'plan' | 'frame' | 'of'>): ClearLocate[] {
  const own = of.lot.filter(({ feature }) => feature.properties.own).map(({ shape }) => shape);
  return (plan.lotfall.locates ?? []).map(({ services, by, on, until, reference, area }) => ({
    services,
    by,
    on,
    until,
    reference,
    area: area === 'lot' ? own : area === undefined ? undefined : localArea(area, frame),
  }));
}

type PlanArea = Exclude<NonNullable<NonNullable<Settings['locates']>[number]['area']>, 'lot'>;

function localArea(area: PlanArea, frame: Frame): PolygonShape[] {
  const polygons = area.type === 'Polygon' ? [area.coordinates] : area.coordinates;
  return polygons.map((rings) => ({
    type: 'polygon',
    rings: rings.map((ring) => localRing(ring, frame)),
  }));
}

function localRing(ring: readonly LngLat[], frame: Frame): Ring {
  const last = ring[ring.length - 1];
  const isClosed = last[0] === ring[0][0] && last[1] === ring[0][1];
  return (isClosed ? ring.slice(0, -1) : ring).map((at) => frame.toLocal(at));
}

/**
 * What one party has said of one service in some ground: that its lines are marked, that there is none, something that
 * does not count (its time has run out or not begun or is no time that a locate holds, it is about other ground or does
 * not say about which), or nothing.
 */
export type AnswerState =
  | 'marked'
  | 'clear'
  | 'elsewhere'
  | 'no-ground'
  | 'expired'
  | 'not-yet'
  | 'dates-in-doubt'
  | 'none';

export interface ServiceAnswer {
  readonly service: Service;
  readonly by: LocateParty;
  readonly state: AnswerState;
  /** The answer without a line that it rests on, or that does not count; `undefined` for the others. */
  readonly record: ClearLocate | undefined;
}

/** What does not count, that which lacks least first. */
const lacking: readonly AnswerState[] = [
  'elsewhere',
  'no-ground',
  'dates-in-doubt',
  'not-yet',
  'expired',
];

export interface AnswersAbout {
  readonly plan: Pick<LocalPlan, 'of'>;
  readonly locates: readonly ClearLocate[];
  /** Services of which an answer is expected. */
  readonly services: readonly Service[];
  /** ISO date. */
  readonly today: string;
  /** The ground to be dug; asked for only where an answer may cover it. */
  readonly pieces: () => readonly Pick<DigPiece, 'shape' | 'reachM'>[];
}

/**
 * What each party has said of each service in the ground to be dug: one answer for each of the two and each service.
 *
 * A line that its party has located now answers for its service on that party's side: the locator was there. Silence
 * answers nothing.
 */
export function serviceAnswers({
  plan,
  locates,
  services,
  today,
  pieces,
}: AnswersAbout): ServiceAnswer[] {
  const judged = locates.map((record) => ({ record, state: clearState(record, today, pieces) }));
  return locateParties.flatMap((by) =>
    services.map((service): ServiceAnswer => {
      const isMarked = plan.of.utility.some(
        ({ feature }) =>
          feature.properties.service === service &&
          feature.properties.side === by &&
          locateState(feature, today) === 'current',
      );
      const said = judged.filter(
        ({ record }) => record.by === by && record.services.includes(service),
      );
      const clear = said.find(({ state }) => state === 'clear');
      if (clear !== undefined) return { service, by, ...clear };
      if (isMarked) return { service, by, state: 'marked', record: undefined };
      const nearest = lacking.flatMap((state) => said.filter((each) => each.state === state)).at(0);
      return { service, by, ...(nearest ?? { state: 'none', record: undefined }) };
    }),
  );
}

/** Whether an answer counts. */
export function isAnswered({ state }: ServiceAnswer): boolean {
  return state === 'marked' || state === 'clear';
}

/** Whether an answer without a line counts for some ground today. */
export function clearState(
  record: ClearLocate,
  today: string,
  pieces: AnswersAbout['pieces'],
): Exclude<AnswerState, 'marked' | 'none'> {
  const time = inTime(record, today);
  if (time !== 'current') return time;
  if (record.area === undefined) return 'no-ground';
  return isCovered(pieces(), record.area) ? 'clear' : 'elsewhere';
}

/**
 * Marks hold for weeks, two months where longest (Ontario 60 days, Washington 45, both seen). Dates further apart, or
 * further ahead, than this are a slip of the pen. Own choice.
 */
const longestDays = 366;

function inTime(
  { on, until }: { readonly on: string; readonly until: string },
  today: string,
): 'current' | 'not-yet' | 'dates-in-doubt' | 'expired' {
  if (daysFrom(on, until) > longestDays || daysFrom(today, on) > longestDays) {
    return 'dates-in-doubt';
  }
  if (today < on) return 'not-yet';
  return today <= until ? 'current' : 'expired';
}

function daysFrom(day: string, later: string): number {
  return (Date.parse(later) - Date.parse(day)) / 86_400_000;
}
