import proj4 from 'proj4';
import { coordinateSystem } from '../elevation/system/coordinate-system';
import { knownSystem } from '../elevation/system/known-systems';
import { InputError } from '../errors';
import { refused } from './refused';

/** A coordinate system whose places are known on the globe. */
export interface PlacedSystem {
  readonly is: 'known';
  readonly name: string;
  /** Definition that proj4 reads; coordinates times `unitFactor` are what it takes. */
  readonly definition: string;
  readonly unitFactor: number;
  /** Metres for one unit of its coordinates; null for degrees. */
  readonly unitM: number | null;
  /** Known error of the shift from an older datum, metres; null when none is needed. */
  readonly shiftAccuracyM: number | null;
}

/** What a file says of its coordinate system. */
export type FoundSystem =
  | PlacedSystem
  /** It is named, but rests on a datum whose shift to WGS 84 the file does not give. */
  | (Omit<PlacedSystem, 'is'> & {
      readonly is: 'doubtful';
      readonly why: string;
      /** EPSG codes that may be meant and for which the shift is known. */
      readonly candidates: readonly number[];
    })
  /** It is not named in a way that can be worked with. */
  | { readonly is: 'asked'; readonly why: string; readonly candidates: readonly number[] };

/** How far off a place may be where an older datum's shift is not known, metres. Our choice: the largest seen, 187 m, rounded up. */
export const unknownShiftM = 200;

/** Longitude and latitude, WGS 84. */
export const worldDegrees: PlacedSystem = {
  is: 'known',
  name: 'WGS 84',
  definition: 'WGS84',
  unitFactor: 1,
  unitM: null,
  shiftAccuracyM: null,
};

/**
 * The system of an EPSG code.
 *
 * @param where - file or option that names it, for the sentence.
 * @throws {InputError} `gather-system` where the code is not known, or its datum has no shift here.
 */
export async function systemOfCode(code: number, where: string): Promise<PlacedSystem> {
  const keys = ['ProjectedCSTypeGeoKey', 'GeographicTypeGeoKey'];
  let first: unknown;
  for (const key of keys) {
    try {
      const found = await coordinateSystem({ [key]: code }, where);
      return {
        is: 'known',
        name: found.name,
        definition: found.definition,
        unitFactor: found.unitFactor,
        unitM: found.unitM,
        shiftAccuracyM: found.shiftAccuracyM,
      };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      // A code that is no projected system may be a geographic one; else what was said first holds.
      first ??= error;
    }
  }
  const problem =
    first instanceof InputError ? first.problem : 'its coordinate system is not known';
  throw refused(
    where,
    'system',
    problem,
    'reproject it in a GIS to WGS 84 (EPSG:4326) and bring in the result',
    first,
  );
}

/** The EPSG code in a name such as `EPSG:2193` or `urn:ogc:def:crs:EPSG::2193`; 4326 for CRS84; null for others. */
export function codeIn(name: string): number | null {
  if (/(^|[:/])(OGC[:/][\d.]*[:/]?)?CRS84$/i.test(name) || /^WGS ?84$/i.test(name)) return 4326;
  const found = /(?:^|[:/])EPSG[:/](?:[\d.]*[:/])?(\d{4,6})$/i.exec(name.trim());
  return found === null ? null : Number(found[1]);
}

/** Datums that lie within a metre or two of WGS 84, by the names that files give them. */
const modernDatums =
  /^(d )?(wgs 1984|world geodetic system 1984|north american( datum)? 1983|nad ?83|nad 1983|north american 1983|european terrestrial reference( system| frame)? 1989|etrs ?(19)?89|geocentric datum of australia (1994|2020)|gda ?(1994|94|2020)|new zealand geodetic datum 2000|nzgd ?2000|nzgd 2000)\b/;

