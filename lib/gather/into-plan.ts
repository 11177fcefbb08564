import type { InputError } from '../errors';
import { localFrame, makeFrame, type LngLat } from '../frame/frame';
import { asFeature } from '../plan/as-feature';
import type { Change } from '../plan/change';
import { mostVerticesPerPlan } from '../plan/read-plan';
import { geometryTypeOf, type Plan, type PlanFeature } from '../plan/schema';
import { featureProperties } from './feature-properties';
import type { FoundLayer } from './found-layer';
import { geometriesOf } from './geometries-of';
import type { ColumnUses } from './guess-columns';
import { wordOf, type KindUse } from './guess-kind';
import { LeftOut } from './left-out';
import { nearFilter } from './near-lot';
import { placedPart, pointParts, type PlacedPart } from './placed-part';
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
  const gathering = new Gathering(plan, options);
  const rows: GatheredLayer[] = [];
  for (const item of layers) rows.push(await gathering.layer(item));
  const { puts } = gathering;
  markOwnLot(plan, puts, rows);
  const refusal = tooMuch(plan, puts);
  const count = `${puts.length} ${puts.length === 1 ? 'feature' : 'features'}`;
  const change =
    puts.length === 0 || refusal !== null ? null : { label: `bring in ${count}`, puts };
  return { change, layers: rows, refusal };
}

/** What comes into a plan, layer after layer. */
class Gathering {
  readonly puts: PlanFeature[] = [];
  readonly #options: GatherOptions;
  readonly #near: ((part: PlacedPart) => number) | null;
  readonly #farWords: string;
  readonly #ids: Set<string>;
  readonly #known: Set<string>;
  /** Numbers given to ids so far, by kind. */
  readonly #counts = new Map<string, number>();

  constructor(plan: Plan, options: GatherOptions) {
    const { nearM } = options;
    this.#options = options;
    this.#near = nearM === undefined ? null : nearFilter(plan, nearM);
    this.#farWords = `farther than ${nearWords(nearM ?? 0, plan.lotfall.units ?? 'metric')} from the lot`;
    this.#ids = new Set(plan.features.map(({ id }) => id));
    this.#known = new Set(plan.features.map(keyOf));
  }

  async layer({ layer, use, columns }: LayerToGather): Promise<GatheredLayer> {
    const { closeM, unitM } = this.#options;
    const way = placing(layer, this.#options);
    const row = { file: layer.file, layer: layer.name, as: wordOf(use) };
    if ('asks' in way)
      return { ...row, ids: [], left: [], notes: [], asked: way, unitAsked: false };
    const left = new LeftOut();
    const notes = [...way.notes];
    const came: string[] = [];
    let split = 0;
    let unitAsked = false;
    let least = Infinity;
    const isPoint = geometryTypeOf(use.kind) === 'Point';
    for (const shape of layer.shapes) {
      if (shape.parts.length === 0) left.add('without a shape');
      const pieces: PlanFeature['geometry'][] = [];
      for (const part of isPoint ? pointParts(shape) : shape.parts) {
        const placed = placedPart(part, way.toLngLat);
        const away = placed === null ? 0 : (this.#near?.(placed) ?? 0);
        if (placed === null) left.add('off the globe: is the coordinate system right?');
        else if (away > 0) left.add(this.#farWords);
        else pieces.push(...(await geometriesOf(placed, use, closeM, left, notes)));
        if (away > 0) least = Math.min(least, away);
      }
      const read = featureProperties(shape, layer, use, columns, unitM ?? null);
      unitAsked ||= read.unitAsked;
      for (const geometry of pieces) came.push(...this.#put(use.kind, geometry, read, left));
      if (pieces.length > 1 && read.lacks === null) split++;
    }
    if (split > 0)
      notes.push(`shapes of several parts, ${split} of them, are a feature for each part`);
    if (unitAsked) notes.push('lengths in its columns are left out, as nothing says their unit');
    if (Number.isFinite(least) && left.rows().length === 1 && came.length === 0) {
      notes.push(
        `the nearest of it is ${distanceWords(least)} away: is its coordinate system right?`,
      );
    }
    return { ...row, ids: came, left: left.rows(), notes, asked: null, unitAsked };
  }

  /** Puts a feature among those that come in. Returns its id, or none and why among what is left out. */
  #put(
    kind: string,
    geometry: PlanFeature['geometry'],
    { properties, lacks }: ReturnType<typeof featureProperties>,
    left: LeftOut,
  ): string[] {
    const feature =
      lacks === null
        ? asFeature({ type: 'Feature', id: this.#nextId(kind), properties, geometry })
        : null;
    const key = feature === null ? '' : keyOf(feature);
    if (feature !== null && !this.#known.has(key)) {
      this.#known.add(key);
      this.#ids.add(feature.id);
      this.puts.push(feature);
      return [feature.id];
    }
    left.add(
      lacks ??
        (feature === null ? `no ${kind} by what the plan asks of one` : 'in the plan already'),
    );
    return [];
  }

  #nextId(kind: string): string {
    let count = this.#counts.get(kind) ?? 0;
    let id: string;
    do id = `${kind}-${++count}`;
    while (this.#ids.has(id));
    this.#counts.set(kind, count - 1);
    return id;
  }
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
