import { beforeEach, describe, expect, it } from 'vitest';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import { answerTo, FakeWorker, showGround, water } from '../fake-worker';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const basinAt = (west: number) =>
  polygonOf('basin', box(west, 20, west + 4, 24), { kind: 'basin' });
const [first, dragged, second] = [20, 25, 30].map((west) => planOf([lot, basinAt(west)]).plan);

let worker: FakeWorker;
let analysis: Analysis;
beforeEach(async () => {
  worker = new FakeWorker();
  analysis = new Analysis(() => undefined, worker.start);
  await showGround(analysis, worker, first);
  analysis.drain(first);
  await flow('first');
});

async function flow(name: string): Promise<void> {
  const call = worker.call('drain');
  await call.done(answerTo(call, water(name)));
}

/** Which water one for a plan is compared with. */
const before = (plan: typeof first): unknown =>
  analysis.lastChange.beforeOf(plan)?.notes[0] ?? null;

describe('the water before the last change', () => {
  it('is none before anything has changed', () => {
    expect(before(first)).toBeNull();
  });

  it('is that of the plan before, once the change is made', async () => {
    analysis.drain(second);
    await flow('second');
    expect(before(second)).toBe('first');
  });

  it('is that from before the drag, while something is dragged and after', async () => {
    analysis.drain(dragged, true);
    await flow('dragged');
    expect(before(dragged)).toBe('first');
    analysis.drain(second);
    await flow('second');
    expect(before(second)).toBe('first');
  });

  it('stays when the water of the same plan comes anew', async () => {
    analysis.drain(second);
    await flow('second');
    analysis.lastChange.settle(second, water('again').result);
    expect(before(second)).toBe('first');
  });

  it('is none on other ground', async () => {
    analysis.drain(second);
    await flow('second');
    analysis.clear();
    expect(before(second)).toBeNull();
  });
});
