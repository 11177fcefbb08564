import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, mediumFont, roleIs } from './layer-expressions';
import { pointlike } from './role-groups';

/** Smaller drawings, of 15 cm a pixel and more, carry names of buildings and lots only. */
const detailZoom = 18.6;

/** Names and heights, in the order in which they give way: the last drawn are placed first. */
export function labelLayers(ink: Ink): LayerSpecification[] {
  const halo = { 'text-halo-color': ink.paper, 'text-halo-width': 2.2 };
  return [
    {
      id: 'sub-labels',
      type: 'symbol',
      source: 'plan',
      minzoom: detailZoom,
      filter: roleIs('sub-label'),
      layout: {
        'text-field': ['get', 'label'],
        'text-font': mediumFont,
        'text-size': 12.5,
        'text-offset': ['case', ['get', 'below'], ['literal', [0, 1.75]], ['literal', [0, 0]]],
        'text-max-width': 9,
      },
      paint: { 'text-color': ink.secondInk, ...halo },
    },
    {
      id: 'point-labels',
      type: 'symbol',
      source: 'plan',
      minzoom: detailZoom,
      filter: roleIs(...pointlike, 'downspout'),
      layout: {
        'text-field': ['get', 'label'],
        'text-font': mediumFont,
        'text-size': ['match', ['get', 'role'], ['downspout', 'spot-height'], 11.5, 12.5],
        'text-variable-anchor': ['left', 'right', 'bottom-left', 'top-left', 'bottom', 'top'],
        'text-radial-offset': 0.85,
        'text-justify': 'auto',
      },
      paint: { 'text-color': ink.ink, ...halo },
    },
    {
      id: 'line-labels',
      type: 'symbol',
      source: 'plan',
      filter: [
        'all',
        roleIs('wall', 'kerb', 'swale', 'berm', 'drain-pipe', 'watercourse'),
        ['has', 'label'],
      ],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 500,
        'text-field': ['get', 'label'],
        'text-font': mediumFont,
        'text-size': 12,
        'text-offset': [0, -1],
      },
      paint: { 'text-color': ink.secondInk, ...halo },
    },
    {
      id: 'labels',
      type: 'symbol',
      source: 'plan',
      filter: roleIs('label'),
      layout: {
        'text-field': ['get', 'label'],
        'text-font': boldFont,
        'text-size': 13.5,
        'text-letter-spacing': 0.12,
        'text-max-width': 12,
      },
      paint: { 'text-color': ink.ink, ...halo },
    },
  ];
}
