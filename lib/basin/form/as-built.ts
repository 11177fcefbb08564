import type { Grid } from '../../elevation/grid';
import type { NotDug } from '../../ground/basin-form';
import { basinShape, groundBeforeBasin, groundWithoutBasins } from '../../ground/ground';
import { groundPlane } from '../../ground/ground-plane';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { planSoil } from '../../soil/plan-soil';
import { soilSeparation, separationText, type SoilSeparation } from '../../soil/separation';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import {
  costOf,
  earthworkOf,
  quantitiesOf,
  type Cost,
  type Earthwork,
  type QuantityRow,
} from './earthwork';
import { finishedBasin, type FinishedBasin } from './finished-basin';
import { layersOf, layerVolumes, type Layers, type LayerVolume } from './layers';
import { plantingZones, type PlantingZone } from './planting-zones';
import { pondingBySlope, type PondingBySlope } from './ponding-by-slope';
import { stageStorage, volumeAt, type StageStorage } from './stage-storage';
import { wayOut, type WayOut } from './way-out';

/** Everything about a basin that does not depend on a storm. */
export interface BasinAsBuilt {
  readonly id: string;
  readonly finished: FinishedBasin;
  readonly storage: StageStorage;
  /** Water in the bowl up to the sill of the notch, m3. */
  readonly bowlM3: number;
  /** Water that the pores of the layers take over field capacity, m3. */
  readonly poresM3: number;
  readonly layers: Layers;
  readonly layerVolumes: readonly LayerVolume[];
  readonly zones: readonly PlantingZone[];
  readonly wayOut: WayOut;
  readonly ponding: PondingBySlope;
  /** The bottom of the dig below the ground as it was, at most, metres. */
  readonly bottomDepthM: number;
  /** That bottom against seasonal high water and rock, each in a sentence as well. */
  readonly separations: readonly (SoilSeparation & { readonly why: string })[];
  readonly earth: Earthwork;
  readonly quantities: readonly QuantityRow[];
  readonly cost: Cost;
  /** What had to be assumed, cannot be built as asked or is worth knowing, in the user's words. */
  readonly notes: readonly string[];
}

/**
 * Works a basin of the plan out as it is to be built.
 *
 * @param elevation - heights as read, in the frame of the plan.
 * @param id - of a basin of the plan.
 * @param withStone - whether the notch is to be lined, as `checkNotch` tells.
 * @returns why it cannot be dug, in one sentence, where it cannot.
 * Cost: that of shaping the ground once, and about 60 ms for a garden of 30 m2.
 */
export function basinAsBuilt(
  elevation: Grid,
  plan: LocalPlan,
  id: string,
  withStone = false,
): BasinAsBuilt | NotDug {
  const basin = plan.of.basin.find((each) => each.id === id);
  if (basin === undefined) return { notDug: `Not dug: the plan has no basin '${id}'.` };
  const { soil, prices, earth: given, units = 'metric' } = plan.plan.lotfall;
  const finished = finishedBasin(groundBeforeBasin(elevation, plan, id), basinShape(basin));
  if ('notDug' in finished) return finished;
  const plane = groundPlane(groundWithoutBasins(elevation, plan), finished.shape.rim);
  const storage = stageStorage(finished);
  const layers = layersOf(basin.feature.properties);
  const volumes = layerVolumes(layers.layers, finished.rimAreaM2);
  const out = wayOut(finished);
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const earth = earthworkOf(finished, layers.digDepthM, planSoil(soil, tests), given);
  const quantities = quantitiesOf(finished, earth, layers.layers, withStone);
  const bottomDepthM = deepestCut(finished) + layers.digDepthM;
  const separations = soilSeparation(bottomDepthM, soil, tests).map((each) => ({
    ...each,
    why: separationText(each, units),
  }));
  return {
    id,
    finished,
    storage,
    bowlM3: volumeAt(storage, storage.overflowDepthM),
    poresM3: volumes.reduce((sum, { storageM3 }) => sum + storageM3, 0),
    layers,
    layerVolumes: volumes,
    zones: plantingZones(finished),
    wayOut: out,
    ponding: pondingBySlope(finished.form.pondingDepthM, plane?.slopeRatio ?? null),
    bottomDepthM,
    separations,
    earth,
    quantities,
    cost: costOf(quantities, prices),
    notes: [
      ...finished.notes,
      ...out.notes,
      ...layers.notes,
      ...strayNotch(basin, finished, units),
    ],
  };
}

/** An overflow point farther from the rim than this was not meant to be where it is, metres. Our choice, no source. */
const strayM = 2;

/** Says so when the plan's overflow point lies off the rim, so that the notch comes elsewhere. */
function strayNotch(
  basin: LocalFeature<'basin'>,
  { form }: FinishedBasin,
  units: UnitSystem,
): string[] {
  const { overflow } = basinShape(basin);
  if (overflow === undefined) return [];
  const offM = Math.hypot(overflow[0] - form.overflowAt[0], overflow[1] - form.overflowAt[1]);
  return offM <= strayM
    ? []
    : [
        `The plan’s overflow point lies ${formatLength(offM, units, offM < 10 ? 0.1 : 1)} from the rim: the notch is at the rim’s nearest place. Move the point to where the notch is to be.`,
      ];
}

/** The greatest depth of the bowl below the ground as it was, metres; 0 where all of it lies on fill. */
function deepestCut({ form, before, grid }: FinishedBasin): number {
  let deepest = 0;
  for (const cell of form.cells) {
    const cutM = before.z[cell] - grid.z[cell];
    if (cutM > deepest) deepest = cutM;
  }
  return deepest;
}
