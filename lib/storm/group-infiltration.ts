import type { ThawSettings } from '../plan/storm-settings';
import { inchM } from '../units/units';
import type { SoilGroup } from './curve-numbers';

/** Least and greatest transmission rate of each soil group, inches an hour; A has no upper end. */
const groupRangeInPerH: Readonly<Record<SoilGroup, readonly [number, number]>> = {
  A: [0.3, 0.3],
  B: [0.15, 0.3],
  C: [0.05, 0.15],
  D: [0, 0.05],
};

/**
 * What open ground takes in while snow melts on it, millimetres an hour.
 *
 * Frozen ground takes in nothing, which is an assumption: no published figure was found. Wet ground takes in the
 * least rate of its soil group, thawed ground the middle of the group's range (A: its least, having no upper end).
 *
 * Source of the ranges: Technical Release 55, USDA SCS, 1986, appendix A (read). Which end of them to take is a choice.
 */
export function thawInfiltrationMmPerH(ground: ThawSettings['ground'], group: SoilGroup): number {
  if (ground === 'frozen') return 0;
  const [least, greatest] = groupRangeInPerH[group];
  return ((ground === 'wet' ? least : (least + greatest) / 2) * inchM) / 0.001;
}
