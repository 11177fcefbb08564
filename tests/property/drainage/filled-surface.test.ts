import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { Workspace } from '../../../lib/drainage/terrain/workspace';
import { filledByRelaxation, leavesAt, smallGround, sum, type SmallGround } from './grounds';

const settings = { numRuns: 400, seed: 20251125 };

function filledOf({ z, width, height }: SmallGround): Float32Array {
  return buildTerrain(z, width, height).filled;
}

function transposed({ z, width, height }: SmallGround): SmallGround {
  const values = z.map((_, at) => z[(at % height) * width + Math.floor(at / height)]);
  return { width: height, height: width, z: values };
}

function mirrored({ z, width, height }: SmallGround): SmallGround {
  const values = z.map((_, at) => z[at - (at % width) + (width - 1 - (at % width))]);
  return { width, height, z: values };
}

describe('filled surface', () => {
  it('equals the lowest way out found by relaxation, with any shape and holes', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        expect(filledOf(ground)).toEqual(filledByRelaxation(ground));
      }),
      { ...settings, numRuns: 2000 },
    );
  });

  it('is the same when a workspace is used again for grounds of other sizes', () => {
    const workspace = new Workspace();
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { filled } = buildTerrain(ground.z, ground.width, ground.height, { workspace });
        expect(filled).toEqual(filledOf(ground));
      }),
      settings,
    );
  });

  it('is never below the ground and equals it where water leaves the map', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        filledOf(ground).forEach((level, cell) => {
          if (Number.isNaN(ground.z[cell])) return;
          expect(level).toBeGreaterThanOrEqual(ground.z[cell]);
          if (leavesAt(ground, cell)) expect(level).toBe(ground.z[cell]);
        });
      }),
      settings,
    );
  });

  it('stays as it is when filled again', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const once = filledOf(ground);
        expect(filledOf({ ...ground, z: once })).toEqual(once);
      }),
      settings,
    );
  });

  it('moves with the ground when all of it is raised by one', () => {
    fc.assert(
      fc.property(smallGround({ kinds: ['plateaus', 'eighths'] }), (ground) => {
        const raised = filledOf({ ...ground, z: ground.z.map((height) => height + 1) });
        expect(raised).toEqual(filledOf(ground).map((level) => level + 1));
      }),
      settings,
    );
  });

  it('never sinks when a cell is raised', () => {
    fc.assert(
      fc.property(smallGround({}), fc.nat(), fc.integer({ min: 1, max: 5 }), (ground, at, by) => {
        const z = ground.z.slice();
        z[at % z.length] += by;
        const before = filledOf(ground);
        filledOf({ ...ground, z }).forEach((level, cell) => {
          expect(level).toBeGreaterThanOrEqual(before[cell]);
        });
      }),
      settings,
    );
  });

  it('never rises when a cell becomes an outlet', () => {
    fc.assert(
      fc.property(smallGround({}), fc.nat(), (ground, at) => {
        const z = ground.z.slice();
        z[at % z.length] = Number.NaN;
        const before = filledOf(ground);
        filledOf({ ...ground, z }).forEach((level, cell) => {
          if (!Number.isNaN(level)) expect(level).toBeLessThanOrEqual(before[cell]);
        });
      }),
      settings,
    );
  });

  it('does not depend on how the map is turned or mirrored', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const filled = { ...ground, z: filledOf(ground) };
        expect(filledOf(transposed(ground))).toEqual(transposed(filled).z);
        expect(filledOf(mirrored(ground))).toEqual(mirrored(filled).z);
      }),
      settings,
    );
  });
});

describe('tree of low spots', () => {
  it('holds as much in its roots as lies between ground and filled surface', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { tree, volume, filled } = buildTerrain(ground.z, ground.width, ground.height);
        const roots = sum(volume.filter((_, node) => tree.isRoot[node] === 1));
        const between = sum(filled.map((level, cell) => level - ground.z[cell]));
        expect(roots).toBeCloseTo(between, 4);
      }),
      settings,
    );
  });

  it('has children before parents, spill levels that never fall upwards, and a root for every pit', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { tree } = buildTerrain(ground.z, ground.width, ground.height);
        for (let node = 1; node < tree.nodes; node++) {
          const above = tree.parent[node];
          expect(above === 0).toBe(tree.isRoot[node] === 1);
          if (above === 0) continue;
          expect(above).toBeGreaterThan(node);
          expect(tree.spill[above]).toBeGreaterThanOrEqual(tree.spill[node]);
          expect([tree.child0[above], tree.child1[above]]).toContain(node);
        }
      }),
      settings,
    );
  });

  it('measures each low spot as the sum of depths of its catchments below its spill level', () => {
    fc.assert(
      fc.property(smallGround({ holes: true, most: 16 }), (ground) => {
        const { tree, volume, cellsBelow, catchment } = buildTerrain(
          ground.z,
          ground.width,
          ground.height,
        );
        for (let node = 1; node < tree.nodes; node++) {
          const pits = new Set(tree.pitOrder.subarray(tree.pitStart[node], tree.pitEnd[node]));
          const depths = [...ground.z]
            .filter((height, cell) => pits.has(catchment[cell]) && height < tree.spill[node])
            .map((height) => tree.spill[node] - height);
          expect(cellsBelow[node]).toBe(depths.length);
          expect(volume[node]).toBeCloseTo(sum(depths), 9);
        }
      }),
      settings,
    );
  });

  it('spills over two touching cells, the higher one at the spill level, into the named catchment', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { tree, catchment } = buildTerrain(ground.z, ground.width, ground.height);
        for (let node = 1; node < tree.nodes; node++) {
          const from = tree.spillFrom[node];
          const to = tree.spillTo[node];
          const columns = Math.abs((from % ground.width) - (to % ground.width));
          const rows = Math.abs(Math.floor(from / ground.width) - Math.floor(to / ground.width));
          expect(Math.max(columns, rows)).toBe(1);
          expect(Math.max(ground.z[from], ground.z[to])).toBe(tree.spill[node]);
          expect(catchment[to]).toBe(tree.destination[node]);
          const pits = tree.pitOrder.subarray(tree.pitStart[node], tree.pitEnd[node]);
          expect(pits).toContain(catchment[from]);
          expect(pits).not.toContain(catchment[to]);
        }
      }),
      settings,
    );
  });

  it('lets receivers go down to the pit of the catchment, or off the map', () => {
    fc.assert(
      fc.property(smallGround({ holes: true }), (ground) => {
        const { tree, catchment, receiver } = buildTerrain(ground.z, ground.width, ground.height);
        const offset = [1, ground.width + 1, ground.width, ground.width - 1].flatMap((o) => [o]);
        const offsets = [...offset, ...offset.map((o) => -o)];
        for (let start = 0; start < ground.z.length; start++) {
          if (Number.isNaN(ground.z[start])) continue;
          let cell = start;
          while (receiver[cell] < 8) {
            const next = cell + offsets[receiver[cell]];
            expect(ground.z[next]).toBeLessThanOrEqual(ground.z[cell]);
            cell = next;
          }
          expect(receiver[cell]).toBe(leavesAt(ground, cell) ? 9 : 8);
          expect(catchment[start]).toBe(Math.max(0, tree.pitCells.indexOf(cell)));
        }
      }),
      settings,
    );
  });
});
