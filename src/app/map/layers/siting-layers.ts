import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byAttention } from './layer-expressions';

/** Keep-clear zones, each rule hatched at its own angle, with its letter along the edge. */
export function keepClearLayers(): LayerSpecification[] {
  return [
    {
      id: 'keep-clear',
      type: 'fill',
      source: 'keep-clear',
      paint: { 'fill-pattern': ['get', 'pattern'], 'fill-opacity': byAttention(1, 1, 0.85) },
    },
    {
      id: 'keep-clear-edges',
      type: 'line',
      source: 'keep-clear',
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ['get', 'colour'], 'line-width': byAttention(2.6, 2.6, 1.1) },
    },
  ];
}

/** Letters of the keep-clear zones, set into their edges. */
export function keepClearLetters(ink: Ink): LayerSpecification {
  return {
    id: 'keep-clear-letters',
    type: 'symbol',
    source: 'keep-clear',
    layout: {
      'symbol-placement': 'line',
      'symbol-spacing': 150,
      'text-field': ['get', 'letter'],
      'text-font': boldFont,
      'text-size': 12.5,
      'text-rotation-alignment': 'viewport',
      'text-padding': 1,
    },
    paint: {
      'text-color': ['get', 'colour'],
      'text-halo-color': ink.paper,
      'text-halo-width': 3,
    },
  };
}

/** Candidate sites and the ways by which roofs' water is led to them. */
export function siteLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'site-fill',
      type: 'fill',
      source: 'sites',
      filter: ['==', ['get', 'role'], 'rim'],
      paint: { 'fill-color': ink.basinSteps[1], 'fill-opacity': byAttention(0.75, 0.75, 0.3) },
    },
    {
      id: 'sites',
      type: 'line',
      source: 'sites',
      filter: ['==', ['get', 'role'], 'rim'],
      layout: { 'line-join': 'round' },
      paint: {
        'line-color': [
          'match',
          ['get', 'result'],
          'fail',
          ink.fails,
          'check',
          ink.check,
          ink.basinRim,
        ],
        'line-width': byAttention(3, 3, 1.8),
        'line-dasharray': [4, 2],
      },
    },
    {
      id: 'site-leads',
      type: 'line',
      source: 'sites',
      filter: ['==', ['get', 'role'], 'lead'],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: {
        'line-color': ink.basinRim,
        'line-width': byAttention(2.4, 2.4, 1.3),
        'line-dasharray': [1, 2],
      },
    },
  ];
}
