import type { LocalPlan } from '../../plan/local-plan';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { lotFlux, type LineFlux } from './lot-flux';
import { openWater, roofWaters } from './lot-water';

/** Where the water of one storm is that fell on a lot or came over its line, m3. */
export interface LotAccount {
  readonly rainM3: number;
  /** Ground water that its sumps put out. */
  readonly sumpM3: number;
  readonly soakedM3: number;
  readonly barrelM3: number;
  /** Stands when the storm is over, basins not counted. */
  readonly standingM3: number;
  /** Stands in basins. */
  readonly inBasinsM3: number;
  /** Soaks into what lies below basins. */
  readonly basinSoakedM3: number;
  readonly sewerM3: number;
  /** Leaves the elevation data, over the ground or from roofs. */
  readonly offDataM3: number;
  /** What crosses the line each way, by the owner on the other side. */
  readonly crossings: readonly Crossing[];
}

/** What crosses the line between a lot and another owner, seen from the lot, m3. */
export interface Crossing {
  /** A lot by index, the number of lots for all other ground. */
  readonly owner: number;
  readonly inM3: number;
  readonly outM3: number;
}

/** The accounts of all lots in one storm: ledger, exchange and review all read them here. */
export interface LotAccounts {
  readonly lines: readonly LineFlux[];
  /** @param lot - index of the lot in the ground's list. Cost: the lot's cells. */
  of(lot: number): LotAccount;
}

/** Draws up what crosses lot lines and where it ends, for all lots at once. Cost: O(n), whatever the number of lots. */
export function lotAccounts(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): LotAccounts {
  const { lots, lotOf } = shape.ground;
  const roofs = roofWaters(shape, storm, plan);
  const flux = lotFlux(storm.flow, lotOf, lots.length, storm.depthM, roofs.displaced);
  const crossings = crossingsOf(flux.lines, lots.length);
  const inBasins = standingInBasins(shape, storm);
  const sumps = new Float64Array(lots.length);
  for (const { cell, volumeM3 } of storm.sumps)
    if (lotOf[cell] !== -1) sumps[lotOf[cell]] += volumeM3;
  return {
    lines: flux.lines,
    of(lot) {
      const open = openWater(shape, storm, lot);
      const under = roofs.of(lot);
      const inBasinsM3 = Math.min(inBasins[lot], flux.standsM3[lot]);
      return {
        rainM3: open.rainM3 + under.rainM3,
        sumpM3: sumps[lot],
        soakedM3: open.soakedM3 + under.soakedM3,
        barrelM3: under.barrelM3,
        standingM3: flux.standsM3[lot] - inBasinsM3,
        inBasinsM3,
        basinSoakedM3: flux.soilM3[lot],
        sewerM3: under.sewerM3 + flux.sewerM3[lot],
        offDataM3: under.offMapM3 + flux.offDataM3[lot],
        crossings: crossings[lot],
      };
    },
  };
}

function crossingsOf(lines: readonly LineFlux[], lots: number): Crossing[][] {
  const found = Array.from({ length: lots + 1 }, (): Crossing[] => []);
  for (const { a, b, aToBM3, bToAM3 } of lines) {
    found[a].push({ owner: b, inM3: bToAM3, outM3: aToBM3 });
    found[b].push({ owner: a, inM3: aToBM3, outM3: bToAM3 });
  }
  return found;
}

function standingInBasins(
  { ground, cellM2 }: ShapedGround,
  { depthM }: StormOnGround,
): Float64Array {
  const { lots, lotOf, basins } = ground;
  const found = new Float64Array(lots.length);
  for (const { cells } of basins) {
    for (const cell of cells) if (lotOf[cell] !== -1) found[lotOf[cell]] += depthM[cell] * cellM2;
  }
  return found;
}
