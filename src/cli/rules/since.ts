import { basename } from 'node:path';
import {
  movedWords,
  resultWords,
  sinceLast,
  type SinceLast,
} from '../../../lib/setback/submission/since-last';
import type { Call } from '../command';
import type { Given } from '../reading/checked-plan';
import { noteLines } from '../notes';
import { usage } from '../usage';
import { judged, type Judged } from './judged-plan';

export const sinceOption = { since: { type: 'string' } } as const;

export const sinceHelp = `  --since <plan.geojson>                the plan handed in before: what moved, came, went and changed size since, and
                                        which results changed, both judged as of one day on one elevation`;

/** The earlier plan's path, where the call names one. @throws {InputError} `usage` beside several plans. */
export function sinceAsked(call: Call, many: boolean): string | undefined {
  const path = call.option('since');
  if (path !== undefined && many) {
    throw usage(
      `'${basename(path)}' can be the earlier plan of one plan only`,
      'give one plan with --since',
    );
  }
  return path;
}

/** What changed since the earlier plan. @throws {InputError} what reading that throws. */
export async function sinceOf(given: Given, path: string, now: Judged): Promise<SinceLast> {
  const { at, found, made } = await judged(given, path);
  return sinceLast(
    { plan: at.plan, findings: found.findings, lot: found.lot, made },
    { plan: now.at.local, findings: now.found.findings, lot: now.found.lot, made: now.made },
  );
}

/** The same for people. */
export function sinceWords(since: SinceLast, { at: { plan } }: Judged): string {
  const units = plan.lotfall.units ?? 'metric';
  const moved = movedWords(since, units);
  const results = resultWords(since, units);
  return [
    `Since ${since.earlier.plan.file}`,
    ...(moved.length === 0
      ? ['  Nothing of the plan has changed.']
      : moved.map((line) => `  ${line}`)),
    ...(results.length === 0 ? ['  No result has changed.'] : results.map((line) => `  ${line}`)),
    ...(since.notes.length === 0 ? [] : [noteLines(since.notes)]),
  ].join('\n');
}
