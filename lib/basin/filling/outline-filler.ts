import { freeboardM, overflowWidthM } from '../../ground/basin-form';
import type { XY } from '../../frame/frame';
import type { FeatureOf, Settings } from '../../plan/schema';
import { designInfiltration } from '../../soil/design-infiltration';
import { greenAmptSoil } from '../../soil/green-ampt-soil';
import type { SurfaceClass } from '../../storm/surface-class';
import { waterEvent } from '../../storm/water-event';
import type { BasinToFill } from './basin-water';
import { bowlStorage, insetAreas, type InsetAreas } from '../form/bowl-storage';
import { drainFromFullS } from './drain-from-full';
import { fillAndDrain } from './fill-and-drain';
import { layersOf } from '../form/layers';
import { weirCoefficients } from '../form/weir';
import { hourS } from '../../units/units';

/** A basin that is no more than an outline, and what drains to it. */
export interface OutlineToFill {
  /** Gives the form; the outline is scaled to `areaM2`. */
  readonly rim: readonly XY[];
  readonly areaM2: number;
  readonly pondingDepthM: number;
  readonly sideSlope: number;
  readonly groundM2: number;
  readonly roofM2: number;
}

export interface FilledOutline {
  readonly inflowM3: number;
  readonly overflowM3: number;
  /** Share of the inflow that does not overflow, 0-1. */
  readonly capturedFraction: number;
  /** Hours until no water stands, after the rain and from full; `null` where it does not empty in the time looked at. */
  readonly afterRainH: number | null;
  readonly fromFullH: number | null;
}

/** Ground that water runs off, by kind; shares sum to 1. */
export type GroundMix = readonly { readonly surface: SurfaceClass; readonly share: number }[];

const roof: SurfaceClass = { cover: 'roof', condition: 'good', group: 'C' };
const strips = 4;
const stepS = 120;

/**
 * Sends a plan's storm or thaw through basins that are only outlines yet: with the usual layers, freeboard and notch, on
 * the plan's soil, and with their water there at once.
 *
 * @param ground - what the ground that drains to them is like.
 * @returns why not, where nothing is known of the soil; else a function of a basin, about 5 ms a call, and two less for
 *   another size of the same rim.
 * @throws {InputError} what the plan's storm throws.
 */
export function outlineFiller(
  settings: Settings,
  tests: readonly FeatureOf<'soil-test'>[],
  ground: GroundMix,
): ((outline: OutlineToFill) => FilledOutline) | { readonly unknown: string } {
  const infiltration = designInfiltration(settings.soil, tests);
  const floor = greenAmptSoil(infiltration, settings.soil);
  if (floor === null) {
    return {
      unknown: 'Nothing is known of the soil, so how it fills and drains is not worked out.',
    };
  }
  const event = waterEvent(settings);
  const { depthsMm } = event.series;
  const fromRoofMm = event.runOff(roof).series.depthsMm;
  const fromGroundMm = new Float64Array(depthsMm.length);
  for (const { surface, share } of ground) {
    event.runOff(surface).series.depthsMm.forEach((depth, i) => {
      fromGroundMm[i] += share * depth;
    });
  }
  const { layers } = layersOf({});
  const insets = new WeakMap<OutlineToFill['rim'], InsetAreas>();
  const insetsOf = (rim: OutlineToFill['rim']): InsetAreas => {
    const found = insets.get(rim) ?? insetAreas(rim);
    insets.set(rim, found);
    return found;
  };
  return ({ rim, areaM2, pondingDepthM, sideSlope, groundM2, roofM2 }) => {
    const basin: BasinToFill = {
      storage: bowlStorage(insetsOf(rim), { areaM2, pondingDepthM, freeboardM, sideSlope }),
      layers,
      subsoil: floor.soil,
      notch: { coefficient: weirCoefficients.grass.metric, widthM: overflowWidthM },
    };
    const runOnM3 = fromGroundMm.map(
      (depth, i) => (groundM2 * depth + roofM2 * fromRoofMm[i]) / 1000,
    );
    const { summary } = fillAndDrain(
      basin,
      { stepS: event.series.stepS, runOnM3, rainMm: depthsMm },
      { strips, stepS },
    );
    return {
      inflowM3: summary.inflowM3,
      overflowM3: summary.overflowM3,
      capturedFraction: summary.capturedShare,
      afterRainH: inHours(summary.drainDownS),
      fromFullH: inHours(drainFromFullS(basin, { strips })),
    };
  };
}

function inHours(seconds: number | null): number | null {
  return seconds === null ? null : seconds / hourS;
}
