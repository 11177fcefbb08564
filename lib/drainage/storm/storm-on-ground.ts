import { expectOf } from '../../errors';
import type { Ground } from '../../ground/ground';
import type { LocalPlan } from '../../plan/local-plan';
import { eventDuration, usualDurationH } from '../../storm/event-duration';
import { runOffLaw, type RunOffLaw } from '../../storm/run-off-law';
import { stormFlow, type StormFlow } from './kept-water';
import type { StormPools } from './pour-storm';
import { roofFlows, type RoofFlow, type RoofFlows } from './roof-flow';
import { roofWater, type RoofWater } from './roof-water';
import { settleStorm, type ConduitFlow, type SettledStorm } from './settle-storm';
import type { ShapedGround } from './shaped-ground';
import { atOnce, type Steps } from '../steps';
import { sumpWater, type SumpWater } from './sump-water';
import { roofSurface, surfaceRunOffM, surfaces, type Surfaces } from './surface-run-off';
import { unconnectedNotes } from './unconnected-notes';
import { waterSurface } from './water-surface';

/** One storm, or thaw, on one ground: run-off, roofs' water, pools. Volumes in cubic metres. */
export interface StormOnGround {
  /** Depth of the storm's rain, or of the thaw's melt and rain, millimetres. */
  readonly rainMm: number;
  readonly surfaces: Surfaces;
  /** Depth that runs off each of the surfaces' classes, millimetres. */
  readonly classRunOffMm: Float64Array;
  readonly roofs: RoofWater;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  /** How long drains and sumps run, hours. */
  readonly durationH: number;
  /** Where each of the roofs' outlets sends its water, in their order. */
  readonly roofFlows: readonly RoofFlow[];
  readonly sumps: readonly SumpWater[];
  /** What each conduit of the ground carries, in their order. */
  readonly conduits: readonly ConduitFlow[];
  readonly flow: StormFlow;
  readonly stormPools: StormPools;
  /** Depth of standing water by cell when the storm is over, metres. */
  readonly depthM: Float32Array;
  /** What had to be assumed on the event, drains, sumps and pipes, in the user's words. */
  readonly notes: readonly string[];
}

/** What of a storm the heights of the ground have no part in: the same for all surfaces that differ in heights alone. */
export interface LaidStorm {
  readonly rainMm: number;
  readonly surfaces: Surfaces;
  /** Depth that runs off each of the surfaces' classes, millimetres. */
  readonly classRunOffMm: Float64Array;
  /** Depth of run-off by cell of open ground, metres. */
  readonly runOffM: Float64Array;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  readonly durationH: number;
  /** How it runs off. */
  readonly law: RunOffLaw;
}

/**
 * Lays surfaces on the ground and lets the plan's storm or thaw, of a given depth, run off them; where it goes is not
 * asked yet. Cost: O(n).
 */
export function layStorm(ground: Ground, plan: LocalPlan, rainMm: number): LaidStorm {
  const { lotfall } = plan.plan;
  const laid = surfaces(ground, plan);
  const law = runOffLaw(lotfall, rainMm);
  return {
    rainMm,
    surfaces: laid,
    classRunOffMm: Float64Array.from(laid.classes, (surface) => law.runOffMm(surface)),
    runOffM: surfaceRunOffM(ground.grid, ground, laid, law),
    roofRunOffM: law.runOffMm(roofSurface) / 1000,
    durationH: eventDuration(lotfall).hours,
    law,
  };
}

/** Where the water of a laid storm comes to stand. */
export interface Standing {
  readonly fromRoofs: RoofFlows;
  readonly sumps: ReturnType<typeof sumpWater>;
  readonly settled: SettledStorm;
}

/**
 * Lets roofs and sumps put their water down as well, and sends all of it over the ground until it stands, leaves, or
 * is in a drain.
 *
 * @param putDown - run-off from open ground by cell, metres; receives the water of roofs and sumps as well, as depth over the
 *   cells where they put it down.
 * Cost: as `settleStorm`.
 */
