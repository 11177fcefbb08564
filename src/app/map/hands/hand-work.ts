import type { PlanFeature } from '../../../../lib/plan/schema';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import type { Tool } from '../../state/session/tool';
import { geometryOf } from '../layers/plan-drawing';

/** What the drawing tool changes on the map at the moment. */
export type HandWork =
  | { readonly does: 'nothing' }
  | { readonly does: 'edit'; readonly id: string; readonly geometry: PlanGeometry };

/** What there is to do with a tool in hand. */
export function handWork(tool: Tool, selected: PlanFeature | null): HandWork {
  if (tool === 'edit' && selected !== null) {
    return { does: 'edit', id: selected.id, geometry: geometryOf(selected) };
  }
  return { does: 'nothing' };
}
