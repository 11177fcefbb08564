import type { Change } from '../../../../lib/plan/change';
import { isKind, type Plan, type PlanFeature } from '../../../../lib/plan/schema';
import { kindName } from './drawn-kinds';
import { withKey } from './with-key';

/**
 * The change that takes a feature out, and with it what others say of it, so that the plan can be opened again:
 * downspouts go with their roof, a roof stays without its building, and what emptied into a drain pipe empties where
 * it stands.
 */
export function removal(plan: Plan, feature: PlanFeature): Change {
  const { id } = feature;
  const name = kindName(feature.properties.kind);
  const downspouts = plan.features
    .filter((other) => isKind(other, 'downspout') && other.properties.roof === id)
    .map((other) => other.id);
  const puts = plan.features
    .filter((other) => !downspouts.includes(other.id))
    .flatMap((other) => {
      const left = withoutReference(other, id);
      return left === null ? [] : [left];
    });
  const many = downspouts.length;
  const more = many === 0 ? '' : ` and its ${many === 1 ? 'downspout' : `${many} downspouts`}`;
  return { label: `delete ${name}${more}`, deletes: [id, ...downspouts], puts };
}

/** A feature that refers to another, without doing so; null for one that does not. */
function withoutReference(feature: PlanFeature, id: string): PlanFeature | null {
  if (isKind(feature, 'roof') && feature.properties.building === id) {
    return { ...feature, properties: withKey(feature.properties, 'building', undefined) };
  }
  if (isKind(feature, 'downspout') && feature.properties.pipe === id) {
    return { ...feature, properties: withKey(feature.properties, 'pipe', undefined) };
  }
  if (isKind(feature, 'yard-drain') && feature.properties.pipe === id) {
    return { ...feature, properties: withKey(feature.properties, 'pipe', undefined) };
  }
  return null;
}
