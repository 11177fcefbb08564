import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byAttention, byScale, mediumFont } from './layer-expressions';
import {
  along,
  disc,
  fill,
  haloed,
  icons,
  letters,
  line,
  ofRole,
  pen,
  round,
  roundEnds,
  type,
} from './layer-makers';

/** Line width by the ground that drains through: thin threads above 10 m2, heavy from 1 ha. */
const widthByArea: ExpressionSpecification = [
  'interpolate',
  ['linear'],
  ['log10', ['max', 1, ['get', 'area_m2']]],
  ...[1, 0.5],
  ...[2, 1],
  ...[3, 2],
  ...[4, 3.4],
];

/** What runs through a drain has no area: its arrows are those of a middling line. */
const arrowSizeByArea: ExpressionSpecification = [
  'interpolate',
  ['linear'],
  ['log10', ['max', 1, ['coalesce', ['get', 'area_m2'], 100]]],
  ...[1, 0.6],
  ...[4, 1.3],
];

/** Standing water, flow paths, and what one point answers. */
export function waterLayers(ink: Ink): LayerSpecification[] {
  return [
    {
      id: 'water',
      type: 'raster',
      source: 'water',
      paint: { 'raster-fade-duration': 0, 'raster-resampling': 'linear' },
    },
    ...lowSpotLayers(ink),
    fill('contributing', ofRole('probe', 'area'), { 'fill-pattern': 'contributing' }),
    line('contributing-edge', ofRole('probe', 'area'), pen(ink.water, 1.6, [0.1, 2.4]), roundEnds),
    ...flowLayers(ink),
    ...spotlightLayers(ink),
  ];
}

function lowSpotLayers(ink: Ink): LayerSpecification[] {
  const spots = { source: 'low-spots' };
  const opacity = byAttention(0.5, 0.45, 0.02);
  const edge = pen(ink.water, byAttention(2.6, 2.6, 1.1), [3, 2]);
  return [
    fill('low-spot-fill', spots, { 'fill-color': ink.paleWater, 'fill-opacity': opacity }),
    line('low-spots', spots, { ...edge, 'line-opacity': lowSpotOpacity(false) }, round),
  ];
}

/** Of the outlines of low spots: held back where water already shows them; the faint ones wait to be pointed at. */
export function lowSpotOpacity(isQuiet: boolean): ExpressionSpecification {
  return byAttention(1, 1, ['case', ['to-boolean', ['get', 'faint']], 0, isQuiet ? 0.25 : 1]);
}

function flowLayers(ink: Ink): LayerSpecification[] {
  const source = 'flow-lines';
  const overGround = { ...pen(ink.flow, widthByArea), 'line-opacity': 0.85 };
  return [
    line(
      'pipe-lines',
      { source, filter: ['has', 'pipe'] },
      pen(ink.flow, byScale(1.6, 2.4), [4, 2.4]),
      round,
    ),
    line('flow-lines', { source, filter: ['has', 'area_m2'] }, overGround, roundEnds),
    icons('flow-arrows', { source }, 'flow-arrow', {
      ...along(92),
      'icon-size': arrowSizeByArea,
      'icon-padding': 0,
    }),
  ];
}

function spotlightLayers(ink: Ink): LayerSpecification[] {
  const source = 'spotlight';
  return [
    fill(
      'spotlight-fill',
      { source, filter: ['==', ['geometry-type'], 'Polygon'] },
      { 'fill-color': ink.highlight, 'fill-opacity': 0.28 },
    ),
    line(
      'spotlight-line',
      { source },
      { ...pen(ink.highlight, 5), 'line-opacity': 0.75 },
      roundEnds,
    ),
  ];
}

/** The traced path of one point and the basin's overflow, above what stands on the ground. */
export function pathLayers(ink: Ink): LayerSpecification[] {
  const paths = ofRole('probe', 'path', 'overflow-path');
  const pipes = ofRole('probe', 'pipe-path');
  const overflow = ofRole('probe', 'overflow-path');
  const all = ofRole('probe', 'path', 'pipe-path', 'overflow-path');
  const halo = { ...pen(ink.paper, byScale(4, 6)), 'line-opacity': 0.7 };
  return [
    line('probe-ponds', ofRole('probe', 'pond'), pen(ink.water, 2)),
    line('paths-halo', paths, halo, roundEnds),
    line('paths', paths, pen(ink.water, byScale(1.8, 2.8)), roundEnds),
    line('pipe-path', pipes, pen(ink.water, byScale(2.4, 3.4), [2.4, 1.6]), round),
    icons('path-arrows', all, 'water-arrow', { ...along(70), 'icon-size': 1.15 }),
    letters(
      'overflow-label',
      overflow,
      { ...along(400), ...type('overflow', mediumFont, 12), 'text-offset': [0, -0.9] },
      haloed(ink.water, ink.paper, 2),
    ),
    disc('probe-at', ofRole('probe', 'at'), 4.5, ink.paper, ink.water, 2.4),
  ];
}

/** Labels of low spots, above everything drawn. */
export function lowSpotLabels(ink: Ink): LayerSpecification {
  return letters(
    'low-spot-labels',
    { source: 'low-spots' },
    {
      ...type(['get', 'label'], mediumFont, 12),
      'text-variable-anchor': ['center', 'top', 'bottom', 'left', 'right'],
      'text-radial-offset': 1,
      'text-justify': 'auto',
      'text-max-width': 9,
    },
    haloed(ink.flow, ink.paper, 2),
  );
}
