import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale, roleIs } from './layer-expressions';

/** Lot lines, and what lies on the ground or turns and leads its water as lines. */
export function lineLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'neighbour-lots',
      type: 'line',
      source: 'plan',
      filter: ['all', roleIs('lot'), ['!', ['get', 'own']]],
      paint: {
        'line-color': ink.secondInk,
        'line-width': 1.1,
        'line-dasharray': [18, 4, 3, 4, 3, 4],
      },
    },
    {
      id: 'lot',
      type: 'line',
      source: 'plan',
      filter: ['all', roleIs('lot'), ['get', 'own']],
      layout: { 'line-join': 'miter' },
      paint: {
        'line-color': ink.ink,
        'line-width': byScale(2, 3),
        'line-dasharray': [9, 1.8, 1.4, 1.8, 1.4, 1.8],
      },
    },
    {
      id: 'lot-corners',
      type: 'circle',
      source: 'plan',
      filter: roleIs('lot-corner'),
      paint: {
        'circle-radius': byScale(2, 3.2),
        'circle-color': ink.paper,
        'circle-stroke-color': ink.ink,
        'circle-stroke-width': 1.4,
      },
    },
    {
      id: 'watercourse',
      type: 'line',
      source: 'plan',
      filter: roleIs('watercourse'),
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.water, 'line-width': byScale(2.5, 4.5) },
    },
    {
      id: 'swale',
      type: 'line',
      source: 'plan',
      filter: roleIs('swale'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.water, 'line-width': 1.8, 'line-dasharray': [8, 2.5, 1.2, 2.5] },
    },
    {
      id: 'drain-pipe',
      type: 'line',
      source: 'plan',
      filter: roleIs('drain-pipe'),
      paint: { 'line-color': ink.secondInk, 'line-width': 2.2, 'line-dasharray': [4, 2] },
    },
    {
      id: 'kerb',
      type: 'line',
      source: 'plan',
      filter: roleIs('kerb'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.ink, 'line-width': 0.9, 'line-gap-width': 2.2 },
    },
    {
      id: 'wall',
      type: 'line',
      source: 'plan',
      filter: roleIs('wall'),
      layout: { 'line-join': 'round' },
      paint: { 'line-color': ink.ink, 'line-width': byScale(2, 3.2) },
    },
    {
      id: 'wall-ticks',
      type: 'symbol',
      source: 'plan',
      filter: roleIs('wall'),
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 16,
        'icon-image': 'wall-tick',
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
        'icon-padding': 0,
      },
    },
    {
      id: 'berm',
      type: 'line',
      source: 'plan',
      filter: roleIs('berm'),
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: { 'line-color': ink.contourText, 'line-width': byScale(1.4, 2.2) },
    },
    {
      id: 'berm-ticks',
      type: 'symbol',
      source: 'plan',
      filter: roleIs('berm'),
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 12,
        'icon-image': 'berm-tick',
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
        'icon-padding': 0,
      },
    },
    {
      id: 'swale-arrows',
      type: 'symbol',
      source: 'plan',
      filter: roleIs('swale', 'watercourse', 'drain-pipe'),
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 80,
        'icon-image': 'water-arrow',
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
      },
    },
  ];
}
