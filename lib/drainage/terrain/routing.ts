import { assert } from '../../errors';
import { flowDirections } from './flow-directions';
import { orderOfFlow } from './flow-order';
import { NONE, neighbourOffsets } from './neighbours';
import { findPonds, type Ponds } from './ponds';
import type { Terrain } from './terrain';
import { Workspace } from './workspace';

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

/**
 * Prepares routing over a terrain: surface, ponds and an order of cells, computed once and good for any number of sweeps.
 *
 * @param cellM2 - area of a cell, which tells how large low spots are.
 * @param whole - large low spots to take as one water from the start.
 * Cost: O(n), the order about 20 passes over the grid.
 */
export function makeRouting(terrain: Terrain, cellM2 = 1, whole: Iterable<number> = []): Routing {
  const single = new SingleFlow(terrain);
  return routingOver(terrain, cellM2, new Set(whole), 'multiple', terrain.workspace, single);
}

const refined = new WeakMap<Routing, Routing>();

/**
 * The same with some low spots as one water, whatever their size: those that a storm fills to the brim. Arrays are its own.
 *
 * @param whole - nodes of the tree, added to those of earlier calls.
 * Cost: as `makeRouting`; nothing where the last call for the same routing named the same nodes, as the next storm's often does.
 */
export function withOneWater(routing: Routing, whole: Iterable<number>): Routing {
  const { terrain, cellM2, oneWater, rule } = routing;
  const all = new Set([...oneWater, ...whole]);
  const last = refined.get(routing);
  if (last?.oneWater.size === all.size && [...all].every((node) => last.oneWater.has(node))) {
    return last;
  }
  const made = routingOver(terrain, cellM2, all, rule, new Workspace(), routing);
  refined.set(routing, made);
  return made;
}

/** The same surface and order, with each cell's water shared by another rule. */
export function withRule(routing: Routing, rule: Routing['rule']): Routing {
  const { terrain, surface, upstreamFirst, ponds, cellM2, oneWater } = routing;
  return withDirections(
    { terrain, surface, upstreamFirst, ponds, cellM2, oneWater, rule },
    routing,
  );
}

/** The terrain's single-flow directions, found when first asked for. */
class SingleFlow {
  #directions: Uint8Array | null = null;
  readonly #terrain: Terrain;

  constructor(terrain: Terrain) {
    this.#terrain = terrain;
  }

  get directions(): Uint8Array {
    const { filled: heights, width, height, workspace } = this.#terrain;
    this.#directions ??= flowDirections({ heights, width, height }, workspace, 'flow directions');
    return this.#directions;
  }
}

function withDirections(
  routing: Omit<Routing, 'directions'>,
  from: Pick<Routing, 'directions'>,
): Routing {
  return {
    ...routing,
    get directions() {
      return from.directions;
    },
  };
}

function routingOver(
  terrain: Terrain,
  cellM2: number,
  oneWater: ReadonlySet<number>,
  rule: Routing['rule'],
  workspace: Workspace,
  from: Pick<Routing, 'directions'>,
): Routing {
  const { ponds, surface } = findPonds(terrain, cellM2, oneWater, workspace);
  const upstreamFirst = orderOfFlow(terrain, ponds, surface, workspace);
  assert(upstreamFirst.length === surface.length - terrain.outside, 'water must not run in a loop');
  return withDirections({ terrain, surface, upstreamFirst, ponds, cellM2, oneWater, rule }, from);
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
