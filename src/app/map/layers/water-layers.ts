import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byAttention, byScale, mediumFont } from './layer-expressions';

/** Line width by the ground that drains through: thin threads above 10 m2, heavy from 1 ha. */
function byArea(scale: number): ExpressionSpecification {
  return [
    'interpolate',
    ['linear'],
    ['log10', ['max', 1, ['get', 'area_m2']]],
    1,
    0.5 * scale,
    2,
    1 * scale,
    3,
    2 * scale,
    4,
    3.4 * scale,
  ];
}

/** Standing water, flow paths, and what one point answers. */
export function waterLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'water',
      type: 'raster',
      source: 'water',
      paint: { 'raster-fade-duration': 0, 'raster-resampling': 'linear' },
    },
    {
      id: 'low-spot-fill',
      type: 'fill',
      source: 'low-spots',
      paint: { 'fill-color': ink.paleWater, 'fill-opacity': byAttention(0.5, 0.45, 0.02) },
    },
    {
      id: 'low-spots',
      type: 'line',
      source: 'low-spots',
      layout: { 'line-join': 'round' },
      paint: {
        'line-color': ink.water,
        'line-width': byAttention(2.6, 2.6, 1.1),
        'line-dasharray': [3, 2],
      },
    },
    {
      id: 'contributing',
      type: 'fill',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'area'],
      paint: { 'fill-pattern': 'contributing' },
    },
    {
      id: 'contributing-edge',
      type: 'line',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'area'],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.water, 'line-width': 1.6, 'line-dasharray': [0.1, 2.4] },
    },
    {
      id: 'pipe-lines',
      type: 'line',
      source: 'flow-lines',
      filter: ['has', 'pipe'],
      layout: { 'line-join': 'round' },
      paint: {
        'line-color': ink.flow,
        'line-width': byScale(1.6, 2.4),
        'line-dasharray': [4, 2.4],
      },
    },
    {
      id: 'flow-lines',
      type: 'line',
      source: 'flow-lines',
      filter: ['has', 'area_m2'],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.flow, 'line-width': byArea(1), 'line-opacity': 0.85 },
    },
    {
      id: 'flow-arrows',
      type: 'symbol',
      source: 'flow-lines',
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 92,
        'icon-image': 'flow-arrow',
        'icon-size': [
          'interpolate',
          ['linear'],
          // What runs through a drain has no area: its arrows are those of a middling line.
          ['log10', ['max', 1, ['coalesce', ['get', 'area_m2'], 100]]],
          1,
          0.6,
          4,
          1.3,
        ],
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
        'icon-padding': 0,
      },
    },
    {
      id: 'spotlight-fill',
      type: 'fill',
      source: 'spotlight',
      filter: ['==', ['geometry-type'], 'Polygon'],
      paint: { 'fill-color': ink.highlight, 'fill-opacity': 0.28 },
    },
    {
      id: 'spotlight-line',
      type: 'line',
      source: 'spotlight',
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.highlight, 'line-width': 5, 'line-opacity': 0.75 },
    },
  ];
}

/** The traced path of one point and the basin's overflow, above what stands on the ground. */
export function pathLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'probe-ponds',
      type: 'line',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'pond'],
      paint: { 'line-color': ink.water, 'line-width': 2 },
    },
    {
      id: 'paths-halo',
      type: 'line',
      source: 'probe',
      filter: ['in', ['get', 'role'], ['literal', ['path', 'overflow-path']]],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.paper, 'line-width': byScale(4, 6), 'line-opacity': 0.7 },
    },
    {
      id: 'paths',
      type: 'line',
      source: 'probe',
      filter: ['in', ['get', 'role'], ['literal', ['path', 'overflow-path']]],
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.water, 'line-width': byScale(1.8, 2.8) },
    },
    {
      id: 'pipe-path',
      type: 'line',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'pipe-path'],
      layout: { 'line-join': 'round' },
      paint: {
        'line-color': ink.water,
        'line-width': byScale(2.4, 3.4),
        'line-dasharray': [2.4, 1.6],
      },
    },
    {
      id: 'path-arrows',
      type: 'symbol',
      source: 'probe',
      filter: ['in', ['get', 'role'], ['literal', ['path', 'pipe-path', 'overflow-path']]],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 70,
        'icon-image': 'water-arrow',
        'icon-size': 1.15,
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
      },
    },
    {
      id: 'overflow-label',
      type: 'symbol',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'overflow-path'],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 400,
        'text-field': 'overflow',
        'text-font': mediumFont,
        'text-size': 12,
        'text-offset': [0, -0.9],
      },
      paint: { 'text-color': ink.water, 'text-halo-color': ink.paper, 'text-halo-width': 2 },
    },
    {
      id: 'probe-at',
      type: 'circle',
      source: 'probe',
      filter: ['==', ['get', 'role'], 'at'],
      paint: {
        'circle-radius': 4.5,
        'circle-color': ink.paper,
        'circle-stroke-color': ink.water,
        'circle-stroke-width': 2.4,
      },
    },
  ];
}

/** Labels of low spots, above everything drawn. */
export function lowSpotLabels(ink: Ink): LayerSpecification {
  return {
    id: 'low-spot-labels',
    type: 'symbol',
    source: 'low-spots',
    layout: {
      'text-field': ['get', 'label'],
      'text-font': mediumFont,
      'text-size': 12,
      'text-variable-anchor': ['center', 'top', 'bottom', 'left', 'right'],
      'text-radial-offset': 1,
      'text-justify': 'auto',
      'text-max-width': 9,
    },
    paint: { 'text-color': ink.flow, 'text-halo-color': ink.paper, 'text-halo-width': 2 },
  };
}
