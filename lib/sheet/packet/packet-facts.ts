import { featureName } from '../../plan/feature-name';
import type { LocalPlan } from '../../plan/local-plan';
import type { LotFindings } from '../../setback/judge/check-lot';
import { planState, type PlanState } from '../../setback/judge/count-findings';
import type { MadeFrom } from '../../setback/judge/made-from';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import type { RuleSet } from '../../setback/rules/rule';
import type { SinceLast } from '../../setback/submission/since-last';
import type { UnitSystem } from '../../units/units';

/** What a packet is asked to show: a plan that has been judged. */
export interface PacketQuestion {
  readonly plan: LocalPlan;
  readonly ruleSet: RuleSet;
  readonly findings: SetbackFindings;
  readonly lot: LotFindings;
  readonly made: MadeFrom;
  /** The day that the packet is of and that locates were judged on. */
  readonly date: string;
  readonly notes: readonly string[];
  /** Beside the submission before it, where there was one. */
  readonly since?: SinceLast | undefined;
  /** Who hands it in, for which parcel, in which revision: the plan's own word counts where these are not given. */
  readonly applicant?: string | undefined;
  readonly parcel?: string | undefined;
  readonly revision?: string | undefined;
}

export interface PacketFacts extends PacketQuestion {
  readonly title: string;
  readonly units: UnitSystem;
  readonly state: PlanState;
  /** What a basin is called, where there is more than one; else `null`. */
  readonly nameOf: (basin: string) => string | null;
}

export function packetFacts(question: PacketQuestion): PacketFacts {
  const { plan, findings, lot, made } = question;
  const { lotfall } = plan.plan;
  const basins = plan.of.basin;
  const newest = [...(lotfall.revisions ?? [])].sort((a, b) => (a.on < b.on ? 1 : -1)).at(0);
  const revision =
    newest === undefined
      ? undefined
      : [newest.mark, newest.on, newest.what].filter((part) => part !== undefined).join(', ');
  return {
    ...question,
    applicant: question.applicant ?? lotfall.submission?.applicant,
    parcel: question.parcel ?? lotfall.submission?.parcel,
    revision: question.revision ?? revision,
    title: lotfall.name ?? made.plan.file,
    units: lotfall.units ?? 'metric',
    state: planState(findings.summary, lot.summary),
    nameOf: (id) => {
      const basin = basins.length > 1 ? plan.byId.get(id) : undefined;
      return basin === undefined ? null : featureName(basin.feature);
    },
  };
}
