import type { LocalPlan } from '../../plan/local-plan';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { lotAccounts, type LotAccounts } from './lot-accounts';

/** A volume of water and the lot it comes from or goes to; `lot` is null for the street and all that is on no lot of the plan. */
export interface Share {
  readonly lot: string | null;
  readonly name: string;
  readonly volume_m3: number;
}

/**
 * The water ledger of one lot for one storm: what comes in and where it ends, cubic metres.
 *
 * `rain + run_on + sump = soaked + standing + basin + barrel + sewer + passed_on + error`.
 */
export interface Ledger {
  readonly lot: string;
  /** Rain on the lot, its roofs included. */
  readonly rain_m3: number;
  /** What comes over its line from outside; what only winds over the line from cell to cell is left out. */
  readonly run_on_m3: number;
  /** Ground water that sumps of the lot put out onto it. */
  readonly sump_m3: number;
  /** Rain that does not run off: soaked in, or held on leaves, boards and roofs. */
  readonly soaked_m3: number;
  /** Stands in low spots of the lot when the storm is over, basins not counted. */
  readonly standing_m3: number;
  /** Held by basins of the lot when the storm is over: standing in them, and soaked into what lies below them. */
  readonly basin_m3: number;
  /** Of that what has soaked into layers and soil; 0 unless the basins' filling was worked out (`withUptake`). */
  readonly basin_soaked_m3: number;
  /** Held back in barrels and soakaways of the lot's roofs. */
  readonly barrel_m3: number;
  /** Leaves by downspouts and drains into the storm sewer. */
  readonly sewer_m3: number;
  /** Leaves over its line, and off the data. */
  readonly passed_on_m3: number;
  /** What the sums miss: rounding alone. */
  readonly error_m3: number;
  /** By the ground that it comes from over the line. */
  readonly run_on_from: readonly Share[];
  /** By the ground on the other side of the line; off the data counts to all that is on no lot. */
  readonly passed_on_to: readonly Share[];
}

/** What `soaked_m3` is called: with what leaves, boards and roofs hold, for the run-off laws do not tell the two apart. */
export const soakedWords = 'soaked in or held on surfaces';

/** Less than this is a drop that the grid carries over the line. Our choice, no source. */
const leastShareM3 = 0.005;

/** Whether a volume over a line is worth naming to a reader; the sums have them all. */
export function isWorthNaming({ volume_m3 }: Pick<Share, 'volume_m3'>): boolean {
  return volume_m3 >= leastShareM3;
}

/** The shares that are worth naming to a reader. */
export function worthNaming(shares: readonly Share[]): Share[] {
  return shares.filter(isWorthNaming);
}

/** What all ground on no lot of the plan is called. */
export const elsewhere = 'street and other ground';

/**
 * Draws up the water ledger of one lot: its account, with names.
 *
 * What one lot passes on to another is what that one gets from it: both are read from one record of the line. Water that leaves
 * and comes back elsewhere counts both times. It balances to rounding.
 *
 * @param lot - index of the lot in the ground's list.
 * @param accounts - of the same storm, where several ledgers are drawn up.
 */
export function ledger(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  lot: number,
  accounts: LotAccounts = lotAccounts(shape, storm, plan),
): Ledger {
  const { lots } = shape.ground;
  const account = accounts.of(lot);
  const comes = new Float64Array(lots.length + 1);
  const goes = new Float64Array(lots.length + 1);
  for (const { owner, inM3, outM3 } of account.crossings) {
    comes[owner] = inM3;
    goes[owner] = outM3;
  }
  goes[lots.length] += account.offDataM3;
  const { rainM3, sumpM3, soakedM3, standingM3, barrelM3, sewerM3, basinSoakedM3 } = account;
  const basinM3 = account.inBasinsM3 + basinSoakedM3;
  const runOnM3 = comes.reduce((sum, volume) => sum + volume, 0);
  const passedOnM3 = goes.reduce((sum, volume) => sum + volume, 0);
  return {
    lot: lots[lot].id,
    rain_m3: rainM3,
    run_on_m3: runOnM3,
    sump_m3: sumpM3,
    soaked_m3: soakedM3,
    standing_m3: standingM3,
    basin_m3: basinM3,
    basin_soaked_m3: basinSoakedM3,
    barrel_m3: barrelM3,
    sewer_m3: sewerM3,
    passed_on_m3: passedOnM3,
    error_m3:
      rainM3 + runOnM3 + sumpM3 - soakedM3 - standingM3 - basinM3 - barrelM3 - sewerM3 - passedOnM3,
    run_on_from: shares(shape, comes),
    passed_on_to: shares(shape, goes),
  };
}

/** The ledgers of all lots. Cost: O(n) and the lots' cells once. */
export function ledgers(shape: ShapedGround, storm: StormOnGround, plan: LocalPlan): Ledger[] {
  const accounts = lotAccounts(shape, storm, plan);
  return shape.ground.lots.map((_, lot) => ledger(shape, storm, plan, lot, accounts));
}

function shares({ ground }: ShapedGround, volumes: Float64Array): Share[] {
  return [...volumes]
    .map((volume_m3, index) => ({
      lot: ground.lots[index]?.id ?? null,
      name: ground.lots[index]?.name ?? elsewhere,
      volume_m3,
    }))
    .filter((share) => share.volume_m3 > 1e-9)
    .sort((a, b) => b.volume_m3 - a.volume_m3);
}
