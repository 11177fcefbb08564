import type { Edges } from '../../elevation/window/plan-window';
import { LEAVES } from './neighbours';
import type { Routing } from './routing';

/** Where ground that contributes runs into the end of the grid: at one of its sides, or at cells without data inside it. */
export type CutSide = keyof Edges | 'inside';

/** Edge cells count as cutting the area when the cell that they fall to gives at least this share. Our choice, no source. */
const LEAST_SHARE_AT_EDGE = 0.01;

/**
 * Where water from beyond the data would have come to a target: where a cell at their edge is itself in the target, or
 * stands no lower than a neighbour that contributes.
 *
 * @param share - of each cell's water, what reaches the target.
 * Cost: O(n).
 */
export function findCutSides(
  { surface, terrain: { receiver, width, height } }: Routing,
  isTarget: Uint8Array,
  share: Float64Array,
): readonly CutSide[] {
  const sides = new Set<CutSide>();
  for (let i = 0; i < receiver.length; i++) {
    if (receiver[i] !== LEAVES) continue;
    const row = Math.floor(i / width);
    const column = i - row * width;
    if (isTarget[i] === 0 && !fallsToContributor(i, row, column)) continue;
    if (row === 0) sides.add('north');
    if (row === height - 1) sides.add('south');
    if (column === 0) sides.add('west');
    if (column === width - 1) sides.add('east');
    const isInside = row > 0 && row < height - 1 && column > 0 && column < width - 1;
    if (isInside) sides.add('inside');
  }
  return [...sides];

  function fallsToContributor(i: number, row: number, column: number): boolean {
    const lastRow = Math.min(height - 1, row + 1);
    const lastColumn = Math.min(width - 1, column + 1);
    for (let r = Math.max(0, row - 1); r <= lastRow; r++) {
      for (let c = Math.max(0, column - 1); c <= lastColumn; c++) {
        const next = r * width + c;
        if (share[next] >= LEAST_SHARE_AT_EDGE && surface[next] <= surface[i]) return true;
      }
    }
    return false;
  }
}
