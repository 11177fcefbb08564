import { mmPerHOfMPerS } from '../../units/units';
import { askedFreeboard } from '../form/finished-basin';
import { areaAt, volumeAt, type StageStorage } from '../form/stage-storage';
import type { BasinDesign } from './design-result';
import type { WorkedBasin } from './worked-basin';

/** Entries of the table of storage below the sill. */
const tenths = 10;

export function formOf({ built, levels }: WorkedBasin): BasinDesign['basin'] {
  const { form, rimAreaM2 } = built.finished;
  return {
    area_m2: rimAreaM2,
    ponding_depth_m: form.pondingDepthM,
    levels: { rim_m: levels.rimM, sill_m: levels.sillM, floor_m: levels.floorM },
    bottom_depth_m: built.bottomDepthM,
    dig_depth_m: built.layers.digDepthM,
    storage_m3: built.bowlM3,
    layer_storage_m3: built.poresM3,
    freeboard_m: form.freeboardM,
    freeboard_asked: {
      least_m: askedFreeboard.leastM,
      published: askedFreeboard.published,
      source: askedFreeboard.source,
    },
    side_slope: form.sideSlope,
    overflow_width_m: form.overflowWidthM,
    stage_storage: storageRows(built.storage),
    layers: built.layerVolumes.map(({ layer, volumeM3, storageM3 }) => ({
      name: layer.name,
      material: layer.material,
      thickness_m: layer.thicknessM,
      volume_m3: volumeM3,
      storage_m3: storageM3,
      porosity: layer.porosity,
      field_capacity: layer.fieldCapacity,
      conductivity_mm_per_h: layer.conductivityMPerS * mmPerHOfMPerS,
    })),
    zones: built.zones.map(({ zone, areaM2 }) => ({ zone, area_m2: areaM2 })),
    ponding_by_slope: {
      result: built.ponding.result,
      why: built.ponding.why,
      source: built.ponding.source,
    },
    separations: built.separations.map(({ below, result, why, depthM, actualM, rules }) => ({
      below,
      result,
      why,
      depth_m: depthM,
      actual_m: actualM,
      rules: rules.map(({ requiredM, published, meets, source }) => ({
        required_m: requiredM,
        published,
        meets,
        source,
      })),
    })),
  };
}

function storageRows(storage: StageStorage): BasinDesign['basin']['stage_storage'] {
  const { depthsM, overflowDepthM } = storage;
  const rimM = depthsM[depthsM.length - 1];
  const heights = Array.from({ length: tenths + 1 }, (_, i) => (overflowDepthM * i) / tenths);
  if (rimM > overflowDepthM) heights.push(rimM);
  return heights.map((depthM) => ({
    depth_m: depthM,
    area_m2: areaAt(storage, depthM),
    volume_m3: volumeAt(storage, depthM),
  }));
}
