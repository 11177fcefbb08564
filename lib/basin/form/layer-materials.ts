import type { LayerMaterial } from '../../plan/basin-properties';
import { minnesotaMoisture, rawls1983 } from '../../soil/sources';
import type { Source } from '../../source';

/** A figure with its source. */
export interface SourcedFigure {
  readonly value: number;
  readonly source: Source;
  /** What the source says in its own figures, where that is not the value itself. */
  readonly published?: string;
}

/** What a layer's material is taken to be like where the plan does not say. */
export interface LayerMaterialFigures {
  readonly name: string;
  /** Letter that stands for it on drawings. */
  readonly letter: string;
  /** Share of the volume that is pores. */
  readonly porosity: SourcedFigure;
  /** Share of the volume that holds water against gravity. */
  readonly fieldCapacity: SourcedFigure;
  /** Saturated hydraulic conductivity, mm/h. */
  readonly conductivityMmPerH: SourcedFigure;
}

const toronto: Source = {
  title: 'Low-impact-development planning and design guide, sizing of stone reservoirs',
  publisher: 'Toronto-area conservation authorities',
  year: null,
  mark: 'seen',
};
const general: Source = {
  title: 'General figures for loose garden materials',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};

/**
 * The usual figures of each material.
 *
 * Soils are taken as the textures that they are nearest to: the usual mix (half sand or more, the rest topsoil and
 * compost) holds water like a sandy loam and passes it like a loamy sand; topsoil is a loam. The conductivities of Rawls are
 * for wetting under air, about half of the saturated ones (from memory), which is on the careful side here.
 */
export const layerMaterials: Readonly<Record<LayerMaterial, LayerMaterialFigures>> = {
  mulch: {
    name: 'Mulch',
    letter: 'M',
    porosity: { value: 0.6, source: general },
    fieldCapacity: { value: 0.2, source: general },
    conductivityMmPerH: { value: 1000, source: general },
  },
  'planting-mix': {
    name: 'Planting mix',
    letter: 'P',
    porosity: { value: 0.45, source: minnesotaMoisture, published: 'sandy loam 0.45' },
    fieldCapacity: { value: 0.14, source: minnesotaMoisture, published: 'sandy loam 0.14' },
    conductivityMmPerH: { value: 29.9, source: rawls1983, published: 'loamy sand 2.99 cm/h' },
  },
  compost: {
    name: 'Compost',
    letter: 'C',
    porosity: { value: 0.65, source: general },
    fieldCapacity: { value: 0.4, source: general },
    conductivityMmPerH: { value: 50, source: general },
  },
  topsoil: {
    name: 'Topsoil',
    letter: 'T',
    porosity: { value: 0.47, source: minnesotaMoisture, published: 'loam 0.47' },
    fieldCapacity: { value: 0.285, source: minnesotaMoisture, published: 'loam 0.25-0.32' },
    conductivityMmPerH: { value: 3.4, source: rawls1983, published: 'loam 0.34 cm/h' },
  },
  'coarse-sand': {
    name: 'Coarse sand',
    letter: 'S',
    porosity: { value: 0.35, source: general, published: 'clean coarse sand 0.30-0.40' },
    // Minnesota's row for sand has 0.17, more than any but the finer soils: that of loamy sand is taken.
    fieldCapacity: { value: 0.09, source: minnesotaMoisture, published: 'loamy sand 0.09' },
    conductivityMmPerH: { value: 117.8, source: rawls1983, published: 'sand 11.78 cm/h' },
  },
  gravel: {
    name: 'Gravel',
    letter: 'G',
    porosity: { value: 0.35, source: toronto, published: '0.35 when not measured' },
    fieldCapacity: { value: 0.02, source: general },
    conductivityMmPerH: { value: 36_000, source: general },
  },
};
