import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from './ink';
import {
  boldFont,
  byAttention,
  byProperty,
  byScale,
  mediumFont,
  roleIs,
} from './layer-expressions';
import type { Role } from './plan-drawing';

const linear: readonly Role[] = [
  'utility',
  'wall',
  'kerb',
  'swale',
  'berm',
  'drain-pipe',
  'watercourse',
  'leader',
];
const pointlike: readonly Role[] = [
  'well',
  'septic-tank',
  'yard-drain',
  'sump-outlet',
  'spot-height',
  'soil-test',
];
const areal: readonly Role[] = [
  'lot',
  'building',
  'roof',
  'surface',
  'septic-field',
  'regrade',
  'wetland',
  'easement',
  'basin',
  'canopy',
];

/** Smaller drawings, of 15 cm a pixel and more, carry names of buildings and lots only. */
const detailZoom = 18.6;

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

/** Lot lines and what lies in or on the ground as lines. */
export function lineLayers(ink: Ink): LayerSpecification[] {
  const lines: LayerSpecification[] = [
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
  return [...lines, ...utilityLayers(ink)];
}

function utilityLayers(ink: Ink): LayerSpecification[] {
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

/** Layers on which a feature of the plan can be picked. */
export const pickableLayers: readonly string[] = [
  'points',
  'downspouts',
  'outlets',
  'trunks',
  'leaders',
  'utility-halo',
  'wall',
  'kerb',
  'swale',
  'berm',
  'drain-pipe',
  'watercourse',
  'basin-fill',
  'basin-rim',
  'building-fill',
  'canopies',
  'surfaces',
  'regrade',
  'septic-field',
  'wetland',
  'easement',
  'lot',
  'roofs',
];
