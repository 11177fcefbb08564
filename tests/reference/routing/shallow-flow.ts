/**
 * A small two-dimensional solver of shallow flow: what routing without time is judged by. It shares no code with
 * the drainage of `lib` and knows neither receivers nor low spots.
 *
 * Water depths stand in cells, discharges on the faces between them. Local-inertial momentum: the surface's slope drives,
 * Manning friction brakes, what a flow carries along of its own speed is left out (on lots it is small).
 * Source: Bates, Horritt and Fewtrell (2010), Journal of Hydrology 387, 33-45 (abstract read), and the weighting
 * with the faces before and after by de Almeida et al. (2012), Water Resources Research 48 (from memory).
 */

const GRAVITY = 9.81;
/** Weight of a face's own discharge; the rest is shared by the faces before and after it. */
const THETA = 0.8;
/** Part of the longest stable step, `sqrt(THETA / 2) cell / wave speed`. */
const SAFETY = 0.95;
/** Depth over a face below which nothing flows, metres. */
const DRY_M = 1e-7;

export interface FlowGround {
  readonly width: number;
  readonly height: number;
  readonly cellM: number;
  /** Heights, metres; `NaN` for no data. Cells on the border and beside one without data swallow what arrives. */
  readonly z: ArrayLike<number>;
  /** 1 where a building stands, whose sides let no water through. */
  readonly isBuilding?: Uint8Array;
}

export interface FlowOptions {
  /** Manning's n, s m^(-1/3). */
  readonly manning: number;
  /** Time over which the run-off is put down evenly, seconds. */
  readonly rainS: number;
  readonly untilS: number;
  /**
   * Depth that waves are not let run faster than, metres: pools then take longer steps, while steady flow and still
   * water stay what they are.
   */
  readonly waveDepthM?: number;
  /** Depths to begin with, metres. */
  readonly startM?: ArrayLike<number>;
  /** Called after each step. */
  readonly watch?: (state: { timeS: number; depthM: Float64Array; leftM3: number }) => void;
}

export interface FlowRun {
  readonly depthM: Float64Array;
  /** Volume that each cell swallowed, m3; 0 but for cells at the border and beside no data. */
  readonly swallowedM3: Float64Array;
  /** Net volume over the face to the eastern and to the southern neighbour, m3. */
  readonly eastM3: Float64Array;
  readonly southM3: Float64Array;
  /** Greatest discharge over a face at the end, m2/s. */
  readonly restlessM2PerS: number;
  readonly steps: number;
}

/** Cells that swallow what arrives: on the border, without data, or beside a cell without. */
export function swallowing({
  width,
  height,
  z,
}: Pick<FlowGround, 'width' | 'height' | 'z'>): Uint8Array {
  return Uint8Array.from({ length: width * height }, (_, i) => {
    const column = i % width;
    const row = (i - column) / width;
    if (column === 0 || row === 0 || column === width - 1 || row === height - 1) return 1;
    for (let y = -1; y <= 1; y++) {
      for (let x = -1; x <= 1; x++) if (Number.isNaN(z[i + y * width + x])) return 1;
    }
    return 0;
  });
}

/**
 * Puts run-off down and lets it run.
 *
 * @param runOffM - depth for each cell, metres; what falls on buildings or where there is no data must be 0.
 * Balance: what was put down stands or was swallowed, to rounding; depths are never negative.
 */
