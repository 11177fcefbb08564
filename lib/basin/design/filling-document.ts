import { ourChoice } from '../../source';
import { roofCurveNumber } from '../../storm/curve-numbers';
import { hourS } from '../../units/units';
import { sheetM, travelSource } from '../filling/basin-catchment';
import type { BasinSeries, FilledBasin } from '../filling/fill-and-drain';
import type { LongRunYear } from '../filling/long-run';
import { leastSlope } from '../filling/way-to-basin';
import { volumeAt } from '../form/stage-storage';
import type { BasinDesign, DesignedSeries, DesignedYear } from './design-result';
import type { WorkedBasin } from './worked-basin';

export function catchmentOf({
  catchment,
  surfaces,
  kind,
  rain2y,
}: WorkedBasin): BasinDesign['catchment'] {
  return {
    area_m2: catchment.areaM2,
    ground_m2: catchment.groundM2,
    by_cover: surfaces,
    roof_curve_number: kind === 'thaw' ? null : roofCurveNumber,
    roofs: catchment.roofs.map(({ id, areaM2, distanceM, travelS }) => ({
      id,
      area_m2: areaM2,
      distance_m: distanceM,
      travel_min: travelS / 60,
    })),
    mean_way_m: catchment.meanLengthM,
    mean_travel_min: catchment.meanTravelS / 60,
    longest_travel_min: catchment.longestTravelS / 60,
    travel_source: travelSource,
    longest_sheet_m: sheetM,
    least_slope: leastSlope,
    least_slope_source: ourChoice,
    rain_2y_mm: rain2y.rainMm,
    rain_2y_from: rain2y.from,
    rain_2y_source: rain2y.source,
    cut_by_edge: catchment.cutByEdge,
  };
}

export function betweenM3({ own, filled, byFacet }: WorkedBasin): [number, number] | null {
  if (byFacet === null) return null;
  const { inflowM3 } = filled.summary;
  // what another basin sends hangs on that basin's own inflow
  const runOnM3 = own.fromGroundM3 + own.fromRoofsM3 + own.steadyM3;
  const otherM3 = inflowM3 + (byFacet - 1) * runOnM3;
  return otherM3 < inflowM3 ? [otherM3, inflowM3] : [inflowM3, otherM3];
}

export function stormOf(worked: WorkedBasin): BasinDesign['storm'] {
  const { filled, own, kind, rainMm, rateKnown } = worked;
  const { summary, halved, fromOverflowM3 } = filled;
  const known = (seconds: number | null): number | null =>
    seconds === null || !rateKnown ? null : seconds / hourS;
  return {
    kind,
    rain_mm: rainMm,
    inflow_m3: summary.inflowM3,
    inflow_between_m3: betweenM3(worked),
    captured_m3: summary.capturedM3,
    captured_fraction: summary.capturedShare,
    taken_in_m3: takenInM3(worked),
    overflow_m3: summary.overflowM3,
    peak_depth_m: summary.peakDepthM,
    peak_at_h: summary.peakAtS / hourS,
    drain_down_h: known(summary.drainDownS),
    drain_from_peak_h: known(summary.drainFromPeakS),
    layers_empty_h: known(summary.layersEmptyS),
    longest_wet_h: summary.longestWetS / hourS,
    error_m3: summary.errorM3,
    soaked_m3: summary.soakedM3,
    underdrain_m3: summary.underdrainM3,
    left_m3: summary.leftM3,
    from_ground_m3: own.fromGroundM3,
    from_roofs_m3: own.fromRoofsM3,
    from_drains_m3: own.steadyM3,
    from_overflow_m3: fromOverflowM3,
    on_itself_m3: summary.rainM3,
    held_in_barrels_m3: own.inBarrelsM3,
    held_in_low_spots_m3: own.inLowSpotsM3,
    peak_inflow_m3_per_h: summary.peakInflowM3PerS * hourS,
    peak_overflow_m3_per_h: summary.peakOverflowM3PerS * hourS,
    rain_end_h: summary.rainEndS / hourS,
    followed_h: summary.followedS / hourS,
    over_rim: summary.overRim,
    half_step: {
      step_s: halved?.stepS ?? 0,
      overflow_m3: halved?.overflowM3 ?? 0,
      peak_depth_m: halved?.peakDepthM ?? 0,
      drain_down_h: known(halved?.drainDownS ?? null),
    },
  };
}

/**
 * What of the captured water no longer stands in the bowl when the last has come. Where some overflowed the bowl was full
 * before, so that the rest of what was captured is taken in.
 */
export function takenInM3({
  built,
  filled: { summary, series },
}: Pick<WorkedBasin, 'built'> & {
  readonly filled: Pick<FilledBasin, 'summary' | 'series'>;
}): number {
  let standsM3 = built.bowlM3;
  if (summary.overflowM3 === 0) {
    const at = series.timeS.findLastIndex((time) => time <= summary.inflowEndS);
    standsM3 = at === -1 ? 0 : volumeAt(built.storage, series.depthM[at]);
  }
  return Math.max(0, summary.capturedM3 - standsM3);
}

export function drainDownOf({
  judgement,
  filled,
  fromFullS,
  rateKnown,
}: WorkedBasin): BasinDesign['drain_down'] {
  const { drainDownS } = filled.summary;
  return {
    result: judgement.result,
    why: judgement.why,
    limit_h: judgement.limitH,
    limit_is_local: judgement.isLocal,
    judged_h: judgement.judgedH,
    after_rain_h: !rateKnown || drainDownS === null ? null : drainDownS / hourS,
    from_full_h: !rateKnown || fromFullS === null ? null : fromFullS / hourS,
    source: judgement.source,
    limits: judgement.against.map(({ limit, result }) => ({ ...limit, result })),
  };
}

export function longRunOf({ longRun }: WorkedBasin): BasinDesign['long_run'] {
  if (longRun === null) return null;
  return {
    years: longRun.years.map(yearOf),
    all: yearOf(longRun.all),
    error_m3: longRun.errorM3,
    notes: longRun.notes,
  };
}

function yearOf(row: LongRunYear): DesignedYear {
  return {
    year: row.year,
    days: row.days,
    missing_days: row.missingDays,
    rain_mm: row.rainMm,
    inflow_m3: row.inflowM3,
    overflow_m3: row.overflowM3,
    soaked_m3: row.soakedM3,
    dried_m3: row.driedM3,
    underdrain_m3: row.underdrainM3,
    captured_fraction: row.capturedShare,
    storms: row.storms,
    overflows: row.overflows,
    wet_h: row.wetH,
    longest_wet_h: row.longestWetH,
    peak_depth_m: row.peakDepthM,
  };
}

export function seriesOf(series: BasinSeries): DesignedSeries {
  const perHour = (rates: Float64Array): number[] => Array.from(rates, (each) => each * hourS);
  return {
    time_h: Array.from(series.timeS, (each) => each / hourS),
    inflow_m3_per_h: perHour(series.inflowM3PerS),
    depth_m: [...series.depthM],
    layers_m3: [...series.layersM3],
    soaked_m3_per_h: perHour(series.soakedM3PerS),
    underdrain_m3_per_h: perHour(series.underdrainM3PerS),
    overflow_m3_per_h: perHour(series.overflowM3PerS),
  };
}
