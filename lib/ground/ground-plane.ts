import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { boundsOf, type Ring } from '../frame/shapes';
import { cellsAround } from './rasterise';
import { RimDistance } from './rim-distance';

/** The plane that fits the ground best at a basin. */
export interface GroundPlane {
  /** Height at the rim's middle, metres above the grid's datum. */
  readonly middleM: number;
  /** Rise over run along the steepest way, 0 or more. */
  readonly slopeRatio: number;
  /** Unit vector uphill; [0, 0] where the ground is level. */
  readonly uphill: XY;
}

/** Ground this far round the rim counts for the slope at the basin, metres (and a cell and a half). Common practice, no source. */
const slopeAroundM = 1;

/**
 * The least-squares plane of the ground under a basin and close around it: what is called the slope at the basin wherever
 * one is named. Cells count whose centre lies inside the rim or near it.
 *
 * @param grid - the ground before any basin (`groundWithoutBasins`).
 * @returns `null` when fewer than three cells with data lie there, or when they lie in one line: the slope is unknown.
 * Cost: cells around the rim times its edges.
 */
export function groundPlane(grid: Grid, rim: Ring): GroundPlane | null {
  const { cellM, westM, northM, width, z } = grid;
  const aroundM = Math.max(slopeAroundM, 1.5 * cellM);
  const { west, south, east, north } = boundsOf(rim);
  const sums = new PlaneSums((west + east) / 2, (south + north) / 2);
  const distance = new RimDistance(rim);
  for (const cell of cellsAround(grid, rim, aroundM)) {
    if (Number.isNaN(z[cell])) continue;
    const row = Math.floor(cell / width);
    const x = westM + (cell - row * width + 0.5) * cellM;
    const y = northM - (row + 0.5) * cellM;
    distance.look(x, y);
    if (distance.isInside || distance.awayM <= aroundM) sums.add(x, y, z[cell]);
  }
  return sums.fit();
}

/** Running sums of a least-squares plane, about a middle so that no digits are lost. */
class PlaneSums {
  #n = 0;
  #x = 0;
  #y = 0;
  #z = 0;
  #xx = 0;
  #xy = 0;
  #yy = 0;
  #xz = 0;
  #yz = 0;
  readonly #middleX: number;
  readonly #middleY: number;

  constructor(middleX: number, middleY: number) {
    this.#middleX = middleX;
    this.#middleY = middleY;
  }

  add(x: number, y: number, z: number): void {
    const dx = x - this.#middleX;
    const dy = y - this.#middleY;
    this.#n++;
    this.#x += dx;
    this.#y += dy;
    this.#z += z;
    this.#xx += dx * dx;
    this.#xy += dx * dy;
    this.#yy += dy * dy;
    this.#xz += dx * z;
    this.#yz += dy * z;
  }

  fit(): GroundPlane | null {
    if (this.#n < 3) return null;
    const n = this.#n;
    const xx = this.#xx - (this.#x * this.#x) / n;
    const xy = this.#xy - (this.#x * this.#y) / n;
    const yy = this.#yy - (this.#y * this.#y) / n;
    const xz = this.#xz - (this.#x * this.#z) / n;
    const yz = this.#yz - (this.#y * this.#z) / n;
    const determinant = xx * yy - xy * xy;
    if (determinant <= 1e-9 * (xx + yy) ** 2) return null;
    const bx = (xz * yy - yz * xy) / determinant;
    const by = (yz * xx - xz * xy) / determinant;
    const slopeRatio = Math.hypot(bx, by);
    return {
      middleM: (this.#z - bx * this.#x - by * this.#y) / n,
      slopeRatio,
      uphill: slopeRatio === 0 ? [0, 0] : [bx / slopeRatio, by / slopeRatio],
    };
  }
}
