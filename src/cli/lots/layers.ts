import { basename } from 'node:path';
import { InputError } from '../../../lib/errors';
import type { FoundLayer } from '../../../lib/gather/found-layer';
import { guessColumns } from '../../../lib/gather/guess-columns';
import type { KindUse } from '../../../lib/gather/guess-kind';
import { intoPlan, type LayerToGather } from '../../../lib/gather/into-plan';
import { readFound } from '../../../lib/gather/read-found';
import { codeIn, systemOfCode } from '../../../lib/gather/system-of';
import { applyChange } from '../../../lib/plan/change';
import { schemaVersion, type FeatureOf, type Plan } from '../../../lib/plan/schema';
import { mendParcels } from '../../../lib/review/mend-parcels';
import { ownersColumns } from '../../../lib/review/owners-columns';
import { withDefaultPaving } from '../../../lib/review/default-paving';
import type { Call } from '../command';
import { givenFile } from '../reading/given-file';
import { usage } from '../usage';

/** Options that name a layer each, and what its shapes become. */
const layerUses = {
  parcels: { kind: 'lot' },
  buildings: { kind: 'building' },
  covers: { kind: 'surface' },
  gardens: { kind: 'basin' },
  inlets: { kind: 'yard-drain' },
} as const satisfies Readonly<Record<string, KindUse>>;

/** How gathering says that a shape is one that came before. */
const alreadyThere = 'in the plan already';

type LayerName = keyof typeof layerUses;
const layerNames = Object.keys(layerUses) as LayerName[];

export const layerOptions = {
  parcels: { type: 'string' },
  buildings: { type: 'string' },
  covers: { type: 'string' },
  gardens: { type: 'string' },
  inlets: { type: 'string' },
  system: { type: 'string' },
  owners: { type: 'boolean' },
} as const;

export const layerHelp = `  --parcels, --buildings, --covers, --gardens, --inlets <file>
                                        in place of a plan, or added to it: layers as GeoJSON, GeoPackage or zipped shapefile;
                                        covers need a column 'cover' (lawn, paving, …), inlets lead to the storm sewer
  --system <EPSG:n>                     coordinate system of layers that do not name theirs
  --owners                              keep names that stand in columns about owners; else these columns are not read`;

/** A plan put together from layers, or one with layers added to it, and what was done to them. */
export interface Layered {
  readonly plan: Plan;
  readonly notes: readonly string[];
}

/** Whether a call names any layer. */
export function namesLayers(call: Call): boolean {
  return layerNames.some((name) => call.option(name) !== undefined);
}

/**
 * Puts layers into a plan: parcels are mended, owners' columns dropped, lots on which no surface is drawn get a share of paving.
 *
 * @throws {InputError} what reading throws; `review-layer` where a layer holds nothing that it should.
 */
export async function layered(call: Call, plan: Plan | null): Promise<Layered> {
  let built: Plan = plan ?? {
    type: 'FeatureCollection',
    lotfall: { version: schemaVersion },
    features: [],
  };
  const notes: string[] = [];
  const system = await systemOf(call);
  for (const [i, name] of layerNames.entries()) {
    const path = call.option(name);
    if (path === undefined) continue;
    call.onProgress(i / layerNames.length, `reading ${basename(path)}`);
    const found = await readFound(await givenFile(path));
    const layers = found.layers.map((layer) => {
      const kept = call.flag('owners') ? { layer, dropped: [] } : ownersColumns(layer);
      if (kept.dropped.length > 0) {
        notes.push(
          `${layer.file}: columns about owners are not read: ${kept.dropped.join(', ')} (--owners keeps them)`,
        );
      }
      return toGather(kept.layer, layerUses[name]);
    });
    const gathered = await intoPlan(built, layers, system);
    if (gathered.refusal !== null) throw gathered.refusal;
    for (const row of gathered.layers) {
      if (row.asked !== null) {
        throw fault(
          row.file,
          row.asked.problem,
          'add --system EPSG:n with the code of its coordinate system',
        );
      }
      const said = row.left.map(
        ({ why, count }) =>
          `left out (${count}): ${plan === null && why === alreadyThere ? 'the same outline twice' : why}`,
      );
      notes.push(
        ...[...said, ...row.notes.filter((note) => !/own/.test(note))].map(
          (note) => `${row.file}: ${note}`,
        ),
      );
    }
    if (gathered.change === null) {
      throw fault(
        basename(path),
        `it holds no ${name} that come in`,
        `see what it holds with lotfall gather ${basename(path)}`,
      );
    }
    built = applyChange(built, gathered.change).plan;
  }
  return mended(built, notes, call.option('parcels'));
}

function toGather(layer: FoundLayer, use: KindUse): LayerToGather {
  return { layer, use, columns: guessColumns(layer.columns) };
}

function fault(where: string, problem: string, remedy: string): InputError {
  return new InputError({ code: 'review-layer', where, problem, remedy });
}

async function systemOf(call: Call): Promise<Parameters<typeof intoPlan>[2]> {
  const given = call.option('system');
  if (given === undefined) return {};
  const code = codeIn(given) ?? Number(given);
  if (!Number.isInteger(code)) {
    throw usage(`--system '${given}' is no code of a system`, 'write it as EPSG:26916');
  }
  return { system: await systemOfCode(code, `--system ${given}`) };
}

/** Gardens are still to be dug, inlets lead to the sewer, parcels are mended, and lots without surfaces get their paving. */
function mended(plan: Plan, notes: string[], parcels: string | undefined): Layered {
  const isLot = (feature: Plan['features'][number]): feature is FeatureOf<'lot'> =>
    feature.properties.kind === 'lot';
  const features = plan.features.map((feature): Plan['features'][number] => {
    const { properties } = feature;
    if (properties.gathered_from === undefined) return feature;
    if (properties.kind === 'basin' && properties.state === undefined) {
      return { ...feature, properties: { ...properties, state: 'proposed' } } as typeof feature;
    }
    if (properties.kind === 'yard-drain' && properties.outlet === undefined) {
      return { ...feature, properties: { ...properties, outlet: 'storm-sewer' } } as typeof feature;
    }
    return feature;
  });
  if (parcels === undefined) return { plan: { ...plan, features }, notes };
  const { lots, notes: said } = mendParcels(features.filter(isLot));
  const whole: Plan = { ...plan, features: [...lots, ...features.filter((each) => !isLot(each))] };
  const paved = withDefaultPaving(whole);
  const file = basename(parcels);
  return {
    plan: paved.plan,
    notes: [...notes, ...said.map((note) => `${file}: ${note}`), ...paved.notes],
  };
}
