import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byAttention, byScale, roleIs } from './layer-expressions';
import { line, ofPlan, pen, roundEnds } from './layer-makers';
import { areal, linear, pointlike } from './role-groups';

/** The pencil under what is selected or pointed at. */
export function attentionLayers(ink: Ink): LayerSpecification[] {
  const opacity = byAttention(0.85, 0.5, 0);
  return [
    line(
      'attention-lines',
      ofPlan([...areal, ...linear]),
      { ...pen(ink.highlight, byScale(8, 13)), 'line-opacity': opacity },
      roundEnds,
    ),
    {
      id: 'attention-points',
      type: 'circle',
      source: 'plan',
      filter: roleIs(...pointlike, 'tree', 'downspout', 'outlet', 'overflow'),
      paint: {
        'circle-radius': byScale(10, 14),
        'circle-color': ink.highlight,
        'circle-opacity': opacity,
      },
    },
  ];
}
