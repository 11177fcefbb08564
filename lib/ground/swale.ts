import type { Grid } from '../elevation/grid';
import type { XY } from '../frame/frame';
import { CountedEdits, type Edit } from './edit';
import { heightAt } from './height-at';
import { cellsBeside, profileAlong, type LineProfile } from './line-profile';

/** A swale as it is to be, in local metres. */
export interface SwaleShape {
  readonly id: string;
  readonly points: readonly XY[];
  /** Between the shoulders, as a tape has it; the bed is narrower by the sides, down to a point. */
  readonly widthM: number;
  /** Of the bed below the ground beside the swale. */
  readonly depthM: number;
  /** Of the bed below the ground met at each corner of the line, in place of `depthM`; straight between corners. */
  readonly bedBelowM?: readonly number[];
  /** Run of the sides for one of rise. */
  readonly sideSlope: number;
  /** Whether the bed is dug deeper where it would otherwise rise. */
  readonly enforceFall: boolean;
  /** What an enforced bed falls by at the least, for one of run; level is enough when not given. */
  readonly leastFall?: number;
  /** Whether its lower end opens into something that is dug after it, as a basin is. */
  readonly isLedOn?: boolean;
}

/** Sizes of a swale where the plan gives none. Common practice, no source. */
export const swaleDefaults = { widthM: 1.8, depthM: 0.2, sideSlope: 3 } as const;
/** Rises and closed ends lower than this are not worth a word, metres. Our choice, no source. */
const worthTellingM = 0.02;

/**
 * Digs a swale: a level bed along its line with sloping sides, round at the ends. Where the sides meet before they reach the
 * depth asked for, it is wider at the top than asked for rather than shallower.
 *
 * The bed lies its depth below the ground at the swale's shoulders, so one that the elevation shows already is not dug twice; with a
 * depth for each corner it runs straight between those, and can so run out to daylight. From
 * the higher end to the lower it is the lowest that it has been so far: it never rises, stays level where
 * the ground beside it rises, and falls by the least fall where one is given. Without `enforceFall` the bed is as it is
 * asked for, and where it rises is told.
 *
 * @param grid - the ground so far; `grid.z` is changed in place.
 */
export function digSwale(grid: Grid, swale: SwaleShape): Edit {
  const { widthM, depthM, sideSlope } = swale;
  const bedHalfM = Math.max(0, widthM / 2 - depthM * sideSlope);
  const topM = bedHalfM + depthM * sideSlope;
  const { profile, wanted, downhill, falling, bedM } = swaleBed(grid, swale);
  const earth = new CountedEdits(grid.z, grid.cellM * grid.cellM);
  const notes = [
    ...countNotes(swale),
    ...fallNotes(profile, wanted, falling, downhill, swale),
    ...(swale.isLedOn === true ? [] : endNotes(grid, profile, bedM, downhill, topM)),
  ];

  for (const { cell, awayM, levelM } of cellsBeside(
    grid,
    profile,
    bedM,
    reachOf(swale, profile, bedM),
  )) {
    const beyond = awayM - bedHalfM;
    if (beyond > 0 && sideSlope === 0) continue;
    const bottom = levelM + (beyond > 0 ? beyond / sideSlope : 0);
    if (bottom < grid.z[cell]) earth.set(cell, bottom);
  }
  return earth.edit(swale.id, 'swale', notes);
}

/** The bed of a swale station by station, in heights of the grid, and what was asked for. */
export interface SwaleBed {
  readonly profile: LineProfile;
  readonly bedM: Float64Array;
  readonly wanted: Float64Array;
  readonly falling: Float64Array;
  /** Whether the line's last point is its lower end. */
  readonly downhill: boolean;
}

/** How deep the bed of a swale lies, on the ground that it will be dug in. */
export function swaleBed(grid: Grid, swale: SwaleShape): SwaleBed {
  const { widthM, depthM, sideSlope } = swale;
  const topM = Math.max(widthM / 2, depthM * sideSlope);
  const profile = profileAlong(grid, swale.points, topM + grid.cellM);
  const asked = askedBed(grid, swale, profile);
  const wanted = asked ?? profile.groundM.map((ground) => ground - depthM);
  const downhill = fallsForward(asked ?? profile.groundM);
  const falling = fallingBed(wanted, profile.alongM, downhill, swale.leastFall ?? 0);
  return { profile, wanted, downhill, falling, bedM: swale.enforceFall ? falling : wanted };
}

/** Whether a line's last point lies no higher than its first. */
export function fallsForward(groundM: Float64Array): boolean {
  const known = groundM.filter((height) => !Number.isNaN(height));
  return known.length === 0 || known[known.length - 1] <= known[0];
}

