import proj4 from 'proj4';
import { InputError } from '../../errors';
import { isUnsound, knownSystem } from './known-systems';

/** The horizontal coordinate system of a raster, as plain data. */
export interface CoordinateSystem {
  /** Its name for people, for example `NAD83 / UTM zone 18N`. */
  readonly name: string;
  /** EPSG code, or null when the file spells the system out itself. */
  readonly code: number | null;
  /** Definition that proj4 reads; coordinates times `unitFactor` are what it takes. */
  readonly definition: string;
  readonly unitFactor: number;
  readonly kind: 'projected' | 'degrees';
  /** Ground metres for one unit of the file's coordinates before any map scale; null for degrees. */
  readonly unitM: number | null;
  /** Known error of the shift from an older datum, metres; null when none is needed. */
  readonly shiftAccuracyM: number | null;
}

/** Keys of a GeoTIFF by their names. */
export type GeoKeys = Readonly<Record<string, unknown>>;

const USER_DEFINED = 32767;
const MODEL_PROJECTED = 1;
const MODEL_GEOCENTRIC = 3;
const EPSG_MAX = 32766;
/** Method number of polar stereographic projections (GeoTIFF 1.1, key 3075). */
const POLAR_STEREOGRAPHIC = 15;

/**
 * Resolves the horizontal coordinate system from a file's keys.
 *
 * Common systems are built in; for the rest a database of 1.4 MB is loaded at the first need. A system on
 * an older datum without a known shift is refused: it would place the lot tens of metres off.
 *
 * @throws {InputError} `elevation-no-crs`, `elevation-unknown-crs` or `elevation-datum-shift`.
 */
export async function coordinateSystem(keys: GeoKeys, name: string): Promise<CoordinateSystem> {
  const projected = code(keys.ProjectedCSTypeGeoKey);
  const geographic = code(keys.GeographicTypeGeoKey);
  const model = code(keys.GTModelTypeGeoKey);
  if (model === MODEL_GEOCENTRIC) {
    throw unknown(name, 'its coordinates are geocentric (X, Y, Z from the Earth’s centre)');
  }
  let found: Found;
  if (projected !== null && projected <= EPSG_MAX) {
    found = await byCode(projected, 'ProjectedCSTypeGeoKey', name);
  } else if (
    projected === null &&
    model !== MODEL_PROJECTED &&
    geographic !== null &&
    geographic <= EPSG_MAX
  ) {
    found = await byCode(geographic, 'GeographicTypeGeoKey', name);
  } else if (
    projected === USER_DEFINED ||
    geographic !== null ||
    keys.ProjCoordTransGeoKey !== undefined
  ) {
    found = await spelledOut(keys, name);
  } else {
    throw new InputError({
      code: 'elevation-no-crs',
      where: name,
      problem: 'nothing in it names its coordinate system, so its place and true size are unknown',
      remedy:
        'look the system up where the file came from and write it into the file with a GIS (assign, not reproject)',
    });
  }
  return checked(found, keys, name);
}

interface Found {
  readonly code: number | null;
  readonly definition: string;
  readonly unitFactor: number;
  readonly name?: string;
  readonly shiftAccuracyM?: number;
}

async function byCode(epsg: number, key: string, name: string): Promise<Found> {
  const known = knownSystem(epsg);
  if (known) return { ...known, code: epsg, unitFactor: 1 };
  if (isUnsound(epsg)) {
    throw unknown(name, `its coordinate system, EPSG:${epsg}, cannot be placed reliably here`);
  }
  const { definition, factor, errors, southWest } = await fromDatabase({ [key]: epsg });
  if (errors.CRSNotSupported !== undefined) {
    throw unknown(name, `its coordinate system, EPSG:${epsg}, is not in the database`);
  }
  if (southWest) {
    throw unknown(
      name,
      `the axes of its coordinate system, EPSG:${epsg}, run west and south, and files differ in how they write that`,
    );
  }
  return { code: epsg, definition, unitFactor: factor };
}

