import { designSurvey, type DesignedSurvey } from '../../basin/design/design-survey';
import type { DesignResult } from '../../basin/design/design-result';
import { builtOf, uptakeOf } from '../../basin/design/for-drainage';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import { drainLot } from '../../drainage/answer/drain-lot';
import type { DrainageResult, FlowLine, PipeLine } from '../../drainage/answer/drainage-result';
import { flowLines } from '../../drainage/answer/flow-lines';
import { pipeLines } from '../../drainage/answer/pipe-lines';
import { withUptake } from '../../drainage/storm/basin-uptake';
import { shapeGround, type ShapedGround } from '../../drainage/storm/shaped-ground';
import { stormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Survey } from '../../drainage/storm/survey-lot';
import { orSaid, type Progress } from '../../errors';
import { groundWithoutBasins } from '../../ground/ground';
import { jobDocuments, type JobDocuments } from '../../handover/job/job-documents';
import type { JobSettings } from '../../plan/job-settings';
import { toLocal, type LocalFeature, type LocalPlan } from '../../plan/local-plan';
import { planIn } from '../../plan/plan-state';
import { checkSetbacks } from '../../setback/judge/check-setbacks';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import { handDigZones, type HandDigZone } from '../../setback/locate/hand-dig-zones';
import { clearLocates } from '../../setback/locate/locates';
import { checkedBasins } from '../../setback/rules/checked-basins';
import { keepClearZones, type KeepClearZone } from '../../setback/rules/keep-clear-zones';
import type { RuleSet } from '../../setback/rules/rule';
import { waterAtBasins } from '../../setback/water/water-at-basins';
import { eventDepthMm } from '../../storm/event-depth';
import { eventDuration } from '../../storm/event-duration';
import type { UnitSystem } from '../../units/units';

/** What a sheet is asked to show. */
export interface SheetQuestion {
  readonly plan: LocalPlan;
  /** The ground, with the plan that is asked about; `null` where there is no elevation. */
  readonly survey: Survey | null;
  readonly ruleSet: RuleSet;
  /** The day that the sheet is of and that locates are judged on, year-month-day. */
  readonly date: string;
  /** How the plan is known where it has no name. */
  readonly file: string;
  readonly notes?: readonly string[];
  /** The basins, where they have been designed already. */
  readonly designed?: DesignedSurvey;
  /** What is said of the job of building; the plan's own when not given. */
  readonly job?: JobSettings;
  readonly onProgress?: Progress;
}

/** What the water does in one state of the lot. */
export interface WaterFacts {
  readonly result: DrainageResult;
  readonly flow: readonly FlowLine[];
  readonly pipes: readonly PipeLine[];
}

/** All that the sheet's pages are made from, each worked out once by those who know. */
export interface SheetFacts {
  readonly title: string;
  readonly units: UnitSystem;
  readonly date: string;
  readonly plan: LocalPlan;
  readonly lot: LocalFeature<'lot'> | null;
  readonly survey: Survey | null;
  readonly ruleSet: RuleSet;
  readonly zones: readonly KeepClearZone[];
  readonly handDig: readonly HandDigZone[];
  /** `null` where there is no basin to be judged. */
  readonly findings: SetbackFindings | null;
  readonly design: DesignResult | null;
  readonly built: ReadonlyMap<string, BasinAsBuilt>;
  /** `null` without elevation; `before` is today's ground without the basins. */
  readonly water: { readonly before: WaterFacts; readonly after: WaterFacts } | null;
  /** Orders, steps, plants and dates. */
  readonly job: JobDocuments;
  /** What has to be said of all of it, in the user's words. */
  readonly notes: readonly string[];
}

/** Flow lines begin where this much open ground drains through, m2. A choice for legibility. */
const lineFromM2 = 60;
/** Width of ground dug by hand where the rule set names none: 18 in, see `handDigZones`. */
const usualToleranceM = 0.4572;

/**
 * Works out what the sheet shows.
 *
 * What cannot be worked out, for want of a lot, a basin, elevation or a storm that can be poured, is left out: the pages
 * say what they lack.
 *
 * Cost: that of the drainage of two states, the design of the basins and the check; a second for a lot of 300 x 300 cells.
 */
