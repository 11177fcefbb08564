import { assert } from '../../errors';
import { flowDirections } from './flow-directions';
import { NONE, neighbourOffsets } from './neighbours';
import type { BareTerrain, Terrain } from './terrain';
import { Workspace } from './workspace';

const DONE = 255;

/**
 * Low spots that count as one water: what comes to one anywhere is held in it until it is full, and what it cannot hold
 * leaves by its way out. Numbered from 1; arrays have `count + 1` elements unless said otherwise.
 */
export interface Ponds {
  readonly count: number;
  /** The pond that each cell lies in, were it full; 0 for all other ground. */
  readonly of: Int32Array;
  /** Its node in the tree of low spots; no node lies inside another's. */
  readonly node: Int32Array;
  /** The pond of each such node, 0 for other nodes. */
  readonly numberOf: Int32Array;
  /** The cell to which it lets on what it cannot hold; -1 where that is another pond as high, or a pond that is not to be filled. */
  readonly to: Int32Array;
  /** The cells of pond `p` are `cells[start[p]]` up to but without `cells[start[p + 1]]`; `start` has `count + 2` elements. */
  readonly start: Int32Array;
  readonly cells: Int32Array;
  /** The last of its cells in the order of flow. */
  readonly last: Int32Array;
}

/**
 * How water spreads over a terrain. Arrays belong to the terrain's workspace.
 *
 * Multiple flow with exponent 1: a cell's water is shared among its lower neighbours in proportion to slope; where none is
 * lower, and only there, it takes the terrain's own single direction. The surface is the ground with its ponds full. A low spot that
 * is too large to count as one water is not filled up: its own ground is run over like any other, down to the ponds inside it or to its
 * pit.
 */
export interface Routing {
  readonly terrain: Terrain;
  /** Single-flow directions on the filled surface, for ways as lines: found when first asked for. */
  readonly directions: Uint8Array;
  /** Heights of the surface that water spreads over. */
  readonly surface: Float32Array;
  /** All cells with data; each comes before every cell that it gives water to, the cells of a pond one after the other. */
  readonly upstreamFirst: Int32Array;
  readonly ponds: Ponds;
  readonly cellM2: number;
  /** Large low spots that are one water all the same. */
  readonly oneWater: ReadonlySet<number>;
  /**
   * How a cell's water is shared: among all lower neighbours, or between the two that bound its steepest facet, which spreads
   * least and is there to see how much hangs on the rule.
   */
  readonly rule: 'multiple' | 'facet';
}

/** A low spot up to this area is one water, m2; a larger one only where it is shallow. Our choices, no source. */
const pondM2 = 150;
const shallowM = 0.05;

/**
 * Prepares routing over a terrain: surface, ponds and an order of cells, computed once and good for any number of sweeps.
 *
 * @param cellM2 - area of a cell, which tells how large low spots are.
 * @param whole - large low spots to take as one water from the start.
 * Cost: O(n), the order about 20 passes over the grid.
 */
export function makeRouting(terrain: Terrain, cellM2 = 1, whole: Iterable<number> = []): Routing {
  return routingOver(terrain, cellM2, new Set(whole), terrain.workspace);
}

/**
 * The same with some low spots as one water, whatever their size: those that a storm fills to the brim. Arrays are its own.
 *
 * @param whole - nodes of the tree, added to those of earlier calls.
 */
export function withOneWater(
  { terrain, cellM2, oneWater, rule }: Routing,
  whole: Iterable<number>,
): Routing {
  const all = new Set([...oneWater, ...whole]);
  return { ...routingOver(terrain, cellM2, all, new Workspace()), rule };
}

function routingOver(
  terrain: Terrain,
  cellM2: number,
  oneWater: ReadonlySet<number>,
  workspace: Workspace,
): Routing {
  const { filled, width, height, receiver, outside } = terrain;
  const size = filled.length;
  const nodes = pondNodes(terrain, pondM2 / cellM2, oneWater, workspace);
  const surface = nodes.whole ? filled : pondSurface(terrain, nodes.levelOfPit, workspace);
  const ponds = placePonds(terrain, nodes, surface, workspace);
  const donors = workspace.uint8('cell bytes', size);
  const lower = workspace.uint8('lower cells', size);
  const order = workspace.int32('routing order', size);
  countDonors(surface, receiver, width, ponds, donors, lower);
  const done = orderCells(receiver, width, ponds, donors, lower, order, workspace);
  assert(done === size - outside, 'water must not run in a loop');
  let directions: Uint8Array | null = null;
  return {
    terrain,
    get directions() {
      directions ??= flowDirections(
        { heights: filled, width, height },
        workspace,
        'flow directions',
      );
      return directions;
    },
    surface,
    upstreamFirst: order.subarray(0, done),
    ponds,
    cellM2,
    oneWater,
    rule: 'multiple',
  };
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
  readonly numberOf: Int32Array;
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
  const numberOf = workspace.int32('pond number', nodes).fill(0);
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
    numberOf[node] = ++count;
    brim[node] = isOneWater ? spill[node] : 0;
  }
  const ofPit = pondOf.subarray(0, pits + 1);
  const levelOfPit = workspace.float32('pond level', pits + 1);
  for (let pit = 0; pit <= pits; pit++) levelOfPit[pit] = brim[ofPit[pit]];
  return { ofPit, levelOfPit, numberOf, count, whole };
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
  terrain: Terrain,
  { ofPit, levelOfPit, numberOf, count }: PondNodes,
  surface: Float32Array,
  workspace: Workspace,
): Ponds {
  const { z, catchment, tree } = terrain;
  const of = workspace.int32('pond of', z.length);
  const node = workspace.int32('pond nodes', count + 1).fill(0);
  const to = workspace.int32('pond to', count + 1).fill(-1);
  const start = workspace.int32('pond start', count + 2).fill(0);
  const numberOfPit = workspace.int32('pond of pit', tree.pits + 1);
  for (let pit = 0; pit <= tree.pits; pit++) {
    numberOfPit[pit] = numberOf[ofPit[pit]];
    node[numberOfPit[pit]] = ofPit[pit];
  }
  for (let i = 0; i < z.length; i++) {
    const pond = z[i] < surface[i] ? numberOfPit[catchment[i]] : 0;
    of[i] = pond;
    start[pond + 1] += pond === 0 ? 0 : 1;
  }
  // a pit is in its pond even where that holds nothing
  for (let pit = 1; pit <= tree.pits; pit++) {
    const cell = tree.pitCells[pit];
    if (of[cell] !== 0) continue;
    of[cell] = numberOfPit[pit];
    start[of[cell] + 1]++;
  }
  for (let pond = 1; pond <= count; pond++) start[pond + 1] += start[pond];
  const cells = workspace.int32('pond cells in order', start[count + 1]);
  const free = workspace.int32('pond free', count + 2);
  free.set(start);
  for (let i = 0; i < z.length; i++) if (of[i] !== 0) cells[free[of[i]]++] = i;
  const last = workspace.int32('pond last', count + 1);
  for (let pond = 1; pond <= count; pond++) {
    last[pond] = cells[start[pond + 1] - 1];
    to[pond] = wayOut(terrain, node[pond], ofPit, levelOfPit, surface);
  }
  return { count, of, node, numberOf, to, start, cells, last };
}