/** A system that the file describes by its parameters, or in text as one vendor writes it. */
async function spelledOut(keys: GeoKeys, name: string): Promise<Found> {
  const text = [keys.PCSCitationGeoKey, keys.GTCitationGeoKey, keys.GeogCitationGeoKey]
    .filter((citation): citation is string => typeof citation === 'string')
    .map((citation) => /(?:PROJCS|GEOGCS)\[.*\]/s.exec(citation)?.[0])
    .find((found) => found !== undefined);
  if (text !== undefined) {
    return { code: null, definition: text, unitFactor: 1, ...named(/\["([^"]+)"/.exec(text)?.[1]) };
  }
  const { definition, factor, errors } = await fromDatabase(keys);
  const projectedModel = code(keys.GTModelTypeGeoKey) === MODEL_PROJECTED;
  const problem = Object.keys(errors)[0];
  const fatal = [
    'CRSNotSupported',
    'conversionNotSupported',
    'coordinateTransformationNotSupported',
  ];
  if (fatal.includes(problem) || (projectedModel && definition.includes('+proj=longlat'))) {
    throw unknown(name, 'it describes a coordinate system of its own that cannot be worked out');
  }
  return { code: null, definition, unitFactor: factor };
}

interface FromDatabase {
  readonly definition: string;
  /** By which coordinates must be multiplied before the definition takes them. */
  readonly factor: number;
  /** Whether the registry has the system's axes run west and south. */
  readonly southWest: boolean;
  readonly errors: Readonly<Record<string, unknown>>;
}

async function fromDatabase(keys: GeoKeys): Promise<FromDatabase> {
  const { default: database } = await import('geotiff-geokeys-to-proj4');
  // Height systems that the database does not hold would make it fail; they are looked up apart.
  const horizontal = Object.fromEntries(
    Object.entries(keys).filter(([key]) => !key.startsWith('Vertical')),
  );
  const found = database.toProj4(horizontal as unknown as Parameters<typeof database.toProj4>[0]);
  const definition = repaired(found.proj4, keys);
  // The database counts the unit twice when its definition carries it already.
  const carriesUnit = /\+(to_meter|units)=/.test(definition);
  return {
    definition,
    factor: carriesUnit ? 1 : found.coordinatesConversionParameters.x,
    southWest: /\+axis=(ws|sw)/.test(found.proj4),
    errors: found.errors as unknown as Readonly<Record<string, unknown>>,
  };
}

/**
 * The database's definition as proj4 needs it. GeoTIFF writes east before north whatever order the registry
 * gives the axes, so the order is dropped. So is the database's own datum shift: compared with PROJ it is
 * hundreds of metres off for many older datums, and for modern ones within the metre or two that separates
 * them all. Polar stereographic systems get back the pole that the database leaves out.
 */
function repaired(definition: string, keys: GeoKeys): string {
  const ordered = definition.replace(/\+axis=\S+\s*/, '').trim();
  const shiftInFile = keys.GeogTOWGS84GeoKey !== undefined;
  const plain = shiftInFile ? ordered : ordered.replace(/\+towgs84=\S+\s*/, '');
  if (keys.ProjCoordTransGeoKey === POLAR_STEREOGRAPHIC) return spelledPole(plain, keys);
  const trueScale = /\+lat_ts=(-?[\d.]+)/.exec(plain);
  if (!plain.includes('+proj=stere ') || plain.includes('+lat_0=') || !trueScale) return plain;
  return `${plain} +lat_0=${90 * Math.sign(Number(trueScale[1]))}`;
}

/**
 * A polar stereographic projection by its keys. What they call the latitude of origin is the one of true scale where
 * the scale is 1 and it is no pole, as PROJ 9.1.1 reads them; the database takes it for the origin, and drops the
 * meridian that points straight up.
 */
function spelledPole(definition: string, keys: GeoKeys): string {
  const upright = number(keys.ProjStraightVertPoleLongGeoKey);
  const meridian = upright === null ? '' : ` +lon_0=${upright}`;
  const latitude = number(keys.ProjNatOriginLatGeoKey) ?? 90;
  const scale = number(keys.ProjScaleAtNatOriginGeoKey) ?? 1;
  if (Math.abs(latitude) === 90 || scale !== 1) return `${definition}${meridian}`;
  const pole = 90 * Math.sign(latitude);
  return `${definition.replace(/\+lat_0=\S+/, `+lat_0=${pole} +lat_ts=${latitude}`)}${meridian}`;
}

function number(key: unknown): number | null {
  return typeof key === 'number' ? key : null;
}

function checked(found: Found, keys: GeoKeys, name: string): CoordinateSystem {
  let projection: ProjectionParts;
  try {
    projection = new proj4.Proj(found.definition) as unknown as ProjectionParts;
  } catch (cause) {
    throw unknown(
      name,
      `its coordinate system (${label(found, keys)}) cannot be worked out`,
      cause,
    );
  }
  const { a, b, datum } = projection;
  const modernEllipsoid = Math.abs(a - 6_378_137) < 0.5 && Math.abs(b - 6_356_752.31) < 0.5;
  const shiftGiven = datum?.datum_params !== undefined;
  const sphereOnPurpose = found.code === 3857;
  if (!modernEllipsoid && !shiftGiven && !sphereOnPurpose) {
    throw new InputError({
      code: 'elevation-datum-shift',
      where: name,
      problem: `its coordinate system (${label(found, keys)}) rests on an older datum whose shift to WGS 84 is not built in, so it would lie tens of metres off`,
      remedy:
        'reproject it in a GIS to a WGS 84, NAD83 or ETRS89 system (the UTM zone, say) and open the result',
    });
  }
  const degrees = projection.projName === 'longlat';
  return {
    name: label(found, keys),
    code: found.code,
    definition: found.definition,
    unitFactor: found.unitFactor,
    kind: degrees ? 'degrees' : 'projected',
    unitM: degrees ? null : found.unitFactor * (projection.to_meter ?? 1),
    shiftAccuracyM: found.shiftAccuracyM ?? null,
  };
}

/** What is read of proj4's own description of a projection. */
interface ProjectionParts {
  readonly projName?: string;
  readonly a: number;
  readonly b: number;
  readonly to_meter?: number;
  readonly datum?: { readonly datum_params?: readonly number[] };
}

function label(found: Found, keys: GeoKeys): string {
  const cited = [keys.PCSCitationGeoKey, keys.GTCitationGeoKey, keys.GeogCitationGeoKey]
    .filter((citation): citation is string => typeof citation === 'string')
    .map((citation) => citation.split('|')[0].trim())
    .find(
      (citation) => !/^(unknown|unnamed)$/i.test(citation) && /^[\w .,/()+-]{3,60}$/.test(citation),
    );
  return (
    found.name ?? cited ?? (found.code === null ? 'a system of its own' : `EPSG:${found.code}`)
  );
}

function named(name: string | undefined): { name?: string } {
  return name === undefined ? {} : { name: name.replaceAll('_', ' ') };
}

function code(key: unknown): number | null {
  return typeof key === 'number' && key > 0 ? key : null;
}

function unknown(name: string, problem: string, cause?: unknown): InputError {
  return new InputError(
    {
      code: 'elevation-unknown-crs',
      where: name,
      problem,
      remedy: 'reproject it in a GIS to the UTM zone of the lot and open the result',
    },
    { cause },
  );
}
