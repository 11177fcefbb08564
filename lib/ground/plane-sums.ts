import type { XY } from '../frame/frame';

/** The plane that fits the ground best at a basin. */
export interface GroundPlane {
  /** Height at the rim's middle, metres above the grid's datum. */
  readonly middleM: number;
  /** Rise over run along the steepest way, 0 or more. */
  readonly slopeRatio: number;
  /** Unit vector uphill; [0, 0] where the ground is level. */
  readonly uphill: XY;
}

/** Running sums of a least-squares plane, about a middle so that no digits are lost. */
export class PlaneSums {
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
