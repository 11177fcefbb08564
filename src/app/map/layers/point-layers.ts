import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale, roleIs } from './layer-expressions';
import { pointlike } from './role-groups';

/** Everything of the plan that is drawn as a symbol at a point. */
export function pointLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'leaders',
      type: 'line',
      source: 'plan',
      filter: roleIs('leader'),
      paint: { 'line-color': ink.water, 'line-width': 2, 'line-dasharray': [2, 1.6] },
    },
    {
      id: 'outlets',
      type: 'circle',
      source: 'plan',
      filter: roleIs('outlet', 'overflow'),
      paint: {
        'circle-radius': byScale(2, 3.2),
        'circle-color': ink.water,
        'circle-stroke-color': ink.paper,
        'circle-stroke-width': 1.2,
      },
    },
    {
      id: 'trunks',
      type: 'circle',
      source: 'plan',
      filter: roleIs('tree'),
      paint: {
        'circle-radius': byScale(1.8, 3.4),
        'circle-color': ink.growth,
        'circle-stroke-color': ink.paper,
        'circle-stroke-width': 1,
      },
    },
    {
      id: 'downspouts',
      type: 'circle',
      source: 'plan',
      filter: roleIs('downspout'),
      paint: {
        'circle-radius': byScale(3, 5),
        'circle-color': ink.paper,
        'circle-stroke-color': ink.ink,
        'circle-stroke-width': 1.8,
      },
    },
    {
      id: 'points',
      type: 'symbol',
      source: 'plan',
      filter: roleIs(...pointlike),
      layout: {
        'icon-image': ['get', 'role'],
        'icon-size': byScale(0.75, 1),
        'icon-allow-overlap': true,
        'icon-ignore-placement': true,
      },
    },
  ];
}
