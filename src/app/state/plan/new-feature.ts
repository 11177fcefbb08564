import type { Position } from 'geojson';
import { localFrame, makeFrame, type LngLat } from '../../../../lib/frame/frame';
import { centroid, contains, nearest, type Rings } from '../../../../lib/frame/shapes';
import { asFeature } from '../../../../lib/plan/as-feature';
import { ringFault } from '../../../../lib/plan/ring-fault';
import {
  isKind,
  type FeatureOf,
  type Kind,
  type Plan,
  type PlanFeature,
} from '../../../../lib/plan/schema';
import type { PlanGeometry } from './plan-geometry';
import type { FoundPlace } from '../../worker/places-picture';

/** An id for a new feature of a kind that no other feature has: the kind and a number. */
export function freshId(plan: Plan, kind: Kind): string {
  const taken = new Set(plan.features.map((feature) => feature.id));
  let number = 1;
  while (taken.has(`${kind}-${number}`)) number++;
  return `${kind}-${number}`;
}

/**
 * A feature as it is when it has just been drawn: with the properties its kind must have, and those that its place
 * tells.
 *
 * @param elevationAt - height of the ground at a place, metres above the datum of the elevation; `NaN` where unknown.
 * @param given - properties that were asked for while it was drawn.
 */
export function newFeature(
  plan: Plan,
  kind: Kind,
  geometry: PlanGeometry,
  elevationAt: (place: LngLat) => number = () => Number.NaN,
  given: Readonly<Record<string, unknown>> = {},
): PlanFeature | string {
  const required = ownProperties(plan, kind, geometry, elevationAt);
  if (typeof required === 'string') return required;
  const id = freshId(plan, kind);
  const feature = asFeature({
    type: 'Feature',
    id,
    geometry,
    properties: { kind, ...required, ...given },
  });
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

/** What a kind has beside its shape from the start; a sentence when the plan lacks what it refers to. */
function ownProperties(
  plan: Plan,
  kind: Kind,
  geometry: PlanGeometry,
  elevationAt: (place: LngLat) => number,
): Record<string, unknown> | string {
  switch (kind) {
    case 'lot': {
      const lots = plan.features.filter((feature) => isKind(feature, 'lot'));
      if (!lots.some(({ properties }) => properties.own)) return { own: true };
      // So that ledger and sheet call it the same.
      const names = lots.map(({ properties }) => properties.name);
      let number = 1;
      while (names.includes(`Neighbour ${number}`)) number++;
      return { own: false, name: `Neighbour ${number}` };
    }
    case 'roof': {
      const rings = geometry.type === 'Polygon' ? geometry.coordinates : [];
      const building = buildingUnder(
        plan,
        rings.map((ring) => ring.map(lngLatOf)),
      );
      return building === undefined ? {} : { building: building.id };
    }
    case 'downspout': {
      const roof =
        geometry.type === 'Point' ? nearestRoof(plan, lngLatOf(geometry.coordinates)) : undefined;
      return roof === undefined
        ? 'Draw the roof first: a downspout belongs to one.'
        : { roof: roof.id };
    }
    case 'surface':
      return { cover: 'paving' };
    case 'utility':
      return { service: 'electric' };
    case 'spot-height': {
      // As the elevation has it: nothing moves until the height that was levelled is typed.
      const elevationM =
        geometry.type === 'Point' ? elevationAt(lngLatOf(geometry.coordinates)) : Number.NaN;
      // Where there is none, what was read is typed beside it: levels make ground of their own.
      return Number.isNaN(elevationM) ? {} : { elevation_m: Math.round(elevationM * 100) / 100 };
    }
    default:
      return {};
  }
}

function lngLatOf([lng, lat]: Position): LngLat {
  return [lng, lat];
}

/** The building whose middle a roof covers, or that the roof's own middle lies over. */
function buildingUnder(plan: Plan, roof: Rings): FeatureOf<'building'> | undefined {
  return plan.features
    .filter((feature) => isKind(feature, 'building'))
    .find(({ geometry: { coordinates } }) => {
      return contains(roof, centroid(coordinates)) || contains(coordinates, centroid(roof));
    });
}

/** The roof whose eaves or inside lie nearest to a place. */
function nearestRoof(plan: Plan, place: LngLat): FeatureOf<'roof'> | undefined {
  const { toLocal } = makeFrame(localFrame(place));
  const at = { type: 'point', at: toLocal(place) } as const;
  let found: FeatureOf<'roof'> | undefined;
  let leastM = Infinity;
  for (const feature of plan.features) {
    if (!isKind(feature, 'roof')) continue;
    const rings = feature.geometry.coordinates.map((ring) => ring.map(toLocal));
    const { distanceM } = nearest(at, { type: 'polygon', rings });
    if (distanceM >= leastM) continue;
    leastM = distanceM;
    found = feature;
  }
  return found;
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
