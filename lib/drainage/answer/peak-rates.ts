import type { LocalPlan } from '../../plan/local-plan';
import { eventDepthMm } from '../../storm/event-depth';
import { waterEvent } from '../../storm/water-event';
import type { SurfaceClass } from '../../storm/surface-class';
import { hourS } from '../../units/units';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';
import { roofSurface, surfaceRunOffM } from '../storm/surface-run-off';
import { spreadFlow } from '../terrain/spread-flow';

/** A depth of the storm that differs by less from the plan's is the plan's, millimetres. */
const sameMm = 1e-6;

/**
 * What may come to each cell at most while the event lasts, m3/h: as if all water came at once to where it goes and no
 * low spot held any of it back. What takes its time, or stands, only comes at less: every way of flow passes on what
 * comes to it, and a pond lets out no faster than it fills. Conduits give what they can carry.
 *
 * @returns `null` where the storm is not that of the plan, so that nobody knows how it fell.
 * Cost: O(n).
 */
export function peakRates(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
): Float64Array | null {
  const { lotfall } = plan.plan;
  if (Math.abs(eventDepthMm(lotfall) - storm.rainMm) > sameMm) return null;
  const { ground, cellM2 } = shape;
  const event = waterEvent(lotfall);
  const peakMmPerH = (surface: SurfaceClass): number => {
    const { depthsMm, stepS } = event.runOff(surface).series;
    return (depthsMm.reduce((most, mm) => Math.max(most, mm), 0) * hourS) / stepS;
  };
  const rates = surfaceRunOffM(ground.grid, ground, storm.surfaces, { runOffMm: peakMmPerH });
  for (let cell = 0; cell < rates.length; cell++) rates[cell] *= cellM2;
  const roofMPerH = peakMmPerH(roofSurface) / 1000;
  for (const { outlet, landings } of storm.roofFlows) {
    for (const { cells } of landings) {
      for (const cell of cells) rates[cell] += (outlet.areaM2 * roofMPerH) / cells.length;
    }
  }
  for (const { id, cell, volumeM3 } of storm.sumps) {
    const rate = plan.of['sump-outlet'].find((sump) => sump.id === id)?.feature.properties;
    rates[cell] += rate?.rate_m3_per_h ?? volumeM3 / storm.durationH;
  }
  for (const { conduit, volumeM3 } of storm.conduits) {
    if (typeof conduit.outlet !== 'number' || !(volumeM3 > 0)) continue;
    rates[conduit.outlet] += conduit.capacityM3PerS * hourS;
  }
  return spreadFlow(storm.flow.routing, rates, rates);
}
