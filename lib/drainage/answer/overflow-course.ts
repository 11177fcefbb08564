import { cellAt, cellCentre, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';
import type { BasinForm } from '../../ground/basin-form';
import type { Conduit } from '../../ground/conduits';
import type { LocalPlan } from '../../plan/local-plan';
import { conduitCourse } from './conduit-course';
import { flowPath } from '../terrain/flow-path';
import { fallFrom } from './follow-water';
import type { ShapedGround } from '../storm/shaped-ground';

/** A stretch of overflow's way, over the ground or through a conduit, in local metres. */
export interface OverflowLeg {
  readonly by: 'ground' | 'pipe';
  /** Yard drain or drain pipe; `null` over the ground. */
  readonly drain: string | null;
  readonly points: readonly XY[];
}

/** One way from the notch to where overflow ends or leaves the data. */
export interface OverflowWay {
  readonly legs: readonly OverflowLeg[];
  /** What of the overflow takes it, m3/s. */
  readonly flowM3PerS: number;
  readonly ends: 'edge-of-data' | 'storm-sewer';
}

/** An inlet that overflow comes to. */
export interface MetInlet {
  readonly drain: string;
  /** What comes to it, what it has room for beside what runs in its pipe already, and what it takes, m3/s. */
  readonly comesM3PerS: number;
  readonly roomM3PerS: number;
  readonly takesM3PerS: number;
  readonly blocked: boolean;
}

/** The course of a basin's overflow: several ways where a conduit cannot take all of it. */
export interface OverflowCourse {
  /** The one that takes most first. */
  readonly ways: readonly OverflowWay[];
  /** In the order in which they are come to. */
  readonly inlets: readonly MetInlet[];
}

/** An inlet this close to the way is met: what a lidar's cells and a drawn drain are good for, metres. Our choice, no source. */
const metM = 0.75;
/** A part of the flow below this is rounding. */
const nothing = 1e-9;

/**
 * Follows overflow from a basin's notch over the finished ground and through pipes, to where it leaves the data or goes into the
 * storm sewer.
 *
 * Over the ground it takes the way over full low spots. Where that passes an inlet, or crosses a low spot with one, the
 * conduit takes what it has room for and the way goes on at its outlet; what exceeds it goes on over the ground.
 *
 * @param flowM3PerS - at the peak; 0 goes into the first conduit that has any room.
 * @param inUseM3PerS - by drain pipe, what runs in it at that time already.
 * Cost: O(length) for each way.
 * Limits: what else comes to an inlet over the ground is not counted. A conduit is entered once.
 */
export function overflowCourse(
  shape: ShapedGround,
  plan: LocalPlan,
  basin: Pick<BasinForm, 'overflowAt'> & { readonly cells: Iterable<number> },
  flowM3PerS: number,
  inUseM3PerS: ReadonlyMap<string, number> = new Map(),
): OverflowCourse {
  const { ground, routing } = shape;
  const { grid } = ground;
  const own = new Set(basin.cells);
  const open = ground.conduits.filter(
    ({ inlet, outlet }) => outlet !== 'soil' && inlet !== -1 && !own.has(inlet),
  );
  const met = new Map<string, MetInlet>();
  const ways: OverflowWay[] = [];

  const follow = (start: number, flow: number, before: readonly OverflowLeg[]): void => {
    if (start === -1) return;
    const { cells, points, ponds } = flowPath(routing, start);
    const path = Array.from(cells, (_, i): XY => [
      grid.westM + points[2 * i] * grid.cellM,
      grid.northM - points[2 * i + 1] * grid.cellM,
    ]);
    let left = flow;
    for (const { conduit, at, pond } of inletsOn(shape, plan, open, path, ponds)) {
      if (met.has(conduit.id)) continue;
      const roomM3PerS = roomOf(conduit, inUseM3PerS);
      const takesM3PerS = Math.min(left, roomM3PerS);
      met.set(conduit.id, {
        drain: conduit.id,
        comesM3PerS: left,
        roomM3PerS,
        takesM3PerS,
        blocked: conduit.blocked,
      });
      if (roomM3PerS === 0) continue;
      const down = pond ? fallFrom(shape, cells[at]).map((cell) => cellCentre(grid, cell)) : [];
      const legs: OverflowLeg[] = [
        ...before,
        groundLeg([...path.slice(0, at + 1), ...down.slice(1), cellCentre(grid, conduit.inlet)]),
        pipeLeg(grid, plan, conduit),
      ];
      const { outlet } = conduit;
      if (typeof outlet === 'number') follow(outlet, takesM3PerS, legs);
      else {
        ways.push({
          legs,
          flowM3PerS: takesM3PerS,
          ends: outlet === 'storm-sewer' ? outlet : 'edge-of-data',
        });
      }
      left -= takesM3PerS;
      if (left <= nothing * flow) return;
    }
    ways.push({ legs: [...before, groundLeg(path)], flowM3PerS: left, ends: 'edge-of-data' });
  };

  follow(cellAt(grid, ...basin.overflowAt), flowM3PerS, []);
  return {
    ways: ways.sort((a, b) => b.flowM3PerS - a.flowM3PerS),
    inlets: [...met.values()],
  };
}

/** Inlets that a way comes to, in order: where, and whether by the low spot that they lie in. */
function inletsOn(
  { ground: { grid }, terrain }: ShapedGround,
  plan: LocalPlan,
  open: readonly Conduit[],
  path: readonly XY[],
  ponds: ReturnType<typeof flowPath>['ponds'],
): { conduit: Conduit; at: number; pond: boolean }[] {
  return open
    .flatMap((conduit) => {
      const places = inletPlaces(grid, plan, conduit);
      const passes = path.findIndex((place) =>
        places.some((inlet) => distanceM(place, inlet) <= metM),
      );
      const node = terrain.tree.root[terrain.catchment[conduit.inlet]];
      const first = ponds.find((pond) => pond.node === node)?.first ?? -1;
      if (first !== -1 && (passes === -1 || first < passes)) {
        return [{ conduit, at: first, pond: true }];
      }
      return passes === -1 ? [] : [{ conduit, at: passes, pond: false }];
    })
    .sort((a, b) => a.at - b.at);
}

/** The stretches of a course that run over the ground, in the order of its ways. */
export function overGround({ ways }: Pick<OverflowCourse, 'ways'>): (readonly XY[])[] {
  return ways.flatMap(({ legs }) =>
    legs.flatMap(({ by, points }) => (by === 'ground' ? [points] : [])),
  );
}

function roomOf(
  { capacityM3PerS, blocked, pipe }: Conduit,
  inUse: ReadonlyMap<string, number>,
): number {
  if (blocked) return 0;
  return Math.max(0, capacityM3PerS - (pipe === null ? 0 : (inUse.get(pipe) ?? 0)));
}

/** Where an inlet is: the cell that takes the water, and where it is drawn. */
function inletPlaces(grid: Grid, plan: LocalPlan, { id, inlet }: Conduit): XY[] {
  const at = cellCentre(grid, inlet);
  const drain = plan.of['yard-drain'].find((each) => each.id === id);
  if (drain !== undefined) return [at, drain.shape.at];
  if (plan.of['trench-drain'].some((each) => each.id === id)) return [at];
  const points = plan.of['drain-pipe'].find((each) => each.id === id)?.shape.points ?? [];
  const ends = [...points.slice(0, 1), ...points.slice(-1)];
  return [at, ...ends.sort((a, b) => distanceM(a, at) - distanceM(b, at)).slice(0, 1)];
}

function groundLeg(points: readonly XY[]): OverflowLeg {
  return { by: 'ground', drain: null, points };
}

function pipeLeg(grid: Grid, plan: LocalPlan, conduit: Conduit): OverflowLeg {
  const points = conduitCourse(grid, plan, cellCentre(grid, conduit.inlet), conduit);
  return { by: 'pipe', drain: conduit.id, points };
}
