import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byAttention, byScale, roleIs } from './layer-expressions';
import { areal, linear, pointlike } from './role-groups';

/** The pencil under what is selected or pointed at. */
export function attentionLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'attention-lines',
      type: 'line',
      source: 'plan',
      filter: roleIs(...areal, ...linear),
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: {
        'line-color': ink.highlight,
        'line-width': byScale(8, 13),
        'line-opacity': byAttention(0.85, 0.5, 0),
      },
    },
    {
      id: 'attention-points',
      type: 'circle',
      source: 'plan',
      filter: roleIs(...pointlike, 'tree', 'downspout', 'outlet', 'overflow'),
      paint: {
        'circle-radius': byScale(10, 14),
        'circle-color': ink.highlight,
        'circle-opacity': byAttention(0.85, 0.5, 0),
      },
    },
  ];
}
