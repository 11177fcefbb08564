import { beforeEach, expect, it } from 'vitest';
import { errorsOf } from '../../../../lib/drainage/height-error/error-defaults';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import { answerTo, FakeWorker, settle, showGround, water } from '../fake-worker';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const shed = polygonOf('shed', box(20, 20, 24, 24), { kind: 'building', state: 'gone' });
const { plan } = planOf([lot, shed]);
const other = { ...plan };
const errors = errorsOf(1);

let worker: FakeWorker;
let analysis: Analysis;
beforeEach(async () => {
  worker = new FakeWorker();
  analysis = new Analysis(() => undefined, worker.start);
  await showGround(analysis, worker, plan);
});

async function answer(name: string): Promise<void> {
  const call = worker.call('existing');
  await call.done(answerTo(call, { water: water(name), grid: analysis.ground?.grid }));
}

it('is shown for the plan that it was made for alone, and asked for once', async () => {
  analysis.states.ask(plan);
  analysis.states.ask(plan);
  await answer('today');
  expect(worker.has('existing')).toBe(false);
  expect(analysis.states.existingOf(plan)?.water.result.notes).toEqual(['today']);
  expect(analysis.states.existingOf(other)).toBeNull();
  analysis.states.ask(other);
  await settle();
  // Until the next one is there, nothing stands beside the other plan.
  expect(analysis.states.existingOf(other)).toBeNull();
  await answer('other');
  expect(analysis.states.existingOf(plan)).toBeNull();
});

it('says when it was stopped, and can be asked for again', async () => {
  analysis.states.ask(plan);
  expect(analysis.states.isLeftOpen(plan)).toBe(false);
  await worker.call('existing').stopped();
  expect(analysis.states.isLeftOpen(plan)).toBe(true);
  analysis.states.ask(plan);
  expect(worker.has('existing')).toBe(false);
  analysis.states.again(plan);
  await answer('again');
  expect(analysis.states.existingOf(plan)).not.toBeNull();
});

it('has doubts that belong to one plan, and goes with the ground', async () => {
  analysis.askDifferenceDoubt(plan, errors);
  expect(analysis.states.isTrying(plan)).toBe(true);
  const call = worker.call('differenceDoubt');
  const doubts = new Map([['a', { lowest: 0, highest: 1 }]]);
  await call.done(answerTo(call, doubts));
  expect(analysis.states.isTrying(plan)).toBe(false);
  expect(analysis.states.doubtOf(plan)).toEqual(doubts);
  expect(analysis.states.doubtOf(other)).toBeNull();
  analysis.clear();
  expect(analysis.states.doubtOf(plan)).toBeNull();
});
