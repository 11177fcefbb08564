import { InputError } from '../errors';
import type { LngLat } from '../frame/frame';
import { doubtfulProperties, doubtfulSettings } from './doubtful-members';
import { jsonFault } from './json-fault';
import { ownLotsQuestions } from './own-lot';
import { propertyFault, quote } from './property-fault';
import { isMember, readFeature, without, type AddNote } from './read-feature';
import { featuresOf, schemaVersion, settings, type Plan, type PlanFeature } from './schema';

/** Enough for a neighbourhood of some thousand lots; keeps reading below about a second. Own choice. */
export const mostVerticesPerPlan = 300_000;
/** Wider than any neighbourhood; what lies farther off has its coordinates wrong. Own choice. */
const mostExtentKm = 50;
/** Mean kilometres for a degree of latitude. */
const kmPerDeg = 111.2;

type Member = Readonly<Record<string, unknown>>;

/** A plan as read, and in `notes` what was put right, filled in or ought to be looked at, one sentence each. */
export interface PlanRead {
  readonly plan: Plan;
  readonly notes: readonly string[];
}

/**
 * Reads a plan document: GeoJSON text whose features are of known kinds. Unknown properties and members are kept;
 * what RFC 7946 dropped (`crs`) or what a change makes stale (`bbox`) is not.
 *
 * Whether exactly one lot is the own one is noted here and required by `ownLot`: a review has many.
 *
 * @param fileName - how the user knows the document; begins every message.
 * @throws {InputError} naming the file, feature, property, what was expected and the remedy. Nothing is half read.
 * Cost: linear in the text, but for the check that no outline crosses itself (see `ringFault`).
 */
export function readPlan(text: string, fileName: string): PlanRead {
  const collection = readCollection(text, fileName);
  const noted = new Map<string, string[]>();
  const note: AddNote = (id, what) => {
    const ids = noted.get(what);
    if (ids === undefined) noted.set(what, [id]);
    else ids.push(id);
  };
  const whole: string[] = [];
  refuseOtherCrs(collection.crs, fileName);
  const plan = {
    ...without(collection, 'crs', 'bbox'),
    type: 'FeatureCollection',
    lotfall: readSettings(collection.lotfall, fileName, whole),
    features: readFeatures(collection.features as readonly unknown[], fileName, note),
  } satisfies Plan;
  refuseBrokenReferences(plan, fileName);
  refuseFarApart(plan, fileName);
  noteOwnLots(plan, whole);
  const notes = [...noted].map(([what, ids]) => `${listed(ids)}: ${what}`);
  return { plan, notes: [...whole, ...notes] };
}

function readCollection(text: string, fileName: string): Member {
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text;
  let value: unknown;
  try {
    value = JSON.parse(json);
  } catch (cause) {
    const at = jsonFault(json);
    throw new InputError(
      {
        code: 'plan-not-json',
        where: at === undefined ? fileName : `${fileName}, line ${at.line}, column ${at.column}`,
        problem:
          json.trim() === '' ? 'the file is empty' : `not JSON: expected ${at?.expected ?? 'JSON'}`,
        remedy: 'export the plan again or correct that place in a text editor',
      },
      { cause },
    );
  }
  if (!isMember(value) || value.type !== 'FeatureCollection' || !Array.isArray(value.features)) {
    const met = isMember(value) ? (value.type ?? 'an object without a type') : value;
    throw new InputError({
      code: 'plan-not-collection',
      where: fileName,
      problem: `expected a GeoJSON FeatureCollection with a list of features, got ${quote(met)}`,
      remedy: 'open a plan, or wrap the features in a FeatureCollection',
    });
  }
  return value;
}

/** GeoJSON of 2008 could name a reference system; only those that mean the same as today's are read. */
function refuseOtherCrs(crs: unknown, fileName: string): void {
  if (crs === undefined || crs === null) return;
  const name = isMember(crs) && isMember(crs.properties) ? crs.properties.name : undefined;
  if (
    typeof name === 'string' &&
    /^(urn:ogc:def:crs:)?(OGC:[\d.]*:?CRS84|EPSG:[\d.]*:?4326|WGS ?84)$/i.test(name)
  )
    return;
  throw new InputError({
    code: 'plan-crs',
    where: `${fileName}, crs`,
    problem: `expected longitude and latitude on WGS 84, got ${quote(name ?? crs)}`,
    remedy: 'export the plan again in WGS 84 (EPSG:4326)',
  });
}

function readSettings(raw: unknown, fileName: string, notes: string[]): Plan['lotfall'] {
  if (raw === undefined || raw === null) {
    notes.push('The plan has no settings (member lotfall); defaults are used');
    return { version: schemaVersion };
  }
  const where = `${fileName}, lotfall`;
  if (isMember(raw) && typeof raw.version === 'number' && raw.version > schemaVersion) {
    throw new InputError({
      code: 'plan-version',
      where: `${where}.version`,
      problem: `the plan is of schema version ${raw.version}, and this release reads up to ${schemaVersion}`,
      remedy: 'open it with a later release',
    });
  }
  const value =
    isMember(raw) && raw.version === undefined ? { ...raw, version: schemaVersion } : raw;
  const wrong = propertyFault(settings, value);
  if (wrong !== undefined) {
    throw new InputError({
      code: 'plan-settings',
      where: wrong.path === '' ? where : `${where}.${wrong.path}`,
      problem: wrong.problem,
      remedy: 'correct it or leave it out',
    });
  }
  notes.push(...doubtfulSettings(value).map((doubt) => `The plan's settings: ${doubt}`));
  return value as Plan['lotfall'];
}

