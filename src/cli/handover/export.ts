import { extname } from 'node:path';
import { InputError } from '../../../lib/errors';
import { frameAround } from '../../../lib/frame/frame-around';
import type { Frame } from '../../../lib/frame/frame';
import { writeGeoTiff } from '../../../lib/elevation/writing/write-geotiff';
import { finishedGround } from '../../../lib/ground/ground';
import { exportLayers, type ExportLayer } from '../../../lib/handover/export/export-layers';
import { dxfOf } from '../../../lib/handover/export/write-dxf';
import { geoPackageOf } from '../../../lib/handover/export/write-geopackage';
import { shapefilesOf } from '../../../lib/handover/export/write-shapefile';
import { cornersOf, geoJsonOf } from '../../../lib/handover/export/write-text';
import { gpxOf, kmlOf } from '../../../lib/handover/export/write-xml';
import type { BasinAsBuilt } from '../../../lib/basin/form/as-built';
import { basinAsBuilt } from '../../../lib/basin/form/as-built';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { planArea } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { Call, Command } from '../command';
import { elevationHelp, elevationOptions, planOf } from '../reading/inputs';
import { noteLines, sentences } from '../notes';
import { survey } from '../reading/survey';
import { usage } from '../usage';

/** Formats by the names that `--to` takes, with the ending of their files. */
const endings = {
  gpx: '.gpx',
  kml: '.kml',
  csv: '.csv',
  dxf: '.dxf',
  gpkg: '.gpkg',
  'shp.zip': '.zip',
  geojson: '.geojson',
  tif: '.tif',
} as const;

type Format = keyof typeof endings;

const formats = Object.keys(endings) as Format[];

/** `lotfall export`: the plan for other programs. */
export const exporting: Command = {
  name: 'export',
  summary:
    'the plan as GPX, KML, CSV, DXF, GeoPackage, shapefiles, GeoJSON; finished ground as GeoTIFF',
  help: `Usage: lotfall export <plan.geojson> [--elevation <file.tif|https://…>] --to gpkg --out lot.gpkg

${elevationHelp}
  --to <format>                         ${formats.join(', ')}; else as the ending of --out says
  --unit <m|ft>                         of a DXF drawing; when not given the plan's
  --out <file>                          text formats are printed without it

A layer for each kind of thing, named in our words; with elevation also planting zones and notches. All but the DXF drawing
are in degrees (WGS 84); the drawing is in metres or feet of the lot's own frame, which a note in it describes. tif is the
ground when all earth has been moved, in the elevation's own system, and needs elevation.`,
  options: { ...elevationOptions, to: { type: 'string' }, unit: { type: 'string' } },
  forms: [...Object.values(endings)],
  async run(call) {
    const format = formatOf(call);
    const unit = unitOf(call);
    const { plan, file, notes } = await planOf(call);
    const surveyed =
      call.option('elevation') === undefined && format !== 'tif'
        ? null
        : await survey(call, plan, file);
    const frame = surveyed?.plan.frame ?? frameOf(plan, file);
    const { built, notDug } = builtIn(surveyed);
    const layers = exportLayers(plan, built, surveyed === null ? null : frame);
    const bytes = await written(format, {
      layers,
      frame,
      plan,
      file,
      surveyed,
      unit: unit ?? (plan.lotfall.units === 'us' ? 'ft' : 'm'),
    });
    const remarks = sentences(notes, notDug);
    if (call.option('out') === undefined && typeof bytes !== 'string') {
      throw usage(`${format} is no text to be printed`, `add --out lot${endings[format]}`);
    }
    return {
      text:
        typeof bytes === 'string' && call.option('out') === undefined
          ? bytes.trimEnd()
          : [layerWords(layers, format), noteLines(remarks)]
              .filter((part) => part !== '')
              .join('\n\n'),
      json: {
        format,
        layers: layers.map(({ name, geometry, features }) => ({
          name,
          geometry,
          features: features.length,
        })),
        notes: remarks,
      },
      files: { [endings[format]]: bytes },
      alsoText: true,
    };
  },
};

function formatOf(call: Call): Format {
  const out = call.option('out');
  const byEnding = formats.find(
    (each) => out !== undefined && endings[each] === extname(out).toLowerCase(),
  );
  const named = call.option('to');
  if (named === undefined) {
    if (byEnding !== undefined) return byEnding;
    throw usage('no format is named', `add --to and one of ${formats.join(', ')}`);
  }
  const format = formats.find(
    (each) => each === named.toLowerCase() || (named === 'shp' && each === 'shp.zip'),
  );
  if (format === undefined) {
    throw usage(`there is no format '${named}' to export to`, `use one of ${formats.join(', ')}`);
  }
  if (out !== undefined && byEnding !== format) {
    throw usage(`--out '${out}' does not end as ${format} does`, `end it in ${endings[format]}`);
  }
  return format;
}

function unitOf(call: Call): 'm' | 'ft' | undefined {
  const unit = call.option('unit');
  if (unit === undefined || unit === 'm' || unit === 'ft') return unit;
  throw usage(`'${unit}' is no unit of a drawing`, 'use m or ft');
}

function frameOf(plan: Plan, file: string): Frame {
  const area = planArea(plan);
  if (area !== null) return frameAround(area);
  throw new InputError({
    code: 'plan-empty',
    where: file,
    problem: 'nothing is drawn in it',
    remedy: 'draw at least the lot line',
  });
}

function builtIn(surveyed: Survey | null): { built: BasinAsBuilt[]; notDug: string[] } {
  const built: BasinAsBuilt[] = [];
  const notDug: string[] = [];
  if (surveyed === null) return { built, notDug };
  for (const { id } of surveyed.plan.of.basin) {
    const made = basinAsBuilt(surveyed.elevation.grid, surveyed.plan, id);
    if ('notDug' in made) notDug.push(made.notDug);
    else built.push(made);
  }
  return { built, notDug };
}

interface Wanted {
  readonly layers: readonly ExportLayer[];
  readonly frame: Frame;
  readonly plan: Plan;
  readonly file: string;
  readonly surveyed: Survey | null;
  readonly unit: 'm' | 'ft';
}

async function written(
  format: Format,
  { layers, frame, plan, file, surveyed, unit }: Wanted,
): Promise<string | Uint8Array> {
  switch (format) {
    case 'gpx':
      return gpxOf(layers);
    case 'kml':
      return kmlOf(layers, plan.lotfall.name ?? file);
    case 'csv':
      return cornersOf(layers, frame);
    case 'geojson':
      return geoJsonOf(layers);
    case 'dxf': {
      const system = surveyed?.elevation.systemName ?? 'WGS 84, transverse Mercator about the plan';
      return dxfOf(layers, frame, { unit, system });
    }
    case 'gpkg':
      return geoPackageOf(layers);
    case 'shp.zip':
      return shapefilesOf(layers);
    case 'tif':
      return finishedTif(surveyed, file);
  }
}

async function finishedTif(surveyed: Survey | null, file: string): Promise<Uint8Array> {
  if (surveyed === null) throw usage(`${file} has no ground`, 'add --elevation');
  const { elevation, plan } = surveyed;
  return writeGeoTiff(finishedGround(elevation.grid, plan), {
    description: 'ground when all earth has been moved',
    ...(elevation.written === null ? {} : { system: elevation.written }),
  });
}

function layerWords(layers: readonly ExportLayer[], format: Format): string {
  if (format === 'tif') return 'The ground when all earth has been moved';
  return layers
    .map(({ name, features, geometry }) => `${name}: ${features.length} (${geometry})`)
    .join('\n');
}
