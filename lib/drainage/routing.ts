import { assert } from '../errors';
import { flowDirections } from './flow-directions';
import { NONE, neighbourOffsets } from './neighbours';
import type { Terrain } from './terrain';
import { Workspace } from './workspace';

const DONE = 255;

/**
 * Low spots that count as one water: what comes to one anywhere is held in it until it is full, and what it cannot hold
 * leaves at its exit. Numbered from 1; arrays have `count + 1` elements but for `of`.
 */
export interface Ponds {
  readonly count: number;
  /** The pond that each cell lies in, were it full; 0 for all other ground. */
  readonly of: Int32Array;
  /** Its node in the tree of low spots; no node lies inside another's. */
  readonly node: Int32Array;
  /** The last of its cells on the way out; -1 where its brim leads nowhere lower than the brim of another. */
  readonly exit: Int32Array;
}

/**
 * How water spreads over a terrain. Arrays belong to the terrain's workspace.
 *
 * Multiple flow with exponent 1: a cell's water is shared among its lower neighbours in proportion to slope; where none is
 * lower, and only there, it takes the single direction. The surface is the ground with its ponds full. A low spot that is too large
 * to count as one water is not filled up: its own ground is run over like any other, down to the ponds inside it or to its pit.
 */
export interface Routing {
  readonly terrain: Terrain;
  /** Single-flow directions on the filled surface: for ways as lines. */
  readonly directions: Uint8Array;
  /** Heights of the surface that water spreads over, and the single-flow directions on it. */
  readonly surface: Float32Array;
  readonly spreadDirections: Uint8Array;
  /** All cells with data; each comes before every cell that it gives water to. */
  readonly upstreamFirst: Int32Array;
  readonly ponds: Ponds;
  readonly cellM2: number;
  /** Large low spots that are one water all the same. */
  readonly oneWater: ReadonlySet<number>;
}

/** A low spot up to this area is one water, m2; a larger one only where it is shallow. Our choices, no source. */
const pondM2 = 150;
const shallowM = 0.05;

/**
 * Prepares routing over a terrain: surface, single-flow directions and an order of cells, computed once
 * and good for any number of sweeps.
 *
 * @param cellM2 - area of a cell, which tells how large low spots are.
 * Cost: O(n), the order about 20 passes over the grid.
 */
export function makeRouting(terrain: Terrain, cellM2 = 1): Routing {
  const { filled, width, height, workspace } = terrain;
  const heights = { heights: filled, width, height };
  const directions = flowDirections(heights, workspace, 'flow directions');
  return routingOver(terrain, directions, cellM2, new Set(), workspace);
}

/**
 * The same with some low spots as one water, whatever their size: those that a storm fills to the brim. Arrays are its own.
 *
 * @param whole - nodes of the tree, added to those of earlier calls.
 */
export function withOneWater(
  { terrain, directions, cellM2, oneWater }: Routing,
  whole: Iterable<number>,
): Routing {
  return routingOver(
    terrain,
    directions,
    cellM2,
    new Set([...oneWater, ...whole]),
    new Workspace(),
  );
}

function routingOver(
  terrain: Terrain,
  directions: Uint8Array,
  cellM2: number,
  oneWater: ReadonlySet<number>,
  workspace: Workspace,
): Routing {
  const { filled, width, height } = terrain;
  const size = filled.length;
  const nodes = pondNodes(terrain, pondM2 / cellM2, oneWater, workspace);
  const surface = nodes.whole ? filled : pondSurface(terrain, nodes.levelOfPit, workspace);
  const spreadDirections = nodes.whole
    ? directions
    : flowDirections({ heights: surface, width, height }, workspace, 'spread directions');
  const donors = workspace.uint8('cell bytes', size);
  // The directions are done with their numbers of cells: that buffer holds the masks.
  const numbers = workspace.int32('cell numbers', size);
  const lower = new Uint8Array(numbers.buffer, numbers.byteOffset, size);
  const order = workspace.int32('routing order', size);
  countDonors(surface, spreadDirections, width, donors, lower);
  const done = orderCells(spreadDirections, width, donors, lower, order);
  assert(done === size - terrain.outside, 'water must not run in a loop');
  const upstreamFirst = order.subarray(0, done);
  const ponds = placePonds(terrain, nodes, surface, spreadDirections, upstreamFirst, workspace);
  return { terrain, directions, surface, spreadDirections, upstreamFirst, ponds, cellM2, oneWater };
}

/**
 * Where what a low spot spills has left it for good: the first cell beyond its pass, on the steepest way, from which no water
 * runs back; -1 when it spills off the map at once.
 */
export function beyondSpill({ z, receiver, tree, width }: Terrain, node: number): number {
  const offsets = neighbourOffsets(width);
  let cell = tree.spillTo[node];
  while (cell !== -1 && receiver[cell] < NONE && z[cell] >= tree.spill[node]) {
    cell += offsets[receiver[cell]];
  }
  return cell;
}

/** The low spots that count as one water. */
interface PondNodes {
  /** Node of the pond that each pit is in; `pits + 1` elements, 0 for the outside. */
  readonly ofPit: Int32Array;
  /** Height up to which the ground of each pit is taken as full: the pond's brim, 0 for a large low spot of one pit. */
  readonly levelOfPit: Float32Array;
  /** Number of the pond of each such node, 0 for other nodes. */
  readonly number: Int32Array;
  readonly count: number;
  /** Whether all outermost low spots are such. */
  readonly whole: boolean;
}

