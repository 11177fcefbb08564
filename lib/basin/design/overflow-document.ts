import { ourChoice, practice } from '../../source';
import { hourS } from '../../units/units';
import { grassLimit, grassLimitSource } from '../overflow/erosion';
import { clearShare, inletWidthM } from '../overflow/notch';
import type { OverflowVerdict } from '../overflow/overflow-verdict';
import type { BasinDesign, DesignedReach } from './design-result';
import type { WorkedBasin } from './worked-basin';

export function overflowOf(worked: WorkedBasin, stone: boolean): BasinDesign['overflow'] {
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
