import type { Remote } from 'comlink';
import { beforeEach, describe, expect, it } from 'vitest';
import type { CertaintyResult } from '../../../../lib/drainage/certainty/certainty-result';
import type { Tallies } from '../../../../lib/drainage/certainty/certainty-tallies';
import { Cancelled } from '../../../../lib/errors';
import { CertaintyStore, type Certainty } from '../../../../src/app/state/answers/certainty.svelte';
import type { CertaintyApi } from '../../../../src/app/worker/certainty-api';
import { CertaintyPool, type CertaintyAnswer } from '../../../../src/app/worker/certainty-pool';
import { groundOf, planOf } from '../../ground/plane-lot';
import { settle } from '../fake-worker';

const grid = groundOf(4, 4, 1, () => 3);
const otherGrid = groundOf(4, 4, 1, () => 5);
const { plan } = planOf([]);
const otherPlan = planOf([]).plan;
const answer = (surfaces: number): CertaintyAnswer => ({
  result: { surfaces } as unknown as CertaintyResult,
  tallies: { wet: new Uint16Array(16), of: { basins: 0 } } as unknown as Tallies,
});

type Ask = CertaintyPool['ask'];

/** A pool whose studies end when and as the test says. */
class FakePool {
  studies: {
    readonly signal: AbortSignal;
    readonly onProgress: (fraction: number, stage: string) => void;
    end(with_: CertaintyAnswer | Error): Promise<void>;
  }[] = [];

  readonly ask: Ask = (_, { signal, onProgress }) =>
    new Promise((resolve, reject) => {
      this.studies.push({
        signal,
        onProgress,
        end: async (ending) => {
          if (ending instanceof Error) reject(ending);
          else resolve(ending);
          await settle();
        },
      });
    });

  getReady(): void {
    return undefined;
  }
}

let pool: FakePool;
let complaints: string[];
let certainty: Certainty;
beforeEach(() => {
  pool = new FakePool();
  complaints = [];
  certainty = new CertaintyStore((sentence) => complaints.push(sentence), pool);
});

describe('a study of certainty', () => {
  it('belongs to the ground, plan and error that it was made from', async () => {
    void certainty.ask(grid, plan);
    await pool.studies[0].end(answer(100));
    expect(certainty.result?.surfaces).toBe(100);
    expect([certainty.isStale(grid, plan), certainty.isOf(grid)]).toEqual([false, true]);
    expect([certainty.isStale(grid, otherPlan), certainty.isStale(otherGrid, plan)]).toEqual([
      true,
      true,
    ]);
    expect(certainty.isOf(otherGrid)).toBe(false);
    certainty.assume({ shortM: 0.2 });
    expect(certainty.isStale(grid, plan)).toBe(true);
  });

  it('whose error was changed while it ran is stale when it comes', async () => {
    void certainty.ask(grid, plan);
    certainty.assume({ shortM: 0.2 });
    await pool.studies[0].end(answer(100));
    expect(certainty.isStale(grid, plan)).toBe(true);
  });

  it.each([
    ['stopped', new Cancelled(), 0],
    ['failing', new Error('a worker broke off'), 1],
  ])('that is %s leaves the one before, and another can be asked for', async (_, end, told) => {
    void certainty.ask(grid, plan);
    await pool.studies[0].end(answer(100));
    void certainty.ask(grid, otherPlan);
    pool.studies[1].onProgress(0.5, 'half');
    expect(certainty.busy?.fraction).toBe(0.5);
    await pool.studies[1].end(end);
    expect(certainty.result?.surfaces).toBe(100);
    expect([certainty.isStale(grid, otherPlan), certainty.isStale(grid, plan)]).toEqual([
      true,
      false,
    ]);
    expect([certainty.busy, complaints.length]).toEqual([null, told]);
    void certainty.ask(grid, otherPlan);
    expect(pool.studies).toHaveLength(3);
  });

  it('that ends just after word to stop is not taken', async () => {
    void certainty.ask(grid, plan);
    certainty.cancel();
    expect(pool.studies[0].signal.aborted).toBe(true);
    await pool.studies[0].end(answer(100));
    expect([certainty.result, certainty.busy]).toEqual([null, null]);
  });
});

describe('the pool', () => {
  it('ends a study whose worker is lost, and the next begins with others', async () => {
    let started = 0;
    const losses: (() => void)[] = [];
    const never = (): Promise<never> => new Promise(() => undefined);
    const real = new CertaintyPool((onLost) => {
      started++;
      losses.push(onLost);
      return { prepare: never, stop: () => undefined } as unknown as Remote<CertaintyApi>;
    });
    const question = { grid, plan, rainMm: 20, errors: certainty.errorsFor(grid, plan), seed: 1 };
    const options = { signal: new AbortController().signal, onProgress: () => undefined };
    const study = real.ask(question, options);
    losses[1]();
    await expect(study).rejects.toThrow(/broke off/);
    void real.ask(question, options);
    expect(started).toBe(4);
  });
});
