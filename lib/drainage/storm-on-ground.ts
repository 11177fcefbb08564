import type { LocalPlan } from '../plan/local-plan';
import { roofCurveNumber } from '../storm/curve-numbers';
import { runOffMm } from '../storm/run-off';
import { accumulate } from './accumulate';
import { catchmentSums } from './catchment-sums';
import type { Flow, Pools } from './lot-ledger';
import { pourStorm, type StormPools } from './pour-storm';
import { roofWater, type RoofWater } from './roof-water';
import type { ShapedGround } from './shaped-ground';
import { surfaceRunOffM, surfaces, type Surfaces } from './surface-run-off';
import { waterSurface } from './water-surface';

/** One storm on one ground: run-off, roofs' water, pools. Volumes in cubic metres. */
export interface StormOnGround {
  readonly rainMm: number;
  readonly surfaces: Surfaces;
  readonly roofs: RoofWater;
  /** Depth that runs off roofs, metres. */
  readonly roofRunOffM: number;
  readonly flow: Flow;
  readonly stormPools: StormPools;
  readonly pools: Pools;
  /** Depth of standing water by cell when the storm is over, metres. */
  readonly depthM: Float32Array;
}

/**
 * Lets a depth of rain run off its surfaces and roofs, and fill, spill and merge low spots.
 *
 * Static: the end of the storm, with no time in it and no seepage from standing water.
 *
 * @param rainMm - of the whole storm, at least 0.
 * Cost: O(n); the terrain is used as it is.
 */
export function stormOnGround(shape: ShapedGround, plan: LocalPlan, rainMm: number): StormOnGround {
  const { ground, terrain, cellM2 } = shape;
  const laid = surfaces(ground, plan);
  const roofs = roofWater(ground, plan);
  const roofRunOffM = runOffMm(rainMm, roofCurveNumber) / 1000;

  // Depth over a cell, so that volumes are depth times cell area throughout.
  const depths = surfaceRunOffM(ground.grid, ground, laid.curveNumbers, rainMm);
  for (const outlet of roofs.outlets) {
    const depth = (outlet.areaM2 * roofRunOffM) / cellM2 / outlet.cells.length;
    for (const cell of outlet.cells) depths[cell] += depth;
  }
  const stormPools = pourStorm(terrain, catchmentSums(terrain, depths));
  const depthM = waterSurface(terrain, stormPools).depth;
  const passingM3 = accumulate(terrain.receiver, terrain.width, depths, depths);
  for (let cell = 0; cell < passingM3.length; cell++) passingM3[cell] *= cellM2;
  return {
    rainMm,
    surfaces: laid,
    roofs,
    roofRunOffM,
    flow: {
      width: terrain.width,
      receiver: terrain.receiver,
      catchment: terrain.catchment,
      passingM3,
    },
    stormPools,
    pools: linkPools(shape, stormPools),
    depthM,
  };
}

/** The pools with volumes in cubic metres and the cells they spill over. */
function linkPools({ terrain, cellM2 }: ShapedGround, pools: StormPools): Pools {
  const { tree } = terrain;
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
  return { count, ofCatchment: pools.poolOfPit, storedM3, spilledM3, spillFrom, spillTo };
}
