import type { DesignedSeries } from '../../../../../lib/basin/design/design-result';
import { hoursText } from '../../../../../lib/basin/design/judge-drain-down';
import { wetM } from '../../../../../lib/basin/filling/fill-and-drain';
import { gallonM3, inchM, litreM3, type UnitSystem } from '../../../../../lib/units/units';

/** What a chart draws, in the user's units. All lists are of one length. */
export interface ChartFigures {
  readonly timeH: readonly number[];
  /** Litres or gallons a minute, means over the time before. */
  readonly inflow: readonly number[];
  readonly overflow: readonly number[];
  /** Centimetres or inches. */
  readonly depth: readonly number[];
  readonly flowUnit: string;
  readonly depthUnit: string;
}

/** What a chart is read to say at one time. */
export interface ChartReading {
  readonly timeH: number;
  readonly depthM: number;
}

/** Room behind the last thing that happens, as a share of the whole. */
const afterShare = 0.05;

/** Flow and depth in units that suit a lot. */
function scaleOf(units: UnitSystem): {
  flow: number;
  depth: number;
  flowUnit: string;
  depthUnit: string;
} {
  return units === 'us'
    ? { flow: 1 / 60 / gallonM3, depth: 1 / inchM, flowUnit: 'gal/min', depthUnit: 'in' }
    : { flow: 1 / 60 / litreM3, depth: 100, flowUnit: 'L/min', depthUnit: 'cm' };
}

/**
 * The figures of a series up to when the surface is empty; what goes on below the floor after that is not drawn.
 *
 * @param close - only up to when no more water comes.
 */
export function chartFigures(
  series: DesignedSeries,
  units: UnitSystem,
  close = false,
): ChartFigures {
  const { time_h, inflow_m3_per_h, overflow_m3_per_h, depth_m } = series;
  const last = time_h.findLastIndex(
    (_, i) => inflow_m3_per_h[i] > 0 || overflow_m3_per_h[i] > 0 || (!close && depth_m[i] >= wetM),
  );
  const endH = time_h[Math.max(0, last)] * (1 + afterShare);
  const end = time_h.findIndex((time) => time > endH);
  const count = end === -1 ? time_h.length : end + 1;
  const { flow, depth, flowUnit, depthUnit } = scaleOf(units);
  return {
    timeH: time_h.slice(0, count),
    inflow: inflow_m3_per_h.slice(0, count).map((each) => each * flow),
    overflow: overflow_m3_per_h.slice(0, count).map((each) => each * flow),
    depth: depth_m.slice(0, count).map((each) => each * depth),
    flowUnit,
    depthUnit,
  };
}

/** A depth as the chart has it, in its unit. */
export function chartDepth(depthM: number, units: UnitSystem): number {
  return depthM * scaleOf(units).depth;
}

/** What the chart says at an entry, in words. */
export function readingText(figures: ChartFigures, at: number): string {
  const { timeH, inflow, overflow, depth, flowUnit, depthUnit } = figures;
  const parts = [
    `water ${shortly(depth[at])} ${depthUnit} deep`,
    `${shortly(inflow[at])} ${flowUnit} coming in`,
    overflow[at] > 0 ? `${shortly(overflow[at])} ${flowUnit} overflowing` : 'no overflow',
  ];
  return `After ${hoursText(timeH[at])}: ${parts.join(', ')}.`;
}

function shortly(value: number): string {
  if (value === 0) return '0';
  if (value < 0.05) return 'under 0.1';
  return value < 9.95 ? value.toFixed(1) : value.toFixed(0);
}
