import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { readWindow, type Elevation } from '../../lib/elevation/read-window';
import type { ElevationFile } from '../../lib/elevation/open-elevation';
import { InputError } from '../../lib/errors';
import { localFrame, makeFrame, type Frame, type FrameSpec } from '../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../lib/plan/local-plan';
import { planArea } from '../../lib/plan/plan-area';
import type { Plan } from '../../lib/plan/schema';
import { checkSetbacks } from '../../lib/setback/check';
import { checkedBasins } from '../../lib/setback/checked-basins';
import { locateRequest, locateRequestText } from '../../lib/setback/locate-request';
import { readRuleSet } from '../../lib/setback/read-rule-set';
import type { RuleSet } from '../../lib/setback/rule';
import { ruleSets, ruleSetsOf } from '../../lib/setback/rule-sets';
import type { CheckedBasin, SetbackFindings } from '../../lib/setback/setback-result';
import { setbackTable, setbackTables } from '../../lib/setback/setback-table';
import { waterAtBasins } from '../../lib/setback/water-at-basins';
import { eventDepthMm } from '../../lib/storm/event-depth';
import type { Call, Command, Outcome } from './command';
import { dayHelp, dayOf, dayOption } from './day';
import { fileFault } from './file-fault';
import {
  elevationOf,
  elevationOptions,
  readPlanFile,
  verticalUnitHelp,
  verticalUnitOf,
} from './inputs';
import { sentences } from './notes';
import { planFiles } from './plan-files';
import { setbackWords, summaryWords } from './setback-words';
import { usage } from './usage';

/** Ground read around the lot for slopes and sides, metres: as far as the rules about steep ground look. */
const marginM = 70;
/** Tolerance to each side of a located line where the rule set has no rule about lines: 18 in. */
const usualToleranceM = 0.4572;

/** `lotfall setbacks`: every rule at every basin and feature, with the distance measured. */
export const setbacks: Command = {
  name: 'setbacks',
  summary: 'each rule: measured and required distance, margin, result, source',
  help: `Usage: lotfall setbacks <plan.geojson>… [--elevation <file.tif|https://…>] [--rules <id|set.json>]

  <plan.geojson>…                       one plan or several; a pattern in quotes, 'plans/*.geojson', names all that fit
  --rules <id|set.json>                 a rule set by its id (one of the plan's own, or
                                        ${ruleSets
                                          .map(({ id }) => id)
                                          .join(', ')
                                          .replace(/(.{50,}?), /g, `$1,\n${' '.repeat(40)}`)})
                                        or a file of your own; else the plan's choice
${dayHelp}
  --elevation, -e <file.tif|https://…>  for the rules about slope, what lies uphill, standing water and overflow,
                                        which cannot be judged without
${verticalUnitHelp}
  --locate-request                      instead of the check: what to ask of whom before digging, and where
  --json                                one row for each rule and feature as JSON, lengths in metres
  --out <file>                          .json, .csv or .txt

Of several plans the JSON is a list with one document for each, the table has the plan's name first, and a plan that
cannot be checked does not keep the others from it. Exit status 1 when a binding rule ('must') fails in any, 2 when one
could not be checked. A utility line without a current locate never passes. Local code governs.`,
  options: {
    ...elevationOptions,
    ...dayOption,
    rules: { type: 'string' },
    'locate-request': { type: 'boolean' },
  },
  forms: ['.csv'],
  async run(call) {
    const { paths, many } = planFiles(call.words);
    const today = dayOf(call);
    const given = {
      call,
      today,
      rules: await rulesOf(call),
      elevation: await elevationOf(call),
    };
    if (call.flag('locate-request')) return requestAll(given, paths, many);
    return many ? checkAll(given, paths) : checkOne(given, paths[0]);
  },
};

/** What the call gives for every plan. */
interface Given {
  readonly call: Call;
  readonly today: string;
  readonly rules: RulesGiven;
  readonly elevation: ElevationFile | null;
}

/** The set that the call names: one read from a file, or an id to be looked up in each plan. */
type RulesGiven = { readonly set: RuleSet } | { readonly id: string | undefined };

