import { beforeEach, expect, it } from 'vitest';
import type { Plan } from '../../../../lib/plan/schema';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import { answerTo, FakeWorker, settle, showGround } from '../fake-worker';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const plan = planOf([lot]).plan;
const withStorm = (storm: Plan['lotfall']['storm']): Plan => ({
  ...plan,
  lotfall: { ...plan.lotfall, storm },
});
const rains = [{ id: 'low-1-1', spillsFromMm: 24 }];

let worker: FakeWorker;
let analysis: Analysis;
beforeEach(async () => {
  worker = new FakeWorker();
  analysis = new Analysis(() => undefined, worker.start);
  await showGround(analysis, worker, plan);
});

it('holds for every depth of the same kind of storm, and is not asked for again', async () => {
  const [light, heavy] = [withStorm({ rain_mm: 10 }), withStorm({ rain_mm: 90 })];
  analysis.spills.ask(light);
  analysis.spills.ask(heavy);
  expect(analysis.spills.of(heavy)).toBeNull();
  const call = worker.call('spills');
  await call.done(answerTo(call, rains));
  expect(worker.has('spills')).toBe(false);
  expect(analysis.spills.of(light)).toEqual(rains);
  expect(analysis.spills.of(heavy)).toEqual(rains);
});

it('is another for a longer storm, other ground, or other features', async () => {
  analysis.spills.ask(plan);
  const call = worker.call('spills');
  await call.done(answerTo(call, rains));
  const longer = withStorm({ rain_mm: 10, duration_h: 24 });
  expect(analysis.spills.of(longer)).toBeNull();
  expect(analysis.spills.of({ ...plan, features: [] })).toBeNull();
  analysis.spills.ask(longer);
  expect(worker.has('spills')).toBe(true);
  await settle();
  analysis.clear();
  expect(analysis.spills.of(plan)).toBeNull();
});

it('is asked for again where it was stopped', async () => {
  analysis.spills.ask(plan);
  await worker.call('spills').stopped();
  expect(analysis.spills.of(plan)).toBeNull();
  analysis.spills.ask(plan);
  expect(worker.has('spills')).toBe(true);
});
