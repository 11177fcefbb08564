import { footM, surveyFootM } from '../../units/units';
import type { GeoKeys } from './coordinate-system';

/** The unit of a raster's heights and how it is known. */
export interface VerticalUnit {
  /** Metres for one unit; null when it must be asked. */
  readonly metres: number | null;
  readonly name: string;
  /**
   * `key`: the file says so. `assumed`: the file says nothing and its map unit is the metre or the degree,
   * so metres are taken. `ask`: the file says nothing and its map unit is a foot. `given`: the user said so.
   */
  readonly known: 'key' | 'assumed' | 'ask' | 'given';
}

const METRE = { metres: 1, name: 'metres' } as const;
const FOOT = { metres: footM, name: 'feet' } as const;
const US_FOOT = { metres: surveyFootM, name: 'US survey feet' } as const;
type Unit = typeof METRE | typeof FOOT | typeof US_FOOT;

/** EPSG codes of units of length. */
const UNITS: Readonly<Record<number, Unit>> = { 9001: METRE, 9002: FOOT, 9003: US_FOOT };

/**
 * EPSG codes of height systems whose unit is known without the database: NAVD88 (metres, US survey feet,
 * feet), NGVD29, EGM2008, EGM96, mean sea level, CGVD28 and CGVD2013, ODN, NAP, IGN69, DHHN92 and
 * DHHN2016, NZVD2016, AHD, EVRF2007.
 */
const HEIGHT_SYSTEMS: Readonly<Record<number, Unit>> = {
  5703: METRE,
  6360: US_FOOT,
  8228: FOOT,
  5702: US_FOOT,
  3855: METRE,
  5773: METRE,
  5714: METRE,
  5713: METRE,
  6647: METRE,
  5701: METRE,
  5709: METRE,
  5720: METRE,
  5783: METRE,
  7837: METRE,
  7839: METRE,
  5711: METRE,
  5621: METRE,
};

/** Units that a caller may offer when the file does not say: the readings of {@link VerticalUnit}. */
export const VERTICAL_UNITS: readonly Unit[] = [METRE, FOOT, US_FOOT];

/**
 * Finds the unit of the heights: from the vertical unit key, the height system's code, or the unit noted
 * on the band; where none says, metres are assumed unless the map unit is a foot.
 *
 * @param bandUnit - what the band's metadata names as its unit, if anything.
 * @param mapUnitM - metres for one map unit, null for degrees.
 */
export async function verticalUnit(
  keys: GeoKeys,
  bandUnit: string | undefined,
  mapUnitM: number | null,
): Promise<VerticalUnit> {
  const unit = UNITS[Number(keys.VerticalUnitsGeoKey)] as Unit | undefined;
  if (unit) return { ...unit, known: 'key' };
  const system = Number(keys.VerticalCSTypeGeoKey);
  if (system > 0 && system !== 32767) {
    const known = HEIGHT_SYSTEMS[system] as Unit | undefined;
    const metres = known?.metres ?? (await heightUnitFromDatabase(system));
    if (metres !== null) return { metres, name: unitName(metres), known: 'key' };
  }
  const noted = unitFromText(bandUnit) ?? unitFromText(citedUnit(keys.VerticalCitationGeoKey));
  if (noted) return { ...noted, known: 'key' };
  const footMap = mapUnitM !== null && mapUnitM < 0.9;
  if (footMap) return { metres: null, name: 'unknown', known: 'ask' };
  return { ...METRE, known: 'assumed' };
}

/** The unit as the user gave it. */
export function givenUnit(metres: number): VerticalUnit {
  return { metres, name: unitName(metres), known: 'given' };
}

/** A name for people for a unit of length in metres. */
export function unitName(metres: number): string {
  return VERTICAL_UNITS.find((unit) => isSame(unit.metres, metres))?.name ?? `units of ${metres} m`;
}

function isSame(a: number, b: number): boolean {
  return Math.abs(a / b - 1) < 1e-9;
}

async function heightUnitFromDatabase(system: number): Promise<number | null> {
  const { default: database } = await import('geotiff-geokeys-to-proj4');
  type Keys = Parameters<typeof database.toProj4>[0];
  try {
    const { coordinatesConversionParameters, errors } = database.toProj4({
      VerticalCSTypeGeoKey: system,
    } as unknown as Keys);
    const metres = coordinatesConversionParameters.z;
    if ('verticalCsNotSupported' in errors || !(metres > 0)) return null;
    // The database keeps ten digits of the US survey foot.
    return VERTICAL_UNITS.find((unit) => isSame(unit.metres, metres))?.metres ?? metres;
  } catch {
    // The database stumbles over height systems that it does not hold; then the file says nothing usable.
    return null;
  }
}

/** A height system cited by name, with its unit in brackets at the end: `NAVD88 height (ftUS)`. */
function citedUnit(citation: unknown): string | undefined {
  return typeof citation === 'string' ? /\(([^()]+)\)\s*\|?\s*$/.exec(citation)?.[1] : undefined;
}

function unitFromText(text: string | undefined): Unit | undefined {
  const word = (text ?? '').trim().toLowerCase();
  if (/^(m|met(er|re)s?)$/.test(word)) return METRE;
  if (/^(us[- ]?ft|ftus|ft_?us|us_survey_f(oo|ee)t|us survey f(oo|ee)t|foot_us)$/.test(word))
    return US_FOOT;
  if (/^(ft|f(oo|ee)t|international f(oo|ee)t)$/.test(word)) return FOOT;
  return undefined;
}
