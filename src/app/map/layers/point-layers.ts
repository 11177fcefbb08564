import type { LayerSpecification } from 'maplibre-gl';
import type { Ink } from '../../look/ink';
import { byScale } from './layer-expressions';
import { disc, icons, line, ofPlan, pen } from './layer-makers';
import { pointlike } from './role-groups';

/** Everything of the plan that is drawn as a symbol at a point. */
export function pointLayers(ink: Ink): LayerSpecification[] {
  return [
    line('leaders', ofPlan('leader'), pen(ink.water, 2, [2, 1.6])),
    disc('outlets', ofPlan(['outlet', 'overflow']), byScale(2, 3.2), ink.water, ink.paper, 1.2),
    disc('trunks', ofPlan('tree'), byScale(1.8, 3.4), ink.growth, ink.paper, 1),
    disc('downspouts', ofPlan('downspout'), byScale(3, 5), ink.paper, ink.ink, 1.8),
    icons('points', ofPlan([...pointlike]), ['get', 'role'], { 'icon-size': byScale(0.75, 1) }),
  ];
}
