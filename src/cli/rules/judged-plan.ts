import type { ElevationIdentity } from '../../../lib/elevation/file/elevation-identity';
import { planState, type PlanState } from '../../../lib/setback/judge/count-findings';
import { madeFrom, type MadeFrom } from '../../../lib/setback/judge/made-from';
import type { FindingCounts } from '../../../lib/setback/judge/setback-result';
import type { JudgedPlan, PlanRow } from '../../../lib/setback/judge/setback-table';
import { lotCautions } from '../../../lib/setback/sets/lot-rules';
import {
  findingsOf,
  onGround,
  type Given,
  type NotedFindings,
  type Placed,
} from '../reading/checked-plan';
import { identityOf } from '../reading/drawn-on';
import { noteLines } from '../notes';
import { lotWords } from './lot-words';
import { madeWords, setbackWords } from './setback-words';

/** One plan, judged: holds the plan and its ground, so that of many plans no two should be kept. */
export interface Judged {
  readonly path: string;
  readonly at: Placed;
  readonly found: NotedFindings;
  readonly made: MadeFrom;
  readonly state: PlanState;
  readonly today: string;
}

/** Reads and judges a plan. @throws {InputError} what reading throws. */
export async function judged(given: Given, path: string): Promise<Judged> {
  const at = await onGround(given, path);
  const found = findingsOf(at, given.today);
  const made = madeFrom(at, await rasterOf(given), at.ruleSet);
  const state = planState(found.findings.summary, found.lot.summary);
  return { path, at, found, made, state, today: given.today };
}

async function rasterOf({ elevation }: Given): Promise<ElevationIdentity | null> {
  return elevation === null ? null : identityOf(elevation, true);
}

/** The document of one plan. */
export function documentOf({ at: { local }, found, made, state, today }: Judged) {
  const { findings, lot, notes } = found;
  return {
    ...findings,
    made_from: made,
    state,
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

/** The same for people. */
export function wordsOf({ at: { plan, ruleSet }, found, made, today }: Judged): string {
  const { findings, lot, notes } = found;
  const units = plan.lotfall.units ?? 'metric';
  return [
    ...(findings.results.length === 0
      ? []
      : [setbackWords(findings, { plan, ruleSet, today, notes: [] })]),
    lotWords(lot, units),
    noteLines(notes),
    madeWords(made, today),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

/** Its rows for a table. */
export function rowsOf({ path, found, made, today }: Judged): JudgedPlan {
  return {
    plan: path,
    day: today,
    made,
    results: found.findings.results,
    lot: found.lot.results,
  };
}

/** All that is kept of it beside others. */
export function planRowOf({ path, found, made, state, today }: Judged): PlanRow {
  const { findings, lot } = found;
  const rows = [...findings.results, ...lot.results];
  const open = rows.filter(({ result }) => result !== 'pass');
  const worst =
    open.find(({ result, binding }) => result === 'fail' && binding === 'must') ??
    open.find(({ result, binding }) => result === 'check' && binding === 'must') ??
    open.at(0);
  return {
    plan: path,
    state,
    counts: added(findings.summary, lot.summary),
    worst: worst === undefined ? '' : `${worst.title}, ${worst.feature_name}`,
    about: { day: today, made },
  };
}

function added(a: FindingCounts, b: FindingCounts): FindingCounts {
  return {
    pass: a.pass + b.pass,
    fail: a.fail + b.fail,
    check: a.check + b.check,
    must_fail: a.must_fail + b.must_fail,
    must_check: a.must_check + b.must_check,
  };
}
