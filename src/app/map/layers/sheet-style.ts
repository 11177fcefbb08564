import type { LayerSpecification, SourceSpecification, StyleSpecification } from 'maplibre-gl';
import { attentionLayers } from './attention-layers';
import { builtLayers } from './built-layers';
import { digLayers, digLetters, handDigLayers } from './dig-layers';
import { gatheredLayers } from './gathered-layers';
import { groundLayers } from './ground-layers';
import type { Ink } from '../../look/ink';
import { labelLayers } from './label-layers';
import { lineLayers } from './line-layers';
import { pointLayers } from './point-layers';
import { proposedLayers } from './proposed-layers';
import { keepClearLayers, keepClearLetters, siteLayers } from './siting-layers';
import { oldGroundLetters, stateLayers } from './state-layers';
import { utilityLayers, utilityLetterLayer } from './utility-layers';
import { lowSpotLabels, pathLayers, waterLayers } from './water-layers';

/** Sources that take GeoJSON. */
export const vectorSources = [
  'data-edge',
  'contours',
  'plan',
  'low-spots',
  'flow-lines',
  'probe',
  'spotlight',
  'keep-clear',
  'dig-zones',
  'sites',
  'gathered',
  'proposed',
] as const;
export type VectorSource = (typeof vectorSources)[number];

/** Sources that take an image laid on the ground. */
export const imageSources = ['relief', 'water'] as const;
export type ImageSourceName = (typeof imageSources)[number];

/** Every layer of the sheet, from the paper up. */
export function sheetLayers(ink: Ink): LayerSpecification[] {
  return [
    ...groundLayers(ink),
    ...waterLayers(ink),
    ...keepClearLayers(),
    ...handDigLayers(ink),
    ...attentionLayers(ink),
    ...lineLayers(ink),
    ...utilityLayers(ink),
    ...siteLayers(ink),
    ...builtLayers(ink),
    ...stateLayers(ink),
    ...pathLayers(ink),
    ...digLayers(ink),
    ...pointLayers(ink),
    keepClearLetters(ink),
    ...digLetters(ink),
    lowSpotLabels(ink),
    ...labelLayers(ink),
    oldGroundLetters(ink),
    utilityLetterLayer(ink),
    ...gatheredLayers(ink),
    ...proposedLayers(ink),
  ];
}

/**
 * The style of the sheet, complete and without data: it asks for nothing from any network, since labels
 * are drawn from the page's own fonts (no `glyphs`) and symbols are added as pixels (no `sprite`).
 */
export function sheetStyle(ink: Ink): StyleSpecification {
  const sources: Record<string, SourceSpecification> = {};
  for (const name of vectorSources) {
    sources[name] = {
      type: 'geojson',
      data: { type: 'FeatureCollection', features: [] },
      promoteId: 'id',
      // A unit of a tile at this zoom is 4 mm on the ground in middle latitudes.
      maxzoom: 20,
      tolerance: 0.1,
      buffer: 64,
    };
  }
  for (const name of imageSources) {
    sources[name] = {
      type: 'image',
      coordinates: [
        [0, 0.001],
        [0.001, 0.001],
        [0.001, 0],
        [0, 0],
      ],
    };
  }
  return { version: 8, sources, layers: sheetLayers(ink) };
}
