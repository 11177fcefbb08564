import type { XY } from '../../frame/frame';
import { meshCellAt, meshCentre, type Mesh } from '../refused/mesh';

/** Ways from one place to every cell of a mesh near it. */
export interface LeadField {
  /** Effort of the best way to each cell, metres of open ground; `Infinity` where none leads. */
  readonly effortM: Float32Array;
  /** Length of that way over the mesh, metres. */
  readonly lengthM: Float32Array;
  /** The cell before each on its way, -1 at the start. */
  readonly from: Int32Array;
}

/** A start is moved to the nearest cell that can be dug within this reach, metres. */
const startReachM = 1.5;
/** Steps in tenths of a cell: 10 straight, 14 across a corner, so that whole numbers will do. */
const straight = 10;
const corner = 14;

/**
 * The ways of least effort from a place over a mesh, by Dijkstra's method with the waiting cells in buckets of equal
 * effort (Dial 1969, from memory).
 *
 * Lengths over the mesh are up to 8 % longer than the straight way.
 *
 * @param effort - effort of a metre in each cell; 0 where no way leads.
 * @param reachM - no way longer than this over the mesh.
 * @returns `null` when no cell near the place can be dug.
 * Cost: linear in the cells within reach.
 */
export function leadField(
  mesh: Mesh,
  effort: Uint8Array,
  from: XY,
  reachM: number,
): LeadField | null {
  const start = nearestOpen(mesh, effort, from);
  if (start === -1) return null;
  const count = effort.length;
  const best = new Int32Array(count).fill(-1);
  const steps = new Int32Array(count);
  const before = new Int32Array(count).fill(-1);
  const done = new Uint8Array(count);
  const farthest = (reachM / mesh.cellM) * straight;
  const buckets: number[][] = [[start]];
  best[start] = 0;
  const { columns, rows } = mesh;
  for (let at = 0; at < buckets.length; at++) {
    // Cells join the bucket that is being emptied only through steps of no effort, of which there are none.
    for (const cell of buckets[at] ?? []) {
      if (done[cell] === 1) continue;
      done[cell] = 1;
      const row = Math.floor(cell / columns);
      const column = cell - row * columns;
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const r = row + dy;
          const c = column + dx;
          if (r < 0 || c < 0 || r >= rows || c >= columns) continue;
          const next = r * columns + c;
          if (effort[next] === 0 || done[next] === 1) continue;
          // No slipping between two cells that touch at a corner.
          if (dx !== 0 && dy !== 0) {
            if (effort[row * columns + c] === 0 || effort[r * columns + column] === 0) continue;
          }
          const step = dx !== 0 && dy !== 0 ? corner : straight;
          if (steps[cell] + step > farthest) continue;
          const cost = at + (step * (effort[cell] + effort[next])) / 2;
          if (best[next] !== -1 && best[next] <= cost) continue;
          best[next] = cost;
          steps[next] = steps[cell] + step;
          before[next] = cell;
          (buckets[cost] ??= []).push(next);
        }
      }
    }
  }
  const unit = mesh.cellM / straight;
  return {
    effortM: Float32Array.from(best, (cost) => (cost === -1 ? Infinity : cost * unit)),
    lengthM: Float32Array.from(steps, (length, i) => (best[i] === -1 ? Infinity : length * unit)),
    from: before,
  };
}

/** The way to a cell as the middles of its cells, the start first. */
export function wayTo(mesh: Mesh, field: LeadField, cell: number): XY[] {
  const way: XY[] = [];
  for (let at = cell; at !== -1; at = field.from[at]) way.push(meshCentre(mesh, at));
  return way.reverse();
}

function nearestOpen(mesh: Mesh, effort: Uint8Array, [x, y]: XY): number {
  const own = meshCellAt(mesh, x, y);
  if (own !== -1 && effort[own] > 0) return own;
  let nearest = -1;
  let leastM = startReachM;
  const steps = Math.ceil(startReachM / mesh.cellM);
  for (let dy = -steps; dy <= steps; dy++) {
    for (let dx = -steps; dx <= steps; dx++) {
      const cell = meshCellAt(mesh, x + dx * mesh.cellM, y + dy * mesh.cellM);
      if (cell === -1 || effort[cell] === 0) continue;
      const [cx, cy] = meshCentre(mesh, cell);
      const gapM = Math.hypot(cx - x, cy - y);
      if (gapM < leastM) {
        leastM = gapM;
        nearest = cell;
      }
    }
  }
  return nearest;
}
