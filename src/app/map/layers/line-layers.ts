import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale } from './layer-expressions';
import { along, disc, icons, line, mitred, ofPlan, pen, round, roundEnds } from './layer-makers';

/** Lot lines, and what lies on the ground or turns and leads its water as lines. */
export function lineLayers(ink: Ink): LayerSpecification[] {
  const own = pen(ink.ink, byScale(2, 3), [9, 1.8, 1.4, 1.8, 1.4, 1.8]);
  const neighbours = pen(ink.secondInk, 1.1, [18, 4, 3, 4, 3, 4]);
  const kerb = { ...pen(ink.ink, 0.9), 'line-gap-width': 2.2 };
  const ticks = { 'icon-padding': 0 };
  return [
    line('neighbour-lots', ofPlan('lot', ['!', ['get', 'own']]), neighbours),
    line('lot', ofPlan('lot', ['get', 'own']), own, mitred),
    disc('lot-corners', ofPlan('lot-corner'), byScale(2, 3.2), ink.paper, ink.ink, 1.4),
    line('watercourse', ofPlan('watercourse'), pen(ink.water, byScale(2.5, 4.5)), roundEnds),
    line('swale', ofPlan('swale'), pen(ink.water, 1.8, [8, 2.5, 1.2, 2.5]), round),
    line('drain-pipe', ofPlan('drain-pipe'), pen(ink.secondInk, 2.2, [4, 2])),
    line('french-drain', ofPlan('french-drain'), pen(ink.secondInk, 2.2, [1, 2])),
    line('level-line', ofPlan('level-line'), pen(ink.contourText, 1.4), round),
    line('break-line', ofPlan('break-line'), pen(ink.contourText, 1.8, [3, 1.5])),
    line('trench-drain', ofPlan('trench-drain'), pen(ink.ink, 2.6, [1, 1])),
    line('fence', ofPlan('fence'), pen(ink.secondInk, 1.4, [6, 2, 1, 2])),
    line('kerb', ofPlan('kerb'), kerb, round),
    line('wall', ofPlan('wall'), pen(ink.ink, byScale(2, 3.2)), round),
    icons('wall-ticks', ofPlan('wall'), 'wall-tick', { ...along(16), ...ticks }),
    line('berm', ofPlan('berm'), pen(ink.contourText, byScale(1.4, 2.2)), roundEnds),
    icons('berm-ticks', ofPlan('berm'), 'berm-tick', { ...along(12), ...ticks }),
    icons('swale-arrows', ofPlan(['swale', 'watercourse', 'drain-pipe']), 'water-arrow', along(80)),
  ];
}
