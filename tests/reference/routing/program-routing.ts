import { contributingShare } from '../../../lib/drainage/terrain/contributing-share';
import { Receivers } from '../../../lib/drainage/terrain/receivers';
import { makeRouting } from '../../../lib/drainage/terrain/routing';
import { settleStorm } from '../../../lib/drainage/storm/settle-storm';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import type { Routed } from './methods';
import { gatherPools, type Move } from './receiver-rules';

/** Routes as this program does. */
export function routeByProgram(
  z: Float32Array,
  width: number,
  height: number,
  cellM: number,
): Routed {
  const cellM2 = cellM * cellM;
  const routing = makeRouting(buildTerrain(z, width, height), cellM2);
  const ground = { conduits: [], pipes: new Map<string, never>() };
  const eachMove = (runOffM: Float64Array, move: Move): void => {
    const settled = settleStorm({ ground, routing, cellM2 }, runOffM, { durationH: 1 });
    const { arrives, pondWater, pools } = settled;
    const { upstreamFirst, ponds, terrain } = settled.routing;
    const receivers = new Receivers(settled.routing);
    const gather = gatherPools(terrain, pools, move);
    for (const i of upstreamFirst) {
      const pond = ponds.of[i];
      if (pond === 0) {
        const count = receivers.of(i);
        for (let k = 0; k < count; k++) {
          move(i, receivers.cells[k], receivers.shares[k] * arrives[i]);
        }
        continue;
      }
      // what a pond passes on goes through it from where it came in
      const passed = pondWater.passed[pond];
      const part = passed > 0 ? passed / pondWater.arrived[pond] : 0;
      gather(i, arrives[i] * (1 - part));
      if (part > 0) move(i, ponds.to[pond], arrives[i] * part);
    }
  };
  return { reaching: (isTarget) => contributingShare(routing, isTarget).share, eachMove };
}
