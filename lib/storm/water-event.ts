import { expectOf } from '../errors';
import type { Settings } from '../plan/schema';
import { eventDepthMm, thawOf } from './event-depth';
import { exactSteps } from './exact-steps';
import { resample } from './mass-curve';
import { beyondInfiltration, thawSeries } from './melt';
import { totalMm, type RainSeries } from './rain-series';
import { runOffLaw, stormRunOff, thawTakenMmPerH } from './run-off-law';
import { stormSeries } from './storm-series';
import type { SurfaceClass } from './surface-class';

/** What runs off one surface in an event. */
export interface RunOff {
  /** Depth over the whole event, millimetres: exactly the sum of the series. */
  readonly totalMm: number;
  /** When it runs off, in the steps of the event's own series; no step is below 0 or above that of the event. */
  readonly series: RainSeries;
}

/** The storm or the thaw that a plan asks for. */
export interface WaterEvent {
  readonly kind: 'storm' | 'thaw';
  /** Rain of the storm, or melt and rain of the thaw, millimetres: exactly the sum of the series. */
  readonly totalMm: number;
  /** What comes down or is set free over time, on open ground, roofs and the basin itself alike. */
  readonly series: RainSeries;
  /** What had to be assumed, in the user's words. */
  readonly notes: readonly string[];
  /** What of it runs off a surface. Cost: linear in steps. */
  runOff(surface: SurfaceClass): RunOff;
}

/**
 * The plan's storm or thaw over time, and what of it runs off each surface. The totals are those of
 * `runOffLaw`, whatever the step.
 *
 * A storm runs off by the curve number of the rain that has fallen so far, the way a storm's parts are taken in TR-55 and
 * NEH 630; a thaw by what comes faster than the ground takes it in.
 *
 * @param options.stepS - length of the steps; 6 minutes for a storm and an hour for a thaw when not given.
 * @throws {InputError} when the pattern asks for a depth table or a measured storm that the plan lacks, or that does not
 *   reach as far; see `stormSeries`. `event-step` when the length of the steps is none.
 */
export function waterEvent(
  settings: Settings,
  options: { readonly stepS?: number } = {},
): WaterEvent {
  const { stepS: asked } = options;
  expectOf(asked === undefined || asked > 0, {
    code: 'event-step',
    where: 'event',
    problem: `steps of ${asked ?? ''} s were asked for`,
    remedy: 'give a number of seconds above 0',
  });
  const { notes } = runOffLaw(settings);
  const thaw = thawOf(settings);
  if (thaw !== null) {
    const hourly = thawSeries(thaw);
    const stepS = options.stepS ?? hourly.stepS;
    return {
      kind: 'thaw',
      totalMm: totalMm(hourly),
      series: resample(hourly, stepS),
      notes,
      runOff(surface) {
        const beyond = beyondInfiltration(hourly, thawTakenMmPerH(surface, thaw));
        const series = resample(beyond, stepS);
        return { totalMm: totalMm(series), series };
      },
    };
  }
  const storm = settings.storm ?? { rain_mm: eventDepthMm(settings) };
  const found = stormSeries(storm, { ...options, units: settings.units ?? 'metric' });
  return {
    kind: 'storm',
    totalMm: totalMm(found.series),
    series: found.series,
    notes: [...notes, ...found.notes],
    runOff: (surface) =>
      overTime(found.series, stormRunOff(surface, storm.antecedent ?? 'average')),
  };
}

/** Run-off by what the rain that has fallen by the end of each step brings. */
function overTime(rain: RainSeries, runOffMm: (rainMm: number) => number): RunOff {
  const total = runOffMm(totalMm(rain));
  let fallenMm = 0;
  const depthsMm = exactSteps(rain.depthsMm.length, total, (step) => {
    fallenMm += rain.depthsMm[step - 1];
    return runOffMm(fallenMm);
  });
  return { totalMm: total, series: { stepS: rain.stepS, depthsMm } };
}
