import type { SoilSettings, UsdaTexture } from '../plan/soil-settings';
import { hourS } from '../units/units';

/** What the textures are called. */
export const textureNames: Readonly<Record<UsdaTexture, string>> = {
  sand: 'sand',
  'loamy-sand': 'loamy sand',
  'sandy-loam': 'sandy loam',
  loam: 'loam',
  'silt-loam': 'silt loam',
  silt: 'silt',
  'sandy-clay-loam': 'sandy clay loam',
  'clay-loam': 'clay loam',
  'silty-clay-loam': 'silty clay loam',
  'sandy-clay': 'sandy clay',
  'silty-clay': 'silty clay',
  clay: 'clay',
};

export const usdaTextures = Object.keys(textureNames) as UsdaTexture[];

/** Green-Ampt parameters of a texture, means of many samples. */
export interface TextureParameters {
  readonly porosity: number;
  /** Porosity less the water that no drainage takes out. */
  readonly effectivePorosity: number;
  readonly suctionM: number;
  readonly conductivityMPerS: number;
  /** The texture whose row it is, where the asked one has none. */
  readonly borrowedFrom: UsdaTexture | null;
}

/** Porosity, effective porosity, suction in cm, conductivity in cm/h. */
const rows: Readonly<Partial<Record<UsdaTexture, readonly [number, number, number, number]>>> = {
  sand: [0.437, 0.417, 4.95, 11.78],
  'loamy-sand': [0.437, 0.401, 6.13, 2.99],
  'sandy-loam': [0.453, 0.412, 11.01, 1.09],
  loam: [0.463, 0.434, 8.89, 0.34],
  'silt-loam': [0.501, 0.486, 16.68, 0.65],
  'sandy-clay-loam': [0.398, 0.33, 21.85, 0.15],
  'clay-loam': [0.464, 0.309, 20.88, 0.1],
  'silty-clay-loam': [0.471, 0.432, 27.3, 0.1],
  'sandy-clay': [0.43, 0.321, 23.9, 0.06],
  'silty-clay': [0.479, 0.423, 29.22, 0.05],
  clay: [0.475, 0.385, 31.63, 0.03],
};

/**
 * Green-Ampt parameters of a texture. Silt has no row, for want of samples; it takes that of silt loam.
 * Source: `rawls1983`.
 */
export function textureParameters(texture: UsdaTexture): TextureParameters {
  const row = rows[texture];
  if (row === undefined) return { ...textureParameters('silt-loam'), borrowedFrom: 'silt-loam' };
  const [porosity, effectivePorosity, suctionCm, conductivityCmPerH] = row;
  return {
    porosity,
    effectivePorosity,
    suctionM: suctionCm / 100,
    conductivityMPerS: conductivityCmPerH / 100 / hourS,
    borrowedFrom: null,
  };
}

/** Water that a drained soil holds, share of the volume; of a range the wetter end. */
const fieldCapacities: Readonly<Partial<Record<UsdaTexture, number>>> = {
  sand: 0.17,
  'loamy-sand': 0.09,
  'sandy-loam': 0.14,
  loam: 0.32,
  'silt-loam': 0.28,
  'clay-loam': 0.32,
  'silty-clay-loam': 0.37,
  clay: 0.32,
};
/** Whose field capacity a texture without a row takes. */
const neighbours: Readonly<Partial<Record<UsdaTexture, UsdaTexture>>> = {
  silt: 'silt-loam',
  'sandy-clay-loam': 'clay-loam',
  'sandy-clay': 'clay',
  'silty-clay': 'silty-clay-loam',
};

/**
 * Share of the fillable pores that hold water in a soil which has drained since it was last wet: field capacity
 * less the residual water, over the effective porosity. Sources: `minnesotaMoisture`, `rawls1983`.
 */
export function drainedSaturation(texture: UsdaTexture): number {
  const { porosity, effectivePorosity } = textureParameters(texture);
  const held = fieldCapacities[texture] ?? fieldCapacities[neighbours[texture] ?? 'clay'];
  const residual = porosity - effectivePorosity;
  return Math.min(1, Math.max(0, ((held ?? porosity) - residual) / effectivePorosity));
}

/** The three soils of the homeowner size factors. */
export type BroadTexture = NonNullable<SoilSettings['texture']>;

/** Which of the three soils of the size factors a texture belongs to; by its name (common practice, no source). */
export function broadTexture(texture: UsdaTexture): BroadTexture {
  switch (texture) {
    case 'sand':
    case 'loamy-sand':
    case 'sandy-loam':
      return 'sandy';
    case 'loam':
    case 'silt-loam':
    case 'silt':
      return 'silty';
    default:
      return 'clayey';
  }
}
