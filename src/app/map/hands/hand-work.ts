import type { LngLat } from '../../../../lib/frame/frame';
import type { Kind, PlanFeature } from '../../../../lib/plan/schema';
import type { PlanGeometry } from '../../state/plan-geometry';
import type { Tool } from '../../state/tool';
import { geometryOf } from '../layers/plan-drawing';

/** What the pointer draws or changes on the map at the moment. */
export type HandWork =
  | { readonly does: 'nothing' }
  | {
      readonly does: 'draw';
      readonly kind: Kind;
      /** Corners to begin with, when it is taken up again. */
      readonly corners: readonly LngLat[];
    }
  | { readonly does: 'edit'; readonly id: string; readonly geometry: PlanGeometry };

/** The same list each time, so that the work is known for the same. */
const noCorners: readonly LngLat[] = [];

/** What there is to do with a tool in hand. An outline that is placed as a whole is no work of corners. */
export function handWork(tool: Tool, selected: PlanFeature | null): HandWork {
  if (typeof tool === 'object') {
    return tool.outline === undefined
      ? { does: 'draw', kind: tool.draw, corners: tool.corners ?? noCorners }
      : { does: 'nothing' };
  }
  if (tool === 'edit' && selected !== null) {
    return { does: 'edit', id: selected.id, geometry: geometryOf(selected) };
  }
  return { does: 'nothing' };
}
