import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byAttention, byProperty } from './layer-expressions';
import {
  along,
  fill,
  haloed,
  letters,
  line,
  ofRole,
  pen,
  round,
  roundEnds,
  setIntoLine,
  type,
} from './layer-makers';

/** Keep-clear zones, each rule hatched at its own angle, with its letter along the edge. */
export function keepClearLayers(): LayerSpecification[] {
  const zones = { source: 'keep-clear' };
  const hatch = byAttention(1, 1, 0.85);
  const edge = pen(['get', 'colour'], byAttention(2.6, 2.6, 1.1));
  return [
    fill('keep-clear', zones, { 'fill-pattern': ['get', 'pattern'], 'fill-opacity': hatch }),
    line('keep-clear-edges', zones, edge, round),
  ];
}

/** Letters of the keep-clear zones, set into their edges. */
export function keepClearLetters(ink: Ink): LayerSpecification {
  return letters(
    'keep-clear-letters',
    { source: 'keep-clear' },
    { ...along(150), ...type(['get', 'letter'], boldFont, 12.5), ...setIntoLine },
    haloed(['get', 'colour'], ink.paper, 3),
  );
}

/** Candidate sites and the ways by which roofs' water is led to them. */
export function siteLayers(ink: Ink): LayerSpecification[] {
  const rims = ofRole('sites', 'rim');
  const result = byProperty('result', { fail: ink.fails, check: ink.check }, ink.basinRim);
  return [
    fill('site-fill', rims, {
      'fill-color': ink.basinSteps[1],
      'fill-opacity': byAttention(0.75, 0.75, 0.3),
    }),
    line('sites', rims, pen(result, byAttention(3, 3, 1.8), [4, 2]), round),
    line(
      'site-leads',
      ofRole('sites', 'lead'),
      pen(ink.basinRim, byAttention(2.4, 2.4, 1.3), [1, 2]),
      roundEnds,
    ),
  ];
}
