import type { Plan } from '../../../../lib/plan/schema';
import {
  latestWorks,
  workOf,
  type HalfDrawn,
  type KeptWork,
  type Work,
} from '../session/kept-work';
import { keepFault, newId, type WorkShelf } from './work-shelf';

/** A change is kept when no other has followed for so long, milliseconds. A choice. */
const keepsAfterMs = 800;

/** Keeps the work on the sheet for the next visit, and offers what earlier visits left. */
export type Keeper = Readonly<KeeperStore>;

export class KeeperStore {
  /** The user's own work of earlier visits, or that was on the sheet before, offered until it is taken up or forgotten. */
  offered = $state.raw<readonly KeptWork[]>([]);
  /** What was kept last, and whether its elevation was. */
  #kept = $state.raw<(Work & { readonly withElevation: boolean }) | null>(null);
  /** Why the last work could not be kept, as a sentence. */
  fault = $state.raw<string | null>(null);

  readonly #shelf: WorkShelf;
  readonly #complain: (sentence: string) => void;
  #id = newId();
  /** Works that the one on the sheet goes on with: they go once it is kept. */
  #insteadOf: readonly string[] = [];
  /** Whether anything was written under the id. */
  #isWritten = false;
  /** The last state that was told, while it is not kept. */
  #unkept: Work | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** What is written is written in order. */
  #writing: Promise<void> = Promise.resolve();

  constructor(shelf: WorkShelf, complain: (sentence: string) => void) {
    this.#shelf = shelf;
    this.#complain = complain;
    shelf.claim(this.#id);
  }

  /** Finds what earlier visits left. */
  async start(): Promise<void> {
    try {
      const { works, unreadable } = await this.#shelf.works();
      this.offered = latestWorks([...this.offered, ...works]);
      if (unreadable > 0) {
        this.#complain(
          `${unreadable === 1 ? 'One kept work' : `${unreadable} kept works`} of an earlier visit cannot be read; it is left as it is.`,
        );
      }
    } catch (error) {
      this.#refuse(error);
    }
  }

  /** Whether a plan, with what is half drawn on it, is kept as it stands. */
  isKept(
    plan: Plan,
    drawing: HalfDrawn | null,
    aside: readonly HalfDrawn[] | undefined = [],
  ): boolean {
    const kept = this.#kept;
    if (kept === null || kept.plan !== plan || !isSameDrawing(kept.drawing, drawing)) return false;
    return JSON.stringify(kept.aside ?? []) === JSON.stringify(aside);
  }

  /** Whether what is kept lacks its elevation, which must be opened again at the next visit. */
  get lacksElevation(): boolean {
    return this.#kept?.withElevation === false;
  }

  /** Takes note of what is on the sheet now; it is kept when it stays so for a moment. */
  changed(work: Work): void {
    if (
      this.isKept(work.plan, work.drawing, work.aside) &&
      this.#kept?.elevation === work.elevation
    )
      return;
    this.#unkept = work;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#keepNow();
    }, keepsAfterMs);
  }

  /** The page may end any moment: what is not kept yet is, before this returns. */
  atOnce(): void {
    if (this.#unkept === null) return;
    this.#shelf.putAtOnce(workOf(this.#unkept, this.#id));
    this.#keepNow();
  }

  /**
   * Another work comes on the sheet.
   *
   * @param work - the one that was on it, to be offered from now on; null when that is in a file, or nobody's own.
   */
  putAside(work: Work | null): void {
    const id = this.#id;
    const insteadOf = this.#insteadOf;
    const isWritten = this.#isWritten;
    clearTimeout(this.#timer);
    this.#isWritten = false;
    this.#unkept = null;
    this.#kept = null;
    this.#id = newId();
    this.#insteadOf = [];
    this.#shelf.claim(this.#id);
    if (work === null) {
      if (isWritten) this.#write(() => this.#shelf.remove([id, ...insteadOf]));
      return;
    }
    const aside = workOf(work, id);
    const before = this.offered;
    this.offered = latestWorks([aside, ...before]);
    const gone = before.filter((other) => !this.offered.includes(other)).map((other) => other.id);
    this.#write(() => this.#shelf.put(aside, insteadOf));
    if (gone.length > 0) this.#write(() => this.#shelf.remove(gone));
  }

  /** A work that was offered is on the sheet now. What was kept of it stays until it is kept anew. */
  takenUp(work: KeptWork): void {
    this.offered = this.offered.filter((other) => other !== work);
    this.#insteadOf = [work.id];
  }

  forget(work: KeptWork): void {
    this.offered = this.offered.filter((other) => other !== work);
    this.#write(() => this.#shelf.remove([work.id]));
  }

  #keepNow(): void {
    const work = this.#unkept;
    if (work === null) return;
    clearTimeout(this.#timer);
    const id = this.#id;
    const insteadOf = this.#insteadOf;
    this.#isWritten = true;
    this.#write(async () => {
      const { withElevation } = await this.#shelf.put(workOf(work, id), insteadOf);
      this.fault = null;
      // Another work may have come on the sheet meanwhile.
      if (id !== this.#id) return;
      this.#kept = { ...work, withElevation };
      if (this.#insteadOf === insteadOf) this.#insteadOf = [];
      if (this.#unkept === work) this.#unkept = null;
    });
  }

  #write(work: () => Promise<unknown>): void {
    this.#writing = this.#writing.then(work).then(
      () => undefined,
      (error: unknown) => {
        this.#refuse(error);
      },
    );
  }

  /** Told once; from then on it stands beside the title that nothing is kept. */
  #refuse(error: unknown): void {
    const fault = keepFault(error);
    if (this.fault !== fault) this.#complain(fault);
    this.fault = fault;
  }
}

function isSameDrawing(a: HalfDrawn | null, b: HalfDrawn | null): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}
