import type { BasinSections } from '../../basin/form/section';
import type { XY } from '../../frame/frame';
import { boundsOf, type Ring } from '../../frame/shapes';
import type { UnitSystem } from '../../units/units';
import type { Rect } from '../drawing/mark';
import { chosenScale } from '../paper/scale';
import { PlanView } from './plan-view';

/** Kept free beside and below a garden for its letters, millimetres. */
const aroundMm = { beside: 60, below: 20 } as const;

/** A garden turned so that it lies lengthwise in a field, at the largest round scale that fits. */
export function gardenView(
  field: Rect,
  rim: Ring,
  { along }: BasinSections,
  units: UnitSystem,
): { readonly view: PlanView; readonly centre: XY } {
  const turn = -Math.atan2(along.to[1] - along.from[1], along.to[0] - along.from[0]);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const { west, south, east, north } = boundsOf(
    rim.map(([x, y]): XY => [x * c - y * s, x * s + y * c]),
  );
  const middle: XY = [(west + east) / 2, (south + north) / 2];
  const centre: XY = [middle[0] * c + middle[1] * s, middle[1] * c - middle[0] * s];
  const ratio = chosenScale(
    {
      widthMm: field.width - aroundMm.beside,
      heightMm: field.height - aroundMm.below,
      widthM: east - west,
      heightM: north - south,
    },
    units,
  );
  return { view: new PlanView(field, ratio, centre, turn), centre };
}
