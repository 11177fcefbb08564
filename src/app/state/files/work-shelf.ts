import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import type { PageSource } from '../../worker/analysis-api';
import { readRecord, type KeptRecord } from './kept-record';
import type { KeptWork } from '../session/kept-work';

/** Where works are kept between visits. Each tab has its own on the sheet, under an id that no other has. */
export interface WorkShelf {
  /** All that can be read but those on the sheet of other tabs, in no order; and how many there are that cannot. */
  works(): Promise<{ readonly works: readonly KeptWork[]; readonly unreadable: number }>;
  /**
   * Keeps a work, and in the same turn takes away those that it goes on with.
   *
   * @returns whether its elevation is kept too, where it has any.
   * @throws {Error} whatever the browser refuses it with, see `keepFault`.
   */
  put(work: KeptWork, insteadOf: readonly string[]): Promise<{ readonly withElevation: boolean }>;
  /** Keeps a work before it returns, in the last moment of the page; its elevation is as it was kept before. */
  putAtOnce(work: KeptWork): void;
  remove(ids: readonly string[]): Promise<void>;
  /** Tells other tabs which work lies on the sheet of this one. */
  claim(id: string): void;
}

/** Larger elevation files are not kept. A choice. */
const mostBytes = 50_000_000;

interface Store extends DBSchema {
  works: { key: string; value: unknown };
  elevations: { key: string; value: Blob };
  /** Of the first version: all works in two records. */
  kept: { key: string; value: unknown };
}

/** Names in the browser's other stores begin so. */
const prefix = 'lotfall-work-';
const tabKey = 'lotfall-tab';

/** The shelf in the browser's database; what the page's last moment leaves stands in its text store until it is read. */
export class BrowserShelf implements WorkShelf {
  #database: Promise<IDBPDatabase<Store>> | null = null;
  /** Keys under which files lie in the database, so that none is written twice. */
  readonly #keys = new WeakMap<Blob, string>();
  /** The work that lay on this tab's sheet before the page was loaded again. */
  readonly #before = attempt(() => sessionStorage.getItem(tabKey));
  #release: () => void = () => undefined;

  async works(): Promise<{ works: KeptWork[]; unreadable: number }> {
    const late = lateRecords();
    const { records, unreadable } = await this.#records().catch((error: unknown) => {
      // What was left in the last moment can be had all the same.
      if (late.length > 0) return { records: [], unreadable: 0 };
      throw error;
    });
    const elsewhere = await liveElsewhere(this.#before);
    const latest = new Map<string, KeptRecord>(records.map((record) => [record.id, record]));
    for (const record of late) {
      const kept = latest.get(record.id);
      if (kept === undefined || kept.at < record.at) latest.set(record.id, record);
    }
    const here = [...latest.values()].filter(({ id }) => !elsewhere.has(id));
    return { works: await Promise.all(here.map((record) => this.#workOf(record))), unreadable };
  }

  async put(
    work: KeptWork,
    insteadOf: readonly string[],
  ): Promise<{ readonly withElevation: boolean }> {
    const { elevation } = work;
    const file = elevation !== null && 'blob' in elevation ? elevation.blob : null;
    const record = this.#recordOf(work);
    let withElevation = file === null || file.size <= mostBytes;
    if (withElevation) {
      try {
        await this.#write(record, insteadOf, file);
      } catch (error) {
        // The plan is worth more than its elevation, which is in a file of the user's anyhow.
        if (file === null) throw error;
        withElevation = false;
      }
    }
    if (!withElevation) await this.#write({ ...record, elevation: null }, insteadOf, null);
    forgetLate([work.id, ...insteadOf]);
    return { withElevation };
  }

  putAtOnce(work: KeptWork): void {
    attempt(() => {
      localStorage.setItem(prefix + work.id, JSON.stringify(this.#recordOf(work)));
    });
  }

  async remove(ids: readonly string[]): Promise<void> {
    forgetLate(ids);
    const database = await this.#open();
    const transaction = database.transaction(['works', 'elevations'], 'readwrite');
    const works = transaction.objectStore('works');
    const elevations = transaction.objectStore('elevations');
    await Promise.all(ids.map((id) => works.delete(id)));
    const left = (await works.getAll()).map(readRecord);
    // What a record that cannot be read refers to is not known, so nothing goes then.
    const used = new Set(left.map((record) => (record === null ? null : keyIn(record))));
    const keys = used.has(null) ? [] : await elevations.getAllKeys();
    await Promise.all(keys.filter((key) => !used.has(key)).map((key) => elevations.delete(key)));
    await transaction.done;
  }

  claim(id: string): void {
    attempt(() => {
      sessionStorage.setItem(tabKey, id);
    });
    this.#release();
    if (!('locks' in navigator)) return;
    const held = new Promise<void>((resolve) => {
      this.#release = resolve;
    });
    navigator.locks.request(prefix + id, () => held).catch(() => undefined);
  }

  async #write(record: KeptRecord, insteadOf: readonly string[], file: Blob | null): Promise<void> {
    const database = await this.#open();
    const transaction = database.transaction(['works', 'elevations'], 'readwrite');
    // A request that fails makes the whole transaction fail as well: that is heard once, below.
    transaction.done.catch(() => undefined);
    const works = transaction.objectStore('works');
    const elevations = transaction.objectStore('elevations');
    if (file !== null) {
      const key = this.#keyOf(file);
      if ((await elevations.count(key)) === 0) await elevations.put(file, key);
    }
    await works.put(record, record.id);
    await Promise.all(insteadOf.map((id) => works.delete(id)));
    await transaction.done;
  }

  /** One by one, so that one that cannot be had hides no other. */
  async #records(): Promise<{ records: KeptRecord[]; unreadable: number }> {
    const database = await this.#open();
    const keys = await database.getAllKeys('works');
    const read = await Promise.all(
      keys.map(async (key) => readRecord(await database.get('works', key).catch(() => null))),
    );
    const records = read.filter((record) => record !== null);
    return { records, unreadable: read.length - records.length };
  }

  async #workOf({ elevation, ...rest }: KeptRecord): Promise<KeptWork> {
    if (elevation === null || 'url' in elevation) return { ...rest, elevation };
    const { name, key } = elevation;
    const blob = await this.#open()
      .then((database) => database.get('elevations', key))
      .catch(() => undefined);
    if (!(blob instanceof Blob)) return { ...rest, elevation: null };
    this.#keys.set(blob, key);
    return { ...rest, elevation: { name, blob } };
  }

  #recordOf({ elevation, ...rest }: KeptWork): KeptRecord {
    return { ...rest, elevation: this.#reference(elevation) };
  }

  #reference(source: PageSource | null): KeptRecord['elevation'] {
    if (source === null || 'url' in source) return source;
    return { name: source.name, key: this.#keyOf(source.blob) };
  }

  #keyOf(blob: Blob): string {
    const known = this.#keys.get(blob);
    if (known !== undefined) return known;
    const key = newId();
    this.#keys.set(blob, key);
    return key;
  }

  #open(): Promise<IDBPDatabase<Store>> {
    this.#database ??= openStore(() => {
      this.#database = null;
    });
    return this.#database;
  }
}

