import type { Grid } from '../../../../lib/elevation/grid';
import { gridBounds } from '../../../../lib/elevation/grid-corners';
import { planArea } from '../../../../lib/plan/plan-area';
import type { Plan } from '../../../../lib/plan/schema';

/** How much of the own lot the ground that was read reaches around; null for an empty plan. */
export function lotCover(grid: Grid, plan: Plan): 'whole' | 'part' | 'none' | null {
  const area = planArea(plan);
  if (area === null) return null;
  const [west, south, east, north] = gridBounds(grid);
  const [lotWest, lotSouth, lotEast, lotNorth] = area;
  if (lotEast <= west || lotWest >= east || lotNorth <= south || lotSouth >= north) return 'none';
  const inside = lotWest >= west && lotSouth >= south && lotEast <= east && lotNorth <= north;
  return inside ? 'whole' : 'part';
}
