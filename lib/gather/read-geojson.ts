import { isMember } from '../plan/read-feature';
import { jsonFault } from '../plan/json-fault';
import { quote } from '../plan/property-fault';
import { decodeText } from './decode-text';
import {
  asCell,
  columnsOf,
  extentOf,
  plainName,
  type Cell,
  type FilePosition,
  type Found,
  type FoundPart,
  type FoundShape,
  type GivenFile,
} from './found-layer';
import { refused } from './refused';
import { codeIn, systemOfCode, worldDegrees, type FoundSystem } from './system-of';

type Member = Readonly<Record<string, unknown>>;

/** Deeper than any collection of collections that means something. */
const deepest = 10;

/**
 * Reads GeoJSON (RFC 7946): a collection, one feature or a bare geometry, with or without the `crs` member that the
 * format had in 2008, in which coordinates stay east before north whatever the system's axes.
 *
 * @throws {InputError} `gather-json`, `gather-json-type`, `gather-system`.
 */
export async function readGeoJson({ name: file, bytes }: GivenFile): Promise<Found> {
  const { text } = decodeText(bytes);
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    const at = jsonFault(text);
    const where = at === undefined ? '' : ` at line ${at.line}, column ${at.column}`;
    throw refused(
      file,
      'json',
      `it ends or breaks off${where}: expected ${at?.expected ?? 'JSON'}`,
      'export it again, or copy it again where it was cut',
      cause,
    );
  }
  const notes: string[] = [];
  const shapes = featuresIn(value, file).map((feature, i) => shapeOf(feature, i, notes));
  const name = isMember(value) && typeof value.name === 'string' ? value.name : '';
  return {
    format: 'GeoJSON',
    notes,
    layers: [
      {
        file,
        name: plainName(name, stem(file)),
        columns: columnsOf(shapes),
        shapes,
        system: await systemIn(value as Member, shapes, file),
        unitM: 'of the system',
        heightUnitM: 1,
      },
    ],
  };
}

/** The name of a file without folders and ending. */
export function stem(file: string): string {
  return plainName(file, 'layer').replace(/\.[^.]+$/, '');
}

function featuresIn(value: unknown, file: string): readonly unknown[] {
  if (isMember(value)) {
    if (value.type === 'FeatureCollection' && Array.isArray(value.features)) return value.features;
    if (value.type === 'Feature') return [value];
    if (value.type === 'Topology') {
      throw refused(file, 'json-type', 'it is TopoJSON', 'convert it to GeoJSON');
    }
    if ('coordinates' in value || 'geometries' in value) {
      return [{ type: 'Feature', properties: null, geometry: value }];
    }
  }
  throw refused(
    file,
    'json-type',
    `expected GeoJSON, got ${quote(isMember(value) ? (value.type ?? 'an object without a type') : value)}`,
    'bring in a FeatureCollection, a Feature or a geometry',
  );
}

function shapeOf(feature: unknown, index: number, notes: string[]): FoundShape {
  if (!isMember(feature)) {
    notes.push(`Feature ${index + 1} is none and is left out`);
    return { parts: [], properties: {} };
  }
  const parts: FoundPart[] = [];
  const problem = collectParts(feature.geometry, parts, 0);
  if (problem !== null) notes.push(`Feature ${index + 1}: ${problem}`);
  const properties: Record<string, Cell> = {};
  if (isMember(feature.properties)) {
    for (const [name, value] of Object.entries(feature.properties))
      properties[name] = asCell(value);
  }
  return { parts, properties };
}

/** Adds the parts of a geometry; says what of it is none. */
function collectParts(geometry: unknown, into: FoundPart[], depth: number): string | null {
  if (geometry === null || geometry === undefined) return null;
  if (!isMember(geometry)) return 'what stands for its geometry is none';
  const { type, coordinates } = geometry;
  if (type === 'GeometryCollection' && Array.isArray(geometry.geometries) && depth < deepest) {
    const problems = geometry.geometries.map((inner) => collectParts(inner, into, depth + 1));
    return problems.find((problem) => problem !== null) ?? null;
  }
  const single = typeof type === 'string' ? type.replace(/^Multi/, '') : '';
  const list = single === type ? [coordinates] : coordinates;
  const is = isOf[single];
  if (is === undefined || !Array.isArray(list))
    return `a geometry of type ${quote(type)} is left out`;
  const good = list.filter((part) => is(part));
  for (const part of good) {
    into.push({ type: single, coordinates: part as unknown } as FoundPart);
  }
  return good.length === list.length
    ? null
    : `coordinates of its ${single} are no numbers; left out`;
}

const isOf: Readonly<Partial<Record<string, (value: unknown) => boolean>>> = {
  Point: isPosition,
  LineString: isLine,
  Polygon: (value) => Array.isArray(value) && value.length > 0 && value.every(isLine),
};

function isLine(value: unknown): boolean {
  return Array.isArray(value) && value.length > 0 && value.every(isPosition);
}

function isPosition(value: unknown): value is FilePosition {
  if (!Array.isArray(value) || value.length < 2) return false;
  return Number.isFinite(value[0]) && Number.isFinite(value[1]);
}

async function systemIn(
  { crs }: Member,
  shapes: readonly FoundShape[],
  file: string,
): Promise<FoundSystem> {
  const name = isMember(crs) && isMember(crs.properties) ? crs.properties.name : undefined;
  const code = typeof name === 'string' ? codeIn(name) : null;
  if (code !== null && code !== 4326) return systemOfCode(code, file);
  if (crs !== undefined && crs !== null && code === null) {
    const why = `the system that it names (${quote(name ?? crs)}) is not known`;
    return { is: 'asked', why, candidates: [] };
  }
  const [west, south, east, north] = extentOf(shapes) ?? [0, 0, 0, 0];
  if (west >= -360 && east <= 360 && south >= -90 && north <= 90) return worldDegrees;
  const why = `its coordinates, such as ${quote([west, south])}, are no degrees, and it names no system`;
  return { is: 'asked', why, candidates: [] };
}
