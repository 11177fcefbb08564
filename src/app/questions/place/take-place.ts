import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import { freshId, newBasin } from '../../state/plan/new-feature';
import { jointLetter } from '../../map/layers/drawn-sites';
import type { FoundJoint, FoundPlace } from '../../worker/places-picture';

/** How far beyond the rim a lead-in goes into the basin, so that its water does not stop at the edge, metres. */
const intoBasinM = 0.6;

/**
 * The features that put a found place into the plan: its basin, and when asked for the pipes that lead roofs' water to
 * it, with their downspouts joined to them.
 *
 * @param plan - the plan as it is with what has been taken so far.
 */
export function takePlace(plan: Plan, place: FoundPlace, withLeads: boolean): PlanFeature[] {
  const basin = newBasin(plan, place);
  return withLeads ? [basin, ...leadIns(plan, place, [basin])] : [basin];
}

/** The change that puts basins that share the water, with their lead-ins, in place of the plan's basins. */
export function takeJoint(
  plan: Plan,
  joint: FoundJoint,
): { readonly puts: PlanFeature[]; readonly deletes: string[] } {
  const bare: Plan = {
    ...plan,
    features: plan.features.filter(({ properties }) => properties.kind !== 'basin'),
  };
  const puts: PlanFeature[] = [];
  joint.basins.forEach((place, i) => {
    const fresh = newBasin(bare, place);
    const basin: PlanFeature = {
      ...fresh,
      id: `basin-${i + 1}`,
      properties: { ...fresh.properties, name: `Basin ${jointLetter(i + 1)}` },
    };
    puts.push(basin);
    puts.push(...leadIns(bare, place, puts));
  });
  const kept = new Set(puts.map(({ id }) => id));
  const old = plan.features.filter(({ properties }) => properties.kind === 'basin');
  return { puts, deletes: old.map(({ id }) => id).filter((id) => !kept.has(id)) };
}

/** Pipes for the roofs that are led to a place, and their downspouts joined to them. */
function leadIns(plan: Plan, place: FoundPlace, beside: readonly PlanFeature[]): PlanFeature[] {
  const taken: PlanFeature[] = [];
  place.site.led.forEach(({ roof, route, fall_ratio }, i) => {
    const downspout = plan.features.find(({ id }) => id === roof);
    if (downspout?.properties.kind !== 'downspout') return;
    const line = [...place.leads[i]];
    const end = line[line.length - 1];
    const [endX, endY] = route[route.length - 1];
    const gapM = Math.hypot(place.site.at[0] - endX, place.site.at[1] - endY);
    const t = gapM > 0 ? Math.min(1, intoBasinM / gapM) : 0;
    const inside = [
      end[0] + t * (place.at[0] - end[0]),
      end[1] + t * (place.at[1] - end[1]),
    ] as const;
    const id = freshId(
      { ...plan, features: [...plan.features, ...beside, ...taken] },
      'drain-pipe',
    );
    taken.push({
      type: 'Feature',
      id,
      geometry: { type: 'LineString', coordinates: [...line, inside] },
      properties: {
        kind: 'drain-pipe',
        name: `Lead-in from ${downspout.properties.name ?? roof}`,
        slope: Math.round(fall_ratio * 1000) / 1000,
      },
    });
    taken.push({
      ...downspout,
      properties: { ...downspout.properties, pipe: id },
    } as PlanFeature);
  });
  return taken;
}
