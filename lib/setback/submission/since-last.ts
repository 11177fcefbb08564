import {
  planDifference,
  type FeatureDifference,
  type PlanDifference,
  type PropertyDifference,
} from '../../plan/plan-difference';
import type { LocalPlan } from '../../plan/local-plan';
import type { Plan } from '../../plan/schema';
import { compass } from '../../units/compass';
import { formatArea, formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { LotFindings } from '../judge/check-lot';
import { verdictWords } from '../judge/finding-words';
import type { MadeFrom } from '../judge/made-from';
import type { SetbackFindings } from '../judge/setback-result';
import { changedResults, type ResultDifference, type ResultsDifference } from './changed-results';

/** What changed since an earlier submission. Field names are those of the JSON output. */
export interface SinceLast extends PlanDifference, ResultsDifference {
  /** What the earlier results were made from; both were judged as of the same day. */
  readonly earlier: MadeFrom;
  readonly notes: readonly string[];
}

/** One submission, judged. */
export interface Submission<P> {
  readonly plan: P;
  readonly findings: SetbackFindings;
  readonly lot: LotFindings;
  readonly made: MadeFrom;
}

/** Sets a submission beside an earlier one of the same lot. */
export function sinceLast(earlier: Submission<Plan>, now: Submission<LocalPlan>): SinceLast {
  const plans = planDifference(earlier.plan, now.plan);
  const kept = earlier.plan.features.some(({ id }) => now.plan.byId.has(id));
  const [was, is] = [earlier.made.rule_set, now.made.rule_set];
  return {
    earlier: earlier.made,
    ...plans,
    ...changedResults(earlier, now),
    notes: [
      ...(kept
        ? []
        : ['The two plans have no feature of the same id: are they plans of the same lot?']),
      ...(was.sha256 === is.sha256
        ? []
        : [`The earlier plan was judged by ${was.title}, this one by ${is.title}.`]),
    ],
  };
}

/** What moved, came, went and changed, a sentence for each feature, then the settings that differ. */
export function movedWords({ features, settings }: PlanDifference, units: UnitSystem): string[] {
  return [
    ...features.map((each) => featureWords(each, units)),
    ...(settings.length === 0
      ? []
      : [`Settings that differ: ${settings.map(plainName).join(', ')}.`]),
  ];
}

function featureWords(each: FeatureDifference, units: UnitSystem): string {
  const name = `${each.feature_name} (${plainName(each.kind)})`;
  if (each.change === 'added') return `${name} is new.`;
  if (each.change === 'gone') return `${name} is gone.`;
  const parts = [
    ...movementWords(each, units),
    ...sizeWords(each, units),
    ...each.properties.map((property) => propertyWords(property, units)),
  ];
  return `${name}: ${parts.join('; ')}.`;
}

function movementWords(
  {
    moved_m: movedM,
    bearing_deg: bearing,
    kept_shape: kept,
    farthest_m: farthestM,
  }: FeatureDifference,
  units: UnitSystem,
): string[] {
  if (movedM === null || farthestM === null || farthestM === 0) return [];
  const length = (metres: number): string => formatLength(metres, units, 0.001);
  const way = bearing === null ? '' : ` to the ${compass(bearing)}`;
  return kept
    ? [`moved by ${length(movedM)}${way}`]
    : [
        `drawn anew, its outline by up to ${length(farthestM)}, its middle by ${length(movedM)}${way}`,
      ];
}

function sizeWords({ size }: FeatureDifference, units: UnitSystem): string[] {
  if (size === null || Math.abs(size.to - size.from) < 1e-3) return [];
  const words = (value: number): string =>
    size.unit === 'm2' ? formatArea(value, units) : formatLength(value, units);
  return [`${words(size.from)} → ${words(size.to)}`];
}

function propertyWords({ property, from, to }: PropertyDifference, units: UnitSystem): string {
  const name = plainName(property.replace(/_m$/, ''));
  if ([from, to].some((value) => typeof value === 'object' && value !== null)) {
    // Places and lists say nothing to people as they stand in the document.
    return `${name} ${from === null ? 'given' : to === null ? 'given no more' : 'given otherwise'}`;
  }
  const words = (value: unknown): string => {
    if (value === null) return 'not given';
    if (property.endsWith('_m') && typeof value === 'number') return formatLength(value, units);
    return typeof value === 'string' ? value : JSON.stringify(value);
  };
  return `${name} ${words(from)} → ${words(to)}`;
}

function plainName(name: string): string {
  return name.replaceAll(/[_-]/g, ' ');
}

/** Which results changed, a sentence each: rule, thing, from, to. */
export function resultWords({ results, measured }: ResultsDifference, units: UnitSystem): string[] {
  return [
    ...results.map((each) => {
      const lengths = [each.measured_m_from, each.measured_m_to].map((value) =>
        value === null ? '' : ` (${formatLength(value, units)})`,
      );
      const from =
        each.from === null ? 'not judged before' : `${verdictWords[each.from]}${lengths[0]}`;
      const to = each.to === null ? 'judged no more' : `${verdictWords[each.to]}${lengths[1]}`;
      return `${each.title}, ${each.feature_name}: ${from} → ${to}; ${each.binding}.`;
    }),
    ...(measured.length === 0
      ? []
      : [
          `${measured.length} more ${measured.length === 1 ? 'is' : 'are'} measured otherwise with the same result: ${measuredWords(measured, units)}.`,
        ]),
  ];
}

/** So many are told one by one; the document has them all. A choice. */
const mostTold = 12;

function measuredWords(measured: readonly ResultDifference[], units: UnitSystem): string {
  const by = ({ measured_m_from: from, measured_m_to: to }: ResultDifference): number =>
    Math.abs((to ?? 0) - (from ?? 0));
  const told = [...measured].sort((a, b) => by(b) - by(a)).slice(0, mostTold);
  const words = told.map(
    ({ title, feature_name, measured_m_from: from, measured_m_to: to }) =>
      `${title}, ${feature_name} ${formatLength(from ?? 0, units)} → ${formatLength(to ?? 0, units)}`,
  );
  const rest = measured.length - told.length;
  return [...words, ...(rest > 0 ? [`and ${rest} by less`] : [])].join('; ');
}
