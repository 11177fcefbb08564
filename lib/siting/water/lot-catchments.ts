import { cellCentre } from '../../elevation/grid';
import { openArea } from '../../drainage/answer/contributing-area';
import { targetWithPonds } from '../../drainage/terrain/contributing-share';
import { overflowCourse, overGround } from '../../drainage/answer/overflow-course';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import { spreadFlow } from '../../drainage/terrain/spread-flow';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import type { LocalPlan } from '../../plan/local-plan';
import type { Catch, Catchments } from './catchments';
import { UpstreamShare } from './upstream-share';

/**
 * What reaches any cells of a lot, for the search: over the ground by multiple flow, and from roofs by their outlets. Areas
 * are by topography; volumes are the storm's, less what low spots on the way hold back.
 *
 * @param shape - the ground without the basin that is looked for.
 * Cost: a sweep over the grid here; then, for each call of `catchAt`, the cells upstream, k x k times for k groups.
 */
export function lotCatchments(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): Catchments {
  const { routing } = storm.flow;
  const { grid } = shape.ground;
  const outlets = storm.roofs.outlets.filter((outlet) => outlet.cells.length > 0);

  const weights = openArea(shape, storm);
  const accumulationM2 = Float32Array.from(spreadFlow(routing, weights));

  const runOffM3 = groundRunOffM3(shape, storm);
  const { arrived, passed } = storm.flow.pondWaterM3;
  const upstream = new UpstreamShare(
    routing,
    arrived.map((volume, pond) => (volume > 0 ? passed[pond] / volume : 0)),
  );
  const caught = (): Catch => caughtBy(upstream, storm, outlets, weights, runOffM3);
  return {
    accumulationM2,
    roofs: outlets.map(({ roof, downspout, areaM2, cells }) => ({
      id: downspout ?? roof,
      at: cellCentre(grid, cells[0]),
      areaM2,
    })),
    catchAt(target) {
      upstream.of(cellsOf(targetWithPonds(routing, target)));
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
          return upstream.stormShare[lowest[i]];
        }),
      );
      return { catches, onward };
    },
    waysFrom(at, cells) {
      return overGround(overflowCourse(shape, plan, { overflowAt: at, cells }, 0));
    },
  };
}

/** What the shares that `upstream` has just found amount to. */
function caughtBy(
  { share, stormShare, cells }: UpstreamShare,
  { flow, sumps, roofFlows }: StormOnGround,
  outlets: StormOnGround['roofs']['outlets'],
  weights: ArrayLike<number>,
  runOffM3: Float64Array,
): Catch {
  let areaM2 = 0;
  let volumeM3 = 0;
  for (const cell of cells) {
    areaM2 += share[cell] * weights[cell];
    volumeM3 += stormShare[cell] * runOffM3[cell];
  }
  for (const { to, volumeM3: ledM3 } of flow.leaving) {
    if (typeof to === 'number') volumeM3 += stormShare[to] * ledM3;
  }
  for (const { cell, volumeM3: sumpM3 } of sumps) volumeM3 += stormShare[cell] * sumpM3;
  const meanOver = (shares: Float32Array, on: Int32Array): number =>
    on.reduce((sum, cell) => sum + shares[cell], 0) / on.length;
  const roofShares = outlets.map((outlet) => {
    const found = roofFlows.find((each) => each.outlet === outlet);
    if (found === undefined || !(found.volumeM3 > 0)) return meanOver(share, outlet.cells);
    const arrivesM3 = found.landings.reduce(
      (sum, { cells: on, volumeM3: landed }) => sum + landed * meanOver(stormShare, on),
      0,
    );
    return arrivesM3 / found.volumeM3;
  });
  return { areaM2, roofShares, runOffM3: volumeM3 };
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

function cellsOf(mask: Uint8Array): Int32Array {
  const cells: number[] = [];
  for (let cell = 0; cell < mask.length; cell++) if (mask[cell] === 1) cells.push(cell);
  return Int32Array.from(cells);
}

function lowestOf(z: Float32Array, cells: Int32Array): number {
  let lowest = -1;
  for (const cell of cells) if (lowest === -1 || z[cell] < z[lowest]) lowest = cell;
  return lowest;
}
