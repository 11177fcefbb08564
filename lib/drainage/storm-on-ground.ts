import type { Ground } from '../ground/ground';
import type { LocalPlan } from '../plan/local-plan';
import { roofCurveNumber } from '../storm/curve-numbers';
import { runOffMm } from '../storm/run-off';
import { accumulate } from './accumulate';
import { catchmentSums } from './catchment-sums';
import type { Flow, Pools } from './lot-ledger';
import { routeConduits, type ConduitFlow, type ConduitRouting } from './conduits';
import type { StormPools } from './pour-storm';
import { roofFlows, type RoofFlow, type RoofFlows } from './roof-flow';
import { roofWater, type RoofWater } from './roof-water';
import type { ShapedGround } from './shaped-ground';
import { sumpWater, type SumpWater } from './sump-water';
import { surfaceRunOffM, surfaces, type Surfaces } from './surface-run-off';
import { waterSurface } from './water-surface';

/** One storm on one ground: run-off, roofs' water, pools. Volumes in cubic metres. */
export interface StormOnGround {
  readonly rainMm: number;
  readonly surfaces: Surfaces;
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
  /** What had to be assumed on drains, sumps and pipes, in the user's words. */
  readonly notes: readonly string[];
}

/** How long drains and sumps run where the plan's storm does not say, hours. A choice, no source. */
const usualDurationH = 1;

/** What of a storm the heights of the ground have no part in: the same for all surfaces that differ in heights alone. */
export interface LaidStorm {
  readonly rainMm: number;
  readonly surfaces: Surfaces;
  /** Depth of run-off by cell of open ground, metres. */
  readonly runOffM: Float64Array;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  readonly durationH: number;
}

/** Lays surfaces on the ground and lets rain run off them; where it goes is not asked yet. Cost: O(n). */
export function layStorm(ground: Ground, plan: LocalPlan, rainMm: number): LaidStorm {
  const laid = surfaces(ground, plan);
  return {
    rainMm,
    surfaces: laid,
    runOffM: surfaceRunOffM(ground.grid, ground, laid.curveNumbers, rainMm),
    roofRunOffM: runOffMm(rainMm, roofCurveNumber) / 1000,
    durationH: plan.plan.lotfall.storm?.duration_h ?? usualDurationH,
  };
}

/** Where the water of a laid storm comes to stand. */
export interface Standing {
  readonly roofs: RoofWater;
  readonly fromRoofs: RoofFlows;
  readonly sumps: ReturnType<typeof sumpWater>;
  /** What is put on each cell, as depth over it, metres. */
  readonly depths: Float64Array;
  readonly routed: ConduitRouting;
}

/**
 * Sends a laid storm over the ground until all of it stands, leaves, or is in a drain.
 *
 * @param depths - receives what is put on each cell when given; not `laid.runOffM`.
 * Cost: O(n) without conduits, and a pour for each link of a chain of them.
 */
export function letStand(
  shape: Pick<ShapedGround, 'ground' | 'terrain' | 'cellM2'>,
  plan: LocalPlan,
  laid: LaidStorm,
  depths: Float64Array = new Float64Array(laid.runOffM.length),
): Standing {
  const { ground, terrain, cellM2 } = shape;
  const { durationH } = laid;
  const roofs = roofWater(ground, plan);
  const fromRoofs = roofFlows(roofs.outlets, laid.roofRunOffM, ground.pipes, durationH);
  const sumps = sumpWater(ground, plan, durationH);
  // Depth over a cell, so that volumes are depth times cell area throughout.
  depths.set(laid.runOffM);
  for (const { landings } of fromRoofs.flows) {
    for (const { cells, volumeM3 } of landings) {
      for (const cell of cells) depths[cell] += volumeM3 / cells.length / cellM2;
    }
  }
  for (const { cell, volumeM3 } of sumps.sumps) depths[cell] += volumeM3 / cellM2;
  const routed = routeConduits(shape, catchmentSums(terrain, depths), {
    durationH,
    pipeUseM3: fromRoofs.pipeUseM3,
  });
  return { roofs, fromRoofs, sumps, depths, routed };
}

/**
 * Lets a depth of rain run off its surfaces and roofs, and fill, spill and merge low spots while drains carry and
 * sumps add water.
 *
 * Static: the end of the storm, with no time in it and no seepage from standing water.
 *
 * @param rainMm - of the whole storm, at least 0.
 * Cost: O(n); the terrain is used as it is.
 */
export function stormOnGround(shape: ShapedGround, plan: LocalPlan, rainMm: number): StormOnGround {
  const { ground, terrain, cellM2 } = shape;
  const laid = layStorm(ground, plan, rainMm);
  const { roofs, fromRoofs, sumps, depths, routed } = letStand(shape, plan, laid);
  const depthM = waterSurface(terrain, routed.pools).depth;
  const passingM3 = accumulate(terrain.receiver, terrain.width, depths, depths);
  for (let cell = 0; cell < passingM3.length; cell++) passingM3[cell] *= cellM2;
  return {
    rainMm,
    surfaces: laid.surfaces,
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
      ...fromRoofs.notes,
      ...sumps.notes,
      ...routed.notes,
      ...durationNote(plan, routed.flows.length + fromRoofs.pipeUseM3.size, sumps.sumps.length),
    ],
  };
}

function durationNote(plan: LocalPlan, drains: number, sumps: number): string[] {
  if (drains + sumps === 0 || plan.plan.lotfall.storm?.duration_h !== undefined) return [];
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
