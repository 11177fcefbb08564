import type { ThawSettings } from '../plan/storm-settings';
import { inchPerHMPerS, mmPerHOfMPerS } from '../units/units';
import type { SoilGroup } from './curve-numbers';

/**
 * Least and greatest transmission rate of each soil group, metres a second; A has no upper end. These rates of 1986 are
 * lower than the laboratory conductivities by which the groups have been told apart since 2009.
 *
 * Source: `tr55Groups`.
 */
export const groupRatesMPerS: Readonly<
  Record<SoilGroup, { readonly least: number; readonly greatest: number | null }>
> = {
  A: { least: 0.3 * inchPerHMPerS, greatest: null },
  B: { least: 0.15 * inchPerHMPerS, greatest: 0.3 * inchPerHMPerS },
  C: { least: 0.05 * inchPerHMPerS, greatest: 0.15 * inchPerHMPerS },
  D: { least: 0, greatest: 0.05 * inchPerHMPerS },
};

/**
 * What open ground takes in while snow melts on it, millimetres an hour.
 *
 * Frozen ground takes in nothing, which is an assumption: no published figure was found. Wet ground takes in the
 * least rate of its soil group, thawed ground the middle of the group's range (A: its least, having no upper end).
 *
 * Which end of the ranges to take is a choice.
 */
export function thawInfiltrationMmPerH(ground: ThawSettings['ground'], group: SoilGroup): number {
  if (ground === 'frozen') return 0;
  const { least, greatest } = groupRatesMPerS[group];
  return (ground === 'wet' ? least : (least + (greatest ?? least)) / 2) * mmPerHOfMPerS;
}
