import { lotFlux, type LotFlux } from '../drainage/answer/lot-flux';
import { openWater, roofWaters } from '../drainage/answer/lot-water';
import { waterAtBuilding } from '../drainage/answer/water-at-building';
import type { WaterAtBuilding } from '../drainage/answer/drainage-result';
import type { ShapedGround } from '../drainage/storm/shaped-ground';
import type { StormOnGround } from '../drainage/storm/storm-on-ground';
import { cellAt } from '../elevation/grid';
import { centroid } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import type { LotWaterRow, ReviewedLine } from './review-result';

/** Every lot of a plan in one storm, and what crosses the lines between them. */
export interface LotsInStorm {
  /** In the order of the ground's lots. */
  readonly rows: readonly LotWaterRow[];
  readonly lines: readonly ReviewedLine[];
}

/** Cost: O(n) and the lots' cells once, whatever the number of lots. */
export function lotsInStorm(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): LotsInStorm {
  const { ground } = shape;
  const { lots, lotOf } = ground;
  const roofs = roofWaters(shape, storm, plan);
  const flux = lotFlux(storm.flow, lotOf, lots.length, storm.depthM, roofs.displaced);
  const crossed = crossings(flux, lots.length);
  const inBowls = standingInBasins(shape, storm);
  const sumps = new Float64Array(lots.length + 1);
  for (const { cell, volumeM3 } of storm.sumps) {
    sumps[lotOf[cell] === -1 ? lots.length : lotOf[cell]] += volumeM3;
  }
  const wet = wetBuildings(shape, storm, plan);
  const rows = lots.map((_, lot): LotWaterRow => {
    const open = openWater(shape, storm, lot);
    const under = roofs.of(lot);
    const bowls = Math.min(inBowls[lot], flux.standsM3[lot]);
    const row = {
      rain_m3: open.rainM3 + under.rainM3,
      sump_m3: sumps[lot],
      soaked_m3: open.soakedM3 + under.soakedM3,
      barrel_m3: under.barrelM3,
      standing_m3: flux.standsM3[lot] - bowls,
      basin_m3: bowls + flux.soilM3[lot],
      sewer_m3: under.sewerM3 + flux.sewerM3[lot],
      off_data_m3: under.offMapM3 + flux.offDataM3[lot],
      ...crossed[lot],
    };
    return { ...row, error_m3: missedBy(row), wet_buildings: wet[lot] };
  });
  const idOf = (owner: number): string | null => lots.at(owner)?.id ?? null;
  const lines = flux.lines.map(({ a, b, aToBM3, bToAM3 }): ReviewedLine => ({
    a: lots[a].id,
    b: idOf(b),
    a_to_b_m3: aToBM3,
    b_to_a_m3: bToAM3,
    net_m3: aToBM3 - bToAM3,
  }));
  return { rows, lines };
}

type Crossed = Pick<
  LotWaterRow,
  'from_lots_m3' | 'to_lots_m3' | 'from_elsewhere_m3' | 'to_elsewhere_m3'
>;

function crossings({ lines }: LotFlux, lots: number): Crossed[] {
  const found = Array.from({ length: lots + 1 }, () => ({
    from_lots_m3: 0,
    to_lots_m3: 0,
    from_elsewhere_m3: 0,
    to_elsewhere_m3: 0,
  }));
  for (const { a, b, aToBM3, bToAM3 } of lines) {
    if (b === lots) {
      found[a].to_elsewhere_m3 += aToBM3;
      found[a].from_elsewhere_m3 += bToAM3;
      continue;
    }
    found[a].to_lots_m3 += aToBM3;
    found[a].from_lots_m3 += bToAM3;
    found[b].to_lots_m3 += bToAM3;
    found[b].from_lots_m3 += aToBM3;
  }
  return found;
}

function missedBy(row: Omit<LotWaterRow, 'error_m3' | 'wet_buildings'>): number {
  const comes = row.rain_m3 + row.sump_m3 + row.from_lots_m3 + row.from_elsewhere_m3;
  const ends = row.soaked_m3 + row.barrel_m3 + row.standing_m3 + row.basin_m3 + row.sewer_m3;
  return comes - ends - row.off_data_m3 - row.to_lots_m3 - row.to_elsewhere_m3;
}

function standingInBasins({ ground, cellM2 }: ShapedGround, storm: StormOnGround): Float64Array {
  const { lots, lotOf, basins } = ground;
  const found = new Float64Array(lots.length);
  for (const { cells } of basins) {
    for (const cell of cells) {
      if (lotOf[cell] !== -1) found[lotOf[cell]] += storm.depthM[cell] * cellM2;
    }
  }
  return found;
}

/** Buildings with water near a wall, by the lot that their middle lies on. */
function wetBuildings(
  { ground }: ShapedGround,
  { depthM }: StormOnGround,
  plan: LocalPlan,
): WaterAtBuilding[][] {
  const found: WaterAtBuilding[][] = ground.lots.map(() => []);
  for (const building of plan.of.building) {
    const cell = cellAt(ground.grid, ...centroid(building.shape.rings));
    if (cell === -1 || ground.lotOf[cell] === -1) continue;
    const water = waterAtBuilding(ground, building, depthM, plan.frame);
    if (water.distance_m !== null) found[ground.lotOf[cell]].push(water);
  }
  return found;
}
