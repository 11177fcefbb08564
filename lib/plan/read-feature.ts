import { InputError } from '../errors';
import type { LngLat } from '../frame/frame';
import { positionFault } from './position-fault';
import { propertyFault, quote } from './property-fault';
import { ringFault } from './ring-fault';
import { kindsMeant, meantWords } from './search-glossary';
import { geometryTypeOf, kindNames, kinds, type Kind, type PlanFeature } from './schema';

/** More corners than any one thing on a lot has; a whole raster traced by machine has more. Own choice. */
export const mostVerticesPerFeature = 10_000;

/** Tells the reader of something that was put right on the way in. */
export type AddNote = (id: string, what: string) => void;

type Member = Readonly<Record<string, unknown>>;

/**
 * One feature of the document, checked and put in order: kind, geometry, properties. What can be put right
 * without guessing (a ring not closed, a Multi geometry of one part) is, with a note.
 *
 * @param raw - the feature as parsed. Not modified; the result shares what did not change.
 * @param where - file and feature, for messages.
 * @throws {InputError} with what was expected and what to do.
 */
export function readFeature(raw: Member, id: string, where: string, note: AddNote): PlanFeature {
  const properties = raw.properties;
  if (!isMember(properties)) {
    throw fault('feature-properties', where, `expected properties, got ${quote(properties)}`, {
      remedy: `give it properties with a kind: ${kindNames.join(', ')}`,
    });
  }
  const kind = readKind(properties.kind, where);
  const geometry = readGeometry(raw.geometry, kind, id, where, note);
  const feature = { ...without(raw, 'bbox'), id, properties: readProperties(properties), geometry };
  const wrong = propertyFault(kinds[kind], feature);
  if (wrong !== undefined) {
    const path = wrong.path.replace(/^properties\./, '');
    throw fault('feature-property', `${where}, ${path}`, wrong.problem, {
      remedy: wrong.missing
        ? `give ${path}`
        : `correct ${path}, or take it out where it is optional`,
    });
  }
  // The schema has just said so.
  return feature as unknown as PlanFeature;
}

/** A copy of an object less some of its members. */
export function without(member: Member, ...names: string[]): Member {
  return Object.fromEntries(Object.entries(member).filter(([name]) => !names.includes(name)));
}

