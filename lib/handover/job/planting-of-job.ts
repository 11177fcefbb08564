import { bearingVector } from '../../frame/bearing-vector';
import { centroid } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import type { LocalPlan } from '../../plan/local-plan';
import type { Plant } from '../../planting/plant';
import type { PlantGrid } from '../../planting/plant-count';
import { plantingPlan, type PlantingPlan } from '../../planting/planting-plan';
import type { Garden } from '../orders/needs';

export interface PlantingOptions {
  readonly grid: PlantGrid;
  /** Bearing of where gardens are seen from, degrees; `null` where it is not said. */
  readonly seenFromDeg: number | null;
}

/** Each garden with its plants set. Cost: that of `layOut`. */
export function plantingOfJob(
  { of, frame }: LocalPlan,
  gardens: readonly Garden[],
  plants: readonly Plant[],
  { grid, seenFromDeg }: PlantingOptions,
): PlantingPlan[] {
  return gardens.map(({ built }) => {
    const { rim } = built.finished.shape;
    const feature = of.basin.find(({ id }) => id === built.id)?.feature;
    return plantingPlan(
      {
        id: built.id,
        name: feature === undefined ? built.id : featureName(feature),
        zones: built.zones,
        frame,
      },
      plants,
      {
        grid,
        ...(seenFromDeg === null
          ? {}
          : { viewFrom: bearingVector(frame, centroid([rim]), seenFromDeg) }),
      },
    );
  });
}