/** Where a pond lets on what it cannot hold; -1 where it keeps all. */
function wayOut(
  { z, tree, width }: BareTerrain,
  node: number,
  ofPit: Int32Array,
  levelOfPit: Float32Array,
  surface: Float32Array,
): number {
  const { spill, spillFrom, spillTo, destination, isRoot, pitOrder, pitStart } = tree;
  const brim = levelOfPit[pitOrder[pitStart[node]]];
  // one that is not to be filled up, or beside another whose brim is the same pass
  if (brim === 0) return -1;
  if (isRoot[node] === 0 && ofPit[destination[node]] !== 0) {
    if (levelOfPit[destination[node]] >= spill[node]) return -1;
  }
  // over the pass, where ground falls away beyond it; else the tree's own way
  const over = z[spillFrom[node]] >= z[spillTo[node]] ? spillFrom[node] : spillTo[node];
  if (over === spillTo[node]) return over;
  const row = Math.floor(over / width);
  const column = over - row * width;
  const isInside = row > 0 && column > 0 && column < width - 1 && over + width < surface.length;
  if (!isInside) return over;
  for (const step of [1, width + 1, width, width - 1, -1, -width - 1, -width, -width + 1]) {
    if (surface[over + step] < surface[over]) return over;
  }
  return spillTo[node];
}

/**
 * Counts the cells and ponds that give water to each cell; cells without data are marked as done. `lower` receives
 * the masks of lower neighbours, bit `d` for direction `d`, 0 for cells that leave the map.
 */
function countDonors(
  surface: Float32Array,
  receiver: Uint8Array,
  width: number,
  { of, to, count }: Ponds,
  donors: Uint8Array,
  lower: Uint8Array,
): void {
  const bits = new Int32Array(surface.buffer, surface.byteOffset, surface.length);
  const offsets = neighbourOffsets(width);
  donors.fill(0);
  lower.fill(0);
  for (let i = 0; i < surface.length; i++) {
    const code = receiver[i];
    if (code >= NONE || of[i] !== 0) continue;
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
  for (let pond = 1; pond <= count; pond++) if (to[pond] !== -1) donors[to[pond]]++;
  for (let i = 0; i < surface.length; i++) if (Number.isNaN(surface[i])) donors[i] = DONE;
}

/**
 * Puts cells in order; those ready but not yet placed wait at the end of `order`, which never runs out. The cells of a pond are
 * placed together once the last of them is ready.
 */
function orderCells(
  receiver: Uint8Array,
  width: number,
  { of, to, start, cells, count }: Ponds,
  donors: Uint8Array,
  lower: Uint8Array,
  order: Int32Array,
  workspace: Workspace,
): number {
  const offsets = neighbourOffsets(width);
  const size = receiver.length;
  const pending = workspace.int32('pond pending', count + 1);
  for (let pond = 1; pond <= count; pond++) pending[pond] = start[pond + 1] - start[pond];
  let done = 0;
  for (let first = 0; first < size; first++) {
    if (donors[first] !== 0) continue;
    let top = size;
    order[--top] = first;
    donors[first] = DONE;
    while (top < size) {
      const cell = order[top++];
      const pond = of[cell];
      if (pond !== 0) {
        if (--pending[pond] > 0) continue;
        for (let k = start[pond]; k < start[pond + 1]; k++) order[done++] = cells[k];
        const next = to[pond];
        if (next !== -1 && --donors[next] === 0) {
          donors[next] = DONE;
          order[--top] = next;
        }
        continue;
      }
      order[done++] = cell;
      let mask = lower[cell];
      if (mask === 0) {
        const code = receiver[cell];
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
