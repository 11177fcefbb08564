import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Plan } from '../../../../lib/plan/schema';
import { KeeperStore, type Keeper } from '../../../../src/app/state/files/keeper.svelte';
import type { KeptWork, Work } from '../../../../src/app/state/session/kept-work';
import type { WorkShelf } from '../../../../src/app/state/files/work-shelf';
import { settle } from '../fake-worker';

/** A shelf in memory, shared by tabs, that refuses when it is told to. */
class FakeShelf implements WorkShelf {
  readonly kept = new Map<string, KeptWork>();
  readonly late = new Map<string, KeptWork>();
  readonly claimed: string[] = [];
  unreadable = 0;
  refuses: Error | null = null;
  withElevation = true;
  /** Writes that wait for the test to let them through; null lets all through at once. */
  waiting: (() => void)[] | null = null;

  works(): Promise<{ works: KeptWork[]; unreadable: number }> {
    if (this.refuses !== null) return Promise.reject(this.refuses);
    return Promise.resolve({ works: [...this.kept.values()], unreadable: this.unreadable });
  }

  async put(work: KeptWork, insteadOf: readonly string[]): Promise<{ withElevation: boolean }> {
    if (this.waiting !== null) {
      await new Promise<void>((resolve) => this.waiting?.push(resolve));
    }
    if (this.refuses !== null) throw this.refuses;
    this.kept.set(work.id, work);
    for (const id of insteadOf) this.kept.delete(id);
    return { withElevation: this.withElevation };
  }

  putAtOnce(work: KeptWork): void {
    this.late.set(work.id, work);
  }

  remove(ids: readonly string[]): Promise<void> {
    for (const id of ids) this.kept.delete(id);
    return Promise.resolve();
  }

  claim(id: string): void {
    this.claimed.push(id);
  }
}

const planCalled = (name: string): Plan => ({
  type: 'FeatureCollection',
  features: [],
  lotfall: { version: 1, name },
});
const workOn = (plan: Plan): Work => ({ plan, elevation: null, drawing: null });

let shelf: FakeShelf;
let complaints: string[];
const tab = (): Keeper => new KeeperStore(shelf, (sentence) => complaints.push(sentence));
const titles = (): (string | null)[] => [...shelf.kept.values()].map(({ title }) => title);
/** Lets the moment pass after which a change is kept. */
async function wait(): Promise<void> {
  vi.advanceTimersByTime(1000);
  await settle();
}

beforeEach(() => {
  vi.useFakeTimers();
  shelf = new FakeShelf();
  complaints = [];
});
afterEach(() => {
  vi.useRealTimers();
});

describe('work', () => {
  it('is kept when it has stayed as it is for a moment, and is said to be only then', async () => {
    const keeper = tab();
    const [a, b] = [planCalled('a'), planCalled('b')];
    keeper.changed(workOn(a));
    vi.advanceTimersByTime(700);
    keeper.changed(workOn(b));
    vi.advanceTimersByTime(700);
    await settle();
    expect(titles()).toEqual([]);
    shelf.waiting = [];
    await wait();
    // It is being written, and may yet fail.
    expect(keeper.isKept(b, null)).toBe(false);
    shelf.waiting[0]();
    await settle();
    expect([titles(), keeper.isKept(b, null), keeper.isKept(a, null)]).toEqual([
      ['b'],
      true,
      false,
    ]);
  });

  it('that came while another was written is not said to be kept with that', async () => {
    const keeper = tab();
    const [a, b] = [planCalled('a'), planCalled('b')];
    shelf.waiting = [];
    keeper.changed(workOn(a));
    await wait();
    keeper.changed(workOn(b));
    shelf.waiting[0]();
    await settle();
    expect([keeper.isKept(a, null), keeper.isKept(b, null)]).toEqual([true, false]);
    shelf.waiting = null;
    await wait();
    expect([titles(), keeper.isKept(b, null)]).toEqual([['b'], true]);
  });

  it.each([
    [new DOMException('', 'QuotaExceededError'), /no room left/],
    [new DOMException('', 'SecurityError'), /storage is blocked/],
    [new Error('an older page is open'), /does not keep your work/],
  ])('that is refused is said not to be kept, once: %s', async (error, sentence) => {
    const keeper = tab();
    const plan = planCalled('a');
    shelf.refuses = error;
    keeper.changed(workOn(plan));
    await wait();
    keeper.changed(workOn(planCalled('b')));
    await wait();
    expect(keeper.isKept(plan, null)).toBe(false);
    expect(keeper.fault).toMatch(sentence);
    expect(complaints).toEqual([keeper.fault]);
    shelf.refuses = null;
    keeper.changed(workOn(plan));
    await wait();
    expect([keeper.fault, keeper.isKept(plan, null)]).toEqual([null, true]);
  });

  it('without its elevation says so', async () => {
    const keeper = tab();
    shelf.withElevation = false;
    keeper.changed(workOn(planCalled('a')));
    await wait();
    expect(keeper.lacksElevation).toBe(true);
  });

  it('of the last moment is kept before the page ends', () => {
    const keeper = tab();
    keeper.changed(workOn(planCalled('a')));
    keeper.atOnce();
    expect([...shelf.late.values()].map(({ title }) => title)).toEqual(['a']);
  });

  it('that is being written when the page ends counts as not kept', async () => {
    const keeper = tab();
    shelf.waiting = [];
    keeper.changed(workOn(planCalled('a')));
    await wait();
    keeper.atOnce();
    expect(shelf.late.size).toBe(1);
  });

  it('that is kept is not kept again at the end', async () => {
    const keeper = tab();
    keeper.changed(workOn(planCalled('a')));
    await wait();
    keeper.atOnce();
    expect(shelf.late.size).toBe(0);
  });
});

