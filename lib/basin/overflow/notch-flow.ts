import { roofSurface } from '../../drainage/storm/surface-run-off';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Settings } from '../../plan/schema';
import { waterEvent } from '../../storm/water-event';
import type { BasinToFill } from '../filling/basin-water';
import type { Inflow } from '../filling/fill-and-drain';
import { fillInSeries, type LinkedBasin } from '../filling/in-series';

/** What comes to a basin and leaves it at the peak of the storm that its notch is made for, m3/s. */
export interface NotchFlow {
  readonly overflowM3PerS: number;
  /** Over the rim alone, without the rain on the basin itself. */
  readonly runOnM3PerS: number;
}

/**
 * The peaks that notches and inlets have to bear. The storm meets each basin full: it stands at the sill when the peak
 * comes, its layers and soil take nothing and no underdrain helps, so that only the room over the sill delays anything.
 * Which earlier rain filled it, and how fast the soil is, then plays no part.
 *
 * @param basins - with the inflow of the storm that each one's notch is made for.
 * @returns in their order.
 */
export function notchFlows(basins: readonly LinkedBasin[]): NotchFlow[] {
  const full = basins.map((each) => ({ ...each, basin: filledUp(each.basin) }));
  // where nothing soaks in, one strip is as good as many
  const options = { full: true, horizonH: 0, strips: 1 };
  return fillInSeries(full, options).map(({ summary, inflow }) => ({
    overflowM3PerS: summary.peakOverflowM3PerS,
    runOnM3PerS: peakOf(inflow),
  }));
}

function filledUp({ storage, notch }: BasinToFill): BasinToFill {
  return { storage, notch, layers: [], subsoil: null };
}

function peakOf({ runOnM3, stepS }: Inflow): number {
  return runOnM3.reduce((most, each) => Math.max(most, each), 0) / stepS;
}

/** What roofs send through each drain pipe at the peak of a storm, m3/s, barrels being full by then. */
export function pipesInUse(
  { roofFlows }: Pick<StormOnGround, 'roofFlows'>,
  settings: Settings,
): ReadonlyMap<string, number> {
  const { series } = waterEvent(settings).runOff(roofSurface);
  const peakMPerS = Math.max(0, ...series.depthsMm) / 1000 / series.stepS;
  const inUse = new Map<string, number>();
  for (const { outlet } of roofFlows) {
    if (outlet.pipe === null) continue;
    inUse.set(outlet.pipe, (inUse.get(outlet.pipe) ?? 0) + outlet.areaM2 * peakMPerS);
  }
  return inUse;
}
