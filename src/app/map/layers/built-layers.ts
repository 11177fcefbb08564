import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale } from './layer-expressions';
import { fill, line, mitred, ofPlan, pen, round } from './layer-makers';

/** A basin that fails a rule is drawn over: broken and red, where one that is drawn is whole and green. */
const ifFailing: ExpressionSpecification = [
  'case',
  ['boolean', ['feature-state', 'failing'], false],
  1,
  0,
];

/** Buildings, roofs and the basin: what stands on the ground or is cut into it. */
export function builtLayers(ink: Ink): LayerSpecification[] {
  const [outer, middle, inner] = ink.basinSteps;
  return [
    fill('building-fill', ofPlan('building'), { 'fill-color': ink.built }),
    line('roofs', ofPlan('roof'), pen(ink.ink, 0.8, [6, 3])),
    line('ridges', ofPlan('ridge'), pen(ink.ink, 1.1, [10, 3, 2, 3])),
    line('buildings', ofPlan('building'), pen(ink.ink, byScale(2, 3.2)), mitred),
    fill('basin-fill', ofPlan('basin'), { 'fill-color': outer }),
    fill('basin-steps', ofPlan('basin-step'), {
      'fill-color': ['match', ['get', 'step'], 1, middle, inner],
    }),
    line('basin-lines', ofPlan('basin-step'), pen(ink.basinRim, 0.9), round),
    line('basin-rim', ofPlan('basin'), pen(ink.basinRim, byScale(2.2, 3)), round),
    line('failing-gap', ofPlan('basin'), {
      ...pen(ink.paper, byScale(4, 5.4)),
      'line-opacity': ifFailing,
    }),
    line('failing', ofPlan('basin'), {
      ...pen(ink.fails, byScale(2.6, 3.6), [3.2, 1.4]),
      'line-opacity': ifFailing,
    }),
    fill('canopies', ofPlan('canopy'), { 'fill-color': ink.canopy, 'fill-opacity': 0.14 }),
    line('canopy-edges', ofPlan('canopy'), pen(ink.growth, 1.1), round),
  ];
}
