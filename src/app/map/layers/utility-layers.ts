import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byProperty, roleIs } from './layer-expressions';

/** Buried lines, in the colours and dashes of their service. */
export function utilityLayers(ink: Ink): LayerSpecification[] {
  // Dashes differ as well as colours, for those who do not tell the colours apart.
  const dashes: Readonly<Record<string, readonly number[]>> = {
    electric: [6, 2, 1.4, 2],
    gas: [7, 2.4],
    communications: [3, 1.6, 3, 1.6, 1, 1.6],
    water: [12, 2.4],
    'reclaimed-water': [8, 2, 1, 2, 1, 2],
    sewer: [4, 1.6],
  };
  return [
    {
      id: 'utility-halo',
      type: 'line',
      source: 'plan',
      filter: roleIs('utility'),
      paint: { 'line-color': ink.paper, 'line-width': 5.5, 'line-opacity': 0.75 },
    },
    ...Object.entries(dashes).map(([service, dash]): LayerSpecification => ({
      id: `utility-${service}`,
      type: 'line',
      source: 'plan',
      filter: ['all', roleIs('utility'), ['==', ['get', 'service'], service]],
      paint: {
        'line-color': ink.utility[service as keyof Ink['utility']],
        'line-width': 2.6,
        'line-dasharray': [...dash],
        'line-opacity': ['case', ['get', 'located'], 1, 0.8],
      },
    })),
  ];
}

/** Letters of the utilities, set into their lines. */
export function utilityLetterLayer(ink: Ink): LayerSpecification {
  return {
    id: 'utility-letters',
    type: 'symbol',
    source: 'plan',
    filter: roleIs('utility'),
    layout: {
      'symbol-placement': 'line',
      'symbol-spacing': 130,
      'text-field': ['get', 'letter'],
      'text-font': boldFont,
      'text-size': 13,
      'text-rotation-alignment': 'viewport',
      'text-padding': 1,
    },
    paint: {
      'text-color': byProperty('service', ink.utilityText, ink.ink),
      'text-halo-color': ink.paper,
      'text-halo-width': 3,
    },
  };
}
