import type { Plan } from '../../../lib/plan/schema';
import type { Tool } from '../state/session/tool';

/** What an empty sheet is told by. */
export interface OnSheet {
  readonly plan: Plan;
  readonly hasGround: boolean;
  readonly tool: Tool;
  /** Whether anything is laid under the drawing, or looked through before it comes in. */
  readonly hasMore: boolean;
}

/** Whether nothing is on the sheet and nothing is being put there, so that it asks what there is to begin with. */
export function isBlank({ plan, hasGround, tool, hasMore }: OnSheet): boolean {
  const isAtWork = typeof tool === 'object' || tool === 'lay';
  return plan.features.length === 0 && !hasGround && !isAtWork && !hasMore;
}
