import type { InputError } from '../../../lib/errors';
import type { PlanRow } from '../../../lib/setback/judge/setback-table';
import type { Call } from '../command';
import { usage } from '../usage';

export const exitOption = { exit: { type: 'string' } } as const;

export const exitHelp = `  --exit <usual|reviewer>               which exit statuses are given, see below; usual when not given`;

/** Both lists of statuses, for the help. */
export const exitWords = `Exit status, usual: 1 when a binding rule ('must') fails in any plan, else 2 when a plan or file could not be read or
the call was wrong, else 0, even where something could not be judged. With --exit reviewer: 1 a binding rule fails, 4 a
plan or file could not be read, 3 something binding could not be judged, 0 every binding rule is met; 2 a wrong call. Of
several plans the first of 1, 4, 3, 0 that any of them gives counts, and every fault is told.`;

const reviewerStatus = { fails: 1, 'not-read': 4, unjudged: 3, meets: 0 } as const;
const usualStatus = { fails: 1, 'not-read': 2, unjudged: 0, meets: 0 } as const;
/** The worst first. */
const order: readonly PlanRow['state'][] = ['fails', 'not-read', 'unjudged', 'meets'];

/** @throws {InputError} `usage` when the call names statuses that there are not. */
export function exitStatus(call: Call, states: readonly PlanRow['state'][]): number {
  const worst = order.find((state) => states.includes(state)) ?? 'meets';
  return (isReviewer(call) ? reviewerStatus : usualStatus)[worst];
}

/** The status when the whole call was refused. */
export function refusedStatus(call: Call, { code }: InputError): number {
  return code !== 'usage' && call.option('exit') === 'reviewer' ? reviewerStatus['not-read'] : 2;
}

/** Whether the call asks for the reviewer's statuses. */
export function isReviewer(call: Call): boolean {
  const asked = call.option('exit') ?? 'usual';
  if (asked === 'reviewer' || asked === 'usual') return asked === 'reviewer';
  throw usage(`there are no exit statuses '${asked}'`, 'use usual or reviewer');
}
