import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, mediumFont } from './layer-expressions';
import { along, haloed, letters, ofPlan, type } from './layer-makers';
import { pointlike } from './role-groups';

/** Smaller drawings, of 15 cm a pixel and more, carry names of buildings and lots only. */
const detailZoom = 18.6;

const label: ['get', string] = ['get', 'label'];

/** Names and heights, in the order in which they give way: the last drawn are placed first. */
export function labelLayers(ink: Ink): LayerSpecification[] {
  const first = haloed(ink.ink, ink.paper, 2.2);
  const second = haloed(ink.secondInk, ink.paper, 2.2);
  const subLabels = letters(
    'sub-labels',
    ofPlan('sub-label'),
    {
      ...type(label, mediumFont, 12.5),
      'text-offset': ['case', ['get', 'below'], ['literal', [0, 1.75]], ['literal', [0, 0]]],
      'text-max-width': 9,
    },
    second,
  );
  const pointLabels = letters(
    'point-labels',
    ofPlan([...pointlike, 'downspout']),
    {
      ...type(label, mediumFont, [
        'match',
        ['get', 'role'],
        ['downspout', 'spot-height'],
        11.5,
        12.5,
      ]),
      'text-variable-anchor': ['left', 'right', 'bottom-left', 'top-left', 'bottom', 'top'],
      'text-radial-offset': 0.85,
      'text-justify': 'auto',
    },
    first,
  );
  return [
    { ...subLabels, minzoom: detailZoom },
    { ...pointLabels, minzoom: detailZoom },
    letters(
      'line-labels',
      ofPlan(
        [
          'wall',
          'kerb',
          'swale',
          'berm',
          'drain-pipe',
          'trench-drain',
          'french-drain',
          'level-line',
          'break-line',
          'fence',
          'watercourse',
        ],
        ['has', 'label'],
      ),
      { ...along(500), ...type(label, mediumFont, 12), 'text-offset': [0, -1] },
      second,
    ),
    letters(
      'labels',
      ofPlan('label'),
      { ...type(label, boldFont, 13.5), 'text-letter-spacing': 0.12, 'text-max-width': 12 },
      first,
    ),
  ];
}
