import { cellCentre } from '../../elevation/grid';
import type { LngLat, XY } from '../../frame/frame';
import type { LocalPlan } from '../../plan/local-plan';
import { conduitCourse } from './conduit-course';
import type { ConduitFlow } from '../storm/settle-storm';
import type { PathLeg } from './drainage-result';
import { flowPath } from '../terrain/flow-path';
import { LEAVES, NONE, neighbourOffsets } from '../terrain/neighbours';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

/** A conduit that carries this part of what it can has no room for more. */
const fullShare = 1 - 1e-9;

/**
 * The way of water from a cell in a storm, over the ground and through drains, to where it leaves the data or goes into the
 * storm sewer.
 *
 * Over the ground it takes the way over full low spots. Where one of them has an inlet that carries water, the way goes in
 * there, through the pipe, and on from its outlet; if the pipe is full, over the ground as well.
 *
 * @returns stretches in the order in which they are come to; none for a cell without data.
 * Cost: O(length), and conduits for each low spot on the way.
 */
export function followWater(
  shape: ShapedGround,
  storm: Pick<StormOnGround, 'conduits'>,
  plan: LocalPlan,
  start: number,
): PathLeg[] {
  const { ground, terrain, routing } = shape;
  const { grid } = ground;
  const { root } = terrain.tree;
  const legs: PathLeg[] = [];
  const toLngLat = (points: readonly XY[]): LngLat[] => points.map((at) => plan.frame.toLngLat(at));
  const used = new Set<ConduitFlow>();
  const starts = start === -1 ? [] : [start];
  for (const from of starts) {
    const { cells, points, ponds } = flowPath(routing, from);
    const path = Array.from(cells, (_, i): XY => [
      grid.westM + points[2 * i] * grid.cellM,
      grid.northM - points[2 * i + 1] * grid.cellM,
    ]);
    let isTaken = false;
    for (const { node, first } of ponds) {
      const inlets = storm.conduits.filter(
        (flow) => flow.volumeM3 > 0 && root[terrain.catchment[flow.conduit.inlet]] === node,
      );
      if (inlets.length === 0) continue;
      const falls = fallFrom(shape, cells[first]);
      const pit = falls[falls.length - 1];
      const taken =
        inlets.find(({ conduit }) => conduit.inlet === pit) ??
        inlets.reduce((most, flow) => (flow.volumeM3 > most.volumeM3 ? flow : most));
      const isFull = taken.volumeM3 >= taken.limitM3 * fullShare;
      const { inlet, id, outlet } = taken.conduit;
      const down = [...falls, ...(pit === inlet ? [] : [inlet])].map((cell) =>
        cellCentre(grid, cell),
      );
      // When all goes in, the way so far is a stretch of its own; else what goes in branches off.
      const way = isFull ? [path[first]] : path.slice(0, first + 1);
      legs.push(...groundLeg(toLngLat([...way, ...down.slice(1)])));
      if (!used.has(taken)) {
        used.add(taken);
        const course = conduitCourse(grid, plan, cellCentre(grid, inlet), taken.conduit);
        if (course.length > 1) legs.push({ by: 'pipe', drain: id, points: toLngLat(course) });
        if (typeof outlet === 'number') starts.push(outlet);
      }
      isTaken = !isFull;
      if (isTaken) break;
    }
    if (!isTaken) legs.push(...groundLeg(toLngLat(path)));
  }
  return legs;
}

function groundLeg(points: readonly LngLat[]): PathLeg[] {
  return points.length < 2 ? [] : [{ by: 'ground', drain: null, points }];
}

/** Cells on the single-flow path over the ground as it is, from a cell to its pit. */
export function fallFrom({ terrain }: ShapedGround, start: number): number[] {
  const { receiver, width } = terrain;
  const offsets = neighbourOffsets(width);
  const cells = [start];
  for (let cell = start; receiver[cell] !== NONE && receiver[cell] !== LEAVES;) {
    cell += offsets[receiver[cell]];
    cells.push(cell);
  }
  return cells;
}
