import type { LayerSpecification } from 'maplibre-gl';
import type { Ink, UtilityService } from '../../look/ink';
import { boldFont, byProperty } from './layer-expressions';
import { along, haloed, letters, line, ofPlan, pen, setIntoLine, type } from './layer-makers';

/** Dashes differ as well as colours, for those who do not tell the colours apart. */
const dashes: Readonly<Record<UtilityService, number[]>> = {
  electric: [6, 2, 1.4, 2],
  gas: [7, 2.4],
  communications: [3, 1.6, 3, 1.6, 1, 1.6],
  water: [12, 2.4],
  'reclaimed-water': [8, 2, 1, 2, 1, 2],
  sewer: [4, 1.6],
};

/** Buried lines, in the colours and dashes of their service. */
export function utilityLayers(ink: Ink): LayerSpecification[] {
  return [
    line('utility-halo', ofPlan('utility'), { ...pen(ink.paper, 5.5), 'line-opacity': 0.75 }),
    ...(Object.keys(dashes) as UtilityService[]).map((service) =>
      line(`utility-${service}`, ofPlan('utility', ['==', ['get', 'service'], service]), {
        ...pen(ink.utility[service], 2.6, dashes[service]),
        'line-opacity': ['case', ['get', 'located'], 1, 0.8],
      }),
    ),
  ];
}

/** Letters of the utilities, set into their lines. */
export function utilityLetterLayer(ink: Ink): LayerSpecification {
  return letters(
    'utility-letters',
    ofPlan('utility'),
    { ...along(130), ...type(['get', 'letter'], boldFont, 13), ...setIntoLine },
    haloed(byProperty('service', ink.utilityText, ink.ink), ink.paper, 3),
  );
}
