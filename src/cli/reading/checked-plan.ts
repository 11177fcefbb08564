import { surveyLevels } from '../../../lib/drainage/storm/survey-levels';
import { hasLevels } from '../../../lib/levels/readings';
import { basename } from 'node:path';
import { surveyLot, type Survey } from '../../../lib/drainage/storm/survey-lot';
import type { ElevationFile } from '../../../lib/elevation/file/open-elevation';
import { InputError } from '../../../lib/errors';
import type { Frame } from '../../../lib/frame/frame';
import { frameAround } from '../../../lib/frame/frame-around';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { planArea, planOutline, type LngLatBox } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import { cautionLine, checkLot, type LotFindings } from '../../../lib/setback/judge/check-lot';
import { checkedBasins } from '../../../lib/setback/rules/checked-basins';
import { readRuleSet } from '../../../lib/setback/rules/read-rule-set';
import type { RuleSet } from '../../../lib/setback/rules/rule';
import { lotCautions } from '../../../lib/setback/sets/lot-rules';
import { ruleSets, ruleSetsOf } from '../../../lib/setback/sets/rule-sets';
import type { SetbackFindings } from '../../../lib/setback/judge/setback-result';
import type { CheckedBasin } from '../../../lib/setback/rules/checked-basins';
import { checkedOnGround } from '../../../lib/setback/water/checked-on-ground';
import type { WaterAtBasins } from '../../../lib/setback/water/water-at-basins';
import type { Call } from '../command';
import { planOn } from './drawn-on';
import { readPlanFile, verticalUnitOf } from './inputs';
import { sentences } from '../notes';
import { readText } from './read-text';
import { noted } from './survey';
import { usage } from '../usage';

/** What the call gives for every plan. */
export interface Given {
  readonly call: Call;
  readonly today: string;
  readonly rules: RulesGiven;
  readonly elevation: ElevationFile | null;
}

/** The set that the call names: one read from a file, or an id to be looked up in each plan. */
type RulesGiven = { readonly set: RuleSet } | { readonly id: string | undefined };

/** @throws {InputError} when the file that the call names cannot be read or is no rule set. */
export async function rulesOf(call: Call): Promise<RulesGiven> {
  const named = call.option('rules');
  if (named === undefined || !/[./\\]/.test(named)) return { id: named };
  const ids = ruleSets.map(({ id }) => id).join(', ');
  const text = await readText(
    named,
    'the rule set',
    `check its name and folder, or name one of ${ids}`,
  );
  return { set: readRuleSet(text, basename(named)).set };
}

/** One plan with what it is checked by and in. */
export interface Placed {
  readonly plan: Plan;
  readonly file: string;
  readonly local: LocalPlan;
  readonly basins: readonly CheckedBasin[];
  readonly ruleSet: RuleSet;
  readonly survey: Survey | null;
  readonly notes: readonly string[];
  /** Of the plan's file. */
  readonly sha256: string;
}

/**
 * Reads a plan with the rule set that it is checked by, and the ground around it where there is elevation.
 *
 * @throws {InputError} what reading throws; `rule-set-unknown`, `no-basin`.
 */
export async function placed(given: Given, path: string): Promise<Placed> {
  const found = await onGround(given, path);
  if (found.basins.length === 0) {
    throw new InputError({
      code: 'no-basin',
      where: found.file,
      problem: 'there is no basin in the plan, so nothing is to be dug',
      remedy: 'draw one, or look for places with lotfall sites',
    });
  }
  return found;
}

/** The same for work that a plan without a basin can be used for. */
export async function onGround(
  given: Given,
  path: string,
  asked: (plan: Plan) => Plan = (plan) => plan,
): Promise<Placed> {
  const { plan: written, file, notes, sha256 } = await readPlanFile(path);
  const plan = asked(written);
  const { ruleSet, notes: ruleNotes } = ruleSetFor(plan, file, given.rules);
  const survey = await surveyOf(given, plan, file);
  const local = survey?.plan ?? toLocal(plan, frameOf(plan, file));
  const remarks = sentences(
    notes,
    ruleNotes,
    survey?.elevation.notes.map((note) => note.text) ?? [],
  );
  const basins = checkedBasins(local);
  return { plan, file, local, basins, ruleSet, survey, notes: remarks, sha256 };
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
  named: Plan,
  file: string,
): Promise<Survey | null> {
  if (elevation === null) return hasLevels(named) ? surveyLevels(named, file) : null;
  const { plan, notes } = await planOn(named, elevation);
  const area = planOutline(plan) ?? areaOf(plan, file);
  const unit = await verticalUnitOf(call, plan, elevation, area);
  return noted(await surveyLot(elevation, plan, { area, ...unit }), notes);
}

/** The frame to measure in where there is no elevation: one centred on the plan. */
function frameOf(plan: Plan, file: string): Frame {
  return frameAround(areaOf(plan, file));
}

function areaOf(plan: Plan, file: string): LngLatBox {
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line and a basin');
  return area;
}

/** The findings, and what is to be said about how they came about. */
export interface NotedFindings {
  readonly findings: SetbackFindings;
  /** By the rules that need no basin. */
  readonly lot: LotFindings;
  readonly notes: readonly string[];
}

/** Checks a plan. */
export function findingsOf(at: Placed, today: string): NotedFindings {
  const { ruleSet, basins, notes } = at;
  const { findings, water } = checkedOnGround(at, today);
  const lot = checkLot(at.local, ruleSet, ruleSets[0].lot_rules ?? []);
  return {
    findings,
    lot,
    notes: sentences(
      notes,
      lot.notes,
      basins.length === 0
        ? [
            'The plan has no basin, so that only the rules about outlets, drainage ways and gathered water are judged',
          ]
        : [],
      lot.results.length > 0 ? lotCautions.map(cautionLine) : [],
      water?.notes ?? [],
      findings.notes,
      drainDownNotes(findings, ruleSet, water),
    ),
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
