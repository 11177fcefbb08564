import { basename } from 'node:path';
import type { Area } from '../../../lib/elevation/window/area';
import type { ElevationFile } from '../../../lib/elevation/file/open-elevation';
import { verticalReadings } from '../../../lib/elevation/window/read-window';
import { footM, surveyFootM } from '../../../lib/units/units';
import { sha256Of } from '../../../lib/checksum';
import { InputError } from '../../../lib/errors';
import { futureDates } from '../../../lib/plan/future-dates';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { defaultRainMm } from '../../../lib/storm/default-rain';
import { thawOf } from '../../../lib/storm/event-depth';
import { refuseImpossibleStorm } from '../../../lib/storm/storm-series';
import { formatLength, formatRain } from '../../../lib/units/format';
import { parseRain } from '../../../lib/units/parse-length';
import type { Call } from '../command';
import { today } from './day';
import { openNamed } from './elevation-files';
import { readText } from './read-text';
import { usage } from '../usage';

/** Options of the commands that look at a lot on its elevation. */
export const elevationOptions = {
  elevation: { type: 'string', short: 'e' },
  'vertical-unit': { type: 'string' },
} as const;

export const rainOption = { rain: { type: 'string', short: 'r' } } as const;

export const verticalUnitHelp = `  --vertical-unit <unit>                m, ft, us-ft, cm or mm: unit of the heights, where the file is silent or wrong`;

export const elevationHelp = `  --elevation, -e <file.tif|https://…>  elevation GeoTIFF; of an address only the parts needed are fetched;
                                        adjoining files: a folder, a .vrt, or paths with commas between them
${verticalUnitHelp}`;

export const rainHelp = `  --rain, -r <depth>                    depth of the storm's rain, for example 25mm or 1in; else the plan's`;

/** As much as a plan may give, millimetres. */
const mostRainMm = 2000;

/** Reads the plan that a command is called with. */
export async function planOf(call: Call): Promise<PlanFromFile> {
  const [path, ...more] = call.words;
  if (path === undefined)
    throw usage('no plan is named', 'give the path of a plan (*.plan.geojson)');
  if (more.length > 0) throw usage(`'${more[0]}' is one file too many`, 'give one plan');
  return readPlanFile(path);
}

/** A plan as a file had it. */
interface PlanFromFile {
  readonly plan: Plan;
  readonly file: string;
  readonly notes: readonly string[];
  /** Of the file. */
  readonly sha256: string;
}

export async function readPlanFile(path: string): Promise<PlanFromFile> {
  const file = basename(path);
  const text = await readText(path, 'the plan');
  const { plan, notes } = readPlan(text, file);
  return { plan, file, notes: [...notes, ...futureDates(plan, today())], sha256: sha256Of(text) };
}

/** Depth of rain that an option of the call gives, millimetres. */
export function rainOf(option: string, given: string): number {
  const rainMm = parseRain(given);
  if (rainMm <= mostRainMm) return rainMm;
  throw usage(`--${option} ${given} is more than any storm brings`, `give at most ${mostRainMm}mm`);
}

/**
 * The plan with the rain that the call asks for, when it asks; a thaw gives way to it.
 *
 * @throws {InputError} `rain-too-much` when its storm brings more than ever fell in its time.
 */
export function withRain(plan: Plan, rain: string | undefined): Plan {
  const asked = rain === undefined ? plan : withDepth(plan, rainOf('rain', rain));
  const { storm } = asked.lotfall;
  if (storm !== undefined && thawOf(asked.lotfall) === null) refuseImpossibleStorm(storm);
  return asked;
}

function withDepth(plan: Plan, rainMm: number): Plan {
  return {
    ...plan,
    lotfall: {
      ...plan.lotfall,
      event: 'storm',
      storm: { ...plan.lotfall.storm, rain_mm: rainMm },
    },
  };
}

/** Says so when the rain is neither the plan's nor the call's. */
export function rainNotes({ lotfall }: Plan): string[] {
  if (lotfall.storm !== undefined || thawOf(lotfall) !== null) return [];
  const rain = formatRain(defaultRainMm, lotfall.units ?? 'metric');
  return [`Neither the plan nor --rain names a storm: ${rain} is taken`];
}

/** Opens the elevation that the call names, null when it names none. */
export async function elevationOf(call: Call): Promise<ElevationFile | null> {
  const named = call.option('elevation');
  return named === undefined ? null : openNamed(named);
}

const verticalUnits: ReadonlyMap<string, number> = new Map([
  ['m', 1],
  ['ft', footM],
  ['us-ft', surveyFootM],
  ['cm', 0.01],
  ['mm', 0.001],
]);

/**
 * Metres for one unit of height as the call or the plan says, as an option for reading; empty leaves it to the file.
 *
 * @throws {InputError} `elevation-vertical-unit` when the file leaves it open too, with the relief of the ground in
 *   `area` under each reading, so that the right one can be told.
 */
export async function verticalUnitOf(
  call: Call,
  plan: Plan,
  elevation: ElevationFile,
  area: Area,
): Promise<{ verticalUnitM?: number }> {
  const named = call.option('vertical-unit');
  if (named !== undefined) {
    const metres = verticalUnits.get(named);
    if (metres !== undefined) return { verticalUnitM: metres };
    throw usage(`'${named}' is no unit of height`, `use ${[...verticalUnits.keys()].join(', ')}`);
  }
  const planned = plan.lotfall.elevation?.vertical_unit_m;
  if (planned !== undefined) return { verticalUnitM: planned };
  if (!elevation.description.needs.includes('vertical-unit')) return {};
  const readings = await verticalReadings(elevation, { area, marginM: 0 });
  const choices = readings.map(({ unitM, reliefM }) => {
    const unit = [...verticalUnits].find(([, metres]) => metres === unitM)?.[0] ?? String(unitM);
    return `--vertical-unit ${unit} (the lot then has ${formatLength(reliefM, plan.lotfall.units ?? 'metric')} of relief)`;
  });
  throw new InputError({
    code: 'elevation-vertical-unit',
    where: elevation.raster.name,
    problem: 'its map is in feet and it does not say in what unit its heights are',
    remedy: `add ${choices.join(' or ')}`,
  });
}
