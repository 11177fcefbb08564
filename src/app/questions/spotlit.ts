import type { Session } from '../state/session/session.svelte';
import type { Target } from '../state/session/target';

/** What a row or button listens to that lights what it speaks of on the sheet, while it is pointed at or has the focus. */
export function spotlit(
  session: Session,
  target: Target | null,
): Readonly<Record<string, () => void>> {
  const light = (): void => {
    session.pointAt(target);
  };
  const leave = (): void => {
    session.pointAt(null);
  };
  return { onpointerenter: light, onpointerleave: leave, onfocus: light, onblur: leave };
}
