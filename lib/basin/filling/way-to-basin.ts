import { COLUMN_STEP, NONE, neighbourOffsets, ROW_STEP } from '../../drainage/terrain/neighbours';
import type { Routing } from '../../drainage/terrain/routing';

/** How water comes to a basin, by cell, in means over the ways that its water takes. Arrays belong to the workspace. */
export interface WayToBasin {
  /** Share of the cell's water that reaches the basin before any other, 0 to 1; 1 in it. */
  readonly share: Float32Array;
  /** Times the share: length of the way up to the basin's edge, metres. */
  readonly lengthM: Float32Array;
  /** Times the share: fall along it, metres. */
  readonly fallM: Float32Array;
  /** Times the share: length times roughness. */
  readonly roughM: Float32Array;
  /** Times the share: time in runnels, seconds. */
  readonly runnelS: Float32Array;
}

/** What the ground is like to water that flows over it, by a cell's class. */
export interface FlowResistance {
  /** Manning's n of sheet flow. */
  readonly roughness: number;
  /** Speed in runnels on a slope of 1, metres a second; it goes with the root of the slope. */
  readonly runnelMPerS: number;
}

/** Ground flatter than this carries water as if it fell so much: full low spots and lawns. Our choice, no source. */
export const leastSlope = 0.005;

/**
 * Follows water to a basin by multiple flow, with every low spot full: a cell's share is the mean of its receivers', weighted
 * as its water is, and length, fall and time are carried along with it.
 *
 * @param isTarget - 1 for the cells of the basin, and of ponds that cover it.
 * @param ends - 1 for cells where water ends otherwise: other basins.
 * @param classOf - index in `resistance` of each cell.
 * Cost: O(n) in one sweep, little for cells whose water does not come.
 */
export function wayToBasin(
  routing: Routing,
  isTarget: Uint8Array,
  ends: Uint8Array,
  classOf: Uint16Array,
  resistance: readonly FlowResistance[],
  cellM: number,
): WayToBasin {
  const { surface, terrain } = routing;
  const buffer = (of: string): Float32Array =>
    terrain.workspace.float32(`way ${of}`, surface.length).fill(0);
  const ways: WayToBasin = {
    share: buffer('share'),
    lengthM: buffer('length'),
    fallM: buffer('fall'),
    roughM: buffer('roughness'),
    runnelS: buffer('time'),
  };
  const roughness = Float64Array.from(resistance, (each) => each.roughness);
  const speed = Float64Array.from(resistance, (each) => each.runnelMPerS);
  follow(ways, routing, isTarget, ends, classOf, roughness, speed, cellM);
  return ways;
}

/** Carries the ways up against the flow, cell by cell. */
function follow(
  ways: WayToBasin,
  { terrain, surface, upstreamFirst, ponds }: Routing,
  isTarget: Uint8Array,
  ends: Uint8Array,
  classOf: Uint16Array,
  roughness: Float64Array,
  speed: Float64Array,
  cellM: number,
): void {
  const { share, lengthM, fallM, roughM, runnelS } = ways;
  const { width } = terrain;
  const offsets = neighbourOffsets(width);
  // 1 beside cells that have a share: no other can have one; a row more at either end, and a cell
  const margin = width + 1;
  const isNear = terrain.workspace.uint8('near a way', share.length + 2 * margin).fill(0);
  for (let at = upstreamFirst.length - 1; at >= 0; at--) {
    const i = upstreamFirst[at];
    if (isTarget[i] === 1) {
      share[i] = 1;
      markNear(isNear, i + margin, offsets);
      continue;
    }
    if (ends[i] === 1) continue;
    const out = ponds.of[i] === 0 ? -1 : ponds.to[ponds.of[i]];
    if (out !== -1) {
      // across a pond: all goes to its way out
      const acrossM = cellM * cellsApart(width, i, out);
      crossPond(ways, i, out, acrossM, roughness[classOf[i]], speed[classOf[i]]);
      if (share[i] > 0) markNear(isNear, i + margin, offsets);
      continue;
    }
    if (isNear[i + margin] === 0) continue;
    const code = terrain.receiver[i];
    if (code >= NONE || ponds.of[i] !== 0) continue;
    let weights = 0;
    let passes = 0;
    let length = 0;
    let fall = 0;
    let rough = 0;
    let time = 0;
    let falls = 0;
    let east = 0;
    let south = 0;
    for (let d = 0; d < 8; d++) {
      const next = i + offsets[d];
      const drop = surface[i] - surface[next];
      if (!(drop > 0)) continue;
      const weight = d % 2 === 0 ? drop : drop * Math.SQRT1_2;
      weights += weight;
      east += weight * COLUMN_STEP[d];
      south += weight * ROW_STEP[d];
      const given = weight * share[next];
      if (given === 0) continue;
      passes += given;
      length += weight * lengthM[next];
      fall += weight * fallM[next];
      rough += weight * roughM[next];
      time += weight * runnelS[next];
      if (isTarget[next] === 0) falls += given * drop;
    }
    if (weights === 0) {
      // nothing lies lower: all goes the single way
      const next = i + offsets[code];
      weights = 1;
      east = COLUMN_STEP[code];
      south = ROW_STEP[code];
      passes = share[next];
      length = lengthM[next];
      fall = fallM[next];
      rough = roughM[next];
      time = runnelS[next];
    }
    if (passes === 0) continue;
    // As far as the water moves on as a whole: it spreads over neighbours, and does not zigzag between them.
    const stepM = cellM * Math.max(0.5, Math.hypot(east, south) / weights);
    const ground = classOf[i];
    const slope = Math.max(leastSlope, falls / passes / stepM);
    markNear(isNear, i + margin, offsets);
    share[i] = passes / weights;
    lengthM[i] = (length + passes * stepM) / weights;
    fallM[i] = (fall + falls) / weights;
    roughM[i] = (rough + passes * stepM * roughness[ground]) / weights;
    runnelS[i] = (time + (passes * stepM) / (speed[ground] * Math.sqrt(slope))) / weights;
  }
}

function markNear(isNear: Uint8Array, at: number, offsets: Int32Array): void {
  for (let d = 0; d < 8; d++) isNear[at + offsets[d]] = 1;
}

/** The ways from a cell of a pond, straight over its water to its way out. */
function crossPond(
  { share, lengthM, fallM, roughM, runnelS }: WayToBasin,
  from: number,
  out: number,
  acrossM: number,
  roughness: number,
  speed: number,
): void {
  share[from] = share[out];
  lengthM[from] = lengthM[out] + share[out] * acrossM;
  fallM[from] = fallM[out];
  roughM[from] = roughM[out] + share[out] * acrossM * roughness;
  runnelS[from] = runnelS[out] + (share[out] * acrossM) / (speed * Math.sqrt(leastSlope));
}

function cellsApart(width: number, a: number, b: number): number {
  return Math.hypot((a % width) - (b % width), Math.floor(a / width) - Math.floor(b / width));
}