export function letStand(
  shape: Pick<ShapedGround, 'ground' | 'cellM2' | 'routing'>,
  plan: LocalPlan,
  { roofRunOffM, durationH }: Pick<LaidStorm, 'roofRunOffM' | 'durationH'>,
  putDown: Float64Array,
  roofs: RoofWater,
): Standing {
  const { ground, cellM2 } = shape;
  const fromRoofs = roofFlows(roofs.outlets, roofRunOffM, ground.pipes, durationH);
  const sumps = sumpWater(ground, plan, durationH);
  for (const { landings } of fromRoofs.flows) {
    for (const { cells, volumeM3 } of landings) {
      for (const cell of cells) putDown[cell] += volumeM3 / cells.length / cellM2;
    }
  }
  for (const { cell, volumeM3 } of sumps.sumps) putDown[cell] += volumeM3 / cellM2;
  const settled = settleStorm(shape, putDown, { durationH, pipeUseM3: fromRoofs.pipeUseM3 });
  return { fromRoofs, sumps, settled };
}

/**
 * Lets a depth of the plan's storm, or thaw, run off its surfaces and roofs, and fill, spill and merge low spots while
 * drains carry and sumps add water.
 *
 * Static: the end of the storm, with no time in it and no seepage from standing water.
 *
 * @param rainMm - of the whole event, at least 0; the plan says what event it is.
 * @throws {InputError} `rain-depth` when that is no depth.
 * Cost: O(n); the terrain is used as it is.
 */
export function stormOnGround(shape: ShapedGround, plan: LocalPlan, rainMm: number): StormOnGround {
  expectOf(Number.isFinite(rainMm) && rainMm >= 0, {
    code: 'rain-depth',
    where: 'storm',
    problem: `${rainMm} mm is no depth of rain`,
    remedy: 'give a number of millimetres that is not negative',
  });
  return atOnce(stormSteps(shape, plan, rainMm));
}

/** The steps of `stormOnGround`. */
export function* stormSteps(
  shape: ShapedGround,
  plan: LocalPlan,
  rainMm: number,
): Steps<StormOnGround> {
  const { ground } = shape;
  yield { fraction: 0, stage: 'Letting it rain' };
  const laid = layStorm(ground, plan, rainMm);
  yield { fraction: 0.3, stage: 'Running down the ground' };
  const poured = pourLaid(shape, plan, laid);
  yield { fraction: 0.8, stage: 'Filling low spots with water' };
  return {
    ...poured,
    notes: [
      ...laid.law.notes,
      ...unconnectedNotes(ground, plan.plan, laid.surfaces, laid.classRunOffMm, rainMm),
      ...poured.notes,
    ],
  };
}

/**
 * Pours a storm that is laid already: the same surfaces on other heights. Its notes are on drains, sumps and pipes alone.
 *
 * @param laid - not modified.
 * Cost: as `letStand`.
 */
export function pourLaid(
  shape: Pick<ShapedGround, 'ground' | 'cellM2' | 'routing' | 'terrain'>,
  plan: LocalPlan,
  laid: Omit<LaidStorm, 'law'>,
): StormOnGround {
  const { ground, terrain, cellM2 } = shape;
  const roofs = roofWater(ground, plan);
  const putDown = laid.runOffM.slice();
  const { fromRoofs, sumps, settled } = letStand(shape, plan, laid, putDown, roofs);
  return {
    rainMm: laid.rainMm,
    surfaces: laid.surfaces,
    classRunOffMm: laid.classRunOffMm,
    roofs,
    roofRunOffM: laid.roofRunOffM,
    durationH: laid.durationH,
    roofFlows: fromRoofs.flows,
    sumps: sumps.sumps,
    conduits: settled.flows,
    flow: stormFlow(putDown, settled, cellM2),
    stormPools: settled.pools,
    depthM: waterSurface(terrain, settled.pools).depth,
    notes: [
      ...fromRoofs.notes,
      ...sumps.notes,
      ...settled.notes,
      ...durationNote(plan, settled.flows.length + fromRoofs.pipeUseM3.size, sumps.sumps.length),
    ],
  };
}

function durationNote(plan: LocalPlan, drains: number, sumps: number): string[] {
  if (drains + sumps === 0 || eventDuration(plan.plan.lotfall).isKnown) return [];
  return [
    `How long the storm lasts is not given: drains and sumps are taken to run for ${usualDurationH} h.`,
  ];
}
