import { eventDepthMm } from '../../../../lib/storm/event-depth';
import { featuresOf, type Plan } from '../../../../lib/plan/schema';
import type { Question, Session } from '../session/session.svelte';

/** Whether what a stop of the walk asks for has been tried, on the lot as it was at first. */
export function isTried(
  stop: Question,
  { selectedId, hovered, question }: Pick<Session, 'selectedId' | 'hovered' | 'question'>,
  plan: Plan,
  demo: Plan,
): boolean {
  switch (stop) {
    case 'here':
      return selectedId !== null;
    case 'water':
      return eventDepthMm(plan.lotfall) !== eventDepthMm(demo.lotfall);
    case 'place':
      return hovered?.kind === 'margin';
    case 'dig':
      return featuresOf(plan, 'basin').some(
        (basin) => !featuresOf(demo, 'basin').some((other) => other === basin),
      );
    case 'handover':
      return question === 'handover';
  }
}
