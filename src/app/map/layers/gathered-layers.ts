import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { line, pen, round } from './layer-makers';

/** What would come in from files of others, in pencil until it is in the plan. */
export function gatheredLayers(ink: Ink): LayerSpecification[] {
  return [
    line('gathered-lines', { source: 'gathered' }, pen(ink.check, 2.2, [2, 1.5]), round),
    {
      id: 'gathered-points',
      type: 'circle',
      source: 'gathered',
      filter: ['==', ['geometry-type'], 'Point'],
      paint: {
        'circle-radius': 4,
        'circle-opacity': 0,
        'circle-stroke-color': ink.check,
        'circle-stroke-width': 2,
      },
    },
  ];
}
