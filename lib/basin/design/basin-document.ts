import type { BasinDesign, DesignedReach, DesignedSeries, DesignedYear } from './design-result';
import { grassLimit, grassLimitSource } from '../overflow/erosion';
import type { OverflowVerdict } from '../overflow/overflow-verdict';
import { sheetM, travelSource } from '../filling/basin-catchment';
import type { WorkedBasin } from './worked-basin';
import { clearShare, inletWidthM } from '../overflow/notch';
import { costOf, quantitiesOf } from '../form/earthwork';
import { roofCurveNumber } from '../../storm/curve-numbers';
import { ourChoice, practice } from '../../source';
import { askedFreeboard } from '../form/finished-basin';
import { assumedSoilNote } from '../form/size-factors';
import { areaAt, volumeAt, type StageStorage } from '../form/stage-storage';
import type { BasinSeries } from '../filling/fill-and-drain';
import type { LongRunYear } from '../filling/long-run';
import { nothingWorks } from '../sizing/slow-soil';
import { leastSlope } from '../filling/way-to-basin';
import { hourS, mmPerHOfMPerS } from '../../units/units';

/** Entries of the table of storage below the sill. */
const tenths = 10;

/** The document of a basin from what was worked out. */
export function basinDocument(
  worked: WorkedBasin,
  prices?: Readonly<Record<string, number>>,
): BasinDesign {
  const { feature, built } = worked;
  const stone = worked.notch.result === 'fail' && worked.notch.clearM >= 0;
  const { layers } = built.layers;
  const quantities = stone
    ? quantitiesOf(built.finished, built.earth, layers, true)
    : built.quantities;
  return {
    id: feature.id,
    name: feature.feature.properties.name ?? feature.id,
    basin: formOf(worked),
    catchment: catchmentOf(worked),
    storm: stormOf(worked),
    drain_down: drainDownOf(worked),
    overflow: overflowOf(worked, stone),
    sizing: sizingOf(worked),
    slow_soil: worked.remedies.map((each) => ({
      kind: each.kind,
      works: each.works,
      why: each.why,
      area_m2: each.areaM2,
      ponding_depth_m: each.pondingDepthM,
      dig_depth_m: each.digDepthM,
      rate_mm_per_h: each.rateMPerS * mmPerHOfMPerS,
      after_rain_h: each.afterRainH,
      from_full_h: each.fromFullH,
      captured_fraction: each.capturedShare,
      underdrain_m3: each.underdrainM3,
    })),
    balance: {
      cut_m3: built.earth.cutM3,
      dig_m3: built.earth.digM3,
      berm_m3: built.earth.forFillM3,
      fill_m3: built.earth.fillM3,
      left_m3: built.earth.spoilM3,
    },
    quantities,
    cost: stone ? costOf(quantities, prices) : built.cost,
    long_run: longRunOf(worked),
    series: seriesOf(worked.filled.series),
    notes: notesOf(worked),
  };
}

function formOf({ built, levels }: WorkedBasin): BasinDesign['basin'] {
  const { form, rimAreaM2 } = built.finished;
  return {
    area_m2: rimAreaM2,
    ponding_depth_m: form.pondingDepthM,
    levels: { rim_m: levels.rimM, sill_m: levels.sillM, floor_m: levels.floorM },
    bottom_depth_m: built.bottomDepthM,
    dig_depth_m: built.layers.digDepthM,
    storage_m3: built.bowlM3,
    layer_storage_m3: built.poresM3,
    freeboard_m: form.freeboardM,
    freeboard_asked: {
      least_m: askedFreeboard.leastM,
      published: askedFreeboard.published,
      source: askedFreeboard.source,
    },
    side_slope: form.sideSlope,
    overflow_width_m: form.overflowWidthM,
    stage_storage: storageRows(built.storage),
    layers: built.layerVolumes.map(({ layer, volumeM3, storageM3 }) => ({
      name: layer.name,
      material: layer.material,
      thickness_m: layer.thicknessM,
      volume_m3: volumeM3,
      storage_m3: storageM3,
      porosity: layer.porosity,
      field_capacity: layer.fieldCapacity,
      conductivity_mm_per_h: layer.conductivityMPerS * mmPerHOfMPerS,
    })),
    zones: built.zones.map(({ zone, areaM2 }) => ({ zone, area_m2: areaM2 })),
    ponding_by_slope: {
      result: built.ponding.result,
      why: built.ponding.why,
      source: built.ponding.source,
    },
    separations: built.separations.map(({ below, result, why, depthM, actualM, rules }) => ({
      below,
      result,
      why,
      depth_m: depthM,
      actual_m: actualM,
      rules: rules.map(({ requiredM, published, meets, source }) => ({
        required_m: requiredM,
        published,
        meets,
        source,
      })),
    })),
  };
}