async function rulesOf(call: Call): Promise<RulesGiven> {
  const named = call.option('rules');
  if (named === undefined || !/[./\\]/.test(named)) return { id: named };
  let text: string;
  try {
    text = await readFile(named, 'utf8');
  } catch (error) {
    throw new InputError(
      {
        code: 'file-not-read',
        where: named,
        problem: `the rule set cannot be read: ${fileFault(error)}`,
        remedy: `check its name and folder, or name one of ${ruleSets.map(({ id }) => id).join(', ')}`,
      },
      { cause: error },
    );
  }
  return { set: readRuleSet(text, basename(named)).set };
}

/** One plan with what it is checked by and in. */
interface Placed {
  readonly plan: Plan;
  readonly file: string;
  readonly frame: Frame;
  readonly local: LocalPlan;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  readonly elevation: Elevation | null;
  readonly notes: readonly string[];
}

async function placed(given: Given, path: string): Promise<Placed> {
  const { plan, file, notes } = await readPlanFile(path);
  const { ruleSet, notes: ruleNotes } = ruleSetFor(plan, file, given.rules);
  const { frame: spec, elevation } = await placeOf(given, plan, file);
  const frame = makeFrame(spec);
  const local = toLocal(plan, frame);
  const basins = checkedBasins(local);
  if (basins.length === 0) {
    throw new InputError({
      code: 'no-basin',
      where: file,
      problem: 'there is no basin in the plan to be checked',
      remedy: 'draw one, or look for places with lotfall sites',
    });
  }
  const remarks = sentences(notes, ruleNotes, elevation?.notes.map((note) => note.text) ?? []);
  return { plan, file, frame, local, basins, ruleSet, elevation, notes: remarks };
}

/** A check by another set than the one asked for would be worse than none: an unusable one ends the plan's check. */
function ruleSetFor(
  plan: Plan,
  file: string,
  rules: RulesGiven,
): { ruleSet: RuleSet; notes: readonly string[] } {
  if ('set' in rules) return { ruleSet: rules.set, notes: [] };
  const wanted = rules.id ?? plan.lotfall.rule_set ?? 'default';
  const { sets, problems } = ruleSetsOf(plan.lotfall);
  const ruleSet = sets.find(({ id }) => id === wanted);
  if (ruleSet !== undefined) {
    const broken = problems.filter((problem) => !problem.startsWith('rule set: '));
    return { ruleSet, notes: broken };
  }
  const why = problems.find((problem) => problem.startsWith(`rule set '${wanted}'`));
  throw new InputError({
    code: 'rule-set-unknown',
    where: file,
    problem:
      why === undefined
        ? `there is no rule set "${wanted}"`
        : `its rule set cannot be used (${why.replace(/\.$/, '')})`,
    remedy: `choose one of ${sets.map(({ id }) => id).join(', ')} with --rules`,
  });
}

/** The frame to measure in: that of the elevation around the lot, or one centred on the plan. */
async function placeOf(
  { call, elevation: opened }: Given,
  plan: Plan,
  file: string,
): Promise<{ frame: FrameSpec; elevation: Elevation | null }> {
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line and a basin');
  if (opened === null) {
    return {
      frame: localFrame([(area[0] + area[2]) / 2, (area[1] + area[3]) / 2]),
      elevation: null,
    };
  }
  const elevation = await readWindow(opened, {
    area,
    marginM,
    ...(await verticalUnitOf(call, plan, opened, area)),
  });
  return { frame: elevation.grid.frame, elevation };
}

function findingsOf(at: Placed, today: string): SetbackFindings {
  const { local, ruleSet, elevation, basins } = at;
  const { soil } = at.plan.lotfall;
  const water =
    elevation === null
      ? undefined
      : waterAtBasins(elevation.grid, local, ruleSet, eventDepthMm(at.plan.lotfall));
  return checkSetbacks({
    plan: local,
    basins: basins.map((basin) => ({
      ...basin,
      overflowPath: water?.overflowPaths.get(basin.id),
    })),
    ruleSet,
    elevation: elevation?.grid,
    today,
    soil,
    standing: water?.standing,
  });
}

