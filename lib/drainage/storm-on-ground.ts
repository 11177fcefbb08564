import { expectOf } from '../errors';
import type { Ground } from '../ground/ground';
import type { LocalPlan } from '../plan/local-plan';
import { eventDuration, usualDurationH } from '../storm/event-duration';
import { runOffLaw, type RunOffLaw } from '../storm/run-off-law';
import { accumulate } from './accumulate';
import { catchmentSums } from './catchment-sums';
import type { Flow, Pools } from './lot-ledger';
import { routeConduits, type ConduitFlow, type ConduitRouting } from './conduits';
import type { StormPools } from './pour-storm';
import { roofFlows, type RoofFlow, type RoofFlows } from './roof-flow';
import { roofWater, type RoofWater } from './roof-water';
import type { ShapedGround } from './shaped-ground';
import { atOnce, type Steps } from './steps';
import { sumpWater, type SumpWater } from './sump-water';
import { roofSurface, surfaceRunOffM, surfaces, type Surfaces } from './surface-run-off';
import type { BareTerrain } from './terrain';
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
  /** Flow over the ground; what conduits let out is not in it. */
  readonly flow: Flow;
  readonly stormPools: StormPools;
  readonly pools: Pools;
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
  readonly routed: ConduitRouting;
}

/**
 * Lets roofs and sumps put their water down as well, and sends all of it over the ground until it stands, leaves, or
 * is in a drain.
 *
 * @param inflow - run-off from open ground by catchment, metres times cells, as `catchmentSums` gives it; the water of
 *   roofs and sumps is added to it.
 * @param depths - when given, receives that water by cell as well, as depth over it, metres.
 * Cost: O(low spots) without conduits, and a pour for each link of a chain of them.
 */
export function letStand(
  shape: Pick<ShapedGround, 'ground' | 'cellM2'> & { readonly terrain: BareTerrain },
  plan: LocalPlan,
  { roofRunOffM, durationH }: Pick<LaidStorm, 'roofRunOffM' | 'durationH'>,
  inflow: Float64Array,
  roofs: RoofWater,
  depths?: Float64Array,
): Standing {
  const { ground, terrain, cellM2 } = shape;
  const fromRoofs = roofFlows(roofs.outlets, roofRunOffM, ground.pipes, durationH);
  const sumps = sumpWater(ground, plan, durationH);
  // Depth over a cell, so that volumes are depth times cell area throughout.
  const put = (cell: number, volumeM3: number): void => {
    inflow[terrain.catchment[cell]] += volumeM3 / cellM2;
    if (depths !== undefined) depths[cell] += volumeM3 / cellM2;
  };
  for (const { landings } of fromRoofs.flows) {
    for (const { cells, volumeM3 } of landings) {
      for (const cell of cells) put(cell, volumeM3 / cells.length);
    }
  }
  for (const { cell, volumeM3 } of sumps.sumps) put(cell, volumeM3);
  const routed = routeConduits(shape, inflow, { durationH, pipeUseM3: fromRoofs.pipeUseM3 });
  return { fromRoofs, sumps, routed };
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
  const { ground, terrain, cellM2 } = shape;
  yield { fraction: 0, stage: 'Letting it rain' };
  const laid = layStorm(ground, plan, rainMm);
  yield { fraction: 0.3, stage: 'Filling low spots with water' };
  const roofs = roofWater(ground, plan);
  const depths = laid.runOffM.slice();
  const inflow = catchmentSums(terrain, laid.runOffM);
  const { fromRoofs, sumps, routed } = letStand(shape, plan, laid, inflow, roofs, depths);
  const depthM = waterSurface(terrain, routed.pools).depth;
  yield { fraction: 0.7, stage: 'Adding up what flows' };
  const passingM3 = accumulate(terrain.receiver, terrain.width, depths, depths);
  for (let cell = 0; cell < passingM3.length; cell++) passingM3[cell] *= cellM2;
  return {
    rainMm,
    surfaces: laid.surfaces,
    classRunOffMm: laid.classRunOffMm,
    roofs,
    roofRunOffM: laid.roofRunOffM,
    durationH: laid.durationH,
    roofFlows: fromRoofs.flows,
    sumps: sumps.sumps,
    conduits: routed.flows,
    flow: {
      width: terrain.width,
      receiver: terrain.receiver,
      catchment: terrain.catchment,
      passingM3,
    },
    stormPools: routed.pools,
    pools: linkPools(shape, routed),
    depthM,
    notes: [
      ...laid.law.notes,
      ...unconnectedNotes(ground, plan.plan, laid.surfaces, laid.classRunOffMm, rainMm),
      ...fromRoofs.notes,
      ...sumps.notes,
      ...routed.notes,
      ...durationNote(plan, routed.flows.length + fromRoofs.pipeUseM3.size, sumps.sumps.length),
    ],
  };
}

function durationNote(plan: LocalPlan, drains: number, sumps: number): string[] {
  if (drains + sumps === 0 || eventDuration(plan.plan.lotfall).isKnown) return [];
  return [
    `How long the storm lasts is not given: drains and sumps are taken to run for ${usualDurationH} h.`,
  ];
}

/** The pools with volumes in cubic metres, the cells they spill over, and the conduits that empty them. */
function linkPools({ terrain, cellM2 }: ShapedGround, routed: ConduitRouting): Pools {
  const { pools, flows, order } = routed;
  const { tree, catchment } = terrain;
  const { count } = pools;
  const storedM3 = new Float64Array(count);
  const spilledM3 = new Float64Array(count);
  const spillFrom = new Int32Array(count).fill(-1);
  const spillTo = new Int32Array(count).fill(-1);
  for (let pool = 0; pool < count; pool++) {
    storedM3[pool] = pools.stored[pool] * cellM2;
    spilledM3[pool] = pools.spilled[pool] * cellM2;
    if (pools.spilled[pool] === 0) continue;
    spillFrom[pool] = tree.spillFrom[pools.node[pool]];
    spillTo[pool] = tree.spillTo[pools.node[pool]];
  }
  const drains = flows
    .filter(({ volumeM3 }) => volumeM3 > 0)
    .map(({ conduit: { inlet, outlet }, volumeM3 }) => ({
      pool: pools.poolOfPit[catchment[inlet]],
      volumeM3,
      inlet,
      outlet,
    }));
  return {
    count,
    ofCatchment: pools.poolOfPit,
    storedM3,
    spilledM3,
    spillFrom,
    spillTo,
    order,
    drains,
  };
}
