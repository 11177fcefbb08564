import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale, mediumFont } from './layer-expressions';
import {
  along,
  fill,
  haloed,
  letters,
  line,
  ofPlan,
  pen,
  round,
  type,
  type Pieces,
} from './layer-makers';

/** Paper, relief, contours and what covers the ground: all that water runs over. */
export function groundLayers(ink: Ink): LayerSpecification[] {
  return [
    { id: 'paper', type: 'background', paint: { 'background-color': ink.paper } },
    {
      id: 'relief',
      type: 'raster',
      source: 'relief',
      paint: {
        'raster-fade-duration': 0,
        'raster-resampling': 'linear',
        'raster-opacity': 0.75,
      },
    },
    line('data-edge', { source: 'data-edge' }, pen(ink.hairline, 1, [2, 3])),
    ...surfaceLayers(ink),
    ...contourLayers(ink),
  ];
}

function surfaceLayers(ink: Ink): LayerSpecification[] {
  const isHard = ofPlan('surface', ['in', ['get', 'cover'], ['literal', ['paving', 'deck']]]);
  const edge = { ...pen(ink.secondInk, 0.8), 'line-opacity': 0.7 };
  const areas = {
    'septic-field': ink.septic,
    regrade: ink.contourText,
    wetland: ink.water,
    easement: ink.secondInk,
  };
  return [
    fill('hard-surfaces', isHard, { 'fill-color': ink.built, 'fill-opacity': 0.6 }),
    fill('surfaces', ofPlan('surface'), { 'fill-pattern': ['get', 'cover'] }),
    line('surface-edges', ofPlan('surface'), edge, round),
    line('soakaway', ofPlan('soakaway'), pen(ink.water, 1.8, [4, 2]), round),
    line(
      'relevelled-ground',
      ofPlan('relevelled-ground'),
      pen(ink.contourText, 1.6, [6, 2, 2, 2]),
      round,
    ),
    line('puddle-edge', ofPlan('puddle-edge'), pen(ink.water, 2.2, [1, 2]), round),
    ...(Object.keys(areas) as (keyof typeof areas)[]).flatMap((role) => [
      fill(role, ofPlan(role), { 'fill-pattern': role }),
      line(
        `${role}-edge`,
        ofPlan(role),
        pen(areas[role], 1.4, role === 'easement' ? [10, 3, 2, 3] : [5, 3]),
      ),
    ]),
  ];
}

function contourLayers(ink: Ink): LayerSpecification[] {
  const index: Pieces = { source: 'contours', filter: ['get', 'index'] };
  const between: Pieces = { source: 'contours', filter: ['!', ['get', 'index']] };
  const thin = { ...pen(ink.contour, byScale(0.4, 0.8)), 'line-opacity': 0.55 };
  const heavy = { ...pen(ink.contour, byScale(0.9, 1.5)), 'line-opacity': 0.85 };
  const heights = type(['get', 'label'], mediumFont, 11.5);
  return [
    line('contours', between, thin, round),
    line('index-contours', index, heavy, round),
    letters(
      'contour-heights',
      index,
      { ...along(420), ...heights, 'text-max-angle': 25, 'text-padding': 12 },
      haloed(ink.contourText, ink.paper, 2),
    ),
  ];
}