/** Whether a parsed value is a JSON object. */
export function isMember(value: unknown): value is Member {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** References are ids, and ids are text here, so that a file that numbers its features holds together. */
function readProperties(properties: Member): Member {
  const reference = { downspout: 'roof', roof: 'building' }[properties.kind as string];
  if (reference === undefined || typeof properties[reference] !== 'number') return properties;
  return { ...properties, [reference]: String(properties[reference]) };
}

function readKind(kind: unknown, where: string): Kind {
  if (typeof kind === 'string' && Object.hasOwn(kinds, kind)) return kind as Kind;
  const meant = typeof kind === 'string' ? kindsMeant(kind) : [];
  throw fault(
    'feature-kind',
    `${where}, kind`,
    kind === undefined ? 'it has no kind' : `unknown kind ${quote(kind)}`,
    {
      remedy:
        meant.length > 0
          ? `did you mean ${meant.map(meantWords).join(' or ')}`
          : `use one of ${kindNames.join(', ')}`,
    },
  );
}

function readGeometry(
  raw: unknown,
  kind: Kind,
  id: string,
  where: string,
  note: AddNote,
): PlanFeature['geometry'] {
  const wanted = geometryTypeOf(kind);
  const geometry = singlePart(raw, wanted, kind, where, () => {
    note(id, 'one part of a Multi geometry taken as it is');
  });
  let left = mostVerticesPerFeature;
  const position = (value: unknown): LngLat => {
    if (left-- === 0) {
      throw fault('feature-vertices', where, `it has more than ${mostVerticesPerFeature} corners`, {
        remedy: 'simplify it to the corners that matter, to a few centimetres',
      });
    }
    const wrong = positionFault(value);
    if (wrong !== undefined) throw fault('feature-position', where, wrong.problem, wrong);
    return value as LngLat;
  };
  const positions = (value: unknown): LngLat[] => {
    if (!Array.isArray(value)) {
      throw fault('feature-geometry', where, `expected a list of positions, got ${quote(value)}`, {
        remedy: 'give the geometry as RFC 7946 has it',
      });
    }
    return value.map(position);
  };

  const { coordinates } = geometry;
  if (wanted === 'Point') {
    return { ...geometry, type: wanted, coordinates: position(coordinates) };
  }
  if (wanted === 'LineString') {
    const points = positions(coordinates);
    refuseAntimeridian(points, where);
    if (points.every(([lng, lat]) => lng === points[0][0] && lat === points[0][1])) {
      throw fault('feature-empty', where, `a ${kind} needs at least two different points`, {
        remedy: 'draw it again or take it out',
      });
    }
    return { ...geometry, type: wanted, coordinates: points };
  }
  if (!Array.isArray(coordinates) || coordinates.length === 0) {
    throw fault('feature-geometry', where, `expected a list of rings, got ${quote(coordinates)}`, {
      remedy: 'give the polygon as RFC 7946 has it',
    });
  }
  const rings = coordinates.map((ring) =>
    closed(positions(ring), where, () => {
      note(id, 'ring closed');
    }),
  );
  rings.forEach((ring) => {
    refuseAntimeridian(ring, where);
  });
  refuseRingFault(rings, kind, where);
  return { ...geometry, type: wanted, coordinates: rings };
}

/** The geometry as its single-part type, or a sentence saying why it cannot be. */
function singlePart(
  raw: unknown,
  wanted: string,
  kind: Kind,
  where: string,
  taken: () => void,
): Member {
  const type = isMember(raw) ? raw.type : undefined;
  if (isMember(raw) && type === wanted) return raw;
  if (isMember(raw) && type === `Multi${wanted}` && Array.isArray(raw.coordinates)) {
    if (raw.coordinates.length !== 1) {
      throw fault(
        'feature-multi',
        where,
        `a ${kind} is one ${wanted}, and this has ${raw.coordinates.length} parts`,
        {
          remedy: 'split it into one feature for each part',
        },
      );
    }
    taken();
    return { ...raw, type: wanted, coordinates: raw.coordinates[0] as unknown };
  }
  throw fault('feature-geometry', where, `a ${kind} needs a ${wanted}, got ${quote(type ?? raw)}`, {
    remedy: `draw it as a ${wanted} or change its kind`,
  });
}

function closed(ring: LngLat[], where: string, note: () => void): LngLat[] {
  const [first, last] = [ring[0], ring[ring.length - 1]];
  const isClosed = ring.length > 1 && first[0] === last[0] && first[1] === last[1];
  const corners = ring.length - (isClosed ? 1 : 0);
  if (corners < 3) {
    throw fault('feature-ring', where, `a ring needs at least 3 corners, got ${corners}`, {
      remedy: 'draw it again',
    });
  }
  if (isClosed) return ring;
  note();
  return [...ring, first];
}

function refuseAntimeridian(points: readonly LngLat[], where: string): void {
  const [west, east] = points.reduce(
    ([low, high], [lng]) => [Math.min(low, lng), Math.max(high, lng)],
    [Infinity, -Infinity],
  );
  if (east - west <= 180) return;
  throw fault('feature-antimeridian', where, 'it crosses the 180 degree meridian', {
    remedy: 'plans across it cannot be handled; move the plan to one side',
  });
}

function refuseRingFault(rings: readonly LngLat[][], kind: Kind, where: string): void {
  const wrong = ringFault(rings);
  if (wrong === undefined) return;
  const at = `[${wrong.at.map((degrees) => degrees.toFixed(7)).join(', ')}]`;
  const outline = kind === 'lot' ? 'the lot line' : `the outline of the ${kind}`;
  switch (wrong.what) {
    case 'crosses':
      throw fault(
        'feature-crosses-itself',
        where,
        `${outline} crosses or touches itself at ${at}`,
        {
          remedy: 'move the corners next to that place so that it does not',
        },
      );
    case 'no-area':
      throw fault('feature-no-area', where, `${outline} encloses no area, at ${at}`, {
        remedy: 'draw it again or take it out',
      });
    case 'hole-outside':
      throw fault('feature-hole', where, `a hole at ${at} lies outside ${outline}`, {
        remedy: 'put it inside or make it a feature of its own',
      });
  }
}

function fault(
  code: string,
  where: string,
  problem: string,
  { remedy }: { remedy: string },
): InputError {
  return new InputError({ code, where, problem, remedy });
}
