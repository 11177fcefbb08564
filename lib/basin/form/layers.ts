import type {
  LayerMaterial,
  LayerProperties,
  UnderdrainProperties,
} from '../../plan/basin-properties';
import { hourS, inchM } from '../../units/units';
import { layerMaterials } from './layer-materials';

/** One layer below the floor of a basin. */
export interface Layer {
  readonly material: LayerMaterial;
  readonly name: string;
  readonly thicknessM: number;
  /** Share of the volume that is pores. */
  readonly porosity: number;
  /** Share of the volume that holds water against gravity. */
  readonly fieldCapacity: number;
  /** Saturated hydraulic conductivity, metres a second. */
  readonly conductivityMPerS: number;
}

/** The layers of a basin, bottom up, and what had to be assumed. */
export interface Layers {
  readonly layers: readonly Layer[];
  /** Thickness of all together, metres. */
  readonly digDepthM: number;
  /** Whether the plan lists them; else they are the usual three. */
  readonly isGiven: boolean;
  readonly notes: readonly string[];
}

/** What of a basin's properties says how its layers are. */
export interface LayeredBasin {
  readonly dig_depth_m?: number | undefined;
  readonly layers?: readonly LayerProperties[] | undefined;
  readonly underdrain?: UnderdrainProperties | undefined;
}

/** Dig below the floor where the plan gives none: 18 in. Common practice, no source. */
export const usualDigM = 18 * inchM;
/** What it is filled with, bottom up, in equal parts. Common practice, no source. */
const usualMaterials: readonly LayerMaterial[] = ['coarse-sand', 'planting-mix', 'mulch'];
/** Handbooks have 2 to 3 in of mulch (practice, from memory), Minnesota's table 3 to 4 in (seen). */
const muchMulchM = 4 * inchM;
const worthTellingM = 0.005;
/** Deeper than this nobody digs without shoring: a trench of 4 to 5 ft (US rules, seen in a secondary copy). */
const shoringM = 48 * inchM;

/**
 * The layers below a basin's floor as the plan gives them, else its dig depth in equal parts of coarse sand, planting
 * mix and mulch. Figures that the plan does not give are those usual for the material (`layerMaterials`).
 */
export function layersOf({ dig_depth_m, layers: given, underdrain }: LayeredBasin): Layers {
  const notes: string[] = [];
  const isGiven = given !== undefined;
  const asked = dig_depth_m ?? usualDigM;
  const listed: readonly LayerProperties[] =
    given ??
    usualMaterials.map((material) => ({ material, thickness_m: asked / usualMaterials.length }));
  const layers = listed
    .filter(({ thickness_m }) => thickness_m > 0)
    .map((each) => layer(each, notes));
  const digDepthM = layers.reduce((sum, { thicknessM }) => sum + thicknessM, 0);
  if (!isGiven && digDepthM > 0) {
    notes.push(
      `${dig_depth_m === undefined ? 'A dig of 18 in (46 cm) in thirds of coarse sand, planting mix and mulch is taken' : 'The dig is taken in thirds of coarse sand, planting mix and mulch'}: common practice, no source.`,
    );
  }
  if (isGiven && dig_depth_m !== undefined && Math.abs(dig_depth_m - digDepthM) > worthTellingM) {
    notes.push(
      `The layers come to ${cm(digDepthM)}, the dig depth to ${cm(dig_depth_m)}: the layers count.`,
    );
  }
  const mulchM = layers.reduce(
    (sum, { material, thicknessM }) => sum + (material === 'mulch' ? thicknessM : 0),
    0,
  );
  if (mulchM > muchMulchM + worthTellingM) {
    notes.push(
      `${cm(mulchM)} of mulch is more than handbooks have (5 to 10 cm): list the layers to have less of it.`,
    );
  }
  if (digDepthM > shoringM) {
    notes.push(
      `A dig of ${cm(digDepthM)} below the floor needs its sides held up: make it shallower than ${cm(shoringM)}, or have it done.`,
    );
  }
  notes.push(...underdrainNotes(underdrain, layers));
  return { layers, digDepthM, isGiven, notes };
}

function layer(properties: LayerProperties, notes: string[]): Layer {
  const { material, thickness_m, porosity, field_capacity, conductivity_mm_per_h } = properties;
  const usual = layerMaterials[material];
  const pores = porosity ?? usual.porosity.value;
  const holds = field_capacity ?? usual.fieldCapacity.value;
  if (holds > pores) {
    notes.push(
      `${usual.name}: a field capacity of ${holds} is more than its pores of ${pores}; the pores are taken.`,
    );
  }
  return {
    material,
    name: usual.name,
    thicknessM: thickness_m,
    porosity: pores,
    fieldCapacity: Math.min(holds, pores),
    conductivityMPerS: (conductivity_mm_per_h ?? usual.conductivityMmPerH.value) / 1000 / hourS,
  };
}

function underdrainNotes(
  underdrain: UnderdrainProperties | undefined,
  layers: readonly Layer[],
): string[] {
  if (underdrain === undefined) return [];
  const lowest = layers.at(0);
  if (lowest === undefined) return ['There is an underdrain, but no layer for it to lie in.'];
  const notes: string[] = [];
  if (lowest.material !== 'coarse-sand' && lowest.material !== 'gravel') {
    notes.push(
      `The underdrain lies in ${lowest.name.toLowerCase()}, which clogs it: have gravel or coarse sand lowest.`,
    );
  }
  const { height_m = 0 } = underdrain;
  if (height_m >= lowest.thicknessM) {
    notes.push(
      `The underdrain's invert is ${cm(height_m)} over the bottom, above the lowest layer of ${cm(lowest.thicknessM)}.`,
    );
  }
  return notes;
}

/** Volume of a layer under a basin, and of the water that its pores take over field capacity, m3. */
export interface LayerVolume {
  readonly layer: Layer;
  readonly volumeM3: number;
  readonly storageM3: number;
}

/**
 * Volumes of layers of the same thickness everywhere under an area.
 *
 * @param areaM2 - inside the rim: layers follow the bowl, under its sides as under its floor, as in the handbooks' sums
 *   (Western Washington's: 392 ft2 times 18 in are 588 ft3).
 */
export function layerVolumes(layers: readonly Layer[], areaM2: number): LayerVolume[] {
  return layers.map((layer) => {
    const volumeM3 = layer.thicknessM * areaM2;
    return { layer, volumeM3, storageM3: volumeM3 * (layer.porosity - layer.fieldCapacity) };
  });
}

function cm(metres: number): string {
  return `${Math.round(metres * 100)} cm`;
}
