import type { Rings } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { accuracyM, concerned, halfWidthM, nameOf, requirement } from './concerned';
import { bandInside, grown } from '../measure/grown';
import type { Binding, Rule, RuleSet } from './rule';

/** Ground that a basin's rim must keep out of because of one feature, for drawing. */
export interface KeepClearZone {
  readonly rule: string;
  readonly letter: string;
  readonly title: string;
  readonly binding: Binding;
  readonly feature: string;
  readonly featureName: string;
  /** How far the zone reaches beyond the feature's shape, metres. */
  readonly requiredM: number;
  /** Polygons in local metres, each an outer ring and its holes; no corner repeated. */
  readonly polygons: readonly Rings[];
}

/**
 * The keep-clear zones of a plan under a rule set: each feature grown by the distance that the rule asks for there
 * (its accuracy and a line's half width with it), and for the lot line the band inside it.
 *
 * Rules about slope and about what lies uphill have no zone: they depend on the ground and the basin; the map of
 * refused ground shows them. Where a distance depends on the side, the larger one is drawn.
 *
 * Curves are drawn to within 4 mm, on the inside of the true curve.
 * Cost: about a millisecond a feature that is not a point, after the geometry library is loaded on first use.
 */
export async function keepClearZones(
  plan: Pick<LocalPlan, 'of'>,
  ruleSet: RuleSet,
): Promise<KeepClearZone[]> {
  const zones: KeepClearZone[] = [];
  for (const rule of ruleSet.rules) {
    for (const { feature, requiredM } of zoned(plan, rule)) {
      const reachM = requiredM + halfWidthM(feature);
      const polygons =
        rule.test === 'inside-lot' && feature.shape.type === 'polygon'
          ? await bandInside(feature.shape.rings, reachM)
          : await grown(feature.shape, reachM);
      if (polygons.length === 0) continue;
      zones.push({
        rule: rule.id,
        letter: rule.letter,
        title: rule.title,
        binding: rule.binding,
        feature: feature.id,
        featureName: nameOf(feature),
        requiredM,
        polygons,
      });
    }
  }
  return zones;
}

function zoned(
  plan: Pick<LocalPlan, 'of'>,
  rule: Rule,
): { feature: LocalFeature; requiredM: number }[] {
  switch (rule.test) {
    case 'distance':
      return concerned(plan, rule.from).map(({ feature }) => ({
        feature,
        requiredM: requirement(rule.distance, feature, 'uphill').m + accuracyM(feature),
      }));
    case 'inside-lot':
      return plan.of.lot
        .filter((lot) => lot.feature.properties.own)
        .map((feature) => ({ feature, requiredM: rule.m + accuracyM(feature) }));
    case 'utility':
      return plan.of.utility.map((feature) => ({
        feature,
        requiredM: rule.toleranceM + accuracyM(feature),
      }));
    default:
      return [];
  }
}
