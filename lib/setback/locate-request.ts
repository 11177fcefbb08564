import type { Frame, LngLat, XY } from '../frame/frame';
import { centroid, type Rings } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import { formatArea, formatLength } from '../units/format';
import type { UnitSystem } from '../units/units';
import { nameOf } from './concerned';
import { digArea, rectangleAround, workingMarginM } from './dig-area';
import { handDigZones } from './hand-dig-zones';
import { locateState, partiesMissing, type Locate, type LocateState } from './locates';
import {
  markings,
  markingSource,
  otherMarks,
  ukColours,
  ukColoursSource,
  type Service,
} from './marking-colours';
import { outlineOf, separation, sharedPoint } from './measure';
import type { RuleSource } from './rule';
import type { CheckedBasin } from './setback-result';

export interface LocateRequestInput {
  readonly plan: Pick<LocalPlan, 'of' | 'frame'>;
  readonly basins: readonly CheckedBasin[];
  /** To each side of a line, metres: that of the rule set. */
  readonly toleranceM: number;
  /** Locates on record beside those of the plan's lines. */
  readonly locates?: readonly Locate[];
  /** ISO date. */
  readonly today: string;
}

/** What one of the two parties is to be asked. Field names are those of the JSON output. */
export interface LocateAsk {
  readonly by: 'public' | 'private';
  readonly who: string;
  /** Whether there is anything to ask: a locate is missing, or has run out. */
  readonly needed: boolean;
  /** Until when all its locates on record may be relied on; null when one is missing. ISO date. */
  readonly valid_until: string | null;
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

/** Puts a locate request together. Cost: a few milliseconds a feature, once the geometry library is loaded. */
export async function locateRequest(input: LocateRequestInput): Promise<LocateRequest> {
  const { plan, basins, today, toleranceM, locates } = input;
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
  const missing = partiesMissing(plan, locates ?? [], today);
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
    ask: (['public', 'private'] as const).map((by): LocateAsk => {
      // A line whose side is not known is asked of both.
      const asked = lines.filter(({ feature }) => (sideOf.get(feature) ?? by) === by);
      const needed = missing.includes(by) || asked.some(({ state }) => state !== 'current');
      return {
        by,
        who: who[by],
        needed,
        valid_until: needed ? null : earliest(asked, by, locates ?? []),
        lines: asked,
      };
    }),
    cautions,
  };
}

/** A locate request as plain text, to be copied into an e-mail or read out over the telephone. */
export function locateRequestText(request: LocateRequest, units: UnitSystem): string {
  const length = (metres: number): string => formatLength(metres, units);
  const [along, across] = request.sides_m;
  const where = [
    `Locate request for ${request.lot}, ${request.on}`,
    `To be dug: ${request.parts.join(', ')}, with ${length(request.working_margin_m)} of working room around.`,
    `Area to be outlined in white: ${formatArea(request.area_m2, units)}, within a rectangle of ${length(along)} by ${length(across)}.`,
    `Its corners (latitude, longitude): ${request.corners
      .map(([lng, lat]) => `${lat.toFixed(6)}, ${lng.toFixed(6)}`)
      .join('; ')}.`,
    ...request.from_buildings.map(({ name, distance_m, direction }) =>
      distance_m === 0
        ? `Against ${name}, ${direction} of it.`
        : `${length(distance_m)} ${direction} of ${name}.`,
    ),
  ];
  const asks = request.ask.map((ask) =>
    [
      ask.needed
        ? `Ask ${ask.who}.`
        : `On record by ${ask.by === 'public' ? 'the public notice service' : 'a private locator'}: valid until ${ask.valid_until}.`,
      ...ask.lines.map((line) => `  ${lineText(line, length)}`),
      ...(ask.lines.length === 0
        ? ['  no such line is drawn, which does not mean there is none']
        : []),
    ].join('\n'),
  );
  const colours = [
    ...otherMarks,
    ...Object.values(markings).map(({ colour, meaning }) => ({ colour, meaning })),
  ].map(({ colour, meaning }) => `${colour} ${meaning}`);
  return [
    where.join('\n'),
    ...asks,
    `Hand tools only within ${length(request.tolerance_m)} to each side of a marked line, its width not counted, or what your law says.`,
    `Colours of marks in North America: ${colours.join('; ')} (${sourceText(markingSource)}). ${ukColours} (${sourceText(ukColoursSource)})`,
    request.cautions.map((caution) => `- ${caution}`).join('\n'),
  ].join('\n\n');
}

function sourceText({ title, publisher, year, mark }: RuleSource): string {
  return `${title}, ${publisher}, ${year ?? 'undated'}, ${mark}`;
}

const stateWords: Readonly<Record<LocateState, string>> = {
  current: 'located',
  never: 'not located yet',
  expired: 'its locate has run out',
  'not-yet': 'its locate is dated later',
  'wrong-party': 'located by the other party only',
  'side-unknown': 'whose it is, is not known: ask both',
};

function lineText(line: LocateLine, length: (metres: number) => string): string {
  const until = line.valid_until === null ? '' : ` until ${line.valid_until}`;
  const place =
    line.distance_m === 0
      ? 'runs through the ground to be dug'
      : `${length(line.distance_m)} from the ground to be dug`;
  return `${line.name} (${line.service.replaceAll('-', ' ')}, ${line.colour}, ${line.letter}, ${line.dash}): ${stateWords[line.state]}${until}; ${place}${line.hand_dig ? '; dig by hand near it' : ''}`;
}

/** The first of the days on which a party's locates run out. */
function earliest(
  lines: readonly LocateLine[],
  by: 'public' | 'private',
  locates: readonly Locate[],
): string | null {
  const days = [
    ...lines.flatMap(({ valid_until }) => valid_until ?? []),
    ...locates.filter((locate) => locate.by === by).map(({ until }) => until),
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

const directions = [
  'east',
  'north-east',
  'north',
  'north-west',
  'west',
  'south-west',
  'south',
  'south-east',
];

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
      const turn = Math.atan2(middle[1] - y, middle[0] - x) / (Math.PI / 4);
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
        direction: directions[(Math.round(turn) + 8) % 8],
      };
    })
    .sort((a, b) => a.distance_m - b.distance_m)
    .slice(0, 2);
}
