import type { Ring } from '../../frame/shapes';

/** Area of the part of a ring that lies in a square cell, m2: the ring cut off at each of the cell's sides in turn. */
export function areaInSquare(ring: Ring, west: number, south: number, sideM: number): number {
  let xs = ring.map(([x]) => x - west);
  let ys = ring.map(([, y]) => y - south);
  for (let side = 0; side < 4; side++) {
    const along = side % 2 === 0 ? xs : ys;
    const limit = side < 2 ? 0 : sideM;
    const sign = side < 2 ? 1 : -1;
    const keptX: number[] = [];
    const keptY: number[] = [];
    for (let i = 0, j = along.length - 1; i < along.length; j = i++) {
      const here = sign * (along[i] - limit);
      const there = sign * (along[j] - limit);
      if (here >= 0 !== there >= 0) {
        const t = there / (there - here);
        keptX.push(xs[j] + t * (xs[i] - xs[j]));
        keptY.push(ys[j] + t * (ys[i] - ys[j]));
      }
      if (here >= 0) {
        keptX.push(xs[i]);
        keptY.push(ys[i]);
      }
    }
    xs = keptX;
    ys = keptY;
  }
  let twice = 0;
  for (let i = 0, j = xs.length - 1; i < xs.length; j = i++) twice += xs[j] * ys[i] - xs[i] * ys[j];
  return Math.abs(twice) / 2;
}
