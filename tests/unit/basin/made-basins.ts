import type { BasinToFill } from '../../../lib/basin/filling/basin-water';
import type { Inflow } from '../../../lib/basin/filling/fill-and-drain';
import type { Layer } from '../../../lib/basin/form/layers';
import { storageTable, type StageStorage } from '../../../lib/basin/form/stage-storage';

/** Millimetres an hour in metres a second. */
export const mmPerH = 1 / 1000 / 3600;
/** Broad-crested, in metres and seconds. */
export const weirC = 1.436;

/** A bowl of revolution whose radius grows evenly from the floor up; `sideSlope` 0 makes it a cylinder. */
export function roundBowl(
  floorRadiusM: number,
  sideSlope: number,
  sillM: number,
  rimM: number,
): StageStorage {
  const entries = 400;
  const depthsM = Float64Array.from({ length: entries + 1 }, (_, i) => (rimM * i) / entries);
  const areasM2 = depthsM.map((depthM) => Math.PI * (floorRadiusM + sideSlope * depthM) ** 2);
  return storageTable(depthsM, areasM2, sillM);
}

export function layer(
  thicknessM: number,
  porosity: number,
  fieldCapacity: number,
  kMmPerH: number,
): Layer {
  return {
    material: 'planting-mix',
    name: 'Made',
    thicknessM,
    porosity,
    fieldCapacity,
    conductivityMPerS: kMmPerH * mmPerH,
  };
}

/** A bowl straight on soil of a steady rate. */
export function onSoil(
  storage: StageStorage,
  rateMmPerH: number | null,
  layers: readonly Layer[] = [],
): BasinToFill {
  return {
    storage,
    layers,
    subsoil:
      rateMmPerH === null
        ? null
        : { conductivityMPerS: rateMmPerH * mmPerH, suctionM: 0, deficit: 0 },
    notch: { coefficient: weirC, widthM: 1 },
  };
}

export function inflow(
  stepS: number,
  runOnM3: readonly number[],
  rainMm: readonly number[] = [],
): Inflow {
  const length = Math.max(runOnM3.length, rainMm.length);
  return {
    stepS,
    runOnM3: Float64Array.from({ length }, (_, i) => runOnM3[i] ?? 0),
    rainMm: Float64Array.from({ length }, (_, i) => rainMm[i] ?? 0),
  };
}

/** Rain and run-on that rise and fall once, in six-minute steps. */
export function oneStorm(runOnM3: number, rainMm: number, hours: number): Inflow {
  const steps = Math.round(hours * 10);
  const shape = Array.from(
    { length: steps },
    (_, i) => Math.sin((Math.PI * (i + 0.5)) / steps) ** 2,
  );
  const sum = shape.reduce((a, b) => a + b, 0);
  return inflow(
    360,
    shape.map((each) => (runOnM3 * each) / sum),
    shape.map((each) => (rainMm * each) / sum),
  );
}
