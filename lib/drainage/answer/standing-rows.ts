import type { StandingRow } from './drainage-result';
import type { ListedLowSpot } from './listed-low-spots';
import type { ShapedGround } from '../storm/shaped-ground';
import { basinCells } from './standing-on-lot';
import type { StormOnGround } from '../storm/storm-on-ground';

/**
 * Water in each listed low spot that holds any: where it comes from is summed over the pools inside, which may not
 * have met yet; where it goes is what the low spot as a whole spills.
 *
 * Cost: O(pools + cells of the low spots).
 */
export function standingRows(
  { terrain, ground, cellM2 }: ShapedGround,
  storm: Pick<StormOnGround, 'stormPools' | 'depthM'>,
  spots: readonly ListedLowSpot[],
): StandingRow[] {
  const { root } = terrain.tree;
  const { count, node, stored, spilled, ownInflow, full, destination } = storm.stormPools;
  const spotOf = new Map(spots.map((spot, i) => [spot.id, i]));
  const sums = spots.map(() => ({ stored: 0, inflow: 0, spilled: 0, full: false, to: -1 }));
  for (let pool = 0; pool < count; pool++) {
    const own = root[node[pool]];
    const sum = sums[spotOf.get(own) ?? -1] as (typeof sums)[number] | undefined;
    const next = destination[pool];
    const nextRoot = next === -1 ? -1 : root[node[next]];
    if (nextRoot !== own && nextRoot !== -1) {
      const receiver = spotOf.get(nextRoot);
      if (receiver !== undefined) sums[receiver].inflow += spilled[pool];
    }
    if (sum === undefined) continue;
    sum.stored += stored[pool];
    sum.inflow += ownInflow[pool];
    if (node[pool] !== own) continue;
    sum.full = full[pool] === 1;
    sum.spilled = spilled[pool];
    sum.to = nextRoot;
  }
  const ownLot = ground.lots.findIndex((lot) => lot.own);
  const inBasin = basinCells(ground.basins);
  return spots
    .map((spot, i): StandingRow => {
      let wet = 0;
      let deepest = 0;
      let depths = 0;
      let onLot = 0;
      for (const cell of spot.cells) {
        const depth = storm.depthM[cell];
        if (depth > 0) wet++;
        deepest = Math.max(deepest, depth);
        depths += depth;
        if (ownLot !== -1 && ground.lotOf[cell] === ownLot && !inBasin.has(cell)) onLot += depth;
      }
      const to = spotOf.get(sums[i].to);
      return {
        id: spot.key,
        volume_m3: sums[i].stored * cellM2,
        on_lot_m3: depths > 0 ? sums[i].stored * cellM2 * (onLot / depths) : 0,
        area_m2: wet * cellM2,
        depth_m: deepest,
        spills: sums[i].full,
        inflow_m3: sums[i].inflow * cellM2,
        spilled_m3: sums[i].spilled * cellM2,
        spills_to: to === undefined ? null : spots[to].key,
        basin: ground.basins.find((basin) => basin.cells.includes(spot.pitCell))?.id ?? null,
      };
    })
    .filter((row) => row.volume_m3 > 0);
}
