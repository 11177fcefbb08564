import type { Frame, LngLat, XY } from '../../frame/frame';
import { centroid, type Rings } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { compass } from '../../units/compass';
import { nameOf } from '../rules/concerned';
import { answerLines } from './answer-words';
import { digArea, rectangleAround } from './dig-area';
import { digPieces, workingMarginM } from './dig-pieces';
import { handDigZones } from './hand-dig-zones';
import {
  allServices,
  isAnswered,
  locateParties,
  locateState,
  serviceAnswers,
  type AnswerState,
  type ClearLocate,
  type LocateParty,
  type LocateState,
  type ServiceAnswer,
} from './locates';
import { markings, type Service } from './marking-colours';
import { outlineOf, separation, sharedPoint } from '../measure/outline';
import type { RuleSet } from '../rules/rule';
import { utility as usualUtility } from '../sets/shared-rules';
import type { CheckedBasin } from '../rules/checked-basins';

export interface LocateRequestInput {
  readonly plan: Pick<LocalPlan, 'of' | 'frame'>;
  readonly basins: readonly CheckedBasin[];
  /** To each side of a line, metres: that of the rule set. */
  readonly toleranceM: number;
  /** Services of which answers are expected: those of the rule set; every one when not given. */
  readonly services?: readonly Service[];
  /** Answers of locators who found no line. */
  readonly locates?: readonly ClearLocate[];
  /** ISO date. */
  readonly today: string;
}

/** What one of the two parties is to be asked. Field names are those of the JSON output. */
export interface LocateAsk {
  readonly by: LocateParty;
  readonly who: string;
  /** Whether there is anything to ask: a locate or an answer is missing, has run out or is about other ground. */
  readonly needed: boolean;
  /** Until when all its locates and answers on record may be relied on; null when one is missing. ISO date. */
  readonly valid_until: string | null;
  /** What it has said of each service in the ground to be dug. */
  readonly answers: readonly {
    readonly service: Service;
    readonly state: AnswerState;
    readonly on: string | null;
    readonly until: string | null;
    readonly reference: string | null;
  }[];
  /** The same in words. */
  readonly answer_lines: readonly string[];
  readonly lines: readonly LocateLine[];
}

export interface LocateLine {
  readonly feature: string;
  readonly name: string;
  readonly service: Service;
  /** Colour that its marks will have, and its letter and dash on the plan. */
  readonly colour: string;
  readonly letter: string;
  readonly dash: string;
  readonly state: LocateState;
  readonly valid_until: string | null;
  /** From the edge of the ground to be dug, metres; 0 where it runs through it. */
  readonly distance_m: number;
  /** Whether ground to be dug lies in its zone for hand tools. */
  readonly hand_dig: boolean;
}

/** A locate request: where is to be dug, whom to ask for what. */
export interface LocateRequest {
  readonly on: string;
  readonly lot: string;
  /** What is to be dug, in words. */
  readonly parts: readonly string[];
  readonly working_margin_m: number;
  readonly area_m2: number;
  /** The ground to be outlined in white. */
  readonly outline: readonly (readonly (readonly LngLat[])[])[];
  /** Corners of the smallest rectangle around it, to be read out over the telephone. */
  readonly corners: readonly LngLat[];
  /** Sides of that rectangle, metres. */
  readonly sides_m: readonly [number, number];
  readonly from_buildings: readonly {
    readonly building: string;
    readonly name: string;
    readonly distance_m: number;
    /** Which way the ground to be dug lies from it. */
    readonly direction: string;
  }[];
  readonly tolerance_m: number;
  readonly ask: readonly LocateAsk[];
  readonly cautions: readonly string[];
}

/** Said with every request. Own words; the figures were seen on pages of several states and of Ontario. */
const cautions: readonly string[] = [
  'Ask before any digging, by hand too, and wait the whole legal notice: from two to ten working days, by place. Keep the ticket’s number.',
  'Marks are good for a time only, from about two weeks to two months by place: what your ticket says governs. Renew it when work runs on or marks fade.',
  'Public marking mostly ends at the meter. Feeds to outbuildings, lights, irrigation, propane, septic parts and roof drains are yours to have found by a private locator.',
  'Marks tell the place roughly, and no depth. No marks do not prove that there is no line: wait for every owner’s answer.',
  'Within the tolerance zone dig by hand, gently, and expose the line before anything else. Do not disturb the marks.',
  'On a smell of gas or a struck line: stop, leave, call the emergency number.',
];

const who = {
  public:
    'the public notice service for lines of their owners (in the United States dial 811; in Canada the province’s; in the United Kingdom each owner’s line search)',
  private: 'a private locator, at your own cost, for lines on your side of the meters',
} as const;