function documentOf(found: SetbackFindings, at: Placed, today: string) {
  return {
    ...found,
    today,
    results: found.results.map((row) => ({
      ...row,
      nearest: row.nearest?.map((place) => at.frame.toLngLat(place)) ?? null,
    })),
    notes: at.notes,
  };
}

function wordsOf(found: SetbackFindings, at: Placed, today: string): string {
  const { plan, ruleSet, notes } = at;
  return setbackWords(found, { plan, ruleSet, today, notes });
}

async function checkOne(given: Given, path: string): Promise<Outcome> {
  const at = await placed(given, path);
  const found = findingsOf(at, given.today);
  return {
    text: wordsOf(found, at, given.today),
    json: documentOf(found, at, given.today),
    files: { '.csv': setbackTable(found.results) },
    ruleFails: found.summary.must_fail > 0,
  };
}

/** Work on each of several plans; what the user can put right in one does not keep the others from it. */
async function onEach<T>(
  { call }: Given,
  paths: readonly string[],
  work: (path: string) => Promise<T>,
): Promise<{ path: string; done: T | InputError }[]> {
  const all: { path: string; done: T | InputError }[] = [];
  for (const path of paths) {
    call.onProgress(all.length / paths.length, basename(path));
    try {
      all.push({ path, done: await work(path) });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      all.push({ path, done: error });
    }
  }
  return all;
}

async function checkAll(given: Given, paths: readonly string[]): Promise<Outcome> {
  const { today } = given;
  const plans = await onEach(given, paths, async (path) => {
    const at = await placed(given, path);
    return { at, found: findingsOf(at, today) };
  });
  const checked = plans.flatMap(({ path, done }) =>
    done instanceof InputError ? [] : [{ path, ...done }],
  );
  return {
    text: [
      ...checked.map(({ path, at, found }) => `${path}\n\n${wordsOf(found, at, today)}`),
      summaryWords(
        plans.map(({ path, done }) => ({
          file: path,
          found: done instanceof InputError ? null : done.found,
        })),
      ),
    ].join('\n\n\n'),
    json: plans.map(({ path, done }) =>
      done instanceof InputError
        ? { plan: path, error: done.toProblem() }
        : { plan: path, ...documentOf(done.found, done.at, today) },
    ),
    files: {
      '.csv': setbackTables(
        checked.map(({ path, found }) => ({ plan: path, results: found.results })),
      ),
    },
    ruleFails: checked.some(({ found }) => found.summary.must_fail > 0),
    faults: faultsOf(plans),
  };
}

function faultsOf(plans: readonly { path: string; done: unknown }[]): string[] {
  return plans.flatMap(({ path, done }) => {
    if (!(done instanceof InputError)) return [];
    // Two folders may hold files of one name.
    const folder = path.slice(0, path.length - basename(path).length);
    return done.where.startsWith(path) ? [done.message] : [`${folder}${done.message}`];
  });
}

async function requestAll(given: Given, paths: readonly string[], many: boolean): Promise<Outcome> {
  if (given.call.option('out')?.endsWith('.csv') === true) {
    throw usage('a locate request is no table', 'end the file in .txt or .json');
  }
  const request = async (path: string) => {
    const { plan, local, basins, ruleSet } = await placed(given, path);
    const rule = ruleSet.rules.find((each) => each.test === 'utility');
    const made = await locateRequest({
      plan: local,
      basins,
      toleranceM: rule?.test === 'utility' ? rule.toleranceM : usualToleranceM,
      today: given.today,
    });
    return { made, text: locateRequestText(made, plan.lotfall.units ?? 'metric') };
  };
  if (!many) {
    const { made, text } = await request(paths[0]);
    return { text, json: made };
  }
  const plans = await onEach(given, paths, request);
  return {
    text: plans
      .flatMap(({ done }) => (done instanceof InputError ? [] : [done.text]))
      .join('\n\n\n'),
    json: plans.map(({ path, done }) =>
      done instanceof InputError
        ? { plan: path, error: done.toProblem() }
        : { plan: path, ...done.made },
    ),
    faults: faultsOf(plans),
  };
}