/** For each station the lowest level from the upper end to it. Gaps in the data stay gaps. */
export function runningMinimum(levelM: Float64Array, forward: boolean): Float64Array {
  const out = levelM.slice();
  let lowest = Infinity;
  for (let i = 0; i < out.length; i++) {
    const at = forward ? i : out.length - 1 - i;
    if (Number.isNaN(out[at])) continue;
    lowest = Math.min(lowest, out[at]);
    out[at] = lowest;
  }
  return out;
}

/** The same where each level lies by the least fall below the one before it, at least. */
function fallingBed(
  levelM: Float64Array,
  alongM: Float64Array,
  forward: boolean,
  leastFall: number,
): Float64Array {
  // What falls by the least fall is level in heights over a line that falls so.
  const sunk = (i: number): number => (forward ? 1 : -1) * leastFall * alongM[i];
  const over = runningMinimum(
    levelM.map((level, i) => level + sunk(i)),
    forward,
  );
  return over.map((level, i) => level - sunk(i));
}

/** Levels at the stations by the depths of the corners; `null` where there are none, or not one for each. */
function askedBed(
  grid: Grid,
  { points, bedBelowM }: SwaleShape,
  { stations, firstOf }: LineProfile,
): Float64Array | null {
  if (bedBelowM?.length !== points.length) return null;
  const corners = points.map((at, i) => heightAt(grid, at) - bedBelowM[i]);
  const bedM = new Float64Array(stations.length);
  for (let i = 1; i < points.length; i++) {
    const first = firstOf[i - 1];
    const last = (firstOf[i] ?? stations.length) - 1;
    for (let at = first; at <= last; at++) {
      const t = last === first ? 0 : (at - first) / (last - first);
      bedM[at] = corners[i - 1] + t * (corners[i] - corners[i - 1]);
    }
  }
  return bedM;
}

function countNotes({ points, bedBelowM }: SwaleShape): string[] {
  if (bedBelowM === undefined || bedBelowM.length === points.length) return [];
  return [
    `It has ${points.length} corners and ${bedBelowM.length} depths of its bed: one depth is taken all along.`,
  ];
}

function fallNotes(
  { alongM }: LineProfile,
  wanted: Float64Array,
  falling: Float64Array,
  forward: boolean,
  { enforceFall: enforced, leastFall = 0 }: SwaleShape,
): string[] {
  let worst = -1;
  for (let i = 0; i < wanted.length; i++) {
    const rise = wanted[i] - falling[i];
    if (rise > worthTellingM && (worst === -1 || rise > wanted[worst] - falling[worst])) worst = i;
  }
  if (worst === -1) return [];
  const length = alongM[alongM.length - 1];
  const fromUpperM = forward ? alongM[worst] : length - alongM[worst];
  const rise = centimetres(wanted[worst] - falling[worst]);
  return enforced
    ? [
        `Dug up to ${rise} deeper than its depth, ${metres(fromUpperM)} from its upper end, so that its bed ${
          leastFall > 0 ? `falls by ${(100 * leastFall).toFixed(1)} % at least` : 'nowhere rises'
        }.`,
      ]
    : [
        `Its bed rises: ${metres(fromUpperM)} from its upper end it stands ${rise} above its bed further up, and water stands there.`,
      ];
}

/** A bed that ends below the ground in front of it is closed. */
function endNotes(
  grid: Grid,
  { stations }: LineProfile,
  bedM: Float64Array,
  forward: boolean,
  topM: number,
): string[] {
  const end = forward ? stations.length - 1 : 0;
  const before = forward ? end - 1 : 1;
  const [x, y] = stations[end];
  const [fromX, fromY] = stations[before];
  const step = Math.hypot(x - fromX, y - fromY);
  if (step === 0) return [];
  const off = (topM + grid.cellM) / step;
  const closedM = heightAt(grid, [x + (x - fromX) * off, y + (y - fromY) * off]) - bedM[end];
  if (!(closedM > worthTellingM)) return [];
  return [
    `Its lower end lies ${centimetres(closedM)} below the ground beyond it, and water stands there: lead it on to lower ground, a drain or a basin.`,
  ];
}

/** How far from the line the sides can go before they meet the ground: twice what level ground asks. */
function reachOf(
  { widthM, sideSlope, depthM }: SwaleShape,
  { groundM }: LineProfile,
  bedM: Float64Array,
): number {
  let deepest = depthM;
  for (let i = 0; i < bedM.length; i++)
    deepest = Math.max(deepest, (groundM[i] || 0) - (bedM[i] || 0));
  return widthM / 2 + 2 * deepest * sideSlope;
}

function centimetres(lengthM: number): string {
  return `${Math.round(lengthM * 100)} cm`;
}

function metres(lengthM: number): string {
  return `${lengthM.toFixed(1)} m`;
}
