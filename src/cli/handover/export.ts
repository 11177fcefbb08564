import { extname } from 'node:path';
import type { ExportLayer } from '../../../lib/handover/export/export-layers';
import {
  exportEndings,
  exportFormats,
  type ExportFormat,
} from '../../../lib/handover/export/export-formats';
import { exportPlan } from '../../../lib/handover/export/export-plan';
import type { Call, Command } from '../command';
import { elevationHelp, elevationOptions, planOf } from '../reading/inputs';
import { noteLines, sentences } from '../notes';
import { survey } from '../reading/survey';
import { usage } from '../usage';

/** `lotfall export`: the plan for other programs. */
export const exporting: Command = {
  name: 'export',
  summary:
    'the plan as GPX, KML, CSV, DXF, GeoPackage, shapefiles, GeoJSON; finished ground as GeoTIFF',
  help: `Usage: lotfall export <plan.geojson> [--elevation <file.tif|https://…>] --to gpkg --out lot.gpkg

${elevationHelp}
  --to <format>                         ${exportFormats.join(', ')}; else as the ending of --out says
  --unit <m|ft>                         of a DXF drawing; when not given the plan's
  --out <file>                          text formats are printed without it

A layer for each kind of thing, named in our words; with elevation also planting zones and notches. All but the DXF drawing
are in degrees (WGS 84); the drawing is in metres or feet of the lot's own frame, which a note in it describes. tif is the
ground when all earth has been moved, in the elevation's own system, and needs elevation.`,
  options: { ...elevationOptions, to: { type: 'string' }, unit: { type: 'string' } },
  forms: [...Object.values(exportEndings)],
  async run(call) {
    const format = formatOf(call);
    const unit = unitOf(call);
    const { plan, file, notes } = await planOf(call);
    const surveyed =
      call.option('elevation') === undefined && format !== 'tif'
        ? null
        : await survey(call, plan, file);
    if (format === 'tif' && surveyed === null) {
      throw usage(`${file} has no ground`, 'add --elevation');
    }
    const {
      layers,
      written: bytes,
      notDug,
    } = await exportPlan(format, {
      plan,
      file,
      survey: surveyed,
      ...(unit === undefined ? {} : { unit }),
    });
    const remarks = sentences(notes, notDug);
    if (call.option('out') === undefined && typeof bytes !== 'string') {
      throw usage(`${format} is no text to be printed`, `add --out lot${exportEndings[format]}`);
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
      files: { [exportEndings[format]]: bytes },
      alsoText: true,
    };
  },
};

function formatOf(call: Call): ExportFormat {
  const out = call.option('out');
  const byEnding = exportFormats.find(
    (each) => out !== undefined && exportEndings[each] === extname(out).toLowerCase(),
  );
  const named = call.option('to');
  if (named === undefined) {
    if (byEnding !== undefined) return byEnding;
    throw usage('no format is named', `add --to and one of ${exportFormats.join(', ')}`);
  }
  const format = exportFormats.find(
    (each) => each === named.toLowerCase() || (named === 'shp' && each === 'shp.zip'),
  );
  if (format === undefined) {
    throw usage(
      `there is no format '${named}' to export to`,
      `use one of ${exportFormats.join(', ')}`,
    );
  }
  if (out !== undefined && byEnding !== format) {
    throw usage(
      `--out '${out}' does not end as ${format} does`,
      `end it in ${exportEndings[format]}`,
    );
  }
  return format;
}

function unitOf(call: Call): 'm' | 'ft' | undefined {
  const unit = call.option('unit');
  if (unit === undefined || unit === 'm' || unit === 'ft') return unit;
  throw usage(`'${unit}' is no unit of a drawing`, 'use m or ft');
}

function layerWords(layers: readonly ExportLayer[], format: ExportFormat): string {
  if (format === 'tif') return 'The ground when all earth has been moved';
  return layers
    .map(({ name, features, geometry }) => `${name}: ${features.length} (${geometry})`)
    .join('\n');
}
