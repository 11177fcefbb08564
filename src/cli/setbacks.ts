import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { surveyLot, type Survey } from '../../lib/drainage/survey-lot';
import type { ElevationFile } from '../../lib/elevation/open-elevation';
import { InputError } from '../../lib/errors';
import { localFrame, makeFrame, type Frame } from '../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../lib/plan/local-plan';
import { planArea, type LngLatBox } from '../../lib/plan/plan-area';
import type { Plan } from '../../lib/plan/schema';
import { checkSetbacks } from '../../lib/setback/check';
import { checkedBasins } from '../../lib/setback/checked-basins';
import { locateRequest, locateTerms } from '../../lib/setback/locate-request';
import { locateRequestText } from '../../lib/setback/locate-request-text';
import { clearLocates } from '../../lib/setback/locates';
import { readRuleSet } from '../../lib/setback/read-rule-set';
import type { RuleSet } from '../../lib/setback/rule';
import { ruleSets, ruleSetsOf } from '../../lib/setback/rule-sets';
import type { CheckedBasin, SetbackFindings } from '../../lib/setback/setback-result';
import { setbackTable, setbackTables } from '../../lib/setback/setback-table';
import { waterAtBasins, type WaterAtBasins } from '../../lib/setback/water-at-basins';
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
                                        which cannot be judged without; and to fill and drain the basin for how
                                        long water stands, which else is its depth over the soil's rate
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
  readonly local: LocalPlan;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  readonly survey: Survey | null;
  readonly notes: readonly string[];
}

async function placed(given: Given, path: string): Promise<Placed> {
  const { plan, file, notes } = await readPlanFile(path);
  const { ruleSet, notes: ruleNotes } = ruleSetFor(plan, file, given.rules);
  const survey = await surveyOf(given, plan, file);
  const local = survey?.plan ?? toLocal(plan, frameOf(plan, file));
  const basins = checkedBasins(local);
  if (basins.length === 0) {
    throw new InputError({
      code: 'no-basin',
      where: file,
      problem: 'there is no basin in the plan to be checked',
      remedy: 'draw one, or look for places with lotfall sites',
    });
  }
  const remarks = sentences(
    notes,
    ruleNotes,
    survey?.elevation.notes.map((note) => note.text) ?? [],
  );
  return { plan, file, local, basins, ruleSet, survey, notes: remarks };
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

/** The ground around the lot, as the page reads it; `null` without elevation. */
async function surveyOf(
  { call, elevation }: Given,
  plan: Plan,
  file: string,
): Promise<Survey | null> {
  if (elevation === null) return null;
  const area = areaOf(plan, file);
  const unit = await verticalUnitOf(call, plan, elevation, area);
  return surveyLot(elevation, plan, { area, ...unit });
}

/** The frame to measure in where there is no elevation: one centred on the plan. */
function frameOf(plan: Plan, file: string): Frame {
  const [west, south, east, north] = areaOf(plan, file);
  return makeFrame(localFrame([(west + east) / 2, (south + north) / 2]));
}

function areaOf(plan: Plan, file: string): LngLatBox {
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line and a basin');
  return area;
}

/** The findings, and what is to be said about how they came about. */
interface Found {
  readonly findings: SetbackFindings;
  readonly notes: readonly string[];
}

function findingsOf({ plan, local, ruleSet, survey, basins, notes }: Placed, today: string): Found {
  const water = survey === null ? null : waterAtBasins(survey, ruleSet);
  const findings = checkSetbacks({
    plan: local,
    basins: basins.map((basin) => ({
      ...basin,
      overflowPath: water?.overflowPaths.get(basin.id),
      drainDownH: water?.drainDownH.get(basin.id),
    })),
    ruleSet,
    elevation: survey?.elevation.grid,
    locates: clearLocates(local),
    today,
    soil: plan.lotfall.soil,
    standing: water?.standing,
  });
  return {
    findings,
    notes: sentences(notes, water?.notes ?? [], drainDownNotes(findings, ruleSet, water)),
  };
}

/** By what it was judged how long water stands. */
function drainDownNotes(
  { results }: SetbackFindings,
  { rules }: RuleSet,
  water: WaterAtBasins | null,
): string[] {
  const asked = rules.flatMap(({ test, id }) => (test === 'drain-down' ? [id] : []));
  const judged = results.filter(({ rule }) => asked.includes(rule));
  const filled = judged.filter(({ basin }) => water?.drainDownH.has(basin) === true);
  const estimated = judged.filter((row) => !filled.includes(row) && row.measured_h !== null);
  return [
    ...(filled.length > 0
      ? ['How long water stands is by filling and draining the basin over the plan’s event']
      : []),
    ...(estimated.length > 0
      ? [
          `How long water stands is ${filled.length > 0 ? 'elsewhere ' : ''}the ponding depth over the soil’s rate${water === null ? '; with --elevation the basin is filled and drained' : ''}`,
        ]
      : []),
  ];
}

function documentOf({ findings, notes }: Found, { local }: Placed, today: string) {
  return {
    ...findings,
    today,
    results: findings.results.map((row) => ({
      ...row,
      nearest: row.nearest?.map((place) => local.frame.toLngLat(place)) ?? null,
    })),
    notes,
  };
}

function wordsOf({ findings, notes }: Found, { plan, ruleSet }: Placed, today: string): string {
  return setbackWords(findings, { plan, ruleSet, today, notes });
}

async function checkOne(given: Given, path: string): Promise<Outcome> {
  const at = await placed(given, path);
  const found = findingsOf(at, given.today);
  return {
    text: wordsOf(found, at, given.today),
    json: documentOf(found, at, given.today),
    files: { '.csv': setbackTable(found.findings.results) },
    ruleFails: found.findings.summary.must_fail > 0,
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
          found: done instanceof InputError ? null : done.found.findings,
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
        checked.map(({ path, found }) => ({ plan: path, results: found.findings.results })),
      ),
    },
    ruleFails: checked.some(({ found }) => found.findings.summary.must_fail > 0),
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
    const { plan, local, basins, ruleSet } = await placed({ ...given, elevation: null }, path);
    const made = await locateRequest({
      plan: local,
      basins,
      ...locateTerms(ruleSet),
      locates: clearLocates(local),
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
