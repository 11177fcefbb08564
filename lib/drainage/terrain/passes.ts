import { COLUMN_STEP, INVERSE_STEP, LEAVES, ROW_STEP } from './neighbours';
import { groupCount, groupOf } from './steepest-descent';
import type { Workspace } from './workspace';

/** Passes between adjacent catchments, parallel arrays in index order of their cells. */
export interface Passes {
  readonly count: number;
  /** The pass cell: the higher of the two cells, at the pass's height. */
  readonly cell: Int32Array;
  /** Its lower neighbour on the other side. */
  readonly across: Int32Array;
  /** Number of the catchment that holds `cell`, and of the one that holds `across`; 0 is outside. */
  readonly near: Int32Array;
  readonly far: Int32Array;
  /** Bits of the pass's height as Float32. */
  readonly heightBits: Int32Array;
}

/**
 * Finds the places where water can pass from one catchment to another: enough of them that the
 * lowest way between any two cells is kept, and few.
 *
 * Let cells be put under water one after another in their total order (height, then index). A cell
 * joins the groups into which its lower neighbours fall; within a group they are joined already. So
 * a pass is needed once for each group that does not hold the cell's own receiver, and nowhere
 * else. The pass leads to the steepest neighbour of the group.
 *
 * Cost: O(number of pass cells).
 */
export function findPasses(
  z: Float32Array,
  width: number,
  height: number,
  receiver: Uint8Array,
  lower: Uint8Array,
  label: Int32Array,
  passCells: Int32Array,
  workspace: Workspace,
): Passes {
  let most = 0;
  for (let at = 0; at < passCells.length; at++) most += groupCount[lower[passCells[at]]];
  const cell = workspace.int32('pass cell', most);
  const across = workspace.int32('pass across', most);
  const near = workspace.int32('pass near', most);
  const far = workspace.int32('pass far', most);
  const heightBits = workspace.int32('pass height', most);
  const bits = new Int32Array(z.buffer, z.byteOffset, z.length);
  const offsets = Int32Array.from(COLUMN_STEP, (column, code) => column + ROW_STEP[code] * width);
  const inverseStep = Float64Array.from(INVERSE_STEP);
  let count = 0;
  for (let at = 0; at < passCells.length; at++) {
    const i = passCells[at];
    const own = label[i];
    const mask = lower[i];
    const code = receiver[i];
    let rest =
      code === LEAVES
        ? mask & ~groupsOutside(z, width, height, i, mask)
        : mask & ~groupOf[mask * 8 + code];
    while (rest !== 0) {
      const group = groupOf[mask * 8 + 31 - Math.clz32(rest)];
      rest &= ~group;
      const to = i + offsets[steepestOf(group, z, i, offsets, inverseStep)];
      const other = label[to];
      cell[count] = i;
      across[count] = to;
      near[count] = own;
      far[count] = other;
      heightBits[count] = bits[i];
      count += other === own ? 0 : 1;
    }
  }
  return { count, cell, across, near, far, heightBits };
}

function steepestOf(
  group: number,
  z: Float32Array,
  i: number,
  offsets: Int32Array,
  inverseStep: Float64Array,
): number {
  let chosen = -1;
  let steepest = -1;
  for (let rest = group; rest !== 0;) {
    const direction = 31 - Math.clz32(rest);
    rest ^= 1 << direction;
    const slope = (z[i] - z[i + offsets[direction]]) * inverseStep[direction];
    if (slope >= steepest) {
      steepest = slope;
      chosen = direction;
    }
  }
  return chosen;
}

/** The groups of lower neighbours, of a cell that leaves the map, which touch the outside. */
function groupsOutside(
  z: Float32Array,
  width: number,
  height: number,
  i: number,
  mask: number,
): number {
  const row = Math.floor(i / width);
  const column = i - row * width;
  let groups = 0;
  for (let direction = 0; direction < 8; direction++) {
    const r = row + ROW_STEP[direction];
    const c = column + COLUMN_STEP[direction];
    const inside = r >= 0 && r < height && c >= 0 && c < width && !Number.isNaN(z[r * width + c]);
    if (!inside) groups |= groupOf[mask * 8 + direction];
  }
  return groups;
}
