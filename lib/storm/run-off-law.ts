import type { Settings } from '../plan/schema';
import type { Antecedent, StormSettings, ThawSettings } from '../plan/storm-settings';
import { eventDepthMm, thawOf } from './event-depth';
import { thawInfiltrationMmPerH } from './group-infiltration';
import { beyondInfiltration, isTooWarmForSnow, scaledTo, thawSeries } from './melt';
import { totalMm } from './rain-series';
import { runOffMm } from './run-off';
import { isSealed, stormCurveNumber } from './storm-curve-number';
import type { SurfaceClass } from './surface-class';
import { spreadCredit } from './unconnected-paving';

/** How much of a depth of water runs off each surface when an event is over. */
export interface RunOffLaw {
  readonly kind: 'storm' | 'thaw';
  /** Depth that comes down or is set free, millimetres. */
  readonly depthMm: number;
  /** Depth that runs off, millimetres, from 0 to `depthMm`. */
  runOffMm(surface: SurfaceClass): number;
  /** What had to be assumed, in the user's words. */
  readonly notes: readonly string[];
}

/**
 * The law that the plan's event follows: curve numbers for a storm, for a thaw what the ground cannot take in.
 *
 * @param depthMm - the same event made larger or smaller; the plan's own when not given.
 */
export function runOffLaw(settings: Settings, depthMm = eventDepthMm(settings)): RunOffLaw {
  const thaw = thawOf(settings);
  if (thaw !== null) return thawLaw(thaw, depthMm);
  const law = stormLaw(settings.storm, depthMm);
  return settings.event === 'thaw' ? { ...law, notes: [...law.notes, noThaw] } : law;
}

const noThaw =
  'The plan asks for a thaw but describes none: its storm is taken. Give the snow, the days and the ground.';

function stormLaw(storm: StormSettings | undefined, depthMm: number): RunOffLaw {
  const antecedent = storm?.antecedent ?? 'average';
  return {
    kind: 'storm',
    depthMm,
    runOffMm: (surface) => stormRunOff(surface, antecedent)(depthMm),
    notes:
      antecedent === 'average'
        ? []
        : [
            `The ground is taken to be ${antecedent} before the storm: its curve numbers are changed after table 10-1 of NEH 630; those of roofs and paving stay.`,
          ],
  };
}

/** Depth that runs off a surface by the depth of rain that has fallen, both millimetres. */
export function stormRunOff(
  surface: SurfaceClass,
  antecedent: Antecedent,
): (rainMm: number) => number {
  const curveNumber = stormCurveNumber(surface, antecedent);
  if (surface.spreadsOn === undefined) return (rainMm) => runOffMm(rainMm, curveNumber);
  const creditedMm = spreadCredit(surface.spreadsOn, antecedent, curveNumber);
  return (rainMm) => runOffMm(rainMm, curveNumber) - creditedMm(rainMm);
}

function thawLaw(thaw: ThawSettings, depthMm: number): RunOffLaw {
  const series = scaledTo(thawSeries(thaw), depthMm);
  return {
    kind: 'thaw',
    depthMm,
    runOffMm: (surface) => totalMm(beyondInfiltration(series, thawTakenMmPerH(surface, thaw))),
    notes: thawNotes(thaw),
  };
}

/** What a surface takes in during a thaw, millimetres an hour: nothing where it is sealed, else by ground and soil group. */
export function thawTakenMmPerH({ cover, group }: SurfaceClass, { ground }: ThawSettings): number {
  return isSealed(cover) ? 0 : thawInfiltrationMmPerH(ground, group);
}

/** Said with every thaw. */
export const thawCaution =
  'No published rule for designing against a thaw on a lot is known: take these figures as a picture of what may come, and keep a safe path for thaw water.';

const groundNotes: Readonly<Record<ThawSettings['ground'], string>> = {
  frozen:
    'The ground is taken to be frozen: nothing soaks in. That is an assumption without a published figure; frozen ground that was dry before takes in some.',
  wet: 'The ground is taken to be wet: it takes in the least rate of its soil group (TR-55, appendix A).',
  thawed:
    'The ground is taken to be thawed: it takes in the middle of the rates of its soil group (TR-55, appendix A).',
};

function thawNotes(thaw: ThawSettings): string[] {
  const warm = thaw.days.findIndex(isTooWarmForSnow);
  return [
    ...(warm === -1
      ? []
      : [
          `Day ${warm + 1} of the thaw has a mean of ${Number(thaw.days[warm].mean_c.toFixed(1))} °C, more than is usual on snow: if it was read in °F, correct it.`,
        ]),
    groundNotes[thaw.ground],
    'Curve numbers do not hold for melt or frozen ground, so melt and rain run off by what soaks in too slowly, hour by hour. The snow is taken to be ripe; it may hold back 3 to 5 % of its water for longer.',
    thawCaution,
  ];
}
