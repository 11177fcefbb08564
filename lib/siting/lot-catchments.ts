import { cellCentre } from '../elevation/grid';
import { openArea } from '../drainage/contributing-area';
import { contributingShare } from '../drainage/contributing-share';
import type { ShapedGround } from '../drainage/shaped-ground';
import { spreadFlow } from '../drainage/spread-flow';
import type { StormOnGround } from '../drainage/storm-on-ground';
import type { Catchments } from './siting-input';

/**
 * What reaches any cells of a lot, for the search: over the ground by multiple flow, and from roofs by their outlets.
 *
 * @param shape - the ground without the basin that is looked for.
 * Cost: one sweep over the grid here, and one for each call of `catchAt`.
 */
export function lotCatchments(shape: ShapedGround, storm: StormOnGround): Catchments {
  const { routing } = shape;
  const { grid } = shape.ground;
  const outlets = storm.roofs.outlets.filter((outlet) => outlet.cells.length > 0);

  const weights = openArea(shape, storm);
  const accumulationM2 = Float32Array.from(spreadFlow(routing, weights));

  const share = new Float32Array(grid.z.length);
  return {
    accumulationM2,
    roofs: outlets.map(({ roof, downspout, areaM2, cells }) => ({
      id: downspout ?? roof,
      at: cellCentre(grid, cells[0]),
      areaM2,
    })),
    catchAt(target) {
      contributingShare(routing, target, share);
      let areaM2 = 0;
      for (let cell = 0; cell < share.length; cell++) areaM2 += share[cell] * weights[cell];
      const roofShares = outlets.map(
        ({ cells }) => cells.reduce((sum, cell) => sum + share[cell], 0) / cells.length,
      );
      return { areaM2, roofShares };
    },
  };
}
