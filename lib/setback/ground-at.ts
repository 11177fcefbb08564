import { cellAt, type Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { boundaryDistance, isInside, type Outline } from './measure';

/** The plane that fits the ground best over a patch. */
export interface FittedPlane {
  /** Height at the patch's middle, metres above the grid's datum. */
  readonly middleM: number;
  /** Rise over run along the steepest way, 0 or more. */
  readonly slopeRatio: number;
  /** Unit vector uphill; [0, 0] where the patch is level. */
  readonly uphill: XY;
}

/**
 * The least-squares plane over the cells whose centre lies in an outline or within `aroundM` of it.
 *
 * @returns `null` when fewer than three cells with data lie there, or when they lie in one line: the slope is unknown.
 */
export function planeOver(grid: Grid, outline: Outline, aroundM: number): FittedPlane | null {
  const sums = new PlaneSums(
    (outline.west + outline.east) / 2,
    (outline.south + outline.north) / 2,
  );
  const { cellM, westM, northM, width, height, z } = grid;
  const column0 = Math.max(0, Math.floor((outline.west - aroundM - westM) / cellM));
  const column1 = Math.min(width - 1, Math.floor((outline.east + aroundM - westM) / cellM));
  const row0 = Math.max(0, Math.floor((northM - outline.north - aroundM) / cellM));
  const row1 = Math.min(height - 1, Math.floor((northM - outline.south + aroundM) / cellM));
  for (let row = row0; row <= row1; row++) {
    const y = northM - (row + 0.5) * cellM;
    for (let column = column0; column <= column1; column++) {
      const x = westM + (column + 0.5) * cellM;
      const value = z[row * width + column];
      if (Number.isNaN(value)) continue;
      if (isInside(outline, x, y) || boundaryDistance(outline, x, y) <= aroundM)
        sums.add(x, y, value);
    }
  }
  return sums.fit();
}

/** Height at a point from the four cell centres around it, metres above the grid's datum; `NaN` without data. */
export function heightAt(grid: Grid, x: number, y: number): number {
  const column = (x - grid.westM) / grid.cellM - 0.5;
  const row = (grid.northM - y) / grid.cellM - 0.5;
  const c = Math.floor(column);
  const r = Math.floor(row);
  if (c < 0 || r < 0 || c + 1 >= grid.width || r + 1 >= grid.height) {
    const cell = cellAt(grid, x, y);
    return cell < 0 ? Number.NaN : grid.z[cell];
  }
  const i = r * grid.width + c;
  const east = column - c;
  const south = row - r;
  const north = grid.z[i] * (1 - east) + grid.z[i + 1] * east;
  const below = grid.z[i + grid.width] * (1 - east) + grid.z[i + grid.width + 1] * east;
  return north * (1 - south) + below * south;
}

/** How steep the ground is around each cell: the plane fitted over a square window. */
export interface SteepnessMap {
  /** Rise over run for each cell; `NaN` where the window holds no data or lies over the edge. */
  readonly ratio: Float32Array<ArrayBuffer>;
  /** Side of the window, metres. */
  readonly windowM: number;
}

const steepness = new WeakMap<Grid, SteepnessMap>();
/**
 * Side of the window over which steepness is fitted, metres: about a basin's size, so that the roughness of a lidar
 * surface at half a metre does not count as slope. Common practice, no source.
 */
const steepnessWindowM = 5;

/**
 * Steepness of the ground around every cell. Kept for as long as the grid is.
 * Cost: linear in cells (running sums along rows, then columns).
 */
export function steepnessOf(grid: Grid): SteepnessMap {
  const before = steepness.get(grid);
  if (before !== undefined) return before;
  const reach = Math.max(1, Math.round((steepnessWindowM / grid.cellM - 1) / 2));
  const map = { ratio: windowSlopes(grid, reach), windowM: (2 * reach + 1) * grid.cellM };
  steepness.set(grid, map);
  return map;
}

/**
 * Over a full window of offsets -reach..reach the best plane's slopes are sum(dx z) / sum(dx^2) and the same in y,
 * because the offsets are symmetric. Both sums are separable.
 */
function windowSlopes(grid: Grid, reach: number): Float32Array<ArrayBuffer> {
  const { width, height, z, cellM } = grid;
  const rowSum = new Float64Array(z.length).fill(Number.NaN);
  const rowMoment = new Float64Array(z.length).fill(Number.NaN);
  for (let row = 0; row < height; row++) {
    for (let column = reach; column < width - reach; column++) {
      let sum = 0;
      let moment = 0;
      for (let d = -reach; d <= reach; d++) {
        const value = z[row * width + column + d];
        sum += value;
        moment += d * value;
      }
      rowSum[row * width + column] = sum;
      rowMoment[row * width + column] = moment;
    }
  }
  const side = 2 * reach + 1;
  const squares = ((reach * (reach + 1) * (2 * reach + 1)) / 3) * side * cellM;
  const ratio = new Float32Array(z.length).fill(Number.NaN);
  for (let row = reach; row < height - reach; row++) {
    for (let column = 0; column < width; column++) {
      let momentX = 0;
      let momentY = 0;
      for (let d = -reach; d <= reach; d++) {
        const i = (row + d) * width + column;
        momentX += rowMoment[i];
        momentY += d * rowSum[i];
      }
      ratio[row * width + column] = Math.hypot(momentX, momentY) / squares;
    }
  }
  return ratio;
}

/** Running sums of a least-squares plane, about a middle so that no digits are lost. */
class PlaneSums {
  private n = 0;
  private x = 0;
  private y = 0;
  private z = 0;
  private xx = 0;
  private xy = 0;
  private yy = 0;
  private xz = 0;
  private yz = 0;

  constructor(
    private readonly middleX: number,
    private readonly middleY: number,
  ) {}

  add(x: number, y: number, z: number): void {
    const dx = x - this.middleX;
    const dy = y - this.middleY;
    this.n++;
    this.x += dx;
    this.y += dy;
    this.z += z;
    this.xx += dx * dx;
    this.xy += dx * dy;
    this.yy += dy * dy;
    this.xz += dx * z;
    this.yz += dy * z;
  }

  fit(): FittedPlane | null {
    if (this.n < 3) return null;
    const { n } = this;
    const xx = this.xx - (this.x * this.x) / n;
    const xy = this.xy - (this.x * this.y) / n;
    const yy = this.yy - (this.y * this.y) / n;
    const xz = this.xz - (this.x * this.z) / n;
    const yz = this.yz - (this.y * this.z) / n;
    const determinant = xx * yy - xy * xy;
    if (determinant <= 1e-9 * (xx + yy) ** 2) return null;
    const bx = (xz * yy - yz * xy) / determinant;
    const by = (yz * xx - xz * xy) / determinant;
    const slopeRatio = Math.hypot(bx, by);
    return {
      middleM: (this.z - bx * this.x - by * this.y) / n,
      slopeRatio,
      uphill: slopeRatio === 0 ? [0, 0] : [bx / slopeRatio, by / slopeRatio],
    };
  }
}