describe('two tabs', () => {
  it('keep two works', async () => {
    const [one, other] = [tab(), tab()];
    one.changed(workOn(planCalled('one')));
    other.changed(workOn(planCalled('other')));
    await wait();
    one.changed(workOn(planCalled('one, changed')));
    await wait();
    expect(titles()).toEqual(['one, changed', 'other']);
    expect(new Set(shelf.claimed).size).toBe(2);
  });
});

describe('earlier works', () => {
  it('are offered; one that cannot be read hides no other and is spoken of', async () => {
    const before = tab();
    before.changed(workOn(planCalled('before')));
    await wait();
    shelf.unreadable = 1;
    const keeper = tab();
    await keeper.start();
    expect(keeper.offered.map(({ title }) => title)).toEqual(['before']);
    expect(complaints).toEqual([
      'One kept work of an earlier visit cannot be read; it is left as it is.',
    ]);
  });

  it('cannot be had where storage is blocked, which is said', async () => {
    shelf.refuses = new DOMException('', 'SecurityError');
    const keeper = tab();
    await keeper.start();
    expect(keeper.offered).toEqual([]);
    expect(complaints).toHaveLength(1);
  });

  it('stay until what went on from them is kept, and go then', async () => {
    const before = tab();
    before.changed(workOn(planCalled('before')));
    await wait();
    const keeper = tab();
    await keeper.start();
    keeper.takenUp(keeper.offered[0]);
    expect([keeper.offered, titles()]).toEqual([[], ['before']]);
    keeper.changed(workOn(planCalled('after')));
    await wait();
    expect(titles()).toEqual(['after']);
  });

  it('that are forgotten go at once, and no others', async () => {
    for (const name of ['a', 'b']) {
      const before = tab();
      before.changed(workOn(planCalled(name)));
      await wait();
    }
    const keeper = tab();
    await keeper.start();
    keeper.forget(keeper.offered.find(({ title }) => title === 'a')!);
    await settle();
    expect(titles()).toEqual(['b']);
  });

  it('are those that were on the sheet before, at once and at the next visit', async () => {
    const keeper = tab();
    keeper.putAside(workOn(planCalled('aside')));
    keeper.changed(workOn(planCalled('now')));
    await wait();
    expect(keeper.offered.map(({ title }) => title)).toEqual(['aside']);
    expect(titles()).toEqual(['aside', 'now']);
  });

  it('are not those that are in a file: what was kept of them goes', async () => {
    const keeper = tab();
    keeper.changed(workOn(planCalled('a')));
    await wait();
    keeper.putAside(null);
    await settle();
    expect([keeper.offered, titles()]).toEqual([[], []]);
  });

  it('do not become the work on the sheet when their writing ends late', async () => {
    const keeper = tab();
    shelf.waiting = [];
    const plan = planCalled('a');
    keeper.changed(workOn(plan));
    await wait();
    keeper.putAside(workOn(plan));
    for (let i = 0; i < 2; i++) {
      shelf.waiting.shift()?.();
      await settle();
    }
    expect(keeper.isKept(plan, null)).toBe(false);
  });
});
