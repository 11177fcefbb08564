import { cellCentre, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM } from '../../frame/shapes';
import type { ConduitOutlet } from '../../ground/conduits';
import type { LocalPlan } from '../../plan/local-plan';

/** A way below the ground, as far as drawing it goes. */
interface Way {
  /** Drain pipe that it runs in, or null. */
  readonly pipe: string | null;
  readonly outlet: ConduitOutlet;
}

/**
 * The course of water below the ground in local metres: from a place along the drain pipe that takes it, the way that the pipe
 * runs, and to the cell where it comes out; straight where no pipe is drawn.
 *
 * @returns one point alone where nothing tells which way it goes (into the storm sewer without a pipe).
 */
export function conduitCourse(grid: Grid, plan: LocalPlan, from: XY, { pipe, outlet }: Way): XY[] {
  const end = typeof outlet === 'number' ? cellCentre(grid, outlet) : null;
  const drawn = plan.of['drain-pipe'].find(({ id }) => id === pipe)?.shape.points ?? [];
  const along = isBackwards(drawn, from, end) ? drawn.toReversed() : drawn;
  const course = [from, ...along, ...(end === null ? [] : [end])];
  return course.filter((at, i) => i === 0 || distanceM(at, course[i - 1]) > 0.01);
}

/** Whether a pipe is drawn against its flow: its first point is nearer to where water comes out, or its last to where it goes in. */
function isBackwards(points: readonly XY[], from: XY, end: XY | null): boolean {
  if (points.length < 2) return false;
  const first = points[0];
  const last = points[points.length - 1];
  return end === null
    ? distanceM(last, from) < distanceM(first, from)
    : distanceM(first, end) < distanceM(last, end);
}
