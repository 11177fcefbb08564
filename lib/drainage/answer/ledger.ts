import type { LocalPlan } from '../../plan/local-plan';
import { followLot } from './follow-lot';
import { openWater, roofWaters } from './lot-water';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

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
  /** Run-off that enters from outside. */
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
  /** Leaves over the ground. */
  readonly passed_on_m3: number;
  /** What the sums miss: rounding alone. */
  readonly error_m3: number;
  readonly run_on_from: readonly Share[];
  /** By the lot that the water enters when it last leaves this one. */
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
 * Draws up the water ledger of one lot.
 *
 * Water counts as run-on when it first enters the lot and as passed on when it last leaves it, so that a path that
 * winds along the line counts once. It balances to rounding.
 *
 * @param lot - index of the lot in the ground's list.
 */
export function ledger(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  lot: number,
): Ledger {
  const { ground, cellM2 } = shape;
  const { lots, lotOf } = ground;
  const owners = lots.length;

  const open = openWater(shape, storm, lot);
  const roofs = roofWaters(shape, storm, plan);
  const under = roofs.of(lot);
  const rain = open.rainM3 + under.rainM3;
  const soaked = open.soakedM3 + under.soakedM3;
  let sump = 0;
  for (const { cell, volumeM3 } of storm.sumps) if (lotOf[cell] === lot) sump += volumeM3;

  const crossings = followLot(storm.flow, lotOf, lot, owners, storm.depthM, roofs.displaced);
  crossings.passedOnM3[owners] += under.offMapM3;
  const sewer = under.sewerM3 + crossings.sewerM3;
  let inBasins = 0;
  for (const basin of ground.basins) {
    for (const cell of basin.cells)
      if (lotOf[cell] === lot) inBasins += storm.depthM[cell] * cellM2;
  }
  const inBowls = Math.min(inBasins, crossings.storedM3);
  const standing = crossings.storedM3 - inBowls;
  const basin = inBowls + crossings.soilM3;
  const runOn = crossings.runOnM3.reduce((sum, volume) => sum + volume, 0);
  const passedOn = crossings.passedOnM3.reduce((sum, volume) => sum + volume, 0);
  return {
    lot: lots[lot].id,
    rain_m3: rain,
    run_on_m3: runOn,
    sump_m3: sump,
    soaked_m3: soaked,
    standing_m3: standing,
    basin_m3: basin,
    basin_soaked_m3: crossings.soilM3,
    barrel_m3: under.barrelM3,
    sewer_m3: sewer,
    passed_on_m3: passedOn,
    error_m3: rain + runOn + sump - soaked - standing - basin - under.barrelM3 - sewer - passedOn,
    run_on_from: shares(shape, crossings.runOnM3),
    passed_on_to: shares(shape, crossings.passedOnM3),
  };
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
