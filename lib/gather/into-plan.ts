import type { InputError } from '../errors';
import { localFrame, makeFrame, type Frame, type LngLat } from '../frame/frame';
import {
  boundsOf,
  centroid,
  nearest,
  type Bounds,
  type PolygonShape,
  type Shape,
} from '../frame/shapes';
import { asFeature } from '../plan/as-feature';
import type { Change } from '../plan/change';
import { planOutline } from '../plan/plan-area';
import { positionFault } from '../plan/position-fault';
import { mostVerticesPerFeature } from '../plan/read-feature';
import { mostVerticesPerPlan } from '../plan/read-plan';
import { geometryTypeOf, type Plan, type PlanFeature } from '../plan/schema';
import { featureProperties } from './feature-properties';
import type { FoundLayer, FoundPart, FoundShape } from './found-layer';
import type { ColumnUses } from './guess-columns';
import { wordOf, type KindUse } from './guess-kind';
import { mendOutline, onLattice } from './mend-outline';
import { placing, type Answers, type Asked } from './place-shapes';
import { refused } from './refused';
import { nearWords } from './usual-answers';

/** A layer and what is to become of it. */
export interface LayerToGather {
  readonly layer: FoundLayer;
  readonly use: KindUse;
  readonly columns: ColumnUses;
}

export interface GatherOptions extends Answers {
  /** Only what lies within this distance of the plan's own lot, metres; of all that is drawn where it has none. */
  readonly nearM?: number;
  /** Lines whose ends are this close become outlines where outlines are wanted, metres. */
  readonly closeM?: number;
}

/** What came in of one layer, and what did not. */
export interface GatheredLayer {
  readonly file: string;
  readonly layer: string;
  /** As on the command line: `building`, `utility:gas`. */
  readonly as: string;
  /** Ids of the features that it became, in its order. */
  readonly ids: readonly string[];
  /** Reasons for leaving shapes out, and how many each. */
  readonly left: readonly { readonly why: string; readonly count: number }[];
  /** What was put right or ought to be looked at, a sentence each. */
  readonly notes: readonly string[];
  /** What must be answered before it can come in; null when nothing. */
  readonly asked: Asked | null;
  /** Whether lengths or heights stay out because nothing says their unit. */
  readonly unitAsked: boolean;
}

export interface Gathered {
  /** Adds everything at once, so that one step undoes it; null when nothing came in. */
  readonly change: Change | null;
  readonly layers: readonly GatheredLayer[];
  /** Why the plan cannot hold all that would come in, in which case there is no change; null when it can. */
  readonly refusal: InputError | null;
}

/** Wider than any neighbourhood: `readPlan` refuses what lies farther apart. */
const mostExtentKm = 50;

/**
 * Makes features of a plan from the shapes of layers. The plan is not modified and nothing in it is replaced: what comes
 * in is added by one change.
 *
 * Shapes are placed on the globe, split into single parts, mended where they are no outlines, and given ids that the plan
 * has not. What is in the plan already, shape for shape, stays out.
 *
 * @returns with `refusal` `gather-much` or `gather-wide` where the plan would be more than a plan may hold.
 * @throws {InputError} `gather-near` where nothing is drawn that anything could be near.
 * Cost: linear in the vertices, a map projection each, and for shapes near the lot their edges times the lot's.
 */
