import { lotFlux } from '../drainage/answer/lot-flux';
import type { ShapedGround } from '../drainage/storm/shaped-ground';
import { LEAVES, NONE } from '../drainage/terrain/neighbours';
import { beyondSpill } from '../drainage/terrain/routing';
import { spreadStorm } from '../drainage/terrain/spread-flow';
import { areaM2, type Rings } from '../frame/shapes';
import type { LotReach } from './review-result';

/** A lot is cut where this much of the water of one edge cell, or more, would come to it. Our choice, no source. */
const leastAtEdge = 0.01;
/** A lot with less than this share of its outline in the data is cut: cells at its line are in or out as wholes. Our choice, no source. */
const leastInData = 0.98;
/** Low spots without a way out of their own spill in rounds; after so many next to nothing is left. */
const mostRounds = 30;

/**
 * Whether each lot, and all ground that drains to it, is in the elevation data.
 *
 * Water is put down on the cells into which ground beyond the data would drain, and runs down with every low spot full: a lot
 * that any of it comes to is cut. On the safe side: water that is spread over many cells is added up again.
 *
 * Cost: O(n) for all lots together.
 */
export function lotReaches(shape: ShapedGround, outlines: readonly Rings[]): LotReach[] {
  const { ground, routing, cellM2 } = shape;
  const { lots, lotOf } = ground;
  const fromEdge = insideEdge(shape);
  const arrives = fromEdge.slice();
  const pondWater = runDown(shape, arrives);
  const { lines, putDownM3 } = lotFlux(
    {
      routing,
      putDownM3: fromEdge,
      arrivesM3: arrives,
      pondWaterM3: pondWater,
      keepers: 0,
      keeperOfPool: new Int32Array(),
      keeperOfPond: new Int32Array(routing.ponds.count + 1).fill(-1),
      poolOfPit: new Int32Array(),
      keptM3: new Float64Array(),
      leaving: [],
    },
    lotOf,
    lots.length,
    new Float32Array(),
  );
  const comes = putDownM3.slice();
  for (const { a, b, aToBGrossM3, bToAGrossM3 } of lines) {
    comes[b] += aToBGrossM3;
    comes[a] += bToAGrossM3;
  }
  // What is in a pond is on the ground of all who have a part of it.
  const { of } = routing.ponds;
  return lots.map(({ cells }, lot) => {
    let known = 0;
    for (const cell of cells) {
      if (!Number.isNaN(ground.grid.z[cell])) known++;
      if (of[cell] !== 0) comes[lot] = Math.max(comes[lot], pondWater.arrived[of[cell]]);
    }
    if (known === 0) return 'outside';
    const isWhole =
      comes[lot] < leastAtEdge && known * cellM2 >= leastInData * areaM2(outlines[lot]);
    return isWhole ? 'whole' : 'cut';
  });
}

/** 1 in cells to which a cell at the edge of the data would pass on what came from beyond, and in those cells themselves. */
function insideEdge({ routing: { surface, terrain } }: ShapedGround): Float64Array<ArrayBuffer> {
  const { receiver, width, height } = terrain;
  const found = new Float64Array(receiver.length);
  for (let cell = 0; cell < receiver.length; cell++) {
    if (receiver[cell] !== LEAVES) continue;
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    for (let r = Math.max(0, row - 1); r <= Math.min(height - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(width - 1, column + 1); c++) {
        const next = r * width + c;
        if (receiver[next] < NONE && surface[next] <= surface[cell]) found[next] = 1;
      }
    }
  }
  return found;
}

/** Runs water down with all low spots full. @param water - what is put down; on return what arrives. */
function runDown(
  { routing }: ShapedGround,
  water: Float64Array,
): { arrived: Float64Array; passed: Float64Array } {
  const { ponds, terrain } = routing;
  const putDown = water.slice();
  const none = new Float64Array(ponds.count + 1);
  const spilled = new Float64Array(ponds.count + 1);
  for (let round = 0; ; round++) {
    water.set(putDown);
    for (let pond = 1; pond <= ponds.count; pond++) {
      if (spilled[pond] === 0) continue;
      const to = beyondSpill(terrain, terrain.tree.root[ponds.node[pond]]);
      if (to !== -1) water[to] += spilled[pond];
    }
    const { arrived, passed } = spreadStorm(routing, water, none);
    let change = 0;
    for (let pond = 1; pond <= ponds.count; pond++) {
      if (ponds.to[pond] !== -1) continue;
      change = Math.max(change, Math.abs(arrived[pond] - spilled[pond]));
      spilled[pond] = arrived[pond];
    }
    if (change < 1e-6 || round >= mostRounds) return { arrived, passed };
  }
}
