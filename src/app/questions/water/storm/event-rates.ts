import { totalMm } from '../../../../../lib/storm/rain-series';
import type { RunOff, WaterEvent } from '../../../../../lib/storm/water-event';
import { hourS, inchM, type UnitSystem } from '../../../../../lib/units/units';

/** What an event brings and what of it runs off, as rates over time in the user's unit. All lists are of one length. */
export interface EventRates {
  readonly kind: WaterEvent['kind'];
  /** Ends of the steps, hours from the beginning; the first is the beginning itself. */
  readonly timeH: readonly number[];
  /** Means over the step before: rain, or melt and rain. */
  readonly comes: readonly number[];
  readonly lawn: readonly number[];
  readonly roofs: readonly number[];
  /** All that has come by then, millimetres. */
  readonly soFarMm: readonly number[];
  readonly unit: 'mm/h' | 'in/h';
}

/** The event with the run-off of a lawn and of roofs beside it. */
export function eventRates(
  event: WaterEvent,
  lawn: RunOff,
  roofs: RunOff,
  units: UnitSystem,
): EventRates {
  const { series } = event;
  const stepH = series.stepS / hourS;
  const each = units === 'us' ? inchM / 0.001 : 1;
  const rates = ({ depthsMm }: { readonly depthsMm: Float64Array }): number[] => [
    0,
    ...Array.from(depthsMm, (depth) => depth / stepH / each),
  ];
  let sum = 0;
  return {
    kind: event.kind,
    timeH: Array.from({ length: series.depthsMm.length + 1 }, (_, i) => i * stepH),
    comes: rates(series),
    lawn: rates(lawn.series),
    roofs: rates(roofs.series),
    soFarMm: [0, ...Array.from(series.depthsMm, (depth) => (sum += depth))],
    unit: units === 'us' ? 'in/h' : 'mm/h',
  };
}

/** The entry of the step in which most comes; the beginning when nothing does. */
export function hardestEntry({ comes }: EventRates): number {
  let hardest = 0;
  comes.forEach((rate, i) => {
    if (rate > comes[hardest]) hardest = i;
  });
  return hardest;
}

/** The stretch of an event with its hardest step in the middle, of a given length at most. */
export function aroundHardest(rates: EventRates, hours: number): EventRates {
  const middleH = rates.timeH[hardestEntry(rates)];
  const isIn = (timeH: number): boolean => Math.abs(timeH - middleH) <= hours / 2 + 1e-9;
  const from = rates.timeH.findIndex(isIn);
  const to = rates.timeH.findLastIndex(isIn) + 1;
  const cut = (list: readonly number[]): readonly number[] => list.slice(from, to);
  return {
    ...rates,
    timeH: cut(rates.timeH),
    comes: cut(rates.comes),
    lawn: cut(rates.lawn),
    roofs: cut(rates.roofs),
    soFarMm: cut(rates.soFarMm),
  };
}

/** What is read off at an entry, in words. */
export function ratesText(rates: EventRates, at: number): string {
  const { kind, timeH, comes, lawn, roofs, unit } = rates;
  const parts = [
    `${shortly(comes[at])} ${unit} of ${kind === 'thaw' ? 'melt and rain' : 'rain'}`,
    `${shortly(lawn[at])} off the lawn`,
    `${shortly(roofs[at])} off roofs`,
  ];
  return `${momentText(kind, timeH[at])}: ${parts.join(', ')}.`;
}

/** A moment of an event: of a storm since it began, of a thaw by day and clock. */
export function momentText(kind: WaterEvent['kind'], timeH: number): string {
  const minutes = Math.round(timeH * 60);
  const hours = Math.floor(minutes / 60);
  if (kind === 'thaw') {
    const day = Math.max(0, Math.ceil(timeH / 24 - 1e-9) - 1);
    return `Day ${day + 1}, ${hours - day * 24} o’clock`;
  }
  const rest = minutes % 60;
  if (hours === 0) return `After ${rest} min`;
  return `After ${hours} h${rest === 0 ? '' : ` ${rest} min`}`;
}

/** A share of an event's water in percent. */
export function sharePercent(part: RunOff, event: WaterEvent): number {
  const total = totalMm(event.series);
  return total === 0 ? 0 : Math.round((part.totalMm / total) * 100);
}

function shortly(value: number): string {
  if (value === 0) return '0';
  if (value < 0.005) return 'under 0.01';
  return value < 0.995 ? value.toFixed(2) : value < 9.95 ? value.toFixed(1) : value.toFixed(0);
}
