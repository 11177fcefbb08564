import { classDepthM, depthForSlope, sizeByFactor } from '../../basin/form/size-factors';
import { cellAt, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { perimeterM } from '../../frame/shapes';
import { groundPlane } from '../../ground/ground-plane';
import { cellsInside } from '../../ground/rasterise';
import { outlineOf } from '../../setback/measure/outline';
import type { LeadIns } from '../leading/lead-ins';
import type { LedRoof } from '../leading/led-roof';
import { bowlVolumeM3, heldToSillM3, rimAt } from './basin-outline';
import { levelCutM3 } from './level-cut';
import type { SitingInput } from './siting-input';
import type { Fit, MeasuredPlace } from './sized-place';

/** Water deeper than this counts as standing, metres: shallower is within what the elevation can tell. */
const standingM = 0.03;

/** What of a lot its places are measured by. */
interface LotToMeasure {
  readonly input: SitingInput;
  readonly sideSlope: number;
  readonly ownRoofs: readonly number[];
  readonly leadIns: LeadIns;
  lotAt(at: XY): string | null;
}

/** What a basin of a fitted outline catches, wants and digs; `null` when the ground there is too steep for any. */
export function measurePlace(lot: LotToMeasure, centre: XY, fit: Fit): MeasuredPlace | null {
  const { input, ownRoofs, leadIns, sideSlope } = lot;
  const { elevation, catchments, soil, roofRunOffM, standingDepthM } = input;
  const rim = rimAt(fit.outline, centre, fit.areaM2);
  const around = outlineOf({ type: 'polygon', rings: [rim] });
  const plane = groundPlane(elevation, rim);
  const depth = plane === null ? 'shallow' : depthForSlope(plane.slopeRatio);
  if (depth === null) return null;
  const cells = footprint(elevation, rim, centre);
  const caught = catchments.catchAt(cells);

  const led: LedRoof[] = [];
  const drained: { areaM2: number; fromDownspoutM: number }[] = [];
  let groundM2 = caught.areaM2;
  let downspoutM = Infinity;
  catchments.roofs.forEach((roof, i) => {
    const ownM2 = roof.areaM2 * caught.roofShares[i];
    groundM2 -= ownM2;
    const distanceM = nearestM(rim, roof.at);
    if (ownM2 > 0) drained.push({ areaM2: ownM2, fromDownspoutM: distanceM });
    if (ownM2 > 0.05 * roof.areaM2) downspoutM = Math.min(downspoutM, distanceM);
    const restM2 = roof.areaM2 - ownM2;
    const own = ownRoofs.indexOf(i);
    if (own === -1 || restM2 <= 0.001 * roof.areaM2) return;
    const way = leadIns.to(own, rim);
    if (way === null) return;
    led.push({ ...way, area_m2: restM2 });
    drained.push({ areaM2: restM2, fromDownspoutM: way.distance_m });
    downspoutM = Math.min(downspoutM, way.distance_m);
  });
  drained.push({ areaM2: Math.max(0, groundM2), fromDownspoutM: Infinity });
  const ledM2 = led.reduce((sum, roof) => sum + roof.area_m2, 0);
  const inflowM3 = caught.runOffM3 + roofRunOffM * (caught.areaM2 - groundM2 + ledM2);

  const pondingDepthM = classDepthM[depth];
  const bowlM3 = heldToSillM3(fit.areaM2, perimeterM(rim), pondingDepthM, sideSlope);
  return {
    fits: true,
    lot: lot.lotAt(centre) ?? '',
    at: centre,
    rim,
    around,
    cells,
    outline: fit.outline,
    areaM2: fit.areaM2,
    wantedM2: sizeByFactor(soil, depth, drained).areaM2,
    depth,
    byItselfM2: caught.areaM2,
    roofsByItselfM2: caught.areaM2 - groundM2,
    led,
    catchesM2: caught.areaM2 + ledM2,
    inflowM3,
    scored: {
      capturedM3: Math.min(bowlM3, inflowM3),
      marginM: fit.marginM,
      slopeRatio: plane?.slopeRatio ?? null,
      bowlM3,
      cutM3: levelCutM3(elevation, around, cells, pondingDepthM, sideSlope),
      levelGroundCutM3: bowlVolumeM3(fit.areaM2, perimeterM(rim), pondingDepthM, sideSlope),
      downspoutM: ownRoofs.length === 0 ? null : downspoutM,
      wetShare: wetShare(standingDepthM, cells),
      soil,
      shouldBroken: 0,
    },
  };
}

/** The cells inside a rim, or the one at its centre when it is smaller than a cell. */
function footprint(grid: Grid, rim: readonly XY[], centre: XY): Int32Array {
  const cells = cellsInside(grid, [rim]);
  if (cells.length > 0) return cells;
  const cell = cellAt(grid, centre[0], centre[1]);
  return cell < 0 ? cells : Int32Array.of(cell);
}

/** Distance from a place to the nearest corner of a rim. */
export function nearestM(rim: readonly XY[], to: XY): number {
  let least = Infinity;
  for (const at of rim) least = Math.min(least, (at[0] - to[0]) ** 2 + (at[1] - to[1]) ** 2);
  return Math.sqrt(least);
}

function wetShare(standingDepthM: Float32Array | undefined, cells: Int32Array): number {
  if (standingDepthM === undefined || cells.length === 0) return 0;
  let wet = 0;
  for (const cell of cells) if (standingDepthM[cell] > standingM) wet++;
  return wet / cells.length;
}
