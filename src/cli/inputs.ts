import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { openElevation, type ElevationFile } from '../../lib/elevation/open-elevation';
import { InputError } from '../../lib/errors';
import { readPlan } from '../../lib/plan/read-plan';
import type { Plan } from '../../lib/plan/schema';
import { parseRain } from '../../lib/units/parse-length';
import type { Call } from './command';
import { usage } from './usage';

/** Options of the commands that look at a lot on its elevation. */
export const elevationOptions = {
  elevation: { type: 'string', short: 'e' },
  rain: { type: 'string', short: 'r' },
  'vertical-unit': { type: 'string' },
} as const;

export const elevationHelp = `  --elevation, -e <dem.tif|https://…>  elevation GeoTIFF; of an address only what is needed is fetched
  --rain, -r <depth>                   rain of the storm, for example 25mm or 1in; else the plan's own
  --vertical-unit <unit>               m, ft or us-ft, where the file does not say in what its heights are`;

/** Reads the plan that a command is called with. */
export async function planOf(
  call: Call,
): Promise<{ plan: Plan; file: string; notes: readonly string[] }> {
  const [path, ...more] = call.words;
  if (path === undefined)
    throw usage('no plan is named', 'give the path of a plan (*.plan.geojson)');
  if (more.length > 0) throw usage(`'${more[0]}' is one file too many`, 'give one plan');
  return readPlanFile(path);
}

export async function readPlanFile(
  path: string,
): Promise<{ plan: Plan; file: string; notes: readonly string[] }> {
  const file = basename(path);
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw new InputError(
      {
        code: 'file-not-read',
        where: path,
        problem: `the plan cannot be read (${error instanceof Error ? error.message.split(',')[0] : String(error)})`,
        remedy: 'check its name and place',
      },
      { cause: error },
    );
  }
  const { plan, notes } = readPlan(text, file);
  return { plan, file, notes };
}

/** The plan with the rain that the call asks for, when it asks. */
export function withRain(plan: Plan, rain: string | undefined): Plan {
  if (rain === undefined) return plan;
  return {
    ...plan,
    lotfall: { ...plan.lotfall, storm: { ...plan.lotfall.storm, rain_mm: parseRain(rain) } },
  };
}

/** Opens the elevation that the call names, null when it names none. */
export async function elevationOf(call: Call): Promise<ElevationFile | null> {
  const named = call.option('elevation');
  if (named === undefined) return null;
  const source = /^https?:\/\//i.test(named)
    ? { name: named, url: named }
    : { name: basename(named), path: named };
  return openElevation(source);
}

const verticalUnits: Readonly<Record<string, number>> = {
  m: 1,
  ft: 0.3048,
  'us-ft': 1200 / 3937,
};

/** Metres for one unit of height as the call or the plan says; undefined leaves it to the file. */
export function verticalUnitOf(call: Call, plan: Plan): number | undefined {
  const named = call.option('vertical-unit');
  if (named === undefined) return plan.lotfall.elevation?.vertical_unit_m;
  const metres = verticalUnits[named];
  if (metres === undefined) {
    throw usage(
      `'${named}' is no vertical unit`,
      `use one of ${Object.keys(verticalUnits).join(', ')}`,
    );
  }
  return metres;
}