export async function sheetFacts(question: SheetQuestion): Promise<SheetFacts> {
  const { plan, survey, ruleSet, date, file, onProgress } = question;
  const { lotfall } = plan.plan;
  const notes: string[] = [...(question.notes ?? [])];
  onProgress?.(0.05, 'Working out the garden');
  const designed =
    question.designed ?? (survey === null ? null : orSaid(notes, () => designSurvey(survey)));
  const design = designed?.design ?? null;
  const built = designed?.built ?? new Map<string, BasinAsBuilt>();
  onProgress?.(0.35, 'Following the water');
  const water = survey === null ? null : orSaid(notes, () => waterOf(survey, design));
  onProgress?.(0.7, 'Checking the rules');
  const findings = plan.of.basin.length === 0 ? null : findingsOf(question, design, notes);
  const tolerance = ruleSet.rules.find((rule) => rule.test === 'utility');
  return {
    title: lotfall.name ?? file,
    units: lotfall.units ?? 'metric',
    date,
    plan,
    lot: plan.of.lot.find(({ feature }) => feature.properties.own) ?? null,
    survey,
    ruleSet,
    zones: await keepClearZones(plan, ruleSet),
    handDig: await handDigZones(
      plan,
      tolerance?.test === 'utility' ? tolerance.toleranceM : usualToleranceM,
      date,
    ),
    findings,
    design,
    built,
    water,
    job: jobDocuments({
      plan,
      elevation: survey?.elevation.grid ?? null,
      design,
      built,
      today: date,
      ...(question.job === undefined ? {} : { job: question.job }),
    }),
    notes: [...new Set([...notes, ...(survey?.elevation.notes.map(({ text }) => text) ?? [])])],
  };
}

function waterOf(survey: Survey, design: DesignResult | null): NonNullable<SheetFacts['water']> {
  const { elevation, plan, shape } = survey;
  const existing = planIn(plan.plan, 'existing');
  const bare = toLocal(
    {
      ...existing,
      features: existing.features.filter(({ properties }) => properties.kind !== 'basin'),
    },
    plan.frame,
  );
  const bareShape = shapeGround(elevation.grid, bare);
  return {
    before: stateOf(survey, bareShape, bare, null),
    after: stateOf(survey, shape, plan, design),
  };
}

function stateOf(
  { elevation }: Survey,
  shaped: ShapedGround,
  plan: LocalPlan,
  design: DesignResult | null,
): WaterFacts {
  const { lotfall } = plan.plan;
  const { hours } = eventDuration(lotfall);
  const shape = design === null ? shaped : withUptake(shaped, uptakeOf(design), hours);
  const storm = stormOnGround(shape, plan, eventDepthMm(lotfall));
  const rmseM = lotfall.elevation?.rmse_m;
  return {
    result: drainLot(shape, storm, plan, {
      crs: elevation.systemName,
      ...(rmseM === undefined ? {} : { rmseM }),
      ...(design === null ? {} : { built: builtOf(design) }),
    }),
    flow: flowLines(shape, storm, plan.frame, lineFromM2),
    pipes: pipeLines(shape, storm, plan),
  };
}

function findingsOf(
  { plan, survey, ruleSet, date }: SheetQuestion,
  design: DesignResult | null,
  notes: string[],
): SetbackFindings {
  const water = survey === null ? null : waterAtBasins(survey, ruleSet, design ?? undefined);
  notes.push(...(water?.notes ?? []));
  const findings = checkSetbacks({
    plan,
    basins: checkedBasins(plan).map((basin) => ({
      ...basin,
      ...water?.overflow.get(basin.id),
      drainDownH: water?.drainDownH.get(basin.id),
    })),
    ruleSet,
    elevation: survey === null ? undefined : groundWithoutBasins(survey.elevation.grid, plan),
    locates: clearLocates(plan),
    today: date,
    soil: plan.plan.lotfall.soil,
    standing: water?.standing,
  });
  notes.push(...findings.notes);
  return findings;
}
