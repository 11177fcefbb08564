import { cellAt, cellCentre } from '../../elevation/grid';
import { centroid, nearestEdges } from '../../frame/shapes';
import { groundWithoutBasins } from '../../ground/ground';
import { cellsAround } from '../../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { BuildingRow, OutletRule } from './drainage-result';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { covers } from '../storm/surface-run-off';
import { codeFall, wallFall } from './wall-fall';
import { waterAtBuilding } from './water-at-building';
import { featureName } from '../../plan/feature-name';

/** An outlet nearer to a wall than this, metres, empties too close: the lesser end of what is published. */
export const outletFromWall = {
  least_m: 1.524,
  published: 'roof leaders at least 5 to 10 ft from the foundation',
  source: {
    title: 'Commentary on section R401.3 of the 2025 Residential Code of New York State',
    publisher: 'a code library for architects on the web',
    year: 2026,
    mark: 'seen',
  },
} as const satisfies OutletRule;
/** Cells whose centres lie nearer are at the wall: two rows of them, with some slack where it runs between rows. */
const besideCells = 1.51;
/** Less ground than this draining to a wall is what falls beside it, m2. Our choice, no source. */
const arrivingFromM2 = 10;

/**
 * Water at one house: what stands there, how the ground falls away, what flows to the wall, which outlets empty close.
 *
 * @param drainsM2 - for each cell the area that drains through it by multiple flow, with low spots full.
 */
export function buildingRow(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  building: LocalFeature<'building'>,
  drainsM2: Float64Array,
): BuildingRow {
  const { ground, elevation } = shape;
  const { grid } = ground;
  const paving = covers.indexOf('paving');
  const fall = wallFall(
    // as graded: what is built on the ground would hide how it falls
    groundWithoutBasins(elevation, plan),
    ground.obstacle,
    (cell) => storm.surfaces.coverOf[cell] === paving,
    building.shape.rings[0],
  );

  let most = -1;
  const besideM = besideCells * grid.cellM;
  for (const cell of cellsAround(grid, building.shape.rings[0], besideM)) {
    if (ground.obstacle[cell] === 1 || Number.isNaN(grid.z[cell])) continue;
    const away = nearestEdges({ type: 'point', at: cellCentre(grid, cell) }, building.shape);
    if (away.distanceM > besideM) continue;
    if (most === -1 || drainsM2[cell] > drainsM2[most]) most = cell;
  }
  const arrives = most !== -1 && drainsM2[most] >= arrivingFromM2;

  return {
    ...waterAtBuilding(ground, building, storm.depthM, plan.frame),
    lot: lotUnder(shape, building),
    wall_fall: {
      judged_m: fall.judged_m,
      short_m: fall.short_m,
      towards_m: fall.towards_m,
      least_slope: fall.least_slope,
      at: fall.at === null ? null : plan.frame.toLngLat(fall.at),
      asked: { published: codeFall.published, source: codeFall.source },
    },
    arriving_m2: arrives ? drainsM2[most] : 0,
    arriving_at: arrives ? plan.frame.toLngLat(cellCentre(grid, most)) : null,
    close_outlets: closeOutlets(plan, building),
    outlet_rule: outletFromWall,
  };
}

function lotUnder({ ground }: ShapedGround, building: LocalFeature<'building'>): string | null {
  const cell = cellAt(ground.grid, ...centroid(building.shape.rings));
  const lot = cell === -1 ? -1 : ground.lotOf[cell];
  return lot === -1 ? null : ground.lots[lot].id;
}

/** Downspouts whose water reaches the ground too close to this building, the closest first. */
function closeOutlets(
  plan: LocalPlan,
  building: LocalFeature<'building'>,
): BuildingRow['close_outlets'] {
  return plan.of.downspout
    .flatMap((downspout) => {
      const { outlet, id, feature } = downspout;
      if (outlet === 'storm-sewer' || feature.properties['pipe'] !== undefined) return [];
      const { distanceM } = nearestEdges({ type: 'point', at: outlet }, building.shape);
      return distanceM < outletFromWall.least_m
        ? [{ downspout: id, name: featureName(feature), distance_m: distanceM }]
        : [];
    })
    .sort((a, b) => a.distance_m - b.distance_m);
}
