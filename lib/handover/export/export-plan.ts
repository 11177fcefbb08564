import type { BasinAsBuilt } from '../../basin/form/as-built';
import { basinAsBuilt } from '../../basin/form/as-built';
import type { Survey } from '../../drainage/storm/survey-lot';
import { writeGeoTiff } from '../../elevation/writing/write-geotiff';
import { InputError } from '../../errors';
import { frameAround } from '../../frame/frame-around';
import { finishedGround } from '../../ground/ground';
import { planArea } from '../../plan/plan-area';
import type { Plan } from '../../plan/schema';
import type { ExportFormat } from './export-formats';
import { exportLayers, type ExportLayer } from './export-layers';
import { dxfOf } from './write-dxf';
import { geoPackageOf } from './write-geopackage';
import { shapefilesOf } from './write-shapefile';
import { cornersOf, geoJsonOf } from './write-text';
import { gpxOf, kmlOf } from './write-xml';

export interface ExportInput {
  readonly plan: Plan;
  /** How the plan is known where it has no name. */
  readonly file: string;
  /** With it planting zones and notches are layers too; `null` where there is no ground. */
  readonly survey: Survey | null;
  /** Of a drawing; the plan's when not given. */
  readonly unit?: 'm' | 'ft';
}

/** A plan as a file of another program. */
export interface Exported {
  readonly layers: readonly ExportLayer[];
  readonly written: string | Uint8Array;
  /** Why a basin is not among the layers as built. */
  readonly notDug: readonly string[];
}

/**
 * Writes a plan for another program.
 *
 * @throws {InputError} `plan-empty`; `export-no-ground` where finished ground is asked for and there is none.
 */
export async function exportPlan(format: ExportFormat, input: ExportInput): Promise<Exported> {
  const { plan, survey } = input;
  const built: BasinAsBuilt[] = [];
  const notDug: string[] = [];
  for (const { id } of survey?.plan.of.basin ?? []) {
    if (survey === null) break;
    const made = basinAsBuilt(survey.elevation.grid, survey.plan, id);
    if ('notDug' in made) notDug.push(made.notDug);
    else built.push(made);
  }
  const frame = survey?.plan.frame ?? frameOf(input);
  const layers = exportLayers(plan, built, survey === null ? null : frame);
  return { layers, written: await writtenAs(format, layers, input), notDug };
}

function frameOf({ plan, file }: ExportInput) {
  const area = planArea(plan);
  if (area !== null) return frameAround(area);
  throw new InputError({
    code: 'plan-empty',
    where: file,
    problem: 'nothing is drawn in it',
    remedy: 'draw at least the lot line',
  });
}

function writtenAs(
  format: ExportFormat,
  layers: readonly ExportLayer[],
  input: ExportInput,
): string | Uint8Array | Promise<Uint8Array> {
  const { plan, file, survey } = input;
  switch (format) {
    case 'gpx':
      return gpxOf(layers);
    case 'kml':
      return kmlOf(layers, plan.lotfall.name ?? file);
    case 'csv':
      return cornersOf(layers, survey?.plan.frame ?? frameOf(input));
    case 'geojson':
      return geoJsonOf(layers);
    case 'dxf': {
      const unit = input.unit ?? (plan.lotfall.units === 'us' ? 'ft' : 'm');
      const system = survey?.elevation.systemName ?? 'WGS 84, transverse Mercator about the plan';
      return dxfOf(layers, survey?.plan.frame ?? frameOf(input), { unit, system });
    }
    case 'gpkg':
      return geoPackageOf(layers);
    case 'shp.zip':
      return shapefilesOf(layers);
    case 'tif':
      return finishedTif(input);
  }
}

async function finishedTif({ survey, file }: ExportInput): Promise<Uint8Array> {
  if (survey === null) {
    throw new InputError({
      code: 'export-no-ground',
      where: file,
      problem: 'there is no ground',
      remedy: 'add elevation',
    });
  }
  const { elevation, plan } = survey;
  return writeGeoTiff(finishedGround(elevation.grid, plan), {
    description: 'ground when all earth has been moved',
    ...(elevation.written === null ? {} : { system: elevation.written }),
  });
}
