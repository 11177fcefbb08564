import { applyChange, type Change } from './change';
import type { Plan } from './schema';

/** How many changes can be undone. Own choice. */
export const mostUndone = 100;

/**
 * A plan with its past and its undone future, as one value that is never modified. Both lists hold the change to
 * apply to get there, the next one last.
 */
export interface History {
  readonly plan: Plan;
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
}

/** A plan without a past. */
export function startHistory(plan: Plan): History {
  return { plan, done: [], undone: [] };
}

/** Makes a change; what had been undone can no longer be redone. A change without effect leaves no trace. */
export function commit(history: History, change: Change): History {
  const { plan, inverse } = applyChange(history.plan, change);
  if (plan === history.plan) return history;
  return { plan, done: [...history.done, inverse].slice(-mostUndone), undone: [] };
}

/**
 * Makes a change that goes on with the last one, so that both are one step to undo. Where the last one did not put the
 * same features under the same label, and nothing else, it is a change of its own.
 */
export function commitOnto(history: History, change: Change): History {
  const next = commit(history, change);
  const last = history.done.at(-1);
  if (last === undefined || next === history) return next;
  const isAlike =
    last.label === change.label &&
    idsOf(last) === idsOf(change) &&
    (last.deletes ?? []).length === 0 &&
    last.settings === next.plan.lotfall;
  return isAlike ? { ...next, done: history.done } : next;
}

function idsOf({ puts = [] }: Change): string {
  return JSON.stringify(puts.map(({ id }) => id));
}

/** Takes the last change back; the same history when there is none. */
export function undo(history: History): History {
  const last = history.done.at(-1);
  if (last === undefined) return history;
  const { plan, inverse } = applyChange(history.plan, last);
  return { plan, done: history.done.slice(0, -1), undone: [...history.undone, inverse] };
}

/** Makes the last undone change again; the same history when there is none. */
export function redo(history: History): History {
  const next = history.undone.at(-1);
  if (next === undefined) return history;
  const { plan, inverse } = applyChange(history.plan, next);
  return { plan, done: [...history.done, inverse], undone: history.undone.slice(0, -1) };
}
