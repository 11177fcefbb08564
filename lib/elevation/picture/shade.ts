import type { Grid } from '../grid';

export interface ShadeOptions {
  /** Times by which heights are exaggerated; default so that the grid's usual slope shows well, 1 to 20. */
  readonly exaggeration?: number;
  /** Opacity of the deepest shade, 0 to 1. Default 0.72. */
  readonly strength?: number;
}

/** Ink of the shade (#15222e) and colour of the lit side, red, green, blue. */
const INK = [0x15, 0x22, 0x2e] as const;
const LIGHT = [0xff, 0xf1, 0xd6] as const;
/** The lit side is only hinted at, so that the paper stays paper. */
const LIGHT_SHARE = 0.45;

/**
 * Where the lights stand (degrees clockwise from grid north) and their shares. The main one is in the
 * north-west, as maps have it, so that hollows read as hollows; the two beside it shade the slopes that run
 * along the main light and would go flat.
 */
const LIGHTS: readonly { readonly azimuthDeg: number; readonly share: number }[] = [
  { azimuthDeg: 315, share: 0.6 },
  { azimuthDeg: 250, share: 0.2 },
  { azimuthDeg: 20, share: 0.2 },
];
const ALTITUDE_DEG = 45;
/** Slope (rise over run, after exaggeration) at which the grid's usual slope is put. */
const SHOWN_SLOPE = 0.5;

/**
 * Relief shading of a grid as an ink wash: nothing where the ground is flat, ink on slopes that turn from the
 * light, a breath of warm light on those that face it.
 *
 * The gradient is that of Horn (1981, Hill shading and the reflectance map, Proceedings of the IEEE 69,
 * 14-47; from memory): differences over the eight neighbours, weighted 1-2-1. A neighbour without data is
 * taken to lie at the cell's own height. Three lights are blended: each casts shade and light by its cosine law,
 * and both are laid on, so that a slope lit from one side and shaded from another shows as such.
 *
 * @returns red, green, blue, opacity for each cell, row by row from the north, not premultiplied; all zero
 *   where there is no data.
 * Cost: linear; about 30 ms for a million cells.
 */
export function shade(grid: Grid, options: ShadeOptions = {}): Uint8ClampedArray<ArrayBuffer> {
  const { width, height, z, cellM } = grid;
  const { exaggeration = usualExaggeration(grid), strength = 0.72 } = options;
  const out = new Uint8ClampedArray(4 * width * height);
  const lights = lightVectors();
  const perCell = exaggeration / (8 * cellM);
  const opaque = 255 * strength;
  for (let row = 0; row < height; row++) {
    const up = row > 0 ? -width : 0;
    const down = row < height - 1 ? width : 0;
    for (let column = 0; column < width; column++) {
      const i = row * width + column;
      const own = z[i];
      if (own !== own) continue;
      const left = column > 0 ? -1 : 0;
      const right = column < width - 1 ? 1 : 0;
      let nw = z[i + up + left];
      let n = z[i + up];
      let ne = z[i + up + right];
      let w = z[i + left];
      let e = z[i + right];
      let sw = z[i + down + left];
      let s = z[i + down];
      let se = z[i + down + right];
      const sum = nw + n + ne + w + e + sw + s + se;
      // Only NaN differs from itself; the test is kept out of the common way.
      if (sum !== sum) {
        if (nw !== nw) nw = own;
        if (n !== n) n = own;
        if (ne !== ne) ne = own;
        if (w !== w) w = own;
        if (e !== e) e = own;
        if (sw !== sw) sw = own;
        if (s !== s) s = own;
        if (se !== se) se = own;
      }
      const riseEast = (ne + 2 * e + se - nw - 2 * w - sw) * perCell;
      const riseNorth = (nw + 2 * n + ne - sw - 2 * s - se) * perCell;
      const length = Math.sqrt(1 + riseEast * riseEast + riseNorth * riseNorth);
      let shadeShare = 0;
      let lightShare = 0;
      for (let k = 0; k < lights.length; k += 3) {
        // 0 on the flat, 1 in full shade, negative towards the light.
        const lit = (1 - lights[k] * riseEast - lights[k + 1] * riseNorth) / length;
        const darkness = 1 - (lit > 0 ? lit : 0);
        if (darkness >= 0) shadeShare += lights[k + 2] * darkness;
        else lightShare -= lights[k + 2] * darkness;
      }
      lightShare *= LIGHT_SHARE;
      const both = shadeShare + lightShare;
      if (both === 0) continue;
      const light = lightShare / both;
      const at = 4 * i;
      out[at] = INK[0] + (LIGHT[0] - INK[0]) * light;
      out[at + 1] = INK[1] + (LIGHT[1] - INK[1]) * light;
      out[at + 2] = INK[2] + (LIGHT[2] - INK[2]) * light;
      out[at + 3] = both * opaque;
    }
  }
  return out;
}

/** For each light its east and north part over its upward part, and its share, in a row. */
function lightVectors(): Float64Array {
  const flatness = 1 / Math.tan((ALTITUDE_DEG * Math.PI) / 180);
  return Float64Array.from(
    LIGHTS.flatMap(({ azimuthDeg, share }) => {
      const azimuth = (azimuthDeg * Math.PI) / 180;
      return [Math.sin(azimuth) * flatness, Math.cos(azimuth) * flatness, share];
    }),
  );
}

/** Exaggeration at which the root mean square slope of a sample of the grid shows as a clear slope. */
function usualExaggeration({ width, height, z, cellM }: Grid): number {
  let sum = 0;
  let count = 0;
  const step = Math.max(1, Math.floor(Math.sqrt((width * height) / 40_000)));
  for (let row = 0; row + 1 < height; row += step) {
    for (let column = 0; column + 1 < width; column += step) {
      const i = row * width + column;
      const east = z[i + 1] - z[i];
      const south = z[i + width] - z[i];
      const steepness = (east * east + south * south) / (cellM * cellM);
      // Walls, banks and building edges must not set the measure for a gentle lot.
      if (!(steepness < 1)) continue;
      sum += steepness;
      count++;
    }
  }
  const slope = count === 0 ? 0 : Math.sqrt(sum / count);
  return slope === 0 ? 1 : Math.min(Math.max(SHOWN_SLOPE / slope, 1), 20);
}
