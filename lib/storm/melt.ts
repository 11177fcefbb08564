import type { ThawSettings } from '../plan/storm-settings';
import { exactSteps } from './exact-steps';
import { totalMm, type RainSeries } from './rain-series';
import { hourS } from '../units/units';

/**
 * Degree-day coefficient when nothing better is known, millimetres of melt for each degree Celsius and day
 * (0.06 in for each degree Fahrenheit and day). Source: `nehMelt`; it is also the middle of the range in `highwayMelt`.
 */
export const usualMeltMmPerCDay = 2.74;
/** Ranges that have been published, millimetres for each degree Celsius and day. */
export const meltRanges = {
  /** Source: `nehMelt`. */
  handbook: [1.6, 6],
  /** Source: `highwayMelt`. */
  highway: [1.8, 3.7],
} as const;
/** Daily mean above which snow melts. Source: `highwayMelt`. */
export const usualBaseC = 0;

/** Daily means above this, on snow, ask whether they were read in degrees Fahrenheit. Our choice, no source. */
const warmOnSnowC = 20;

/** Whether a day of a thaw is so warm that its temperature may stand in the wrong unit. */
export function isTooWarmForSnow({ mean_c }: ThawSettings['days'][number]): boolean {
  return mean_c > warmOnSnowC;
}

/** What one day of a thaw sets free. */
export interface MeltDay {
  readonly meltMm: number;
  readonly rainMm: number;
  /** Water left in the snow when the day is over. */
  readonly snowLeftMm: number;
}

/**
 * Melt of each day by the degree-day method, M = C (T - T0), never more than the snow has left.
 *
 * Snow is taken to be ripe, so that all melt and rain leave it at once; ripe snow itself holds 3 to 5 % water.
 * Rain melts no snow here beyond what the day's temperature does.
 *
 * Source: Highway Hydrology, Hydraulic Design Series No. 2, FHWA, 2002, equation 9.16 (seen).
 */
export function meltDays(thaw: ThawSettings): MeltDay[] {
  const coefficient = thaw.melt_mm_per_c_day ?? usualMeltMmPerCDay;
  const baseC = thaw.base_c ?? usualBaseC;
  let snowLeftMm = thaw.snow_water_mm;
  return thaw.days.map(({ mean_c, rain_mm }) => {
    const meltMm = Math.min(snowLeftMm, Math.max(0, coefficient * (mean_c - baseC)));
    snowLeftMm -= meltMm;
    return { meltMm, rainMm: rain_mm ?? 0, snowLeftMm };
  });
}

/** Melt and rain of the whole thaw, millimetres. */
export function thawDepthMm(thaw: ThawSettings): number {
  return meltDays(thaw).reduce((sum, { meltMm, rainMm }) => sum + meltMm + rainMm, 0);
}

const hoursADay = 24;
/** Snow melts from this hour to that, most in the middle: as a half sine. Our choice, no source. */
const meltFromH = 8;
const meltToH = 20;

/** The share of a day's melt that has come by an hour of it. */
function meltShare(hour: number): number {
  if (hour <= meltFromH) return 0;
  if (hour >= meltToH) return 1;
  return (1 - Math.cos((Math.PI * (hour - meltFromH)) / (meltToH - meltFromH))) / 2;
}

/**
 * Melt and rain of a thaw hour by hour, from midnight before the first day. A day's melt follows a half sine from 8 to
 * 20 o'clock, its rain falls evenly over the whole day: choices, since the method knows days only.
 */
export function thawSeries(thaw: ThawSettings): RainSeries {
  const days = meltDays(thaw);
  const before = [0];
  for (const { meltMm, rainMm } of days) before.push(before[before.length - 1] + meltMm + rainMm);
  const depthsMm = exactSteps(days.length * hoursADay, thawDepthMm(thaw), (step) => {
    const day = Math.min(days.length - 1, Math.floor(step / hoursADay));
    const hour = step - day * hoursADay;
    const { meltMm, rainMm } = days[day];
    return before[day] + meltMm * meltShare(hour) + (rainMm * hour) / hoursADay;
  });
  return { stepS: hourS, depthsMm };
}

/** What the ground cannot take in as fast as it comes, step by step. */
export function beyondInfiltration(series: RainSeries, mmPerH: number): RainSeries {
  const takenMm = (mmPerH * series.stepS) / hourS;
  return { ...series, depthsMm: series.depthsMm.map((depth) => Math.max(0, depth - takenMm)) };
}

/** The series with every step multiplied so that it sums up to a depth; one in which nothing comes stays so. */
export function scaledTo(series: RainSeries, depthMm: number): RainSeries {
  const total = totalMm(series);
  if (total === depthMm || total === 0) return series;
  let sum = 0;
  const depthsMm = exactSteps(series.depthsMm.length, depthMm, (step) => {
    sum += series.depthsMm[step - 1];
    return (sum / total) * depthMm;
  });
  return { ...series, depthsMm };
}