export async function intoPlan(
  plan: Plan,
  layers: readonly LayerToGather[],
  options: GatherOptions = {},
): Promise<Gathered> {
  const near = options.nearM === undefined ? null : nearFilter(plan, options.nearM);
  const ids = new Set(plan.features.map(({ id }) => id));
  const known = new Set(plan.features.map(keyOf));
  const counts = new Map<string, number>();
  const puts: PlanFeature[] = [];
  const rows: GatheredLayer[] = [];
  for (const item of layers) rows.push(await gatherLayer(item));
  markOwnLot(plan, puts, rows);
  const refusal = tooMuch(plan, puts);
  const count = `${puts.length} ${puts.length === 1 ? 'feature' : 'features'}`;
  const change =
    puts.length === 0 || refusal !== null ? null : { label: `bring in ${count}`, puts };
  return { change, layers: rows, refusal };

  async function gatherLayer({ layer, use, columns }: LayerToGather): Promise<GatheredLayer> {
    const way = placing(layer, options);
    const row = { file: layer.file, layer: layer.name, as: wordOf(use) };
    if ('asks' in way)
      return { ...row, ids: [], left: [], notes: [], asked: way, unitAsked: false };
    const tally = new Tally();
    const notes = [...way.notes];
    const came: string[] = [];
    let split = 0;
    const asks = { unit: false };
    let least = Infinity;
    for (const shape of layer.shapes) {
      if (shape.parts.length === 0) tally.leave('without a shape');
      const pieces: PlanFeature['geometry'][] = [];
      const isPoint = geometryTypeOf(use.kind) === 'Point';
      for (const part of isPoint ? pointParts(shape) : shape.parts) {
        const placed = placedPart(part, way.toLngLat);
        if (placed === null) {
          tally.leave('off the globe: is the coordinate system right?');
          continue;
        }
        if (near !== null) {
          const away = near(placed);
          if (away > 0) {
            least = Math.min(least, away);
            tally.leave(
              `farther than ${nearWords(options.nearM ?? 0, plan.lotfall.units ?? 'metric')} from the lot`,
            );
            continue;
          }
        }
        pieces.push(...(await geometriesOf(placed, use, options, tally, notes)));
      }
      const read = featureProperties(shape, layer, use, columns, options.unitM ?? null);
      if (read.unitAsked) asks.unit = true;
      for (const geometry of pieces) {
        add(geometry, read.properties, read.lacks);
      }
      if (pieces.length > 1 && read.lacks === null) split++;
    }
    if (split > 0)
      notes.push(`shapes of several parts, ${split} of them, are a feature for each part`);
    if (asks.unit) notes.push('lengths in its columns are left out, as nothing says their unit');
    if (Number.isFinite(least) && tally.rows().length === 1 && came.length === 0) {
      notes.push(
        `the nearest of it is ${distanceWords(least)} away: is its coordinate system right?`,
      );
    }
    return { ...row, ids: came, left: tally.rows(), notes, asked: null, unitAsked: asks.unit };

    function add(
      geometry: PlanFeature['geometry'],
      properties: Readonly<Record<string, unknown>>,
      lacks: string | null,
    ): void {
      if (lacks !== null) {
        tally.leave(lacks);
        return;
      }
      const feature = asFeature({ type: 'Feature', id: nextId(use.kind), properties, geometry });
      if (feature === null) {
        tally.leave(`no ${use.kind} by what the plan asks of one`);
        return;
      }
      const key = keyOf(feature);
      if (known.has(key)) {
        tally.leave('in the plan already');
        return;
      }
      known.add(key);
      ids.add(feature.id);
      came.push(feature.id);
      puts.push(feature);
    }
  }

  function nextId(kind: string): string {
    let count = counts.get(kind) ?? 0;
    let id: string;
    do id = `${kind}-${++count}`;
    while (ids.has(id));
    counts.set(kind, count - 1);
    return id;
  }
}

/** Why shapes were left out, counted. */
class Tally {
  readonly #counts = new Map<string, number>();

  leave(why: string): void {
    this.#counts.set(why, (this.#counts.get(why) ?? 0) + 1);
  }

