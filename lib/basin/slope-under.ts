import type { FinishedBasin } from './finished-basin';

/** How the ground lay inside the rim before digging. */
export interface SlopeUnder {
  /** Rise over run of the plane that fits it best. */
  readonly slope: number;
  /** Unit vector to where it falls, [0, 0] for level ground. */
  readonly fallsTo: readonly [east: number, north: number];
}

/** Fits a plane to the ground inside the rim as it was before digging (least squares, cells without data left out). */
export function slopeUnder({ form, before }: FinishedBasin): SlopeUnder {
  const { width, cellM, z } = before;
  let [n, sx, sy, sz, sxx, sxy, syy, sxz, syz] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  const first = form.cells[0];
  const firstRow = Math.floor(first / width);
  for (const cell of form.cells) {
    if (Number.isNaN(z[cell])) continue;
    const row = Math.floor(cell / width);
    const x = (cell - row * width - (first - firstRow * width)) * cellM;
    const y = (firstRow - row) * cellM;
    const h = z[cell] - form.rimM;
    n++;
    sx += x;
    sy += y;
    sz += h;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    sxz += x * h;
    syz += y * h;
  }
  const xx = sxx - (sx * sx) / n;
  const xy = sxy - (sx * sy) / n;
  const yy = syy - (sy * sy) / n;
  const xz = sxz - (sx * sz) / n;
  const yz = syz - (sy * sz) / n;
  const determinant = xx * yy - xy * xy;
  if (!(determinant > 0)) return { slope: 0, fallsTo: [0, 0] };
  const east = (xz * yy - yz * xy) / determinant;
  const north = (yz * xx - xz * xy) / determinant;
  const slope = Math.hypot(east, north);
  return { slope, fallsTo: slope > 0 ? [-east / slope, -north / slope] : [0, 0] };
}
