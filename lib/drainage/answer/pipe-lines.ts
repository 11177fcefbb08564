import { cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import type { LocalPlan } from '../../plan/local-plan';
import { conduitCourse } from './conduit-course';
import type { PipeLine } from './drainage-result';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

/** What runs below the ground in a storm, as lines to draw: through yard drains, open pipes, and from downspouts into pipes. */
export function pipeLines(
  { ground }: Pick<ShapedGround, 'ground'>,
  storm: Pick<StormOnGround, 'conduits' | 'roofFlows'>,
  plan: LocalPlan,
): PipeLine[] {
  const { grid, pipes } = ground;
  const line = (id: string, volumeM3: number, course: readonly XY[]): PipeLine[] =>
    volumeM3 > 0 && course.length > 1
      ? [{ drain: id, volume_m3: volumeM3, points: course.map((at) => plan.frame.toLngLat(at)) }]
      : [];
  return [
    ...storm.conduits.flatMap(({ conduit, volumeM3 }) =>
      line(
        conduit.id,
        volumeM3,
        conduitCourse(grid, plan, cellCentre(grid, conduit.inlet), conduit),
      ),
    ),
    ...storm.roofFlows.flatMap(({ outlet, volumeM3, barrelM3, landings }) => {
      const pipe = outlet.pipe === null ? undefined : pipes.get(outlet.pipe);
      const spout = plan.of.downspout.find(({ id }) => id === outlet.downspout);
      if (pipe === undefined || spout === undefined) return [];
      // What runs over at the downspout did not go in.
      const over = landings.find(({ cells }) => cells === outlet.overCells)?.volumeM3 ?? 0;
      const way = { pipe: pipe.id, outlet: pipe.outlet };
      const course = conduitCourse(grid, plan, spout.shape.at, way);
      return line(spout.id, volumeM3 - barrelM3 - over, course);
    }),
  ];
}
