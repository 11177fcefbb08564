import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accumulate, upstreamFirst } from '../../../lib/drainage/terrain/accumulate';
import { contributingShare } from '../../../lib/drainage/terrain/contributing-share';
import { flowPath } from '../../../lib/drainage/terrain/flow-path';
import { neighbourOffsets } from '../../../lib/drainage/terrain/neighbours';
import { makeRouting, type Routing } from '../../../lib/drainage/terrain/routing';
import { spreadFlow } from '../../../lib/drainage/terrain/spread-flow';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { leavesAt, neighboursOf, smallGround, sum, type SmallGround } from './grounds';

const settings = { numRuns: 400, seed: 20251126 };

function routingOf({ z, width, height }: SmallGround): Routing {
  return makeRouting(buildTerrain(z, width, height));
}

function dataCells({ z }: SmallGround): number {
  return z.filter((height) => !Number.isNaN(height)).length;
}

/** Weights that sum without rounding. */
function weightsFor(ground: SmallGround): Float64Array {
  return Float64Array.from(ground.z, (height, cell) => (Number.isNaN(height) ? 0 : 1 + (cell % 7)));
}

describe('flow directions', () => {
  it('never climb, have no loops and bring every cell to the edge', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), (ground) => {
        const { directions, terrain } = routingOf(ground);
        const offsets = neighbourOffsets(ground.width);
        let left = 0;
        const through = accumulate(directions, ground.width);
        for (let cell = 0; cell < directions.length; cell++) {
          if (Number.isNaN(ground.z[cell])) {
            expect(directions[cell]).toBe(8);
          } else if (leavesAt(ground, cell)) {
            expect(directions[cell]).toBe(9);
            left += through[cell];
          } else {
            expect(directions[cell]).toBeLessThan(8);
            const next = cell + offsets[directions[cell]];
            expect(terrain.filled[next]).toBeLessThanOrEqual(terrain.filled[cell]);
          }
        }
        expect(left).toBe(dataCells(ground));
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('take the steepest way wherever a neighbour is lower', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { directions, terrain } = routingOf(ground);
        const offsets = neighbourOffsets(ground.width);
        const { filled } = terrain;
        const slope = (cell: number, next: number): number => {
          const rowAway = Math.floor(next / ground.width) !== Math.floor(cell / ground.width);
          const columnAway = next % ground.width !== cell % ground.width;
          return (filled[cell] - filled[next]) * (rowAway && columnAway ? Math.SQRT1_2 : 1);
        };
        for (let cell = 0; cell < filled.length; cell++) {
          if (directions[cell] >= 8) continue;
          const steepest = Math.max(
            0,
            ...neighboursOf(ground, cell).map((next) => slope(cell, next)),
          );
          expect(slope(cell, cell + offsets[directions[cell]])).toBeCloseTo(steepest, 6);
        }
      }),
      settings,
    );
  });
});

describe('upstream-first order', () => {
  it('lists every cell once, before the cell it drains to', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { receiver } = buildTerrain(ground.z, ground.width, ground.height);
        const offsets = neighbourOffsets(ground.width);
        const order = upstreamFirst(receiver, ground.width);
        const place = new Int32Array(order.length).fill(-1);
        order.forEach((cell, at) => (place[cell] = at));
        expect(place).not.toContain(-1);
        order.forEach((cell, at) => {
          if (receiver[cell] < 8) expect(place[cell + offsets[receiver[cell]]]).toBeGreaterThan(at);
        });
      }),
      settings,
    );
  });
});

describe('multiple flow', () => {
  it('loses nothing: what leaves the map is what was put on it', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), (ground) => {
        const routing = routingOf(ground);
        const leaving = (water: Float64Array): number =>
          sum(water.filter((_, cell) => routing.directions[cell] === 9));
        expect(routing.upstreamFirst.length).toBe(dataCells(ground));
        expect(leaving(spreadFlow(routing))).toBeCloseTo(dataCells(ground), 9);
        const weights = weightsFor(ground);
        expect(leaving(spreadFlow(routing, weights))).toBeCloseTo(sum(weights), 9);
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('run backwards gives the share of each cell that arrives: both agree at any target', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), fc.nat(), (ground, at) => {
        const target = at % ground.z.length;
        if (Number.isNaN(ground.z[target])) return;
        const routing = routingOf(ground);
        const { share, cells } = contributingShare(routing, [target]);
        const weights = weightsFor(ground);
        const arriving = sum(weights.map((weight, cell) => weight * share[cell]));
        expect(arriving).toBeCloseTo(spreadFlow(routing, weights)[target], 3);
        expect(cells).toBeCloseTo(spreadFlow(routing)[target], 4);
        share.forEach((part) => {
          expect(part).toBeGreaterThanOrEqual(0);
          expect(part).toBeLessThanOrEqual(1);
        });
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('shares all water among the cells that leave the map', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const routing = routingOf(ground);
        const mask = routing.directions.map((code) => (code === 9 ? 1 : 0));
        const { share, cells, cutByEdge } = contributingShare(routing, mask);
        expect(cells).toBeCloseTo(dataCells(ground), 3);
        expect(cutByEdge).toBe(dataCells(ground) > 0);
        share.forEach((part, cell) => {
          expect(part).toBeCloseTo(Number.isNaN(ground.z[cell]) ? 0 : 1, 5);
        });
      }),
      settings,
    );
  });
});

describe('flow path', () => {
  it('goes from neighbour to neighbour, never up, never to a cell twice, until the edge', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), fc.nat(), (ground, at) => {
        const start = at % ground.z.length;
        const routing = routingOf(ground);
        const { cells, points } = flowPath(routing, start);
        if (Number.isNaN(ground.z[start])) {
          expect(cells.length).toBe(0);
          return;
        }
        const { filled } = routing.terrain;
        expect(new Set(cells).size).toBe(cells.length);
        expect(cells[0]).toBe(start);
        expect(leavesAt(ground, cells[cells.length - 1])).toBe(true);
        cells.forEach((cell, step) => {
          expect(Math.abs(points[2 * step] - 0.5 - (cell % ground.width))).toBeLessThanOrEqual(0.5);
          const row = Math.floor(cell / ground.width);
          expect(Math.abs(points[2 * step + 1] - 0.5 - row)).toBeLessThanOrEqual(0.5);
          if (step === 0) return;
          expect(neighboursOf(ground, cells[step - 1])).toContain(cell);
          expect(filled[cell]).toBeLessThanOrEqual(filled[cells[step - 1]]);
        });
      }),
      { ...settings, numRuns: 1000 },
    );
  });

  it('names the low spots that it crosses', () => {
    fc.assert(
      fc.property(smallGround({ most: 16 }), fc.nat(), (ground, at) => {
        const { terrain, ...rest } = routingOf(ground);
        const { cells, ponds } = flowPath({ terrain, ...rest }, at % ground.z.length);
        cells.forEach((cell, step) => {
          const inside = ponds.filter((pond) => pond.first <= step && step <= pond.last);
          const isUnder = terrain.filled[cell] > ground.z[cell];
          expect(inside.map((pond) => pond.node)).toEqual(
            isUnder ? [terrain.tree.root[terrain.catchment[cell]]] : [],
          );
        });
      }),
      settings,
    );
  });
});
