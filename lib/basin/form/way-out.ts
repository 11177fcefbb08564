import type { XY } from '../../frame/frame';
import { cellAt, cellCentre } from '../../elevation/grid';
import type { FinishedBasin } from './finished-basin';

/** How water really leaves a full basin, over its finished ground. */
export interface WayOut {
  /** Level over the sill to which water rises before it leaves the ground around the basin, metres; 0 when the notch works. */
  readonly overSillM: number;
  /** The highest place of that way, local metres. */
  readonly at: XY;
  readonly notes: readonly string[];
}

/** Rises smaller than this are the roughness of a lawn, metres. */
const worthTellingM = 0.02;

/**
 * The lowest way from the floor of a basin to the edge of the ground around it: fills from the deepest place upwards,
 * always on from the lowest cell reached, until it comes out.
 *
 * Tells of a notch on the high side or on level ground, where water would back up until it ran over the rim, and of a basin
 * in a hollow.
 *
 * Cost: O(n log n) for the cells below that level.
 */
export function wayOut(finished: FinishedBasin): WayOut {
  const { form, grid } = finished;
  const { width, height, z } = grid;
  const start = cellAt(grid, ...form.deepestAt);
  const seen = new Uint8Array(z.length);
  const heap: number[] = [];
  push(heap, z, start);
  seen[start] = 1;
  let levelM = -Infinity;
  let highest = start;
  while (heap.length > 0) {
    const cell = pop(heap, z);
    if (z[cell] > levelM) {
      levelM = z[cell];
      highest = cell;
    }
    const row = Math.floor(cell / width);
    const column = cell - row * width;
    if (row === 0 || column === 0 || row === height - 1 || column === width - 1) break;
    for (const next of [cell - 1, cell + 1, cell - width, cell + width]) {
      if (seen[next] === 1) continue;
      seen[next] = 1;
      // no data is where nobody knows: out
      if (Number.isNaN(z[next])) return found(levelM, highest);
      push(heap, z, next);
    }
  }
  return found(levelM, highest);

  function found(level: number, cell: number): WayOut {
    const overSillM = Math.max(0, level - form.overflowM);
    const at = cellCentre(grid, cell);
    return { overSillM, at, notes: notesOn(overSillM, finished) };
  }
}

function notesOn(overSillM: number, { form, before }: FinishedBasin): string[] {
  if (overSillM < worthTellingM) return [];
  const cm = `${Math.round(overSillM * 100)} cm`;
  if (overSillM > form.freeboardM + worthTellingM) {
    return [
      `The ground around it holds water ${cm} over the notch before it runs on: it lies in a hollow.`,
    ];
  }
  const hasLowSide = form.cells.some((cell) => before.z[cell] < form.overflowM);
  return [
    `Ground before the notch backs water up ${cm} over it: ${
      hasLowSide
        ? 'set the notch on the low side.'
        : 'lead it on to lower ground in a shallow swale, or have less freeboard.'
    }`,
  ];
}

function push(heap: number[], z: Float32Array, cell: number): void {
  let at = heap.length;
  heap.push(cell);
  while (at > 0) {
    const parent = (at - 1) >> 1;
    if (z[heap[parent]] <= z[cell]) break;
    heap[at] = heap[parent];
    at = parent;
  }
  heap[at] = cell;
}

function pop(heap: number[], z: Float32Array): number {
  const top = heap[0];
  const last = heap.pop();
  if (last === undefined || heap.length === 0) return top;
  let at = 0;
  for (;;) {
    let child = 2 * at + 1;
    if (child >= heap.length) break;
    if (child + 1 < heap.length && z[heap[child + 1]] < z[heap[child]]) child++;
    if (z[last] <= z[heap[child]]) break;
    heap[at] = heap[child];
    at = child;
  }
  heap[at] = last;
  return top;
}