  rows(): { why: string; count: number }[] {
    return [...this.#counts].map(([why, count]) => ({ why, count }));
  }
}

/** A part on the globe, in degrees as plans are written; null where a corner is no place on it. */
function placedPart(
  part: FoundPart,
  toLngLat: (at: readonly number[]) => LngLat,
): PlacedPart | null {
  let isSound = true;
  const place = (at: readonly number[]): LngLat => {
    const there = onLattice(toLngLat(at));
    if (positionFault(there) !== undefined) isSound = false;
    return there;
  };
  const placed: PlacedPart =
    part.type === 'Point'
      ? { type: 'Point', rings: [[place(part.coordinates)]] }
      : part.type === 'LineString'
        ? { type: 'LineString', rings: [part.coordinates.map(place)] }
        : { type: 'Polygon', rings: part.coordinates.map((ring) => ring.map(place)) };
  return isSound ? placed : null;
}

interface PlacedPart {
  readonly type: FoundPart['type'];
  /** Rings of a polygon; one list of positions else. */
  readonly rings: readonly (readonly LngLat[])[];
}

/** What of a shape becomes points: the place of a symbol, not its picture. */
function pointParts({ parts, at }: FoundShape): readonly FoundPart[] {
  return at === undefined ? parts : [{ type: 'Point', coordinates: at }];
}

/** A placed part as geometries of a kind: one, several where mending cuts it, or none, with the reason. */
async function geometriesOf(
  { type, rings }: PlacedPart,
  { kind }: KindUse,
  { closeM }: GatherOptions,
  tally: Tally,
  notes: string[],
): Promise<PlanFeature['geometry'][]> {
  const wanted = geometryTypeOf(kind);
  const corners = rings.reduce((sum, ring) => sum + ring.length, 0);
  if (corners > mostVerticesPerFeature) {
    tally.leave(`more than ${mostVerticesPerFeature} corners`);
    return [];
  }
  if (wanted === 'Point') {
    if (type === 'Point') return [{ type: wanted, coordinates: rings[0][0] }];
    const middle = type === 'Polygon' || endsMeet(rings[0], closeM ?? 0) ? middleOf(rings) : null;
    if (middle !== null) return [{ type: wanted, coordinates: middle }];
    tally.leave(`lines, and a ${kind} is a point`);
    return [];
  }
  if (wanted === 'LineString') {
    if (type === 'LineString') {
      const points = rings[0].filter((at, i, all) => i === 0 || !samePlace(at, all[i - 1]));
      if (points.length > 1) return [{ type: wanted, coordinates: points }];
      tally.leave('without length');
      return [];
    }
    tally.leave(`${type === 'Point' ? 'points' : 'outlines'}, and a ${kind} is a line`);
    return [];
  }
  if (type === 'Point') {
    tally.leave(`points, and a ${kind} is an outline`);
    return [];
  }
  if (type === 'LineString' && closeM === undefined) {
    tally.leave(
      endsMeet(rings[0], 0)
        ? 'closed lines, which become outlines only when that is asked for'
        : `open lines, and a ${kind} is an outline`,
    );
    return [];
  }
  if (type === 'LineString' && !endsMeet(rings[0], closeM ?? 0)) {
    tally.leave(`lines whose ends do not meet, and a ${kind} is an outline`);
    return [];
  }
  const { pieces, done } = await mendOutline(rings);
  if (pieces.length === 0) tally.leave(`not an outline: ${done}`);
  else if (done !== null) notes.push(`the outline at ${placeWords(rings[0][0])}: ${done}`);
  return pieces.map((piece) => ({ type: wanted, coordinates: piece.map((ring) => [...ring]) }));
}

function endsMeet(points: readonly LngLat[], withinM: number): boolean {
  if (points.length < 4) return false;
  const frame = makeFrame(localFrame(points[0]));
  return Math.hypot(...frame.toLocal(points[points.length - 1])) <= withinM + 1e-4;
}

function middleOf(rings: readonly (readonly LngLat[])[]): LngLat {
  const frame = makeFrame(localFrame(rings[0][0]));
  return onLattice(
    frame.toLngLat(centroid(rings.map((ring) => ring.map((at) => frame.toLocal(at))))),
  );
}

function samePlace(a: LngLat, b: LngLat): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

/** How far beyond a distance of the lot a part lies, metres; 0 within. */
function nearFilter(plan: Plan, nearM: number): (part: PlacedPart) => number {
  const outline = planOutline(plan);
  if (outline === null) {
    throw refused(
      'the plan',
      'near',
      'it has nothing drawn, so nothing can be near it',
      'draw the lot first, or bring in everything',
    );
  }
  const frame = makeFrame(localFrame(outline[0][0]));
  const lots: PolygonShape[] = outline.map((ring) => ({
    type: 'polygon',
    rings: [local(ring, frame)],
  }));
  const around = boundsOf(lots.flatMap(({ rings }) => rings.flat()));
  return (part) => {
    const shape = localShape(part, frame);
    const apart = boxesApart(around, boundsOf(part.rings.flat().map((at) => frame.toLocal(at))));
    if (apart > nearM) return apart;
    const distance = Math.min(...lots.map((lot) => nearest(lot, shape).distanceM));
    return distance <= nearM ? 0 : distance;
  };
}

function local(ring: readonly LngLat[], frame: Frame) {
  return ring.map((at) => frame.toLocal(at));
}

function localShape({ type, rings }: PlacedPart, frame: Frame): Shape {
  if (type === 'Point') return { type: 'point', at: frame.toLocal(rings[0][0]) };
  if (type === 'LineString') return { type: 'line', points: local(rings[0], frame) };
  return { type: 'polygon', rings: rings.map((ring) => local(ring, frame)) };
}

function boxesApart(a: Bounds, b: Bounds): number {
  const east = Math.max(0, a.west - b.east, b.west - a.east);
  const north = Math.max(0, a.south - b.north, b.south - a.north);
  return Math.hypot(east, north);
}

/** Two features with one key are the same thing drawn twice. */
function keyOf({ properties, geometry }: PlanFeature): string {
  const flat = JSON.stringify(geometry.coordinates, (_, value: unknown) =>
    typeof value === 'number' ? Number(value.toFixed(9)) : value,
  );
  return `${properties.kind} ${flat}`;
}

/** The one lot that comes into a plan without an own one is taken for it; of several nobody but the user can say. */
function markOwnLot(plan: Plan, puts: PlanFeature[], rows: GatheredLayer[]): void {
  const lots = puts.filter(({ properties }) => properties.kind === 'lot');
  const has = plan.features.some(({ properties }) => properties.kind === 'lot' && properties.own);
  if (has || lots.length === 0) return;
  const at = rows.findIndex(({ ids }) => ids.includes(lots[0].id));
  const only = lots.length === 1;
  if (only) {
    const made = asFeature({ ...lots[0], properties: { ...lots[0].properties, own: true } });
    if (made !== null) puts[puts.indexOf(lots[0])] = made;
  }
  const said = only
    ? `${lots[0].id} is taken for your own lot`
    : 'none of the lots is marked as your own: set own to true on yours';
  rows[at] = { ...rows[at], notes: [...rows[at].notes, said] };
}

function tooMuch(plan: Plan, puts: readonly PlanFeature[]): InputError | null {
  const all = [...plan.features, ...puts];
  const corners = all.reduce((sum, { geometry }) => sum + geometry.coordinates.flat(1).length, 0);
  if (corners > mostVerticesPerPlan) {
    return refused(
      'what is brought in',
      'much',
      `the plan would have more than ${mostVerticesPerPlan} corners`,
      'bring in only what is near the lot, or fewer layers',
    );
  }
  if (puts.length === 0) return null;
  const own = all.find(({ properties }) => properties.kind === 'lot' && properties.own) ?? all[0];
  const frame = makeFrame(localFrame(firstOf(own)));
  const far = puts.find((feature) => {
    const metres = Math.hypot(...frame.toLocal(firstOf(feature)));
    return !(metres <= mostExtentKm * 1000);
  });
  if (far === undefined) return null;
  return refused(
    'what is brought in',
    'wide',
    `it lies farther apart than the ${mostExtentKm} km that a plan may be wide`,
    'bring in only what is near the lot, or check the coordinate systems',
  );
}

function firstOf({ geometry }: PlanFeature): LngLat {
  if (geometry.type === 'Point') return geometry.coordinates;
  return geometry.type === 'LineString' ? geometry.coordinates[0] : geometry.coordinates[0][0];
}

function distanceWords(metres: number): string {
  return metres < 10_000 ? `${Math.round(metres)} m` : `${Math.round(metres / 1000)} km`;
}

function placeWords([lng, lat]: LngLat): string {
  return `${lng.toFixed(6)}, ${lat.toFixed(6)}`;
}
