import { InputError } from '../../../../lib/errors';
import type { JobSettings, KeptTable } from '../../../../lib/plan/job-settings';
import { longestTable } from '../../../../lib/plan/job-settings';
import type { PlanStore } from '../../state/plan/plan-store.svelte';
import { withKey } from '../../state/plan/with-key';

/** Writes one thing that is said of the job into the plan, or takes it out. */
export function putJob<K extends keyof JobSettings & string>(
  store: PlanStore,
  label: string,
  key: K,
  value: JobSettings[K] | undefined,
): void {
  const before = store.plan.lotfall.job ?? {};
  // A field that says again what it said is no change to undo.
  if (before[key] === value) return;
  const job = withKey(before, key, value);
  store.set(label, { job });
}

/**
 * Reads what the user typed; where it cannot be read, the sentence that says why.
 *
 * @param read - gives the value to keep, `undefined` to take it out.
 */
export function said(read: () => void): string | null {
  try {
    read();
    return null;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

/**
 * A table file as it is kept in the plan.
 *
 * @param check - reads it and throws where that cannot be.
 * @throws {InputError} what `check` throws, `table-too-long`.
 */
export async function tableOf(
  file: File,
  check: (text: string, name: string) => unknown,
): Promise<KeptTable> {
  const csv = await file.text();
  if (csv.length > longestTable) {
    throw new InputError({
      code: 'table-too-long',
      where: file.name,
      problem: `it is longer than the ${longestTable} signs that a plan keeps`,
      remedy: 'leave out what this job does not need',
    });
  }
  check(csv, file.name);
  return { name: file.name, csv };
}
