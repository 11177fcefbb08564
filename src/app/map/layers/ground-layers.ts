import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale, mediumFont, roleIs } from './layer-expressions';

/** Paper, relief, contours and what covers the ground: all that water runs over. */
export function groundLayers(ink: Ink): LayerSpecification[] {
  return [
    { id: 'paper', type: 'background', paint: { 'background-color': ink.paper } },
    {
      id: 'relief',
      type: 'raster',
      source: 'relief',
      paint: {
        'raster-fade-duration': 0,
        'raster-resampling': 'linear',
        'raster-opacity': 0.75,
      },
    },
    {
      id: 'data-edge',
      type: 'line',
      source: 'data-edge',
      paint: { 'line-color': ink.hairline, 'line-width': 1, 'line-dasharray': [2, 3] },
    },
    ...surfaceLayers(ink),
    {
      id: 'contours',
      type: 'line',
      source: 'contours',
      filter: ['!', ['get', 'index']],
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.contour, 'line-width': byScale(0.4, 0.8), 'line-opacity': 0.55 },
    },
    {
      id: 'index-contours',
      type: 'line',
      source: 'contours',
      filter: ['get', 'index'],
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.contour, 'line-width': byScale(0.9, 1.5), 'line-opacity': 0.85 },
    },
    {
      id: 'contour-heights',
      type: 'symbol',
      source: 'contours',
      filter: ['get', 'index'],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 420,
        'text-field': ['get', 'label'],
        'text-font': mediumFont,
        'text-size': 11.5,
        'text-max-angle': 25,
        'text-padding': 12,
      },
      paint: { 'text-color': ink.contourText, 'text-halo-color': ink.paper, 'text-halo-width': 2 },
    },
  ];
}

function surfaceLayers(ink: Ink): LayerSpecification[] {
  const areas = ['septic-field', 'regrade', 'wetland', 'easement'] as const;
  const edges = {
    'septic-field': ink.septic,
    regrade: ink.contourText,
    wetland: ink.water,
    easement: ink.secondInk,
  };
  return [
    {
      id: 'hard-surfaces',
      type: 'fill',
      source: 'plan',
      filter: ['all', roleIs('surface'), ['in', ['get', 'cover'], ['literal', ['paving', 'deck']]]],
      paint: { 'fill-color': ink.built, 'fill-opacity': 0.6 },
    },
    {
      id: 'surfaces',
      type: 'fill',
      source: 'plan',
      filter: roleIs('surface'),
      paint: { 'fill-pattern': ['get', 'cover'] },
    },
    {
      id: 'surface-edges',
      type: 'line',
      source: 'plan',
      filter: roleIs('surface'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.secondInk, 'line-width': 0.8, 'line-opacity': 0.7 },
    },
    ...areas.flatMap((role): LayerSpecification[] => [
      {
        id: role,
        type: 'fill',
        source: 'plan',
        filter: roleIs(role),
        paint: { 'fill-pattern': role },
      },
      {
        id: `${role}-edge`,
        type: 'line',
        source: 'plan',
        filter: roleIs(role),
        paint: {
          'line-color': edges[role],
          'line-width': 1.4,
          'line-dasharray': role === 'easement' ? [10, 3, 2, 3] : [5, 3],
        },
      },
    ]),
  ];
}
