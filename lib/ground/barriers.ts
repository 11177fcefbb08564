import type { Grid } from '../elevation/grid';
import { nearestEdges } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { unmoved, type Edit } from './edit';
import { cellsAlong } from './rasterise';

/** Heights used where the plan gives none. Common practice, no source. */
export const defaultHeightM = { wall: 1, kerb: 0.15 } as const;

/**
 * Sets walls and kerbs up on the ground: every cell they run through, joined edge to edge, stands its height above the
 * ground it had. Water that stands higher runs over.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 */
export function setUpBarriers(grid: Grid, plan: LocalPlan): Edit[] {
  const lines = (['wall', 'kerb'] as const).flatMap((kind) =>
    plan.of[kind]
      .filter(({ feature }) => feature.properties.in_elevation !== true)
      .map((line) => ({ kind, line })),
  );
  if (lines.length === 0) return [];
  // Where two meet, neither stands on the other.
  const before = grid.z.slice();
  return lines.map(({ kind, line }) => {
    const heightM = line.feature.properties.height_m ?? defaultHeightM[kind];
    for (const cell of cellsAlong(grid, line.shape.points, { bothSides: true })) {
      grid.z[cell] = Math.max(grid.z[cell], before[cell] + heightM);
    }
    return unmoved(line.id, kind, damNotes(plan, line));
  });
}

/** A barrier across a swale that is to be dug closes it. */
function damNotes({ of }: LocalPlan, { shape }: LocalFeature<'wall' | 'kerb'>): string[] {
  return of.swale
    .filter(({ feature }) => feature.properties.in_elevation !== true)
    .filter((swale) => nearestEdges(shape, swale.shape).distanceM === 0)
    .map(
      ({ feature }) =>
        `It stands across the swale ${featureName(feature)} and dams it: open it there, or end the swale before it.`,
    );
}
