import { asFeature } from '../../../lib/plan/as-feature';
import { ringFault } from '../../../lib/plan/ring-fault';
import type { Kind, Plan, PlanFeature, FeatureOf } from '../../../lib/plan/schema';
import type { PlanGeometry } from '../map/map-props';
import type { FoundPlace } from '../worker/places-picture';

/** An id for a new feature of a kind that no other feature has: the kind and a number. */
export function freshId(plan: Plan, kind: Kind): string {
  const taken = new Set(plan.features.map((feature) => feature.id));
  let number = 1;
  while (taken.has(`${kind}-${number}`)) number++;
  return `${kind}-${number}`;
}

/** A feature as it is when it has just been drawn: with the properties its kind must have, and no others. */
export function newFeature(plan: Plan, kind: Kind, geometry: PlanGeometry): PlanFeature | string {
  const required = requiredProperties(plan, kind);
  if (typeof required === 'string') return required;
  const id = freshId(plan, kind);
  const feature = asFeature({ type: 'Feature', id, geometry, properties: { kind, ...required } });
  if (feature === null) return 'That outline cannot be used: draw at least three corners.';
  return outlineFault(feature) ?? feature;
}

/** What is wrong with an area's outline, so that no plan that has it could be opened again; `null` when nothing is. */
export function outlineFault({ geometry }: PlanFeature): string | null {
  if (geometry.type !== 'Polygon') return null;
  switch (ringFault(geometry.coordinates)?.what) {
    case 'crosses':
      return 'That outline cannot be used, since it crosses or touches itself: lay its corners so that no two sides meet.';
    case 'no-area':
      return 'That outline cannot be used, since it encloses nothing: draw at least three corners apart from each other.';
    case 'hole-outside':
      return 'That outline cannot be used, since its hole is not inside it: move the hole’s corners back in.';
    case undefined:
      return null;
  }
}

/** What a kind must have beside its shape; a sentence when the plan lacks what it refers to. */
function requiredProperties(plan: Plan, kind: Kind): Record<string, unknown> | string {
  switch (kind) {
    case 'lot':
      return { own: !plan.features.some((f) => f.properties.kind === 'lot' && f.properties.own) };
    case 'downspout': {
      const roof = plan.features.find((f) => f.properties.kind === 'roof');
      return roof === undefined
        ? 'Draw the roof first: a downspout belongs to one.'
        : { roof: roof.id };
    }
    case 'surface':
      return { cover: 'paving' };
    case 'utility':
      return { service: 'electric' };
    case 'spot-height':
      return { elevation_m: 0 };
    default:
      return {};
  }
}

/** The basin that a found place stands for; it takes the place of the plan's only basin, when there is one. */
export function newBasin(plan: Plan, { site, ring }: FoundPlace): FeatureOf<'basin'> {
  const basins = plan.features.filter((feature) => feature.properties.kind === 'basin');
  return {
    type: 'Feature',
    id: basins.length === 1 ? basins[0].id : freshId(plan, 'basin'),
    geometry: { type: 'Polygon', coordinates: [[...ring]] },
    properties: {
      kind: 'basin',
      name: `Basin at place ${site.rank}`,
      ponding_depth_m: Math.round(site.ponding_depth_m * 1000) / 1000,
    },
  };
}
