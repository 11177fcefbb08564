import { beforeEach, describe, expect, it } from 'vitest';
import { Tasks } from '../../../../src/app/state/tasks/tasks.svelte';
import { settle } from '../fake-worker';

let told: [sentence: string, fault: unknown][];
let cancelled: number[];
let tasks: Tasks;
beforeEach(() => {
  told = [];
  cancelled = [];
  tasks = new Tasks(
    (sentence, fault) => told.push([sentence, fault]),
    (task) => cancelled.push(task),
  );
});

const problem = { code: 'x', where: 'lot', problem: 'no', remedy: 'try' };

describe('a task', () => {
  it.each(['Draining', null])(
    'that fails by our own fault says so and hands the fault on (stage %s)',
    async (stage) => {
      const fault = new Error('index out of range');
      expect(await tasks.run(stage, () => Promise.reject(fault))).toEqual({ how: 'failed' });
      expect(told).toEqual([['Lotfall itself failed at this: index out of range.', fault]]);
      expect(tasks.busy).toBeNull();
    },
  );

  it('that is refused is told unless its owner tells it, or nobody was to hear of it', async () => {
    const refused = () => Promise.resolve({ ok: false, problem } as const);
    await tasks.run('Reading', refused, () => false);
    await tasks.run(null, refused);
    expect(told).toEqual([]);
    expect(await tasks.run('Reading', refused)).toEqual({ how: 'refused', problem });
    expect(told).toEqual([['lot: no; try.', undefined]]);
  });

  it('that began last is shown and stopped; the one before is shown again', async () => {
    const ends: (() => void)[] = [];
    const wait = () =>
      new Promise<{ ok: true; value: number }>((resolve) => {
        ends.push(() => {
          resolve({ ok: true, value: 1 });
        });
      });
    const both = [tasks.run('first', wait), tasks.run('second', wait)];
    expect(tasks.busy?.stage).toBe('second');
    tasks.stop();
    expect(cancelled).toEqual([tasks.busy?.task]);
    ends[1]();
    await both[1];
    expect(tasks.busy?.stage).toBe('first');
    ends[0]();
    expect(await both[0]).toEqual({ how: 'done', value: 1 });
    expect(tasks.busy).toBeNull();
  });

  it('ends as failed when the worker is lost, and what waited is not begun', async () => {
    const begun: string[] = [];
    const never = () => new Promise<never>(() => undefined);
    for (const name of ['first', 'second']) {
      tasks.latest('drain', async () => {
        begun.push(name);
        await tasks.run(name, never);
      });
    }
    tasks.lose();
    await settle();
    expect([begun, tasks.busy, told]).toEqual([['first'], null, []]);
  });
});

describe('work of one kind', () => {
  it('is done one at a time, and of what is asked meanwhile only the last', async () => {
    const done: string[] = [];
    for (const name of ['first', 'second', 'third']) {
      tasks.latest('drain', async () => {
        await settle();
        done.push(name);
      });
    }
    for (let i = 0; i < 4; i++) await settle();
    expect(done).toEqual(['first', 'third']);
  });
});
