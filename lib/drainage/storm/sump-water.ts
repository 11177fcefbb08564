import { openCellAt } from '../../ground/open-ground';
import type { Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';

/** Water that a sump pump puts out onto the ground. */
export interface SumpWater {
  readonly id: string;
  /** Cell that receives it; -1 when that lies outside the data. */
  readonly cell: number;
  readonly volumeM3: number;
}

/** What the plan's sump outlets put out while a storm lasts. An outlet under a building is moved to the nearest open ground. */
export function sumpWater(
  ground: Ground,
  plan: LocalPlan,
  durationH: number,
): { readonly sumps: readonly SumpWater[]; readonly notes: readonly string[] } {
  const notes: string[] = [];
  const sumps: SumpWater[] = [];
  for (const { id, shape, feature } of plan.of['sump-outlet']) {
    const { rate_m3_per_h, hours } = feature.properties;
    if (rate_m3_per_h === undefined) {
      notes.push(`${id} has no rate, so the sump adds no water.`);
      continue;
    }
    const cell = openCellAt(ground, shape.at);
    if (cell === -1)
      notes.push(`${id} lies outside the elevation data; its water is not followed.`);
    else sumps.push({ id, cell, volumeM3: rate_m3_per_h * (hours ?? durationH) });
  }
  return { sumps, notes };
}