/** A name that no other has, also where the page came over an insecure connection. */
export function newId(): string {
  return [...crypto.getRandomValues(new Uint32Array(4))].map((part) => part.toString(36)).join('-');
}

/** Why a browser would not keep a work, as a sentence. */
export function keepFault(error: unknown): string {
  const isFull = error instanceof DOMException && error.name === 'QuotaExceededError';
  return isFull
    ? 'This browser has no room left to keep your work for the next visit: save the plan to a file under question 1.'
    : 'This browser does not keep your work for the next visit (a private window, or its storage is blocked): save the plan to a file under question 1.';
}

/** @param onLost - called when the connection is closed and another must be opened. */
function openStore(onLost: () => void): Promise<IDBPDatabase<Store>> {
  const opening = new Promise<IDBPDatabase<Store>>((resolve, reject) => {
    openDB<Store>('lotfall', 2, {
      upgrade(database, from, _to, transaction) {
        database.createObjectStore('works');
        database.createObjectStore('elevations');
        if (from !== 1) return;
        moveOver(database, transaction).catch(() => {
          transaction.abort();
        });
      },
      // Another tab has the first version of the page open and does not let go.
      blocked() {
        reject(new Error('an older page is open in another tab'));
      },
      // A later version of the page wants to change the store.
      blocking(_from, _to, event) {
        (event.target as IDBDatabase).close();
        onLost();
      },
      terminated: onLost,
    }).then(resolve, reject);
  });
  opening.catch(onLost);
  return opening;
}

/** Takes works of the first version over, whose files were kept in their records. */
async function moveOver(
  database: IDBPDatabase<Store>,
  transaction: IDBPTransaction<Store, ArrayLike<'works' | 'elevations' | 'kept'>, 'versionchange'>,
): Promise<void> {
  const kept = transaction.objectStore('kept');
  const found = [await kept.get('work'), await kept.get('earlier')];
  for (const value of found.flat()) {
    if (typeof value !== 'object' || value === null) continue;
    const { elevation = null, ...rest } = value as { readonly elevation?: unknown };
    const { name, blob } = (elevation ?? {}) as {
      readonly name?: unknown;
      readonly blob?: unknown;
    };
    const id = newId();
    const isFile = blob instanceof Blob;
    if (isFile) await transaction.objectStore('elevations').put(blob, id);
    const work = { drawing: null, ...rest, id, elevation: isFile ? { name, key: id } : elevation };
    await transaction.objectStore('works').put(work, id);
  }
  database.deleteObjectStore('kept');
}

function keyIn({ elevation }: KeptRecord): string {
  return elevation !== null && 'key' in elevation ? elevation.key : '';
}

/** What pages left in their last moment. */
function lateRecords(): KeptRecord[] {
  const texts = attempt(() =>
    Object.keys(localStorage)
      .filter((name) => name.startsWith(prefix))
      .map((name) => localStorage.getItem(name) ?? ''),
  );
  return (texts ?? []).flatMap((text) => {
    const record = readRecord(attempt((): unknown => JSON.parse(text)));
    return record === null ? [] : [record];
  });
}

function forgetLate(ids: readonly string[]): void {
  attempt(() => {
    for (const id of ids) localStorage.removeItem(prefix + id);
  });
}

/** Works on the sheet of other tabs that are open, by the locks that those hold. */
async function liveElsewhere(here: string | null): Promise<ReadonlySet<string>> {
  if (!('locks' in navigator)) return new Set();
  const { held = [] } = await navigator.locks.query().catch(() => ({ held: [] }));
  const ids = held.flatMap(({ name }) =>
    name?.startsWith(prefix) ? name.slice(prefix.length) : [],
  );
  // A page that is loaded again finds its own lock still held for a moment.
  return new Set(ids.filter((id) => id !== here));
}

/** What a store of the browser gives; null where it is closed to the page. */
function attempt<T>(use: () => T): T | null {
  try {
    return use();
  } catch {
    return null;
  }
}
