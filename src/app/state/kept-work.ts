import { openDB, type DBSchema } from 'idb';
import type { Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import type { PageSource } from '../worker/analysis-api';
import { planTitle } from './plan-title';

/** What the browser keeps between visits: a plan as it was last changed, and its elevation where that is small. */
export interface KeptWork {
  /** The plan document. */
  readonly plan: string;
  /** What the plan is called. */
  readonly title: string | null;
  /** ISO time of the last change. */
  readonly at: string;
  /** Null where there was none of the user's own, or the file was too large to keep; it must then be opened again. */
  readonly elevation: PageSource | null;
}

/** `work` is what is on the sheet, `earlier` what was on it before and has not been gone on with since. */
interface Store extends DBSchema {
  kept: { key: 'work' | 'earlier'; value: KeptWork | readonly KeptWork[] };
}

/** Larger elevation files are not kept. A choice. */
const mostBytes = 50_000_000;

/** So many earlier works are kept, the latest. A choice. */
const mostKept = 3;

const open = () =>
  openDB<Store>('lotfall', 1, {
    upgrade(database) {
      database.createObjectStore('kept');
    },
  });

/** A plan and its elevation as they are kept. */
export function workOf(plan: Plan, elevation: PageSource | null): KeptWork {
  const large = elevation !== null && 'blob' in elevation && elevation.blob.size > mostBytes;
  return {
    plan: writePlan(plan),
    title: planTitle(plan),
    at: new Date().toISOString(),
    elevation: large ? null : elevation,
  };
}

/** Works without those that say the same as a later one, the latest first and no more than are kept. */
export function latestWorks(works: readonly KeptWork[]): KeptWork[] {
  const plans = new Set<string>();
  return [...works]
    .sort((a, b) => b.at.localeCompare(a.at))
    .filter(({ plan }) => !plans.has(plan) && plans.add(plan))
    .slice(0, mostKept);
}

/**
 * Keeps what is on the sheet, and beside it what was on it earlier; a browser that refuses to keep anything is let be,
 * since the plan can be saved to a file.
 *
 * @param work - null when what is on the sheet is not worth keeping.
 */
export async function keepWorks(
  work: KeptWork | null,
  earlier: readonly KeptWork[],
): Promise<void> {
  try {
    const database = await open();
    const { store, done } = database.transaction('kept', 'readwrite');
    if (work === null) void store.delete('work');
    else void store.put(work, 'work');
    void store.put(earlier, 'earlier');
    await done;
    database.close();
  } catch {
    return;
  }
}

/** All works that earlier visits left, the latest first. */
export async function keptWorks(): Promise<KeptWork[]> {
  try {
    const database = await open();
    const [work, earlier] = await Promise.all([
      database.get('kept', 'work'),
      database.get('kept', 'earlier'),
    ]);
    database.close();
    return latestWorks([work ?? [], earlier ?? []].flat());
  } catch {
    return [];
  }
}
