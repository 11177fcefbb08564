import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont } from './layer-expressions';
import { along, haloed, letters, line, ofPlan, pen, setIntoLine, type } from './layer-makers';
import { areal, linear } from './role-groups';

const is = (state: 'proposed' | 'gone'): ExpressionSpecification => ['==', ['get', 'state'], state];

/** What is to come is drawn broken, what is to go as dots on a line that is taken out: over the lines of their kinds. Heights that are older than what stands on them are
 * marked by a band of strokes along it. */
export function stateLayers(ink: Ink): LayerSpecification[] {
  const drawn = [...areal, ...linear];
  return [
    // Wider than the line of what stands there: the ground beside it is old too.
    line('old-ground-edge', ofPlan('old-ground'), {
      ...pen(ink.check, 9, [0.5, 0.5]),
      'line-opacity': 0.55,
    }),
    line('to-come', ofPlan(drawn, is('proposed')), pen(ink.paper, 3.6, [1.4, 2.4])),
    line('to-go', ofPlan(drawn, is('gone')), pen(ink.paper, 5)),
    line('to-go-dots', ofPlan(drawn, is('gone')), pen(ink.secondInk, 1.6, [1, 2.4])),
  ];
}

/** What the band of old ground is, set along it. */
export function oldGroundLetters(ink: Ink): LayerSpecification {
  return letters(
    'old-ground-letters',
    ofPlan('old-ground'),
    { ...along(170), ...type(['get', 'label'], boldFont, 12), ...setIntoLine },
    haloed(ink.check, ink.paper, 3),
  );
}
