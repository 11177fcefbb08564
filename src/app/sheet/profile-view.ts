import { waterLevels } from '../../../lib/ground/sampled-line';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { heightText, inShownUnits, lengthText } from '../look/height-text';
import type { ProfilePicture } from '../worker/analysis-api';

/** Heights along a line with the water that stands on it, elevations in metres; `NaN` where there is none. */
export interface Profile extends ProfilePicture {
  readonly waterM: Float64Array<ArrayBuffer>;
}

/** A profile of a storm's water. @param depthM - standing water by cell; null where none is known. */
export function withWater(
  picture: ProfilePicture,
  depthM: Float32Array<ArrayBuffer> | null,
): Profile {
  const { cells, cellM } = picture;
  return { ...picture, waterM: waterLevels(cells, cellM, depthM ?? []) };
}

/** Room for a drawing, pixels. */
export interface ProfileRoom {
  readonly leftPx: number;
  readonly rightPx: number;
  readonly topPx: number;
  readonly bottomPx: number;
}

/** A height or distance that is ruled, in metres, with its figure. */
export interface Ruled {
  readonly metres: number;
  readonly text: string;
}

/** A profile as it is drawn. */
export interface DrawnProfile {
  readonly x: (alongM: number) => number;
  readonly y: (elevationM: number) => number;
  readonly alongAt: (px: number) => number;
  /** Ground as planned; the same closed down to the foot of the drawing. */
  readonly ground: string;
  readonly earth: string;
  /** Ground as read, where that is another; empty where it is not. */
  readonly read: string;
  readonly water: string;
  readonly heights: readonly Ruled[];
  readonly distances: readonly Ruled[];
  /** How many times heights are drawn larger than lengths. */
  readonly exaggeration: number;
}

/** Ground that has been changed by less than this is drawn as one line, metres. */
const changedM = 0.005;
/** The least range of heights that a drawing shows: below it the errors of the heights would be all that is seen. A choice. */
const leastRangeM = 0.2;

/** Draws a profile into some room; null where it has no ground at all. */
export function drawProfile(
  profile: Profile,
  { leftPx, rightPx, topPx, bottomPx }: ProfileRoom,
  units: UnitSystem,
): DrawnProfile | null {
  const { alongM, plannedM, readM, waterM } = profile;
  const lengthM = alongM.at(-1) ?? 0;
  const range = rangeOf([plannedM, readM, waterM]);
  if (range === null || !(lengthM > 0)) return null;
  const [lowM, highM] = range;
  const perM = (rightPx - leftPx) / lengthM;
  const perHeightM = (bottomPx - topPx) / (highM - lowM);
  const x = (along: number): number => leftPx + along * perM;
  const y = (elevation: number): number => bottomPx - (elevation - lowM) * perHeightM;
  const isChanged = plannedM.some((m, i) => Math.abs(m - readM[i]) > changedM);
  const wet = runs(waterM, (i) => waterM[i] > plannedM[i] - changedM);
  const point = (i: number, elevation: number): string =>
    `${x(alongM[i]).toFixed(1)} ${y(elevation).toFixed(1)}`;
  const lineOf = (heights: Float64Array): string =>
    runs(heights)
      .map((run) => `M${run.map((i) => point(i, heights[i])).join('L')}`)
      .join('');
  return {
    x,
    y,
    alongAt: (px) => Math.min(lengthM, Math.max(0, (px - leftPx) / perM)),
    ground: lineOf(plannedM),
    earth: runs(plannedM)
      .map((run) =>
        band(
          run.map((i) => point(i, plannedM[i])),
          run.map((i) => point(i, lowM)),
        ),
      )
      .join(''),
    read: isChanged ? lineOf(readM) : '',
    water: wet
      .map((run) =>
        band(
          run.map((i) => point(i, waterM[i])),
          run.map((i) => point(i, Math.min(plannedM[i], waterM[i]))),
        ),
      )
      .join(''),
    heights: ruled(lowM, highM, units, 4),
    distances: ruled(0, lengthM, units, 8),
    exaggeration: perHeightM / perM,
  };
}

function band(upper: readonly string[], lower: readonly string[]): string {
  return `M${upper.join('L')}L${[...lower].reverse().join('L')}Z`;
}

/** Stretches of entries that follow one another and are heights. */
function runs(heights: Float64Array, isIn: (i: number) => boolean = () => true): number[][] {
  const found: number[][] = [];
  let run: number[] = [];
  for (let i = 0; i < heights.length; i++) {
    if (!Number.isNaN(heights[i]) && isIn(i)) {
      if (run.length === 0) found.push(run);
      run.push(i);
    } else run = [];
  }
  return found;
}

function rangeOf(lines: readonly Float64Array[]): readonly [number, number] | null {
  let [low, high] = [Infinity, -Infinity];
  for (const line of lines) {
    for (const height of line) {
      if (Number.isNaN(height)) continue;
      low = Math.min(low, height);
      high = Math.max(high, height);
    }
  }
  if (low > high) return null;
  const room = Math.max(leastRangeM, high - low) * 0.08;
  const middle = (low + high) / 2;
  const half = Math.max(leastRangeM, high - low) / 2 + room;
  return [middle - half, middle + half];
}

/** Round figures between two heights or distances, in the unit shown. */
function ruled(fromM: number, toM: number, units: UnitSystem, most: number): Ruled[] {
  const unitM = 1 / inShownUnits(1, units);
  const [from, to] = [fromM / unitM, toM / unitM];
  const least = (to - from) / most;
  const decade = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].map((lead) => lead * decade).find((each) => each >= least) ?? least;
  const found: Ruled[] = [];
  for (let k = Math.ceil(from / step - 1e-9); k * step <= to + 1e-9; k++) {
    const metres = k * step * unitM;
    found.push({ metres, text: heightText(metres, units, step * unitM) });
  }
  return found;
}

/** The station nearest to so far along. */
export function stationAt({ alongM }: ProfilePicture, wantedM: number): number {
  let best = 0;
  for (let i = 1; i < alongM.length; i++) {
    if (Math.abs(alongM[i] - wantedM) < Math.abs(alongM[best] - wantedM)) best = i;
  }
  return best;
}

/** What a station says. */
export function stationWords(profile: Profile, station: number, units: UnitSystem): string {
  const { alongM, plannedM, readM, waterM } = profile;
  const along = `${lengthText(alongM[station], units)} along`;
  const [ground, read, water] = [plannedM[station], readM[station], waterM[station]];
  if (Number.isNaN(ground)) {
    return `${along}: ${Number.isNaN(read) ? 'no data' : 'a building'}`;
  }
  const unit = units === 'us' ? 'ft' : 'm';
  const parts = [`${along}: ground ${heightText(ground, units, 0.01)} ${unit}`];
  const changed = ground - read;
  if (Math.abs(changed) > changedM) {
    const by = formatLength(Math.abs(changed), units);
    parts.push(`${by} ${changed < 0 ? 'below' : 'above'} the ground as read`);
  }
  if (water > ground) parts.push(`${formatLength(water - ground, units)} of water on it`);
  return parts.join(', ');
}
