/**
 * Published infiltration rates for design by texture. Three tables are kept, and shown beside each other: they
 * differ by up to ten for one texture. Minnesota's counts, as it alone was read, in a copy. It is the slowest of
 * the three for clean sands; for loams Wisconsin's, from memory, is about half of it.
 */
import type { SoilSettings, UsdaTexture } from '../plan/soil-settings';
import type { Source } from '../source';
import { inchPerHMPerS } from '../units/units';
import { minnesotaRates, rawls1982, wisconsinSite } from './sources';
import { broadTexture, usdaTextures } from './texture-table';

export interface RateTable {
  readonly name: string;
  readonly source: Source;
  /** Inches an hour, as published; no entry where the table has no row. */
  readonly inchPerH: Readonly<Partial<Record<UsdaTexture, number>>>;
}

/** The table that rates by texture are taken from. */
export const designRateTable: RateTable = {
  name: 'Minnesota, 2014 on',
  source: minnesotaRates,
  inchPerH: {
    sand: 0.8,
    'loamy-sand': 0.8,
    'sandy-loam': 0.8,
    loam: 0.3,
    'silt-loam': 0.3,
    'sandy-clay-loam': 0.2,
    'clay-loam': 0.06,
    'silty-clay-loam': 0.06,
    'sandy-clay': 0.06,
    'silty-clay': 0.06,
    clay: 0.06,
  },
};

/** All tables, that which counts first. */
export const rateTables: readonly RateTable[] = [
  designRateTable,
  {
    name: 'Wisconsin',
    source: wisconsinSite,
    inchPerH: {
      sand: 3.6,
      'loamy-sand': 1.63,
      'sandy-loam': 0.5,
      loam: 0.24,
      'silt-loam': 0.13,
      'sandy-clay-loam': 0.11,
      'clay-loam': 0.03,
      'silty-clay-loam': 0.04,
      'sandy-clay': 0.04,
      'silty-clay': 0.07,
      clay: 0.07,
    },
  },
  {
    name: 'Rawls, lowest rates',
    source: rawls1982,
    inchPerH: {
      sand: 8.27,
      'loamy-sand': 2.41,
      'sandy-loam': 1.02,
      loam: 0.52,
      'silt-loam': 0.27,
      'sandy-clay-loam': 0.17,
      'clay-loam': 0.09,
      'silty-clay-loam': 0.06,
      'sandy-clay': 0.05,
      'silty-clay': 0.04,
      clay: 0.02,
    },
  },
];

/** A table's rate for a texture, metres a second; silt takes that of silt loam. */
export function tableRateMPerS({ inchPerH }: RateTable, texture: UsdaTexture): number {
  const found = inchPerH[texture] ?? inchPerH['silt-loam'];
  if (found === undefined) throw new Error(`Internal error: no rate for ${texture}`);
  return found * inchPerHMPerS;
}

/** The slowest rate, metres a second, among the textures that one of the three broad soils takes in. */
export function broadRateMPerS(broad: NonNullable<SoilSettings['texture']>): number {
  return Math.min(
    ...usdaTextures
      .filter((texture) => broadTexture(texture) === broad)
      .map((texture) => tableRateMPerS(designRateTable, texture)),
  );
}
