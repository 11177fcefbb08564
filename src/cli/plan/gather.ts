import { basename, extname } from 'node:path';
import { InputError } from '../../../lib/errors';
import type { FoundLayer } from '../../../lib/gather/found-layer';
import { guessColumns } from '../../../lib/gather/guess-columns';
import {
  gatheredKinds,
  guessKind,
  useOf,
  wordOf,
  type KindUse,
} from '../../../lib/gather/guess-kind';
import { intoPlan, type GatheredLayer, type GatherOptions } from '../../../lib/gather/into-plan';
import { readFormats, readFound } from '../../../lib/gather/read-found';
import { codeIn, systemOfCode } from '../../../lib/gather/system-of';
import { usualCloseM, usualNearM } from '../../../lib/gather/usual-answers';
import { applyChange } from '../../../lib/plan/change';
import { schemaVersion, type Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import { parseLength } from '../../../lib/units/parse-length';
import { footM, surveyFootM } from '../../../lib/units/units';
import type { Call, Command, CommandOutput } from '../command';
import { givenFile } from '../reading/given-file';
import { readPlanFile } from '../reading/inputs';
import { planFiles } from '../reading/plan-files';
import { table } from '../writing/table';
import { usage } from '../usage';

const unitsM: ReadonlyMap<string, number> = new Map([
  ['m', 1],
  ['ft', footM],
  ['us-ft', surveyFootM],
]);

/** `lotfall gather`: what a designer has been given becomes features of a plan. */
export const gather: Command = {
  name: 'gather',
  summary: 'bring parcels, buildings, trees and lines of other files into a plan',
  help: `Usage: lotfall gather <file>… [--near <plan.geojson>] [--as <kind>] [--layer <name>=<kind>]… [--out <plan.geojson>]

  <file>…                               ${readFormats.replace(/(.{50,}?), /g, `$1,\n${' '.repeat(40)}`)};
                                        told apart by what is in them
  --near <plan.geojson>                 the plan to add to; only what lies near its lot comes in
  --within <distance>                   how near, for example 200ft; else ${usualNearM} m
  --as <kind>                           what every layer becomes, for example building, utility:gas, surface:lawn
  --layer <name>=<kind>                 what one layer becomes; none leaves it out; may be given again for others
  --system <EPSG:n>                     coordinate system of layers that do not name theirs, or not surely
  --as-written                          take a system on an older datum as it stands, up to 200 m off
  --unit <unit>                         m, ft or us-ft: unit of drawings, tables and heights that do not name theirs
  --close [--close-within <distance>]   lines whose ends meet (within 5 cm) become outlines where outlines are wanted
  --json                                what was found, what came in and what did not
  --out <file>                          .geojson writes the plan with everything added; .json or .txt the list

Without --out nothing is written: the list says what each layer holds and would become. Kinds are guessed from names
where the call does not say. Kinds: ${gatheredKinds.join(', ').replace(/(.{80,}?), /g, '$1,\n  ')}.
Exit status 2 when a file could not be read or a layer needs an answer; the rest comes in all the same.`,
  options: {
    near: { type: 'string' },
    within: { type: 'string' },
    as: { type: 'string' },
    layer: { type: 'string', multiple: true },
    system: { type: 'string' },
    'as-written': { type: 'boolean' },
    unit: { type: 'string' },
    close: { type: 'boolean' },
    'close-within': { type: 'string' },
  },
  forms: ['.geojson'],
  run,
};

interface FileRead {
  readonly format: string;
  readonly notes: readonly string[];
  readonly layers: readonly FoundLayer[];
}

async function run(call: Call): Promise<CommandOutput> {
  if (call.words.length === 0) throw usage('no file is named', `give ${readFormats}`);
  const { paths } = planFiles(call.words);
  const asked = usesOf(call);
  const options = await optionsOf(call);
  const near = call.option('near');
  const plan: Plan =
    near === undefined
      ? { type: 'FeatureCollection', lotfall: { version: schemaVersion }, features: [] }
      : (await readPlanFile(near)).plan;

  const faults: string[] = [];
  const files: FileRead[] = [];
  for (const [i, path] of paths.entries()) {
    call.onProgress(i / paths.length, `reading ${basename(path)}`);
    try {
      files.push(await readFound(await givenFile(path)));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(error.message);
    }
  }
  const layers = files.flatMap((file) => file.layers);
  refuseOtherLayers(asked.byLayer, layers);
  const choices = layers.map((layer) => choiceOf(layer, asked));
  const chosen = choices.flatMap(({ layer, use }) =>
    use === null ? [] : [{ layer, use, columns: guessColumns(layer.columns) }],
  );
  const gathered = await intoPlan(plan, chosen, options);
  for (const row of gathered.layers) if (row.asked !== null) faults.push(askedSentence(row));
  if (gathered.refusal !== null) faults.push(gathered.refusal.message);

  let next = 0;
  const rows = choices.map((choice) => ({
    ...choice,
    row: choice.use === null ? null : gathered.layers[next++],
  }));
  const added = gathered.change?.puts?.length ?? 0;
  const outcome = {
    text: textOf(files, rows, added, call.option('out') !== undefined),
    json: documentOf(files, rows, added),
    faults,
  };
  const out = call.option('out');
  if (out === undefined || extname(out).toLowerCase() !== '.geojson') return outcome;
  if (gathered.change === null) {
    throw new InputError({
      code: 'gather-nothing',
      where: paths.map((path) => basename(path)).join(', '),
      problem: `nothing comes in${faults.length === 0 ? '' : ` (${faults[0].replace(/\.$/, '')})`}`,
      remedy: 'call it without --out to see what each layer holds and why it stays out',
    });
  }
  const written = writePlan(applyChange(plan, gathered.change).plan);
  return { ...outcome, files: { '.geojson': written }, alsoText: true };
}

interface Asked {
  readonly all: KindUse | null | undefined;
  readonly byLayer: ReadonlyMap<string, KindUse | null>;
}

interface Choice {
  readonly layer: FoundLayer;
  readonly use: KindUse | null;
  readonly why: string;
}

interface Row extends Choice {
  readonly row: GatheredLayer | null;
}

function usesOf(call: Call): Asked {
  const byLayer = new Map<string, KindUse | null>();
  for (const given of call.all('layer')) {
    const at = given.lastIndexOf('=');
    if (at <= 0) throw usage(`--layer '${given}' names no kind`, 'write --layer <name>=<kind>');
    byLayer.set(given.slice(0, at).trim().toLowerCase(), useIn(given.slice(at + 1)));
  }
  const all = call.option('as');
  return { byLayer, all: all === undefined ? undefined : useIn(all) };
}

function useIn(word: string): KindUse | null {
  if (word.trim() === 'none') return null;
  const use = useOf(word.trim());
  if (typeof use !== 'string') return use;
  const [problem, remedy] = use.split('; ');
  throw usage(problem, remedy ?? `use one of ${gatheredKinds.join(', ')}`);
}

function choiceOf(layer: FoundLayer, { all, byLayer }: Asked): Choice {
  const named = byLayer.get(layer.name.toLowerCase());
  if (named !== undefined) return { layer, use: named, why: 'as the call says' };
  if (all !== undefined) return { layer, use: all, why: 'as the call says' };
  return { layer, ...guessKind(layer) };
}

function refuseOtherLayers(
  named: ReadonlyMap<string, unknown>,
  layers: readonly FoundLayer[],
): void {
  const there = new Set(layers.map(({ name }) => name.toLowerCase()));
  const missing = [...named.keys()].find((name) => !there.has(name));
  if (missing === undefined || layers.length === 0) return;
  throw usage(
    `there is no layer '${missing}'`,
    `use one of ${layers.map(({ name }) => name).join(', ')}`,
  );
}

async function optionsOf(call: Call): Promise<GatherOptions> {
  const system = call.option('system');
  const unit = call.option('unit');
  const code = system === undefined ? null : (codeIn(system) ?? Number(system));
  if (code !== null && !Number.isInteger(code)) {
    throw usage(`--system '${system}' is no code of a system`, 'write it as EPSG:26916');
  }
  const unitM = unit === undefined ? undefined : unitsM.get(unit);
  if (unit !== undefined && unitM === undefined) {
    throw usage(`--unit '${unit}' is no unit of a drawing`, `use ${[...unitsM.keys()].join(', ')}`);
  }
  const within = call.option('within');
  if (within !== undefined && call.option('near') === undefined) {
    throw usage('--within goes with a plan', 'add --near <plan.geojson>');
  }
  const closeWithin = call.option('close-within');
  const closeM = closeWithin === undefined ? usualCloseM : parseLength(closeWithin, 'metric');
  const closes = call.flag('close') || closeWithin !== undefined;
  return {
    ...(code === null ? {} : { system: await systemOfCode(code, `--system ${system}`) }),
    ...(unitM === undefined ? {} : { unitM }),
    ...(call.option('near') === undefined
      ? {}
      : { nearM: within === undefined ? usualNearM : parseLength(within, 'metric') }),
    ...(closes ? { closeM } : {}),
    asWritten: call.flag('as-written'),
  };
}

function askedSentence({ file, layer, asked }: GatheredLayer): string {
  const codes = asked?.candidates.map((code) => `EPSG:${code}`) ?? [];
  const answer =
    asked?.asks === 'unit'
      ? 'add --unit m, ft or us-ft'
      : codes.length > 0
        ? `add --system ${codes.join(' or ')}, if that is what it is`
        : 'add --system EPSG:n with the code of the system, as whoever made the file knows it';
  return `${file}, ${layer}: ${asked?.problem ?? ''}; ${answer}.`;
}

function textOf(
  files: readonly FileRead[],
  rows: readonly Row[],
  added: number,
  isWritten: boolean,
): string {
  const lines = rows.map(({ layer, use, row }) => [
    layer.file,
    layer.name,
    String(layer.shapes.length),
    use === null ? '-' : wordOf(use),
    row === null ? '-' : String(row.ids.length),
  ]);
  const details = rows.flatMap(({ layer, why, row }) => {
    const left = row?.left.map((reason) => `left out (${reason.count}): ${reason.why}`) ?? [];
    const said = [why, ...left, ...(row?.notes ?? [])];
    return [`${layer.file}, ${layer.name}`, ...said.map((what) => `  ${what}`)];
  });
  const about = files.flatMap(({ notes }) => notes);
  const count = `${added} ${added === 1 ? 'feature' : 'features'}`;
  return [
    `${count} ${isWritten ? 'came in' : 'would come in'}`,
    '',
    table([['File', 'Layer', 'Shapes', 'As', 'Come in'], ...lines], 'llrlr'),
    '',
    ...details,
    ...(about.length === 0 ? [] : ['', 'About the files', ...about.map((note) => `  ${note}`)]),
  ].join('\n');
}

function documentOf(files: readonly FileRead[], rows: readonly Row[], added: number) {
  return {
    added,
    layers: rows.map(({ layer, use, why, row }) => ({
      file: layer.file,
      layer: layer.name,
      shapes: layer.shapes.length,
      columns: layer.columns,
      system: layer.system.is === 'asked' ? null : layer.system.name,
      as: use === null ? null : wordOf(use),
      why,
      ids: row?.ids ?? [],
      left: row?.left ?? [],
      notes: row?.notes ?? [],
      asks: row?.asked?.asks ?? null,
    })),
    about_files: files.flatMap(({ notes }) => notes),
  };
}
