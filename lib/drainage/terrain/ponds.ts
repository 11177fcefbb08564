import type { BareTerrain, Terrain } from './terrain';
import type { Workspace } from './workspace';

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

/** A low spot up to this area is one water, m2; a larger one only where it is shallow. Our choices, no source. */
const pondM2 = 150;
const shallowM = 0.05;

/**
 * Finds the low spots that count as one water, and the surface with those full.
 *
 * @param oneWater - large low spots that do so all the same.
 * @param workspace - for the answer's arrays; others are the terrain's.
 * Cost: O(n).
 */
export function findPonds(
  terrain: Terrain,
  cellM2: number,
  oneWater: ReadonlySet<number>,
  workspace: Workspace,
): { readonly ponds: Ponds; readonly surface: Float32Array } {
  const { tree, width, z, workspace: shared } = terrain;
  const nodes = pondNodes(terrain, pondM2 / cellM2, oneWater, workspace);
  const { ofPit, levelOfPit, numberOf, count } = nodes;
  const surface = workspace.float32('spread surface', z.length);
  const of = workspace.int32('pond of', z.length);
  const node = workspace.int32('pond nodes', count + 1).fill(0);
  const to = workspace.int32('pond to', count + 1).fill(-1);
  const start = workspace.int32('pond start of cells', count + 2).fill(0);
  const last = workspace.int32('pond last', count + 1).fill(-1);
  const numberOfPit = shared.int32('pond of pit', tree.pits + 1);
  for (let pit = 0; pit <= tree.pits; pit++) {
    numberOfPit[pit] = numberOf[ofPit[pit]];
    node[numberOfPit[pit]] = ofPit[pit];
  }
  const listed = shared.int32('pond cells by index', z.length + 1);
  let wet = fillUp(terrain, levelOfPit, numberOfPit, surface, of, listed);
  // a pit is in its pond even where that holds nothing
  for (let pit = 1; pit <= tree.pits; pit++) {
    const cell = tree.pitCells[pit];
    if (of[cell] !== 0) continue;
    of[cell] = numberOfPit[pit];
    listed[wet++] = cell;
  }
  const cells = workspace.int32('pond cells in order', wet);
  for (let at = 0; at < wet; at++) start[of[listed[at]] + 1]++;
  for (let pond = 1; pond <= count; pond++) start[pond + 1] += start[pond];
  const free = shared.int32('pond free', count + 2);
  free.set(start);
  for (let at = 0; at < wet; at++) cells[free[of[listed[at]]]++] = listed[at];
  for (let pond = 1; pond <= count; pond++) {
    last[pond] = cells[start[pond + 1] - 1];
    to[pond] = wayOut(terrain, node[pond], nodes, surface, width);
  }
  return { ponds: { count, of, node, numberOf, to, start, cells, last }, surface };
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
}

function pondNodes(
  { tree, volume, cellsBelow, workspace: shared }: Terrain,
  mostCells: number,
  oneWater: ReadonlySet<number>,
  workspace: Workspace,
): PondNodes {
  const { nodes, pits, parent, spill } = tree;
  const pondOf = shared.int32('pond node', nodes);
  const numberOf = workspace.int32('pond number', nodes).fill(0);
  const brim = shared.float32('pond brim', nodes).fill(0);
  let count = 0;
  pondOf[0] = 0;
  for (let node = nodes - 1; node > 0; node--) {
    pondOf[node] = pondOf[parent[node]];
    if (pondOf[node] !== 0) continue;
    const cells = cellsBelow[node];
    const isOneWater = cells <= mostCells || volume[node] <= shallowM * cells || oneWater.has(node);
    if (!isOneWater && node > pits) continue;
    pondOf[node] = node;
    numberOf[node] = ++count;
    brim[node] = isOneWater ? spill[node] : 0;
  }
  const ofPit = pondOf.subarray(0, pits + 1);
  const levelOfPit = shared.float32('pond level', pits + 1);
  for (let pit = 0; pit <= pits; pit++) levelOfPit[pit] = brim[ofPit[pit]];
  return { ofPit, levelOfPit, numberOf, count };
}

/**
 * Raises ground to the level of its pond; `listed` receives the cells so raised, in index order, and has room for one more than
 * there are cells. Returns how many they are.
 */
function fillUp(
  { z, catchment }: BareTerrain,
  levelOfPit: Float32Array,
  numberOfPit: Int32Array,
  surface: Float32Array,
  of: Int32Array,
  listed: Int32Array,
): number {
  // Positive floats sort like their bits, `NaN` above all: no branch, which would often be guessed wrong.
  const bits = new Int32Array(z.buffer, z.byteOffset, z.length);
  const levelBits = new Int32Array(levelOfPit.buffer, levelOfPit.byteOffset, levelOfPit.length);
  const surfaceBits = new Int32Array(surface.buffer, surface.byteOffset, surface.length);
  let count = 0;
  for (let i = 0; i < bits.length; i++) {
    const pit = catchment[i];
    const depth = bits[i] - levelBits[pit];
    const isBelow = depth >> 31;
    surfaceBits[i] = bits[i] - (depth & isBelow);
    of[i] = numberOfPit[pit] & isBelow;
    listed[count] = i;
    count -= isBelow;
  }
  return count;
}

/** Where a pond lets on what it cannot hold; -1 where it keeps all. */
function wayOut(
  { z, tree }: BareTerrain,
  node: number,
  { ofPit, levelOfPit }: PondNodes,
  surface: Float32Array,
  width: number,
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
  return isLevelOrLow(surface, over, width) ? spillTo[node] : over;
}

/** Whether a cell inside the map has no lower neighbour. */
function isLevelOrLow(surface: Float32Array, cell: number, width: number): boolean {
  const column = cell % width;
  const isInside =
    cell >= width && column > 0 && column < width - 1 && cell + width < surface.length;
  if (!isInside) return false;
  const own = surface[cell];
  return !(
    surface[cell + 1] < own ||
    surface[cell - 1] < own ||
    surface[cell + width] < own ||
    surface[cell - width] < own ||
    surface[cell + width + 1] < own ||
    surface[cell + width - 1] < own ||
    surface[cell - width - 1] < own ||
    surface[cell - width + 1] < own
  );
}
