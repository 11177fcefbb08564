import { cellCentre } from '../elevation/grid';
import { openArea } from '../drainage/contributing-area';
import { overflowCourse, overGround } from '../drainage/overflow-course';
import type { ShapedGround } from '../drainage/shaped-ground';
import { spreadFlow } from '../drainage/spread-flow';
import type { StormOnGround } from '../drainage/storm-on-ground';
import type { LocalPlan } from '../plan/local-plan';
import type { Catch, Catchments } from './siting-input';
import { UpstreamShare } from './upstream-share';

/**
 * What reaches any cells of a lot, for the search: over the ground by multiple flow, and from roofs by their outlets.
 *
 * @param shape - the ground without the basin that is looked for.
 * Cost: a sweep over the grid here; then, for each call of `catchAt`, the cells upstream, k x k times for k groups.
 */
export function lotCatchments(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): Catchments {
  const { routing } = shape;
  const { grid } = shape.ground;
  const outlets = storm.roofs.outlets.filter((outlet) => outlet.cells.length > 0);

  const weights = openArea(shape, storm);
  const accumulationM2 = Float32Array.from(spreadFlow(routing, weights));

  const runOffM3 = groundRunOffM3(shape, storm);
  const upstream = new UpstreamShare(routing);
  return {
    accumulationM2,
    roofs: outlets.map(({ roof, downspout, areaM2, cells }) => ({
      id: downspout ?? roof,
      at: cellCentre(grid, cells[0]),
      areaM2,
    })),
    catchAt(target) {
      upstream.of(target);
      return caught();
    },
    catchApart(groups) {
      const lowest = groups.map((cells) => lowestOf(shape.terrain.filled, cells));
      const catches = groups.map((cells, i) => {
        upstream.of(
          cells,
          groups.filter((_, k) => k !== i),
        );
        return caught();
      });
      const onward = groups.map((_, i) =>
        groups.map((cells, j) => {
          if (i === j || lowest[i] === -1) return 0;
          upstream.of(
            cells,
            groups.filter((__, k) => k !== i && k !== j),
          );
          return upstream.share[lowest[i]];
        }),
      );
      return { catches, onward };
    },
    waysFrom(at, cells) {
      return overGround(overflowCourse(shape, plan, { overflowAt: at, cells }, 0));
    },
  };

  /** What the shares that have just been found amount to. */
  function caught(): Catch {
    const { share, cells } = upstream;
    let areaM2 = 0;
    let volumeM3 = 0;
    for (const cell of cells) {
      areaM2 += share[cell] * weights[cell];
      volumeM3 += share[cell] * runOffM3[cell];
    }
    const roofShares = outlets.map(
      (outlet) => outlet.cells.reduce((sum, cell) => sum + share[cell], 0) / outlet.cells.length,
    );
    return { areaM2, roofShares, runOffM3: volumeM3 };
  }
}

/** The storm's run-off from each cell of open ground, m3; 0 under roofs. */
function groundRunOffM3(
  { ground, terrain, cellM2 }: ShapedGround,
  { surfaces, classRunOffMm }: StormOnGround,
): Float64Array {
  return Float64Array.from(surfaces.classOf, (surface, cell) =>
    ground.sheltered[cell] === 1 || Number.isNaN(terrain.z[cell])
      ? 0
      : (classRunOffMm[surface] / 1000) * cellM2,
  );
}

function lowestOf(z: Float32Array, cells: Int32Array): number {
  let lowest = -1;
  for (const cell of cells) if (lowest === -1 || z[cell] < z[lowest]) lowest = cell;
  return lowest;
}
