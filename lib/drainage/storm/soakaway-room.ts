import type { XY } from '../../frame/frame';
import { areaM2, nearest } from '../../frame/shapes';
import { soakawayDefaults } from '../../ground/soakaway';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { designInfiltration } from '../../soil/design-infiltration';
import { eventDuration } from '../../storm/event-duration';
import { hourS } from '../../units/units';
import type { RoofOutlet } from './roof-outlet';

/** What one soakaway can take of a storm. */
export interface SoakawayRoom {
  readonly id: string;
  readonly name: string;
  /** In the gaps of its stone, m3. */
  readonly storageM3: number;
  /** What goes into the soil through its bottom while the storm lasts, m3; nothing while the soil is not known. */
  readonly soakM3: number;
}

/** An outlet so near to a soakaway leads into it, metres. Our choice, no source. */
const intoM = 0.5;

/**
 * What the soakaways of a plan can take: their stone's gaps, and what the soil takes through the bottom at its rate for
 * design while the plan's event lasts. Their walls are not counted on, as they silt up first.
 */
export function soakawayRooms(plan: LocalPlan): SoakawayRoom[] {
  const { lotfall } = plan.plan;
  if (plan.of.soakaway.length === 0) return [];
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const rateMPerS = designInfiltration(lotfall.soil, tests).rateMPerS ?? 0;
  const seconds = eventDuration(lotfall).hours * hourS;
  return plan.of.soakaway.map(({ id, feature, shape }) => {
    const { depth_m, void_ratio } = feature.properties;
    const bottomM2 = areaM2(shape.rings);
    const depthM = depth_m ?? soakawayDefaults.depthM;
    return {
      id,
      name: featureName(feature),
      storageM3: bottomM2 * depthM * (void_ratio ?? soakawayDefaults.voidRatio),
      soakM3: bottomM2 * rateMPerS * seconds,
    };
  });
}

/**
 * Roof outlets with what soakaways hold of their water first; the rest comes up where the outlet is. Several that lead
 * into one share its room by their roof areas.
 */
export function withSoakaways(
  outlets: readonly RoofOutlet[],
  plan: LocalPlan,
): { readonly outlets: readonly RoofOutlet[]; readonly notes: readonly string[] } {
  const rooms = soakawayRooms(plan);
  if (rooms.length === 0) return { outlets, notes: [] };
  const into = outlets.map(({ downspout, pipe }) => soakawayLedTo(plan, downspout, pipe));
  const notes = rooms.map(({ id, name, storageM3, soakM3 }) => {
    if (!into.some((soakaway) => soakaway?.id === id)) {
      return `Nothing leads into ${name}: let a downspout or its pipe end in it. What yard drains send there is not judged.`;
    }
    const soaks =
      soakM3 > 0
        ? `${soakM3.toFixed(2)} m3 soak in while the storm lasts`
        : 'what soaks in is not counted, as the soil is not known or takes nothing';
    return `${name} holds ${storageM3.toFixed(2)} m3 in its stone and ${soaks}; what is more comes up at the outlet. It stands in the ledger with the barrels.`;
  });
  return {
    outlets: outlets.map((outlet, i): RoofOutlet => {
      const room = rooms.find(({ id }) => id === into[i]?.id);
      if (room === undefined) return outlet;
      const shared = outlets.reduce(
        (sum, each, j) => sum + (into[j]?.id === room.id ? each.areaM2 : 0),
        0,
      );
      const part = shared > 0 ? outlet.areaM2 / shared : 0;
      return {
        ...outlet,
        barrelM3: outlet.barrelM3 + part * (room.storageM3 + room.soakM3),
      };
    }),
    notes,
  };
}

/** The soakaway that a downspout's water is led to, by its pipe if it has one. */
export function soakawayLedTo(
  plan: LocalPlan,
  downspout: string | null,
  pipe: string | null,
): LocalFeature<'soakaway'> | undefined {
  return soakawayAt(plan, endOf(plan, downspout, pipe));
}

function endOf(plan: LocalPlan, downspout: string | null, pipe: string | null): readonly XY[] {
  const drawn = pipe === null ? undefined : plan.byId.get(pipe);
  if (drawn?.kind === 'drain-pipe') {
    // Which end is the lower is told by the ground; the soakaway tells it as well.
    const { points } = drawn.shape;
    return [points[points.length - 1], points[0]];
  }
  const spout = downspout === null ? undefined : plan.byId.get(downspout);
  return spout?.kind === 'downspout' && spout.outlet !== 'storm-sewer' ? [spout.outlet] : [];
}

function soakawayAt(plan: LocalPlan, places: readonly XY[]): LocalFeature<'soakaway'> | undefined {
  return plan.of.soakaway.find(({ shape }) =>
    places.some((at) => nearest({ type: 'point', at }, shape).distanceM <= intoM),
  );
}