function storageRows(storage: StageStorage): BasinDesign['basin']['stage_storage'] {
  const { depthsM, overflowDepthM } = storage;
  const rimM = depthsM[depthsM.length - 1];
  const heights = Array.from({ length: tenths + 1 }, (_, i) => (overflowDepthM * i) / tenths);
  if (rimM > overflowDepthM) heights.push(rimM);
  return heights.map((depthM) => ({
    depth_m: depthM,
    area_m2: areaAt(storage, depthM),
    volume_m3: volumeAt(storage, depthM),
  }));
}

function catchmentOf({ catchment, surfaces, kind, rain2y }: WorkedBasin): BasinDesign['catchment'] {
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

function betweenM3({ own, filled, byFacet }: WorkedBasin): [number, number] | null {
  if (byFacet === null) return null;
  const { inflowM3 } = filled.summary;
  // what another basin sends hangs on that basin's own inflow
  const runOnM3 = own.fromGroundM3 + own.fromRoofsM3 + own.steadyM3;
  const otherM3 = inflowM3 + (byFacet - 1) * runOnM3;
  return otherM3 < inflowM3 ? [otherM3, inflowM3] : [inflowM3, otherM3];
}

function stormOf(worked: WorkedBasin): BasinDesign['storm'] {
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
function takenInM3({ built, filled: { summary, series } }: WorkedBasin): number {
  let standsM3 = built.bowlM3;
  if (summary.overflowM3 === 0) {
    const at = series.timeS.findLastIndex((time) => time <= summary.inflowEndS);
    standsM3 = at === -1 ? 0 : volumeAt(built.storage, series.depthM[at]);
  }
  return Math.max(0, summary.capturedM3 - standsM3);
}

function drainDownOf({
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

function overflowOf(worked: WorkedBasin, stone: boolean): BasinDesign['overflow'] {
  const { overflow, inlets, toBasin, built, toLngLat } = worked;
  const { notch, notchFlow, notchStorm, inlet, failsFromMm } = worked;
  return {
    path: overflow.ways.at(0)?.way.legs.flatMap(({ points }) => points.map(toLngLat)) ?? [],
    verdict: reachOf(overflow.verdict),
    ways: overflow.ways.map(({ way, verdict }) => ({
      ...reachOf(verdict),
      flow_m3_per_h: way.flowM3PerS * hourS,
      legs: way.legs.map(({ by, drain, points }) => ({
        by,
        drain,
        points: points.map(toLngLat),
      })),
    })),
    inlets: inlets.map((each) => ({
      drain: each.drain,
      comes_m3_per_h: each.comesM3PerS * hourS,
      room_m3_per_h: each.roomM3PerS * hourS,
      takes_m3_per_h: each.takesM3PerS * hourS,
      blocked: each.blocked,
    })),
    to_basin: toBasin,
    notch: {
      result: notch.result,
      why: notch.why,
      rain_mm: notchStorm.rainMm,
      rain_from: notchStorm.from,
      return_period_y: notchStorm.returnPeriodY,
      fails_from_mm: failsFromMm.notch,
      peak_m3_per_h: notchFlow.overflowM3PerS * hourS,
      head_m: Number.isFinite(notch.headM) ? notch.headM : built.finished.form.freeboardM,
      width_for_peak_m: Number.isFinite(notch.widthForPeakM) ? notch.widthForPeakM : null,
      stone,
      coefficient: notch.coefficient.metric,
      source: notch.coefficient.source,
      sill_velocity_m_per_s: notch.onSill.velocityMPerS,
      berm_velocity_m_per_s: notch.downBerm.velocityMPerS,
      erosion: notch.erosion.result,
      erosion_why: notch.erosion.why,
      erosion_fails_from_mm: failsFromMm.erosion,
      clear_share: clearShare,
      clear_source: ourChoice,
    },
    grass_limit: {
      from_m_per_s: grassLimit.fromMPerS,
      to_m_per_s: grassLimit.toMPerS,
      source: grassLimitSource,
    },
    inlet: {
      result: inlet.result,
      why: inlet.why,
      fails_from_mm: failsFromMm.inlet,
      peak_m3_per_h: notchFlow.runOnM3PerS * hourS,
      velocity_m_per_s: inlet.velocityMPerS,
      width_m: inletWidthM,
      width_source: practice,
      source: inlet.source,
    },
  };
}

function reachOf(verdict: OverflowVerdict): DesignedReach {
  return {
    reaches: verdict.reaches,
    feature: verdict.feature,
    result: verdict.result,
    why: verdict.why,
    at: verdict.at,
    along_m: verdict.alongM,
  };
}

function sizingOf(worked: WorkedBasin): BasinDesign['sizing'] {
  const { both, drainedM2, areaForShareM2, depthForShareM } = worked;
  return {
    wanted_fraction: worked.wantedShare,
    by_factor:
      both === null
        ? null
        : {
            soil: both.soil,
            soil_assumed: worked.sizingSoil.assumed,
            area_m2: both.factorAreaM2,
            captured_fraction: both.factorCapturedShare,
            factors: both.factors.map(({ factor, source }, i) => ({
              drained_m2: drainedM2[i],
              factor,
              source,
            })),
          },
    by_storm: {
      area_m2: areaForShareM2,
      ponding_depth_m: depthForShareM,
      largest_held_mm: worked.largestHeldMm,
    },
    agree: both?.agree ?? null,
    why: both?.why ?? 'Nothing drains here but the rain on the basin itself.',
  };
}

function longRunOf({ longRun }: WorkedBasin): BasinDesign['long_run'] {
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

function seriesOf(series: BasinSeries): DesignedSeries {
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

function notesOf(worked: WorkedBasin): string[] {
  const { built, catchment, filled, overflow, rain2y, rateKnown, remedies, toBasin } = worked;
  const notes = [...built.notes];
  if (rain2y.from === 'usual') {
    notes.push(
      'What rain of 24 h comes once in two years is not known, which the time of water on its way hangs on: a usual figure is taken. Give it with the storm.',
    );
  }
  if (catchment.cutByEdge) {
    notes.push('Ground beyond what was read may drain here too: its inflow is a lower bound.');
  }
  const between = betweenM3(worked);
  if (between !== null) {
    notes.push(
      'How much comes in hangs on how water is taken to spread on its way: by another rule it is more than 5 % different. Both are given; a storm watched on the ground tells.',
    );
  }
  if (!rateKnown) {
    notes.push(
      'Nothing is known of the soil: it is taken to let nothing in, so overflow is an upper bound.',
    );
  }
  if (worked.both !== null && worked.sizingSoil.assumed) notes.push(assumedSoilNote);
  if (filled.summary.overRim) {
    notes.push('Water runs over the rim itself in this storm: the notch does not take it.');
  }
  if (remedies.length > 0 && nothingWorks(remedies)) {
    notes.push('Nothing that was worked out makes it drain in time here: choose another place.');
  }
  if (toBasin !== null) {
    notes.push(
      `Its overflow is followed on into the basin ${toBasin}${
        overflow.ways.length > 1 ? ', all of it, though at the peak some goes another way' : ''
      }.`,
    );
  }
  notes.push('Evaporation is left out, and no water moves sideways below the floor.');
  return notes;
}
