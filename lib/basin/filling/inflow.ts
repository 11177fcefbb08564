import type { WaterEvent } from '../../storm/water-event';
import type { SurfaceClass } from '../../storm/surface-class';
import type { BasinCatchment, CatchmentPart } from './basin-catchment';
import type { Inflow } from './fill-and-drain';

/** What comes to a basin in an event, and what does not. Volumes in m3. */
export interface EventInflow extends Inflow {
  readonly fromGroundM3: number;
  readonly fromRoofsM3: number;
  /** From sumps and drains. */
  readonly steadyM3: number;
  /** Held back in barrels, and in low spots on the way. */
  readonly inBarrelsM3: number;
  readonly inLowSpotsM3: number;
}

/** What of a catchment the inflow hangs on. */
type Catching = Omit<BasinCatchment, 'cutByEdge'>;

/**
 * The inflow hydrograph of a basin: what runs off each part of its catchment, late by its time on the way (a time-area
 * diagram), less what barrels and low spots hold back first.
 *
 * What comes over the rim is exactly area times depth of run-off, less what is held back, in any step.
 *
 * @param event - the storm or thaw, or the same made larger or smaller.
 * Cost: steps times minutes of lag times parts.
 */
export function eventInflow(catchment: Catching, event: WaterEvent): EventInflow {
  const { stepS, depthsMm } = event.series;
  const lagSteps = 2 + Math.ceil((longestMinutes(catchment) * 60) / stepS);
  const steadySteps = Math.ceil(catchment.steadyS / stepS);
  const length = Math.max(depthsMm.length + lagSteps, steadySteps);
  const runOnM3 = new Float64Array(length);
  const rainMm = new Float64Array(length);
  rainMm.set(depthsMm);
  const runOffs = new Map<SurfaceClass, Float64Array>();
  const runOffOf = (surface: SurfaceClass): Float64Array => {
    const known = runOffs.get(surface);
    if (known !== undefined) return known;
    const found = event.runOff(surface).series.depthsMm;
    runOffs.set(surface, found);
    return found;
  };

  let fromGroundM3 = 0;
  let fromRoofsM3 = 0;
  let inBarrelsM3 = 0;
  let inLowSpotsM3 = 0;
  for (const { parts, heldBackM3 } of catchment.groups) {
    const group = new Float64Array(length);
    let roofM3 = 0;
    let wholeM3 = 0;
    for (const part of parts) {
      const arrived = arrivals(part, runOffOf(part.surface), stepS, length);
      inBarrelsM3 += holdBack(arrived, part.barrelM3);
      const volumeM3 = addTo(group, arrived);
      wholeM3 += volumeM3;
      if (part.roof !== null) roofM3 += volumeM3;
    }
    const heldM3 = holdBack(group, heldBackM3);
    const passes = wholeM3 > 0 ? 1 - heldM3 / wholeM3 : 0;
    inLowSpotsM3 += heldM3;
    fromRoofsM3 += roofM3 * passes;
    fromGroundM3 += (wholeM3 - roofM3) * passes;
    addTo(runOnM3, group);
  }
  for (let step = 0; step < steadySteps; step++) {
    const lastsS = Math.min(stepS, catchment.steadyS - step * stepS);
    runOnM3[step] += (catchment.steadyM3 * lastsS) / catchment.steadyS;
  }
  return {
    stepS,
    runOnM3,
    rainMm,
    fromGroundM3,
    fromRoofsM3,
    steadyM3: catchment.steadyM3,
    inBarrelsM3,
    inLowSpotsM3,
  };
}

function longestMinutes({ groups }: Catching): number {
  let longest = 0;
  for (const { parts } of groups) {
    for (const { byMinuteM2 } of parts) longest = Math.max(longest, byMinuteM2.length);
  }
  return longest;
}

/** What of a part's run-off arrives in each step, m3. A lag within a step is shared between two. */
function arrivals(
  { byMinuteM2 }: CatchmentPart,
  runOffMm: Float64Array,
  stepS: number,
  length: number,
): Float64Array {
  const byStepM2 = new Float64Array(length + 1);
  let last = 0;
  for (let minute = 0; minute < byMinuteM2.length; minute++) {
    const areaM2 = byMinuteM2[minute];
    if (areaM2 === 0) continue;
    const steps = (minute * 60) / stepS;
    const before = Math.floor(steps);
    const after = steps - before;
    byStepM2[before] += areaM2 * (1 - after);
    byStepM2[before + 1] += areaM2 * after;
    last = before + 1;
  }
  const arrived = new Float64Array(length);
  for (let lag = 0; lag <= last; lag++) {
    const m3PerMm = byStepM2[lag] / 1000;
    if (m3PerMm === 0) continue;
    for (let step = 0; step < runOffMm.length; step++) {
      arrived[step + lag] += m3PerMm * runOffMm[step];
    }
  }
  return arrived;
}

/** Takes a volume off the beginning of a hydrograph; returns what was taken. */
function holdBack(flow: Float64Array, volumeM3: number): number {
  let left = volumeM3;
  for (let step = 0; step < flow.length && left > 0; step++) {
    const held = Math.min(left, flow[step]);
    flow[step] -= held;
    left -= held;
  }
  return volumeM3 - left;
}

/** Adds a hydrograph to another; returns its volume. */
function addTo(sum: Float64Array, flow: Float64Array): number {
  let volumeM3 = 0;
  for (let step = 0; step < flow.length; step++) {
    sum[step] += flow[step];
    volumeM3 += flow[step];
  }
  return volumeM3;
}
