import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  NewerVersion,
  type PageKeeping,
} from '../../../../src/app/state/session/newer-version.svelte';

/** A worker of a build, as the browser shows it to the page. */
class FakeWorker extends EventTarget {
  state = 'installing';
  readonly said: unknown[] = [];

  postMessage(message: unknown): void {
    this.said.push(message);
  }

  become(state: string): void {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

class FakeRegistration extends EventTarget {
  waiting: FakeWorker | null = null;
  installing: FakeWorker | null = null;
  updates = 0;

  update(): Promise<void> {
    this.updates++;
    return Promise.reject(new Error('no network'));
  }

  comes(worker: FakeWorker): void {
    this.installing = worker;
    this.dispatchEvent(new Event('updatefound'));
  }
}

class FakeKeeping extends EventTarget {
  controller: object | null = null;
  registration: FakeRegistration | undefined = new FakeRegistration();
  refuses = false;

  register(): Promise<FakeRegistration | undefined> {
    return this.refuses ? Promise.reject(new Error('private')) : Promise.resolve(this.registration);
  }
}

let keeping: FakeKeeping;
let reloads: number;
let newer: NewerVersion;
beforeEach(() => {
  vi.useFakeTimers();
  keeping = new FakeKeeping();
  reloads = 0;
  newer = new NewerVersion(keeping as unknown as PageKeeping, () => reloads++);
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a newer version', () => {
  it('is not what comes with the first visit, whose page is not opened anew either', async () => {
    await newer.start();
    const first = new FakeWorker();
    keeping.registration?.comes(first);
    first.become('installed');
    keeping.dispatchEvent(new Event('controllerchange'));
    expect([newer.isReady, reloads]).toEqual([false, 0]);
  });

  it('is told once it is all there, and the page is opened anew only when the user takes it', async () => {
    keeping.controller = {};
    await newer.start();
    const next = new FakeWorker();
    keeping.registration?.comes(next);
    expect(newer.isReady).toBe(false);
    next.become('installed');
    expect(newer.isReady).toBe(true);
    expect(next.said).toEqual([]);
    newer.use();
    expect(next.said).toHaveLength(1);
    expect(reloads).toBe(0);
    keeping.dispatchEvent(new Event('controllerchange'));
    expect(reloads).toBe(1);
  });

  it('that another tab takes does not open this one anew', async () => {
    keeping.controller = {};
    await newer.start();
    keeping.dispatchEvent(new Event('controllerchange'));
    expect(reloads).toBe(0);
  });

  it('that has waited since the last visit is told, and can be put off', async () => {
    keeping.controller = {};
    keeping.registration!.waiting = new FakeWorker();
    await newer.start();
    expect(newer.isReady).toBe(true);
    newer.putOff();
    expect(newer.isReady).toBe(false);
  });

  it('is asked for when the page is looked at again, an hour later at the earliest', async () => {
    await newer.start();
    newer.lookedAt();
    expect(keeping.registration?.updates).toBe(0);
    vi.advanceTimersByTime(3_600_000);
    newer.lookedAt();
    newer.lookedAt();
    expect(keeping.registration?.updates).toBe(1);
  });

  it('is none where the browser keeps nothing', async () => {
    keeping.refuses = true;
    await newer.start();
    const without = new NewerVersion(undefined, () => reloads++);
    await without.start();
    without.lookedAt();
    expect([newer.isReady, without.isReady]).toEqual([false, false]);
  });
});
