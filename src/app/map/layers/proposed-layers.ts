import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byScale } from './layer-expressions';
import { disc, haloed, letters, line, ofRole, pen, round, type } from './layer-makers';

const pieces = { source: 'proposed' };

/** What a proposal would put into the plan: heavy dashes on a light band, beds with their levels beside them. */
export function proposedLayers(ink: Ink): LayerSpecification[] {
  const shapes = ofRole('proposed', 'line', 'outline');
  const points = ofRole('proposed', 'point');
  return [
    line('proposed-band', shapes, pen(ink.paper, byScale(5, 7)), round),
    line('proposed-dashes', shapes, pen(ink.ink, byScale(2.2, 3.2), [2.4, 1.4]), round),
    disc('proposed-points', points, 5, ink.paper, ink.ink, 2.4),
    disc('proposed-stations', ofRole('proposed', 'level'), 2.4, ink.ink, ink.paper, 1.2),
    letters(
      'proposed-levels',
      { ...pieces, ...ofRole('proposed', 'level') },
      {
        ...type(['get', 'label'], boldFont, 12),
        'text-variable-anchor': ['bottom', 'top', 'left', 'right'],
        'text-radial-offset': 0.7,
        'text-padding': 1,
      },
      haloed(ink.ink, ink.paper, 2.5),
    ),
  ];
}
