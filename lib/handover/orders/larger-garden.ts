import { basinAsBuilt } from '../../basin/form/as-built';
import type { Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { centroid } from '../../frame/shapes';
import { toLocal, type LocalPlan } from '../../plan/local-plan';
import { isKind, type Plan } from '../../plan/schema';
import type { Garden } from './needs';

/** Gardens with their outlines drawn out about their middles, as built on the same ground. */
export interface LargerGardens {
  readonly gardens: readonly Garden[];
  /** Why one of them cannot be dug so; its quantities are then as before. */
  readonly notDug: readonly string[];
}

/**
 * The same gardens with more area each, all else as it is: what a little more costs.
 *
 * @param more - share of the area that is added.
 * Cost: that of `basinAsBuilt` for each.
 */
export function largerGardens(
  elevation: Grid,
  plan: LocalPlan,
  gardens: readonly Garden[],
  more: number,
): LargerGardens {
  const ids = new Set(gardens.map(({ built }) => built.id));
  const larger = toLocal(grown(plan, ids, Math.sqrt(1 + more)), plan.frame);
  const notDug: string[] = [];
  return {
    gardens: gardens.map((garden) => {
      const built = basinAsBuilt(elevation, larger, garden.built.id);
      if (!('notDug' in built)) return { ...garden, built };
      notDug.push(built.notDug);
      return garden;
    }),
    notDug,
  };
}

function grown({ plan, of, frame }: LocalPlan, ids: ReadonlySet<string>, factor: number): Plan {
  const middles = new Map(of.basin.map(({ id, shape }) => [id, centroid(shape.rings)]));
  return {
    ...plan,
    features: plan.features.map((feature) => {
      const middle = middles.get(feature.id);
      if (!isKind(feature, 'basin') || middle === undefined || !ids.has(feature.id)) return feature;
      const away = ([x, y]: XY): XY => [
        middle[0] + (x - middle[0]) * factor,
        middle[1] + (y - middle[1]) * factor,
      ];
      return {
        ...feature,
        geometry: {
          ...feature.geometry,
          coordinates: feature.geometry.coordinates.map((ring) =>
            ring.map((corner) => frame.toLngLat(away(frame.toLocal(corner)))),
          ),
        },
      };
    }),
  };
}
