import { originToEnd } from '../drainage/answer/origin-to-end';
import { roofWaters } from '../drainage/answer/lot-water';
import { lotAccounts, type Crossing } from '../drainage/answer/lot-accounts';
import { waterAtBuilding } from '../drainage/answer/water-at-building';
import type { WaterAtBuilding } from '../drainage/answer/drainage-result';
import type { ShapedGround } from '../drainage/storm/shaped-ground';
import type { StormOnGround } from '../drainage/storm/storm-on-ground';
import { cellAt } from '../elevation/grid';
import { centroid } from '../frame/shapes';
import type { LocalPlan } from '../plan/local-plan';
import type { LotWaterRow, ReviewedLine, ReviewedOrigin } from './review-result';

/** Less than a tenth of a litre is a drop that the grid carries on. A choice. */
const leastM3 = 1e-4;

/** Every lot of a plan in one storm, and what crosses the lines between them. */
export interface LotsInStorm {
  /** In the order of the ground's lots. */
  readonly rows: readonly LotWaterRow[];
  readonly lines: readonly ReviewedLine[];
  /** Where each lot's water ends; worked out when it is called. */
  readonly origins: () => ReviewedOrigin[];
}

/** Cost: O(n) and the lots' cells once, whatever the number of lots. */
export function lotsInStorm(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): LotsInStorm {
  const { lots } = shape.ground;
  const accounts = lotAccounts(shape, storm, plan);
  const wet = wetBuildings(shape, storm, plan);
  const rows = lots.map((_, lot): LotWaterRow => {
    const account = accounts.of(lot);
    const row = {
      rain_m3: account.rainM3,
      sump_m3: account.sumpM3,
      soaked_m3: account.soakedM3,
      barrel_m3: account.barrelM3,
      standing_m3: account.standingM3,
      basin_m3: account.inBasinsM3 + account.basinSoakedM3,
      sewer_m3: account.sewerM3,
      off_data_m3: account.offDataM3,
      ...crossed(account.crossings, lots.length),
    };
    return { ...row, error_m3: missedBy(row), wet_buildings: wet[lot] };
  });
  const idOf = (owner: number): string | null => lots.at(owner)?.id ?? null;
  const lines = accounts.lines.map(
    ({ a, b, aToBM3, bToAM3, aToBGrossM3, bToAGrossM3 }): ReviewedLine => ({
      a: lots[a].id,
      b: idOf(b),
      a_to_b_m3: aToBM3,
      b_to_a_m3: bToAM3,
      net_m3: aToBM3 - bToAM3,
      a_to_b_gross_m3: aToBGrossM3,
      b_to_a_gross_m3: bToAGrossM3,
    }),
  );
  const origins = (): ReviewedOrigin[] => {
    const { displaced } = roofWaters(shape, storm, plan);
    const { flow, depthM } = storm;
    return originToEnd(flow, shape.ground.lotOf, lots.length, depthM, displaced)
      .filter(({ origin, volumeM3 }) => origin < lots.length && volumeM3 >= leastM3)
      .map(({ origin, end, volumeM3 }) => ({
        from: lots[origin].id,
        ends: typeof end === 'string' ? end : end < lots.length ? 'lot' : 'elsewhere',
        lot: typeof end === 'number' ? idOf(end) : null,
        volume_m3: volumeM3,
      }));
  };
  return { rows, lines, origins };
}

type Crossed = Pick<
  LotWaterRow,
  'from_lots_m3' | 'to_lots_m3' | 'from_elsewhere_m3' | 'to_elsewhere_m3'
>;

function crossed(crossings: readonly Crossing[], lots: number): Crossed {
  const sums = { from_lots_m3: 0, to_lots_m3: 0, from_elsewhere_m3: 0, to_elsewhere_m3: 0 };
  for (const { owner, inM3, outM3 } of crossings) {
    const other = owner === lots ? 'elsewhere' : 'lots';
    sums[`from_${other}_m3`] += inM3;
    sums[`to_${other}_m3`] += outM3;
  }
  return sums;
}

function missedBy(row: Omit<LotWaterRow, 'error_m3' | 'wet_buildings'>): number {
  const comes = row.rain_m3 + row.sump_m3 + row.from_lots_m3 + row.from_elsewhere_m3;
  const ends = row.soaked_m3 + row.barrel_m3 + row.standing_m3 + row.basin_m3 + row.sewer_m3;
  return comes - ends - row.off_data_m3 - row.to_lots_m3 - row.to_elsewhere_m3;
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
