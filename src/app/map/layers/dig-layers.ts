import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { boldFont, byScale, mediumFont } from './layer-expressions';
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
  type,
} from './layer-makers';

const dig = ofRole('dig-zones', 'dig');
const handDig = ofRole('dig-zones', 'hand-dig');

/** Crosses where only hand tools are used. */
export function handDigLayers(ink: Ink): LayerSpecification[] {
  return [
    fill('hand-dig', handDig, { 'fill-pattern': 'hand-dig' }),
    line('hand-dig-edges', handDig, pen(ink.ink, 1.6, [0.1, 2.4]), roundEnds),
  ];
}

/** The ground to be dug, outlined in white dashes on a dark band. */
export function digLayers(ink: Ink): LayerSpecification[] {
  return [
    line('dig-band', dig, pen(ink.digBand, byScale(4, 6)), round),
    line('dig-outline', dig, pen(ink.dig, byScale(2, 3), [4, 1.6]), round),
  ];
}

/** What the outline and the crosses mean, set along their edges. */
export function digLetters(ink: Ink): LayerSpecification[] {
  const turned = {
    'text-rotation-alignment': 'map',
    'text-keep-upright': true,
    'text-max-angle': 30,
  } as const;
  const byHand = type(['case', ['get', 'located'], 'hand tools', 'hand tools ?'], mediumFont, 11.5);
  const toDig = type('TO BE DUG', boldFont, 11.5);
  return [
    letters(
      'hand-dig-letters',
      handDig,
      { ...along(170), ...turned, ...byHand, 'text-offset': [0, -0.8] },
      haloed(ink.ink, ink.paper, 2),
    ),
    letters(
      'dig-letters',
      dig,
      { ...along(220), ...turned, ...toDig, 'text-letter-spacing': 0.08 },
      haloed(ink.dig, ink.digBand, 3),
    ),
  ];
}