export function runShallowFlow(
  ground: FlowGround,
  runOffM: ArrayLike<number>,
  { manning, rainS, untilS, waveDepthM = Infinity, startM, watch }: FlowOptions,
): FlowRun {
  const { width, height, cellM, isBuilding } = ground;
  const size = width * height;
  const swallows = swallowing(ground);
  const z = Float64Array.from({ length: size }, (_, i) =>
    Number.isNaN(ground.z[i]) ? -1e9 : ground.z[i],
  );
  const h = new Float64Array(size);
  if (startM !== undefined) h.set(startM);
  // faces to the east and south, closed at the map's edge, at buildings and where no data are on either side
  const isOpenEast = new Uint8Array(size);
  const isOpenSouth = new Uint8Array(size);
  const isShut = (i: number): boolean => isBuilding?.[i] === 1 || Number.isNaN(ground.z[i]);
  for (let i = 0; i < size; i++) {
    if (isShut(i)) continue;
    if (i % width < width - 1 && !isShut(i + 1)) isOpenEast[i] = 1;
    if (i + width < size && !isShut(i + width)) isOpenSouth[i] = 1;
  }
  let east = new Float64Array(size);
  let south = new Float64Array(size);
  let nextEast = new Float64Array(size);
  let nextSouth = new Float64Array(size);
  const scale = new Float64Array(size);
  const eastM3 = new Float64Array(size);
  const southM3 = new Float64Array(size);
  const swallowedM3 = new Float64Array(size);
  const cellM2 = cellM * cellM;
  let leftM3 = 0;
  let timeS = 0;
  let steps = 0;

  const swallow = (): void => {
    for (let i = 0; i < size; i++) {
      if (swallows[i] === 0 || h[i] === 0) continue;
      swallowedM3[i] += h[i] * cellM2;
      leftM3 += h[i] * cellM2;
      h[i] = 0;
    }
  };

  swallow();
  while (timeS < untilS) {
    let deepest = 1e-6;
    for (let i = 0; i < size; i++) if (h[i] > deepest) deepest = h[i];
    const wave = Math.sqrt(GRAVITY * Math.min(deepest, waveDepthM));
    let dt = Math.min(timeS < rainS ? 0.5 : 2, (SAFETY * Math.sqrt(THETA / 2) * cellM) / wave);
    dt = Math.min(dt, (timeS < rainS ? rainS : untilS) - timeS);
    if (timeS < rainS) {
      const part = dt / rainS;
      for (let i = 0; i < size; i++) h[i] += runOffM[i] * part;
    }

    for (let i = 0; i < size; i++) {
      if (isOpenEast[i] !== 0) {
        const j = i + 1;
        const before = i % width === 0 ? 0 : east[i - 1];
        const sideways =
          0.25 * (south[i] + south[j] + (south[i - width] || 0) + (south[j - width] || 0));
        nextEast[i] = faceFlow(
          z[i],
          h[i],
          z[j],
          h[j],
          east[i],
          before + east[j],
          sideways,
          dt,
          cellM,
          manning,
          waveDepthM,
        );
      }
      if (isOpenSouth[i] !== 0) {
        const j = i + width;
        const isWest = i % width === 0;
        const sideways = 0.25 * (east[i] + east[j] + (isWest ? 0 : east[i - 1] + east[j - 1]));
        nextSouth[i] = faceFlow(
          z[i],
          h[i],
          z[j],
          h[j],
          south[i],
          (south[i - width] || 0) + south[j],
          sideways,
          dt,
          cellM,
          manning,
          waveDepthM,
        );
      }
    }
    [east, nextEast] = [nextEast, east];
    [south, nextSouth] = [nextSouth, south];

    // no cell gives more than it has; a face is an outlet of one cell only, so that the order does not matter
    const perM = dt / cellM;
    for (let i = 0; i < size; i++) {
      const fromWest = i % width === 0 ? 0 : east[i - 1];
      const fromNorth = i < width ? 0 : south[i - width];
      const out =
        perM *
        (Math.max(0, east[i]) +
          Math.max(0, south[i]) +
          Math.max(0, -fromWest) +
          Math.max(0, -fromNorth));
      scale[i] = out > h[i] ? (h[i] / out) * (1 - 1e-14) : 1;
    }
    for (let i = 0; i < size; i++) {
      if (east[i] !== 0) east[i] *= scale[east[i] > 0 ? i : i + 1];
      if (south[i] !== 0) south[i] *= scale[south[i] > 0 ? i : i + width];
    }
    for (let i = 0; i < size; i++) {
      if (east[i] !== 0) {
        h[i] -= perM * east[i];
        h[i + 1] += perM * east[i];
        eastM3[i] += east[i] * dt * cellM;
      }
      if (south[i] !== 0) {
        h[i] -= perM * south[i];
        h[i + width] += perM * south[i];
        southM3[i] += south[i] * dt * cellM;
      }
    }
    for (let i = 0; i < size; i++) if (h[i] < 0) h[i] = 0;
    swallow();
    timeS += dt;
    steps++;
    watch?.({ timeS, depthM: h, leftM3 });
  }
  let restlessM2PerS = 0;
  for (let i = 0; i < size; i++) {
    restlessM2PerS = Math.max(restlessM2PerS, Math.abs(east[i]), Math.abs(south[i]));
  }
  return { depthM: h, swallowedM3, eastM3, southM3, restlessM2PerS, steps };
}

/**
 * Discharge over a face after a step, m2/s, positive from the first cell to the second.
 *
 * Friction is taken with the new discharge: `q (1 + a |q|) = driven`, where `|q|` includes what flows along the face.
 * With the old one thin films would swing between two states for ever.
 */
function faceFlow(
  z0: number,
  h0: number,
  z1: number,
  h1: number,
  own: number,
  around: number,
  sideways: number,
  dt: number,
  cellM: number,
  manning: number,
  waveDepthM: number,
): number {
  const level0 = z0 + h0;
  const level1 = z1 + h1;
  const depth = Math.max(level0, level1) - Math.max(z0, z1);
  if (depth <= DRY_M) return 0;
  const driving = Math.min(depth, waveDepthM);
  const driven =
    THETA * own +
    0.5 * (1 - THETA) * around -
    ((GRAVITY * dt) / cellM) * driving * (level1 - level0);
  const a =
    (GRAVITY * dt * manning * manning * driving) / (depth * depth * depth * Math.cbrt(depth));
  // exact without flow along the face, too much otherwise; from there Newton's method comes down
  let q = (2 * driven) / (1 + Math.sqrt(1 + 4 * a * Math.abs(driven)));
  for (let turn = 0; turn < 2; turn++) {
    const total = Math.sqrt(q * q + sideways * sideways);
    if (total === 0) break;
    q -= (q * (1 + a * total) - driven) / (1 + a * total + (a * q * q) / total);
  }
  return q;
}
