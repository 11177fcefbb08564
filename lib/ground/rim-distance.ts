import type { XY } from '../frame/frame';
import { boundsOf, centroid, type Ring } from '../frame/shapes';

/**
 * Distances from a rim, for loops over many places: `look` fills the fields and allocates nothing. Metres throughout.
 * Cost: one pass over the rim's edges for each look.
 */
export class RimDistance {
  /** What the last look found: distance from the rim, the rim's nearest point, whether the place lies inside. */
  awayM = 0;
  nearX = 0;
  nearY = 0;
  isInside = false;
  readonly #x: Float64Array;
  readonly #y: Float64Array;
  readonly #dx: Float64Array;
  readonly #dy: Float64Array;
  readonly #squared: Float64Array;

  constructor(rim: Ring) {
    const next = (i: number): XY => rim[(i + 1) % rim.length];
    this.#x = Float64Array.from(rim, ([x]) => x);
    this.#y = Float64Array.from(rim, ([, y]) => y);
    this.#dx = Float64Array.from(rim, ([x], i) => next(i)[0] - x);
    this.#dy = Float64Array.from(rim, ([, y], i) => next(i)[1] - y);
    this.#squared = Float64Array.from(this.#dx, (dx, i) => dx * dx + this.#dy[i] * this.#dy[i]);
  }

  look(px: number, py: number): void {
    const x = this.#x;
    const y = this.#y;
    const dx = this.#dx;
    const dy = this.#dy;
    const squared = this.#squared;
    let best = Infinity;
    let inside = false;
    for (let i = 0; i < x.length; i++) {
      const fromX = px - x[i];
      const fromY = py - y[i];
      // a ray to the east crosses the edges that its place lies inside of an odd number of times
      if (fromY < 0 !== fromY < dy[i] && fromX < (fromY * dx[i]) / dy[i]) inside = !inside;
      const along = fromX * dx[i] + fromY * dy[i];
      const t = along <= 0 ? 0 : along >= squared[i] ? 1 : along / squared[i];
      const offX = fromX - t * dx[i];
      const offY = fromY - t * dy[i];
      const away = offX * offX + offY * offY;
      if (away >= best) continue;
      best = away;
      this.nearX = x[i] + t * dx[i];
      this.nearY = y[i] + t * dy[i];
    }
    this.awayM = Math.sqrt(best);
    this.isInside = inside;
  }
}

/** The place inside a rim that is farthest from it: the middle of the largest circle that fits. */
export interface InnermostPlace {
  readonly at: XY;
  readonly awayM: number;
}

/** Good to a tenth of a millimetre, finer than anybody digs. */
const innermostM = 1e-4;

/**
 * Finds the innermost place by halving squares: a square whose middle lies `d` inside the rim holds no place farther in
 * than `d` and its half diagonal, so most are dropped at once.
 *
 * Where many places are equally far in, as along the middle of a rectangle, the centre of area is preferred.
 *
 * @returns distance 0 for a rim without an inside.
 */
export function innermostPlace(rim: Ring): InnermostPlace {
  const distance = new RimDistance(rim);
  const { west, south, east, north } = boundsOf(rim);
  let at: XY = rim[0];
  let awayM = 0;
  const look = (x: number, y: number): number => {
    distance.look(x, y);
    if (!distance.isInside) return -distance.awayM;
    if (distance.awayM > awayM + innermostM) {
      awayM = distance.awayM;
      at = [x, y];
    }
    return distance.awayM;
  };
  look(...centroid([rim]));
  let half = Math.min(east - west, north - south) / 2;
  if (!(half > 0)) return { at, awayM };
  let squares: { x: number; y: number; inM: number }[] = [];
  for (let x = west + half; x - half < east; x += 2 * half) {
    for (let y = south + half; y - half < north; y += 2 * half) {
      squares.push({ x, y, inM: look(x, y) });
    }
  }
  while (half > innermostM / 2) {
    half /= 2;
    const quarters: typeof squares = [];
    for (const { x, y, inM } of squares) {
      if (inM + 2 * half * Math.SQRT2 <= awayM + innermostM) continue;
      for (const [i, j] of corners) {
        const [qx, qy] = [x + i * half, y + j * half];
        quarters.push({ x: qx, y: qy, inM: look(qx, qy) });
      }
    }
    squares = quarters;
  }
  return { at, awayM };
}

const corners = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
] as const;