function pondNodes(
  { tree, volume, cellsBelow }: Terrain,
  mostCells: number,
  oneWater: ReadonlySet<number>,
  workspace: Workspace,
): PondNodes {
  const { nodes, pits, parent, spill } = tree;
  const pondOf = workspace.int32('pond node', nodes);
  const number = workspace.int32('pond number', nodes).fill(0);
  const brim = workspace.float32('pond brim', nodes).fill(0);
  let count = 0;
  let whole = true;
  pondOf[0] = 0;
  for (let node = nodes - 1; node > 0; node--) {
    pondOf[node] = pondOf[parent[node]];
    if (pondOf[node] !== 0) continue;
    const cells = cellsBelow[node];
    const isOneWater = cells <= mostCells || volume[node] <= shallowM * cells || oneWater.has(node);
    if (!isOneWater) whole = false;
    if (!isOneWater && node > pits) continue;
    pondOf[node] = node;
    number[node] = ++count;
    brim[node] = isOneWater ? spill[node] : 0;
  }
  const ofPit = pondOf.subarray(0, pits + 1);
  const levelOfPit = Float32Array.from(ofPit, (node) => brim[node]);
  return { ofPit, levelOfPit, number, count, whole };
}

function pondSurface(
  { z, catchment }: Terrain,
  levelOfPit: Float32Array,
  workspace: Workspace,
): Float32Array {
  const surface = workspace.float32('spread surface', z.length);
  for (let i = 0; i < z.length; i++) surface[i] = Math.max(z[i], levelOfPit[catchment[i]]);
  return surface;
}

function placePonds(
  { z, catchment, tree }: Terrain,
  { ofPit, number, count }: PondNodes,
  surface: Float32Array,
  directions: Uint8Array,
  upstreamFirst: Int32Array,
  workspace: Workspace,
): Ponds {
  const of = workspace.int32('pond of', z.length).fill(0);
  const node = workspace.int32('pond nodes', count + 1);
  const exit = workspace.int32('pond exits', count + 1).fill(-1);
  const numberOfPit = Int32Array.from(ofPit, (each) => number[each]);
  for (let pit = 1; pit <= tree.pits; pit++) node[numberOfPit[pit]] = ofPit[pit];
  for (let at = 0; at < upstreamFirst.length; at++) {
    const i = upstreamFirst[at];
    // a flat without a lower edge belongs to the pond of its pit, though it may not lie under its water
    const isEnd = directions[i] === NONE;
    if (!(z[i] < surface[i]) && !isEnd) continue;
    const pond = numberOfPit[catchment[i]];
    of[i] = pond;
    if (!isEnd) exit[pond] = i;
  }
  return { count, of, node, exit };
}

/**
 * Counts the cells that give water to each cell; outside cells are marked as done. `lower` receives
 * the masks of lower neighbours, bit `d` for direction `d`, 0 for cells that leave the map.
 */
function countDonors(
  filled: Float32Array,
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
  lower: Uint8Array,
): void {
  const bits = new Int32Array(filled.buffer, filled.byteOffset, filled.length);
  const offsets = neighbourOffsets(width);
  donors.fill(0);
  lower.fill(0);
  for (let i = 0; i < filled.length; i++) {
    const code = directions[i];
    if (code >= NONE) continue;
    // The signs of differences of positive floats' bits count lower neighbours without a branch.
    const own = bits[i];
    const e = (bits[i + 1] - own) >>> 31;
    const se = (bits[i + width + 1] - own) >>> 31;
    const s = (bits[i + width] - own) >>> 31;
    const sw = (bits[i + width - 1] - own) >>> 31;
    const w = (bits[i - 1] - own) >>> 31;
    const nw = (bits[i - width - 1] - own) >>> 31;
    const n = (bits[i - width] - own) >>> 31;
    const ne = (bits[i - width + 1] - own) >>> 31;
    donors[i + 1] += e;
    donors[i + width + 1] += se;
    donors[i + width] += s;
    donors[i + width - 1] += sw;
    donors[i - 1] += w;
    donors[i - width - 1] += nw;
    donors[i - width] += n;
    donors[i - width + 1] += ne;
    const mask = e | (se << 1) | (s << 2) | (sw << 3) | (w << 4) | (nw << 5) | (n << 6) | (ne << 7);
    lower[i] = mask;
    if (mask === 0) donors[i + offsets[code]]++;
  }
  for (let i = 0; i < filled.length; i++) if (Number.isNaN(filled[i])) donors[i] = DONE;
}

/** Puts cells in order; those ready but not yet placed wait at the end of `order`, which never runs out. */
function orderCells(
  directions: Uint8Array,
  width: number,
  donors: Uint8Array,
  lower: Uint8Array,
  order: Int32Array,
): number {
  const offsets = neighbourOffsets(width);
  const size = directions.length;
  let done = 0;
  for (let start = 0; start < size; start++) {
    if (donors[start] !== 0) continue;
    let top = size;
    order[--top] = start;
    donors[start] = DONE;
    while (top < size) {
      const cell = order[top++];
      order[done++] = cell;
      let mask = lower[cell];
      if (mask === 0) {
        const code = directions[cell];
        if (code >= NONE) continue;
        mask = 1 << code;
      }
      do {
        const next = cell + offsets[31 - Math.clz32(mask & -mask)];
        mask &= mask - 1;
        // Without a branch, which would be guessed wrong too often: a cell whose last donor this
        // was waits and, as 0 - 1 is DONE in a byte, is marked; any other is overwritten.
        const left = donors[next] - 1;
        const isReady = (left - 1) >>> 31;
        donors[next] = left - isReady;
        order[top - 1] = next;
        top -= isReady;
      } while (mask !== 0);
    }
  }
  return done;
}
