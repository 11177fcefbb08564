import { basename } from 'node:path';
import { InputError } from '../../../lib/errors';
import { locateRequest, locateTerms } from '../../../lib/setback/locate/locate-request';
import { locateRequestText } from '../../../lib/setback/locate/locate-request-text';
import { clearLocates } from '../../../lib/setback/locate/locates';
import { lotCautions } from '../../../lib/setback/sets/lot-rules';
import { ruleSets } from '../../../lib/setback/sets/rule-sets';
import { setbackTable, setbackTables } from '../../../lib/setback/judge/setback-table';
import {
  findingsOf,
  onGround,
  placed,
  rulesOf,
  type NotedFindings,
  type Given,
  type Placed,
} from '../reading/checked-plan';
import type { Command, CommandOutput } from '../command';
import { dayHelp, dayOf, dayOption } from '../reading/day';
import { elevationOf, elevationOptions, verticalUnitHelp } from '../reading/inputs';
import { planFiles } from '../reading/plan-files';
import { lotWords } from './lot-words';
import { noteLines } from '../notes';
import { setbackWords, summaryWords } from './setback-words';
import { usage } from '../usage';

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

A plan without a basin is judged by the rules that need none: where outlets and pumps end, swales and easements kept
open, fences across them, gathered water over a line, each with whom to ask (member lot of the JSON).

Of several plans the JSON is a list with one document for each, the table has the plan's name first, and a plan that
cannot be checked does not keep the others from it. Exit status 1 when a binding rule ('must') fails in any, 2 when one
could not be checked. A utility line without a current locate never passes, and where no line is drawn nothing passes
until the plan has the answers (lotfall.locates) of those who looked and found none. Local code governs.`,
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

function documentOf({ findings, lot, notes }: NotedFindings, { local }: Placed, today: string) {
  return {
    ...findings,
    today,
    results: findings.results.map((row) => ({
      ...row,
      nearest: row.nearest?.map((place) => local.frame.toLngLat(place)) ?? null,
    })),
    lot: {
      rule_set: lot.rule_set,
      results: lot.results.map((row) => ({
        ...row,
        nearest: row.nearest?.map((place) => local.frame.toLngLat(place)) ?? null,
      })),
      summary: lot.summary,
      cautions: lotCautions,
    },
    notes,
  };
}

/** Whether a rule that must be met fails, of basins or of the lot's drainage. */
function mustFail({ findings, lot }: NotedFindings): boolean {
  return findings.summary.must_fail + lot.summary.must_fail > 0;
}

function wordsOf(
  { findings, lot, notes }: NotedFindings,
  { plan, ruleSet }: Placed,
  today: string,
): string {
  const units = plan.lotfall.units ?? 'metric';
  return [
    ...(findings.results.length === 0
      ? []
      : [setbackWords(findings, { plan, ruleSet, today, notes: [] })]),
    lotWords(lot, units),
    noteLines(notes),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

async function checkOne(given: Given, path: string): Promise<CommandOutput> {
  const at = await onGround(given, path);
  const found = findingsOf(at, given.today);
  return {
    text: wordsOf(found, at, given.today),
    json: documentOf(found, at, given.today),
    files: { '.csv': setbackTable(found.findings.results) },
    ruleFails: mustFail(found),
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

async function checkAll(given: Given, paths: readonly string[]): Promise<CommandOutput> {
  const { today } = given;
  const plans = await onEach(given, paths, async (path) => {
    const at = await onGround(given, path);
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
    ruleFails: checked.some(({ found }) => mustFail(found)),
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

async function requestAll(
  given: Given,
  paths: readonly string[],
  many: boolean,
): Promise<CommandOutput> {
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
