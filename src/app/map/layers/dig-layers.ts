import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byScale, mediumFont } from './layer-expressions';

const isDig: ExpressionSpecification = ['==', ['get', 'role'], 'dig'];
const isHandDig: ExpressionSpecification = ['==', ['get', 'role'], 'hand-dig'];

/** Crosses where only hand tools are used. */
export function handDigLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'hand-dig',
      type: 'fill',
      source: 'dig-zones',
      filter: isHandDig,
      paint: { 'fill-pattern': 'hand-dig' },
    },
    {
      id: 'hand-dig-edges',
      type: 'line',
      source: 'dig-zones',
      filter: isHandDig,
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.ink, 'line-width': 1.6, 'line-dasharray': [0.1, 2.4] },
    },
  ];
}

/** The ground to be dug, outlined in white dashes on a dark band. */
export function digLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'dig-band',
      type: 'line',
      source: 'dig-zones',
      filter: isDig,
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.digBand, 'line-width': byScale(4, 6) },
    },
    {
      id: 'dig-outline',
      type: 'line',
      source: 'dig-zones',
      filter: isDig,
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.dig, 'line-width': byScale(2, 3), 'line-dasharray': [4, 1.6] },
    },
  ];
}

/** What the outline and the crosses mean, set along their edges. */
export function digLetters(ink: Ink): LayerSpecification[] {
  const along = {
    'symbol-placement': 'line',
    'text-rotation-alignment': 'map',
    'text-keep-upright': true,
    'text-max-angle': 30,
  } as const;
  return [
    {
      id: 'hand-dig-letters',
      type: 'symbol',
      source: 'dig-zones',
      filter: isHandDig,
      layout: {
        ...along,
        'symbol-spacing': 170,
        'text-field': ['case', ['get', 'located'], 'hand tools', 'hand tools ?'],
        'text-font': mediumFont,
        'text-size': 11.5,
        'text-offset': [0, -0.8],
      },
      paint: { 'text-color': ink.ink, 'text-halo-color': ink.paper, 'text-halo-width': 2 },
    },
    {
      id: 'dig-letters',
      type: 'symbol',
      source: 'dig-zones',
      filter: isDig,
      layout: {
        ...along,
        'symbol-spacing': 220,
        'text-field': 'TO BE DUG',
        'text-font': boldFont,
        'text-size': 11.5,
        'text-letter-spacing': 0.08,
      },
      paint: { 'text-color': ink.dig, 'text-halo-color': ink.digBand, 'text-halo-width': 3 },
    },
  ];
}