function readFeatures(raw: readonly unknown[], fileName: string, note: AddNote): PlanFeature[] {
  const given = raw.map((feature, index) => givenId(feature, `${fileName}, feature ${index + 1}`));
  const taken = new Map<string, number>();
  given.forEach((id, index) => {
    if (id === undefined) return;
    const before = taken.get(id);
    if (before !== undefined) {
      throw new InputError({
        code: 'plan-duplicate-id',
        where: fileName,
        problem: `features ${before + 1} and ${index + 1} both have the id '${id}'`,
        remedy: 'give each feature an id of its own',
      });
    }
    taken.set(id, index);
  });
  const counts = new Map<string, number>();
  let vertices = 0;
  return raw.map((value, index) => {
    // `givenId` has refused what is not an object.
    const member = value as Member;
    const id = given[index] ?? assignId(member, taken, counts);
    const where = `${fileName}, feature ${given[index] === undefined ? index + 1 : `'${id}'`}`;
    const feature = readFeature(member, id, where, note);
    if (given[index] === undefined) note(id, 'id given, as the file has none');
    for (const doubt of doubtfulProperties(feature)) note(id, doubt);
    vertices += countVertices(feature);
    if (vertices > mostVerticesPerPlan) {
      throw new InputError({
        code: 'plan-vertices',
        where: fileName,
        problem: `the plan has more than ${mostVerticesPerPlan} corners`,
        remedy: 'simplify the outlines or split the plan',
      });
    }
    return feature;
  });
}

/** The id of a feature as text, from where GeoJSON has it or from its properties. */
function givenId(feature: unknown, where: string): string | undefined {
  if (!isMember(feature) || feature.type !== 'Feature') {
    throw new InputError({
      code: 'plan-not-feature',
      where,
      problem: `expected a GeoJSON Feature, got ${quote(isMember(feature) ? feature.type : feature)}`,
      remedy: 'take it out or make it a Feature with geometry and properties',
    });
  }
  const id = feature.id ?? (isMember(feature.properties) ? feature.properties.id : undefined);
  if (id === undefined || id === null || id === '') return undefined;
  if (typeof id === 'string' || typeof id === 'number') return String(id);
  throw new InputError({
    code: 'feature-id',
    where: `${where}, id`,
    problem: `expected text or a number, got ${quote(id)}`,
    remedy: 'correct it or leave it out',
  });
}

function assignId(
  feature: Member,
  taken: Map<string, number>,
  counts: Map<string, number>,
): string {
  const kind = isMember(feature.properties) ? String(feature.properties.kind) : 'feature';
  let count = counts.get(kind) ?? 0;
  let id: string;
  do id = `${kind}-${++count}`;
  while (taken.has(id));
  counts.set(kind, count);
  taken.set(id, -1);
  return id;
}

function countVertices({ geometry }: PlanFeature): number {
  if (geometry.type === 'Point') return 1;
  if (geometry.type === 'LineString') return geometry.coordinates.length;
  return geometry.coordinates.reduce((sum, ring) => sum + ring.length, 0);
}

function refuseBrokenReferences(plan: Plan, fileName: string): void {
  const roofs = new Set(featuresOf(plan, 'roof').map(({ id }) => id));
  const buildings = new Set(featuresOf(plan, 'building').map(({ id }) => id));
  for (const { id, properties } of featuresOf(plan, 'downspout')) {
    if (!roofs.has(properties.roof)) refuse(id, 'roof', properties.roof, roofs);
  }
  for (const { id, properties } of featuresOf(plan, 'roof')) {
    const { building } = properties;
    if (building !== undefined && !buildings.has(building)) {
      refuse(id, 'building', building, buildings);
    }
  }
  function refuse(id: string, what: string, met: string, ids: ReadonlySet<string>): never {
    throw new InputError({
      code: 'feature-reference',
      where: `${fileName}, feature '${id}', ${what}`,
      problem: `no ${what} has the id '${met}'`,
      remedy:
        ids.size > 0
          ? `name one of ${listed([...ids])}`
          : `add the ${what} or take this feature out`,
    });
  }
}

/** A slip in one feature's coordinates puts it on another continent; say so before a map shows a speck. */
function refuseFarApart(plan: Plan, fileName: string): void {
  if (plan.features.length === 0) return;
  const centre =
    featuresOf(plan, 'lot').find(({ properties }) => properties.own) ?? plan.features[0];
  const [lng0, lat0] = firstPosition(centre);
  for (const feature of plan.features) {
    const [lng, lat] = firstPosition(feature);
    const east = (lng - lng0) * kmPerDeg * Math.cos((lat0 * Math.PI) / 180);
    const km = Math.hypot(east, (lat - lat0) * kmPerDeg);
    if (km <= mostExtentKm) continue;
    throw new InputError({
      code: 'plan-far-apart',
      where: `${fileName}, feature '${feature.id}'`,
      problem: `it lies ${Math.round(km)} km from '${centre.id}'`,
      remedy: `check its coordinates; a plan is at most ${mostExtentKm} km wide, on one side of the 180 degree meridian`,
    });
  }
}

function firstPosition({ geometry }: PlanFeature): LngLat {
  if (geometry.type === 'Point') return geometry.coordinates;
  return geometry.type === 'LineString' ? geometry.coordinates[0] : geometry.coordinates[0][0];
}

function noteOwnLots(plan: Plan, notes: string[]): void {
  const own = featuresOf(plan, 'lot').filter(({ properties }) => properties.own).length;
  if (own === 0) notes.push('No lot is marked as your own (own: true)');
  notes.push(...ownLotsQuestions(featuresOf(plan, 'lot')));
}

/** Ids in a row, cut short. */
function listed(ids: readonly string[]): string {
  const shown = ids.slice(0, 5).join(', ');
  return ids.length > 5 ? `${shown} and ${ids.length - 5} more` : shown;
}
