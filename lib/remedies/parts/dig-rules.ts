import { nearest, type Shape } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import { locateState } from '../../setback/locate/locates';
import { zoneM } from '../../siting/leading/trench-ground';
import type { RemedyRule } from '../part';
import type { RemedySite } from '../site';

/** What earth moved over an area meets: lines whose place nobody has marked, and fields and wells that must not be buried. */
export function digRules({ plan, ruleSet, today }: RemedySite, shape: Shape): RemedyRule[] {
  const rules: RemedyRule[] = [];
  for (const line of plan.of.utility) {
    if (nearest(shape, line.shape).distanceM > zoneM(line, ruleSet)) continue;
    const isLocated = locateState(line.feature, today) === 'current';
    rules.push({
      rule: 'dig-utility',
      result: isLocated ? 'pass' : 'check',
      why: isLocated
        ? `${featureName(line.feature)} runs below it: dig by hand there.`
        : `Locate first. ${featureName(line.feature)} runs below it and no current locate is on record.`,
      source: null,
    });
  }
  for (const kind of ['septic-field', 'septic-tank', 'well'] as const) {
    for (const feature of plan.of[kind]) {
      if (nearest(shape, feature.shape).distanceM > 0) continue;
      rules.push({
        rule: 'buries',
        result: 'fail',
        why: `It would bury ${featureName(feature.feature)}.`,
        source: null,
      });
    }
  }
  for (const lot of plan.of.lot) {
    if (lot.feature.properties.own || nearest(shape, lot.shape).distanceM > 0) continue;
    rules.push({
      rule: 'other-land',
      result: 'fail',
      why: `It lies on ${featureName(lot.feature)}.`,
      source: null,
    });
  }
  return rules;
}
