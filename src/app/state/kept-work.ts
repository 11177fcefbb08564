import { openDB, type DBSchema } from 'idb';
import type { PageSource } from '../worker/analysis-api';

/** What the browser keeps between visits: the plan as it was last changed, and its elevation where that is small. */
export interface KeptWork {
  /** The plan document. */
  readonly plan: string;
  /** ISO time of the last change. */
  readonly at: string;
  /** Null where the file was too large to keep; it must then be opened again. */
  readonly elevation: PageSource | null;
}

interface Store extends DBSchema {
  kept: { key: 'work'; value: KeptWork };
}

/** Larger elevation files are not kept. A choice. */
const mostBytes = 50_000_000;

const open = () =>
  openDB<Store>('lotfall', 1, {
    upgrade(database) {
      database.createObjectStore('kept');
    },
  });

/** Keeps the work; a browser that refuses to keep anything is let be, since the plan can be saved to a file. */
export async function keepWork(plan: string, elevation: PageSource | null): Promise<void> {
  const large = elevation !== null && 'blob' in elevation && elevation.blob.size > mostBytes;
  try {
    const database = await open();
    await database.put(
      'kept',
      { plan, at: new Date().toISOString(), elevation: large ? null : elevation },
      'work',
    );
    database.close();
  } catch {
    return;
  }
}

/** The work kept by an earlier visit, or null. */
export async function keptWork(): Promise<KeptWork | null> {
  try {
    const database = await open();
    const kept = await database.get('kept', 'work');
    database.close();
    return kept ?? null;
  } catch {
    return null;
  }
}

/** Forgets what was kept. */
export async function forgetWork(): Promise<void> {
  try {
    const database = await open();
    await database.delete('kept', 'work');
    database.close();
  } catch {
    return;
  }
}
