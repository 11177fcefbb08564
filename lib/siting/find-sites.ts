import type { ShapedGround } from '../drainage/shaped-ground';
import type { StormOnGround } from '../drainage/storm-on-ground';
import type { Elevation } from '../elevation/read-window';
import type { Progress } from '../errors';
import { areaM2 } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import { ruleSetById } from '../setback/rule-sets';
import { runOffMm } from '../storm/run-off';
import { lotCatchments } from './lot-catchments';
import type { ScoreWeights } from './score';
import { searchSites } from './search';
import type { SitingResult } from './siting-input';
import type { SoilTexture } from './size-factors';

/** Soil taken where the plan gives none: of the three classes the one in the middle. */
export const defaultTexture: SoilTexture = 'silty';

/** A lot with its storm, as the search is asked about it. */
export interface SitesQuestion {
  readonly elevation: Elevation;
  readonly plan: LocalPlan;
  /** The ground without the basin that is looked for. */
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
  /** ISO date on which locates must be current. */
  readonly today: string;
  readonly weights?: Partial<ScoreWeights>;
}

/**
 * Looks over the whole own lot for places for a basin under the plan's rules, soil and storm.
 *
 * @returns no sites, and a note that says why, where the elevation refuses siting (cells coarser than 5 m at the
 *   source, however fine the grid that was interpolated from them).
 * @throws {Cancelled}
 */
export async function findSites(
  { elevation, plan, shape, storm, today, weights }: SitesQuestion,
  options: { signal?: AbortSignal; onProgress?: Progress } = {},
): Promise<SitingResult> {
  const refusal = elevation.notes.find((note) => note.refusesSiting === true);
  if (refusal !== undefined) {
    const own = plan.of.lot.filter((lot) => lot.feature.properties.own);
    return {
      sites: [],
      refused: [],
      lot_m2: own.reduce((sum, lot) => sum + areaM2(lot.shape.rings), 0),
      allowed_m2: 0,
      reachable_m3: 0,
      notes: [{ code: 'cells-too-coarse', text: refusal.text }],
    };
  }
  const settings = plan.plan.lotfall;
  return searchSites(
    {
      plan,
      elevation: elevation.grid,
      ruleSet: ruleSetById(settings.rule_set),
      today,
      catchments: lotCatchments(shape, storm),
      soil: settings.soil?.texture ?? defaultTexture,
      runOffDepthM: meanRunOffM(shape, storm),
      standingDepthM: storm.depthM,
      ...(weights === undefined ? {} : { weights }),
    },
    options,
  );
}

/** Run-off of the own lot, its roofs included, over its area: what a square metre of catchment brings, metres. */
function meanRunOffM({ ground }: ShapedGround, storm: StormOnGround): number {
  const lot = ground.lots.find(({ own }) => own);
  if (lot === undefined) return storm.roofRunOffM;
  let runOff = 0;
  for (const cell of lot.cells) runOff += runOffMm(storm.rainMm, storm.surfaces.curveNumbers[cell]);
  return runOff / 1000 / lot.cells.length;
}
