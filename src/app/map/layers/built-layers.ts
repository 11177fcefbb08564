import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale, roleIs } from './layer-expressions';

/** Buildings, roofs and the basin: what stands on the ground or is cut into it. */
export function builtLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'building-fill',
      type: 'fill',
      source: 'plan',
      filter: roleIs('building'),
      paint: { 'fill-color': ink.built },
    },
    {
      id: 'roofs',
      type: 'line',
      source: 'plan',
      filter: roleIs('roof'),
      paint: { 'line-color': ink.ink, 'line-width': 0.8, 'line-dasharray': [6, 3] },
    },
    {
      id: 'ridges',
      type: 'line',
      source: 'plan',
      filter: roleIs('ridge'),
      paint: { 'line-color': ink.ink, 'line-width': 1.1, 'line-dasharray': [10, 3, 2, 3] },
    },
    {
      id: 'buildings',
      type: 'line',
      source: 'plan',
      filter: roleIs('building'),
      layout: { 'line-join': 'miter' },
      paint: { 'line-color': ink.ink, 'line-width': byScale(2, 3.2) },
    },
    {
      id: 'basin-fill',
      type: 'fill',
      source: 'plan',
      filter: roleIs('basin'),
      paint: { 'fill-color': ink.basinSteps[0] },
    },
    {
      id: 'basin-steps',
      type: 'fill',
      source: 'plan',
      filter: roleIs('basin-step'),
      paint: {
        'fill-color': ['match', ['get', 'step'], 1, ink.basinSteps[1], ink.basinSteps[2]],
      },
    },
    {
      id: 'basin-lines',
      type: 'line',
      source: 'plan',
      filter: roleIs('basin-step'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.basinRim, 'line-width': 0.9 },
    },
    {
      id: 'basin-rim',
      type: 'line',
      source: 'plan',
      filter: roleIs('basin'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.basinRim, 'line-width': byScale(2.2, 3) },
    },
    {
      id: 'canopies',
      type: 'fill',
      source: 'plan',
      filter: roleIs('canopy'),
      paint: { 'fill-color': ink.canopy, 'fill-opacity': 0.14 },
    },
    {
      id: 'canopy-edges',
      type: 'line',
      source: 'plan',
      filter: roleIs('canopy'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.growth, 'line-width': 1.1 },
    },
  ];
}
