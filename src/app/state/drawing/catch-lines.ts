import type { CatchLine } from '../../../../lib/drawing/catches';
import type { Frame } from '../../../../lib/frame/frame';
import { toLocal } from '../../../../lib/plan/local-plan';
import type { Kind, Plan } from '../../../../lib/plan/schema';

/** The lines of a plan that may catch a corner that is drawn, metres in the frame: rings closed, points as they are. */
export function catchLines(
  plan: Plan,
  frame: Frame,
  isSeen: (kind: Kind) => boolean = () => true,
): CatchLine[] {
  return [...toLocal(plan, frame).byId.values()].flatMap(({ kind, shape }): CatchLine[] => {
    if (!isSeen(kind)) return [];
    switch (shape.type) {
      case 'point':
        return [[shape.at]];
      case 'line':
        return [shape.points];
      case 'polygon':
        return shape.rings.map((ring) => [...ring, ring[0]]);
    }
  });
}