/** What a rule set says of lines: the tolerance to each side of them, and of which services answers are expected. */
export function locateTerms({
  rules,
}: RuleSet): Pick<LocateRequestInput, 'toleranceM' | 'services'> {
  const rule = rules.find((each) => each.test === 'utility');
  return rule?.test === 'utility'
    ? { toleranceM: rule.toleranceM, services: rule.services }
    : { toleranceM: usualUtility.tolerance_m };
}

/** Puts a locate request together. Cost: a few milliseconds a feature, once the geometry library is loaded. */
export async function locateRequest(input: LocateRequestInput): Promise<LocateRequest> {
  const { plan, basins, today, toleranceM, locates = [], services = allServices } = input;
  const area = await digArea(plan, basins);
  const zones = await handDigZones(plan, toleranceM, today);
  const { toLngLat } = plan.frame;
  const outlines = area.polygons.map((rings) => outlineOf({ type: 'polygon', rings }));
  const rectangle = rectangleAround(area.polygons);
  const lines = plan.of.utility.map((line): LocateLine => {
    const { service, located } = line.feature.properties;
    const state = locateState(line.feature, today);
    const zone = zones.find(({ feature }) => feature === line.id);
    const { colour, letter, dash } = markings[service];
    return {
      feature: line.id,
      name: nameOf(line),
      service,
      colour,
      letter,
      dash,
      state,
      valid_until: state === 'current' ? (located?.until ?? null) : null,
      distance_m: Math.min(
        ...outlines.map((outline) => separation(outline, outlineOf(line.shape)).distanceM),
      ),
      hand_dig: (zone?.polygons ?? []).some((rings) =>
        outlines.some(
          (outline) => sharedPoint(outline, outlineOf({ type: 'polygon', rings })) !== undefined,
        ),
      ),
    };
  });
  const sideOf = new Map(plan.of.utility.map(({ id, feature }) => [id, feature.properties.side]));
  const pieces = basins.flatMap((basin) => digPieces(plan, basin));
  const answers = serviceAnswers({ plan, locates, services, today, pieces: () => pieces });
  const own = plan.of.lot.find((lot) => lot.feature.properties.own);
  return {
    on: today,
    lot: own === undefined ? 'the lot' : nameOf(own),
    parts: area.parts,
    working_margin_m: workingMarginM,
    area_m2: area.areaM2,
    outline: area.polygons.map((rings) => globeRings(rings, plan.frame)),
    corners: rectangle.map((at) => toLngLat(at)),
    sides_m: sidesOf(rectangle),
    from_buildings: fromBuildings(plan, area.polygons),
    tolerance_m: toleranceM,
    ask: locateParties.map((by): LocateAsk => {
      // A line whose side is not known is asked of both.
      const asked = lines.filter(({ feature }) => (sideOf.get(feature) ?? by) === by);
      const said = answers.filter((each) => each.by === by);
      const needed = !said.every(isAnswered) || asked.some(({ state }) => state !== 'current');
      return {
        by,
        who: who[by],
        needed,
        valid_until: needed ? null : earliest(asked, said),
        answers: said.map(({ service, state, record }) => ({
          service,
          state,
          on: record?.on ?? null,
          until: record?.until ?? null,
          reference: record?.reference ?? null,
        })),
        answer_lines: answerLines(said),
        lines: asked,
      };
    }),
    cautions,
  };
}

/** The first of the days on which a party's locates and answers run out. */
function earliest(lines: readonly LocateLine[], answers: readonly ServiceAnswer[]): string | null {
  const days = [
    ...lines.flatMap(({ valid_until }) => valid_until ?? []),
    ...answers.flatMap(({ record }) => record?.until ?? []),
  ].sort();
  return days.at(0) ?? null;
}

function globeRings(rings: Rings, frame: Frame): LngLat[][] {
  return rings.map((ring) => [...ring, ring[0]].map((at) => frame.toLngLat(at)));
}

function sidesOf(rectangle: readonly XY[]): readonly [number, number] {
  if (rectangle.length < 4) return [0, 0];
  const [a, b, c] = rectangle;
  const sides = [Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(c[0] - b[0], c[1] - b[1])];
  return [Math.max(...sides), Math.min(...sides)];
}

/** The nearest buildings, at most two: what a locator finds a place by. */
function fromBuildings(
  plan: Pick<LocalPlan, 'of'>,
  polygons: readonly Rings[],
): LocateRequest['from_buildings'] {
  if (polygons.length === 0) return [];
  const middle = centroid(polygons[0]);
  return plan.of.building
    .map((building) => {
      const [x, y] = centroid(building.shape.rings);
      const bearingDeg = (Math.atan2(middle[0] - x, middle[1] - y) * 180) / Math.PI;
      return {
        building: building.id,
        name: nameOf(building),
        distance_m: Math.min(
          ...polygons.map(
            (rings) =>
              separation(outlineOf({ type: 'polygon', rings }), outlineOf(building.shape))
                .distanceM,
          ),
        ),
        direction: compass(bearingDeg),
      };
    })
    .sort((a, b) => a.distance_m - b.distance_m)
    .slice(0, 2);
}
