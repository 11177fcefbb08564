import { accuracyM, halfWidthM, requirement } from '../../setback/rules/concerned';
import { outlineOf, pointDistance } from '../../setback/measure/outline';
import type { RuleSet } from '../../setback/rules/rule';
import { utility as usualTolerance } from '../../setback/sets/shared-rules';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { ForbiddenGround } from '../refused/forbidden-ground';
import { eachMeshCell } from '../refused/mesh';

/** No trench this near a trunk: as many trunk diameters, and at least a metre. Common practice, no source. */
const trunkDiameters = 3;
const trunkAtLeastM = 1;
/** How many metres of detour one metre through it is worth, so that ways cross lines and roots briefly. Our choice, no source. */
const inZone = 3;
const throughRoots = 2;
const throughPaving = 2;

/**
 * What digging a trench costs at each cell of the own lots' mesh: 1 over open ground, more where it is to be avoided,
 * 0 where there is none: beyond the lot, under buildings, in a septic field or wetland, at a trunk.
 */
export function trenchGround(
  { mesh, inLot }: Pick<ForbiddenGround, 'mesh' | 'inLot'>,
  plan: Pick<LocalPlan, 'of'>,
  ruleSet: RuleSet,
): Uint8Array<ArrayBuffer> {
  const effort = Uint8Array.from(inLot);
  const raise = (feature: LocalFeature, reachM: number, to: number): void => {
    const outline = outlineOf(feature.shape);
    eachMeshCell(mesh, outline, reachM, (cell, x, y) => {
      if (effort[cell] === 0 || (to !== 0 && effort[cell] >= to)) return;
      if (pointDistance(outline, x, y) <= reachM) effort[cell] = to;
    });
  };
  for (const surface of pavingOf(plan)) raise(surface, 0, throughPaving);
  for (const tree of plan.of.tree) raise(tree, rootsM(tree, ruleSet), throughRoots);
  for (const line of plan.of.utility) raise(line, zoneM(line, ruleSet), inZone);
  for (const tree of plan.of.tree) {
    const trunkM = tree.feature.properties.trunk_diameter_m ?? 0;
    raise(tree, Math.max(trunkAtLeastM, trunkDiameters * trunkM), 0);
  }
  for (const closed of [...plan.of.building, ...plan.of['septic-field'], ...plan.of.wetland]) {
    raise(closed, 0, 0);
  }
  return effort;
}

/** Half the width of a line's tolerance zone: the rule's, or the usual one, and what the line's place may be off. */
export function zoneM(line: LocalFeature<'utility'>, ruleSet: RuleSet): number {
  const rules = ruleSet.rules.flatMap((rule) => (rule.test === 'utility' ? rule.toleranceM : []));
  const toleranceM = rules.length > 0 ? Math.max(...rules) : usualTolerance.tolerance_m;
  return toleranceM + accuracyM(line) + halfWidthM(line);
}

/** How far a tree's roots are kept clear of by the rule set, metres; 0 where it has no rule for trees. */
export function rootsM(tree: LocalFeature<'tree'>, ruleSet: RuleSet): number {
  let reachM = 0;
  for (const rule of ruleSet.rules) {
    if (rule.test !== 'distance' || !rule.from.some(({ kind }) => kind === 'tree')) continue;
    reachM = Math.max(reachM, requirement(rule.distance, tree, 'unknown').m);
  }
  return reachM;
}

/** Surfaces that have to be opened and made good. */
export function pavingOf(plan: Pick<LocalPlan, 'of'>): LocalFeature<'surface'>[] {
  return plan.of.surface.filter(({ feature }) => {
    const { cover } = feature.properties;
    return cover === 'paving' || cover === 'deck';
  });
}