/** What older national grids are called in files that give neither code nor shift, and the code that has it. */
const oldGrids: readonly (readonly [name: RegExp, code: number])[] = [
  [/\brd new\b|\brd\b.*amersfoort|amersfoort.*\brd\b/, 28992],
  [/british national grid/, 27700],
  [/belge 1972|belgian lambert 72|belge lambert 1972/, 31370],
  [/lv95/, 2056],
  [/lv03/, 21781],
  [/gauss[ -]?kr[uü]e?ger zone 2\b|dhdn 3 degree gauss zone 2\b/, 31466],
  [/dhdn 3 degree gauss zone 3\b/, 31467],
  [/dhdn 3 degree gauss zone 4\b/, 31468],
  [/dhdn 3 degree gauss zone 5\b/, 31469],
  [/mgi austria lambert/, 31287],
  [/mgi austria gk west/, 31254],
  [/mgi austria gk central/, 31255],
  [/mgi austria gk east/, 31256],
];

/**
 * The system that well-known text (a `.prj`) describes.
 *
 * A code that it names counts first. Such text gives no shift for older datums, and what proj4 then places without a
 * word was seen to lie 12 to 187 m off, so only modern datums and text with a shift of its own are taken as known.
 */
export async function systemOfText(text: string, where: string): Promise<FoundSystem> {
  const wkt = horizontalPart(text);
  if (wkt === null) {
    return {
      is: 'asked',
      why: 'what it says of its coordinate system cannot be read',
      candidates: [],
    };
  }
  const name = /^\w+\s*\[\s*"([^"]*)"/.exec(wkt)?.[1].replaceAll('_', ' ') ?? 'its system';
  const code = ownCode(wkt);
  if (code !== null) {
    try {
      return await systemOfCode(code, where);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  let parts: { to_meter?: number; projName?: string };
  try {
    parts = new proj4.Proj(wkt) as unknown as { to_meter?: number; projName?: string };
  } catch {
    return {
      is: 'asked',
      why: `its coordinate system, '${name}', cannot be worked out`,
      candidates: [],
    };
  }
  const placed = {
    name,
    definition: wkt,
    unitFactor: 1,
    unitM: parts.projName === 'longlat' ? null : (parts.to_meter ?? 1),
    shiftAccuracyM: null,
  };
  const datum = plainDatum(/(?:DATUM|TRF|ENSEMBLE)\s*\[\s*"([^"]*)"/i.exec(wkt)?.[1] ?? '');
  if (modernDatums.test(datum) || /TOWGS84\s*\[/i.test(wkt)) return { is: 'known', ...placed };
  const plain = plainDatum(`${name} ${datum}`);
  const candidates = oldGrids.filter(([old]) => old.test(plain)).map(([, old]) => old);
  return {
    is: 'doubtful',
    ...placed,
    why: `its coordinate system, '${name}', rests on a datum ('${datum}') whose shift to WGS 84 is not in the file, so that it may lie up to ${unknownShiftM} m off`,
    candidates: candidates.filter((old) => knownSystem(old) !== undefined),
  };
}

function plainDatum(name: string): string {
  return name.replaceAll('_', ' ').toLowerCase();
}

/** The projected system in the text, else the geographic one: what a height system is wrapped around. */
function horizontalPart(text: string): string | null {
  for (const word of ['PROJCS', 'PROJCRS', 'GEOGCS', 'GEOGCRS', 'GEODCRS']) {
    const at = text.search(new RegExp(`\\b${word}\\s*\\[`));
    if (at < 0) continue;
    let depth = 0;
    for (let i = at; i < text.length; i++) {
      if (text[i] === '[') depth++;
      if (text[i] === ']' && --depth === 0) return text.slice(at, i + 1);
    }
  }
  return null;
}

/** The code that stands at the end of the text, and so belongs to the whole of it. */
function ownCode(wkt: string): number | null {
  const found =
    /(?:AUTHORITY\s*\[\s*"EPSG"\s*,\s*"?(\d+)"?|ID\s*\[\s*"EPSG"\s*,\s*(\d+))\s*\]\s*\]$/i.exec(
      wkt,
    );
  return found === null ? null : Number(found[1] ?? found[2]);
}
