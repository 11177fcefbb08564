import { beforeEach, describe, expect, it } from 'vitest';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import type { Call } from '../fake-worker';
import { answerTo, FakeWorker, settle, showGround } from '../fake-worker';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import type { PlacesPicture } from '../../../../src/app/worker/places-picture';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const plan = planOf([lot]).plan;
const other = { ...plan, features: [polygonOf('own', box(10, 10, 40, 50), lot.properties)] };
const terms = { today: '2026-05-01', basins: 1 };

/** Places of which only their name is known. */
const picture = (name: string): PlacesPicture =>
  ({
    candidates: [],
    joint: null,
    answer: { notes: [{ text: name }] },
  }) as unknown as PlacesPicture;

let worker: FakeWorker;
let analysis: Analysis;
beforeEach(async () => {
  worker = new FakeWorker();
  analysis = new Analysis(() => undefined, worker.start);
  await showGround(analysis, worker, plan);
});

const shown = (): string | null => analysis.places.found?.answer?.notes[0].text ?? null;
const tellSoFar = (call: Call, name: string): void => {
  (call.args[3] as (soFar: PlacesPicture) => void)(picture(name));
};
const found = (call: Call, name: string): Promise<void> => call.done(answerTo(call, picture(name)));

describe('places', () => {
  it('are the best so far while they are looked for, and belong to the plan they are looked for in', async () => {
    analysis.places.find(plan, terms);
    const search = worker.call('places');
    tellSoFar(search, 'so far');
    expect([shown(), analysis.places.isStale(plan), analysis.places.isStale(other)]).toEqual([
      'so far',
      false,
      true,
    ]);
    await found(search, 'all');
    expect(shown()).toBe('all');
    // What is told late does not take the place of the whole answer.
    tellSoFar(search, 'late');
    expect(shown()).toBe('all');
  });

  it.each(['stopped', 'refused', 'fails'] as const)(
    'are those of the search before, and stale, when the next is %s',
    async (end) => {
      analysis.places.find(plan, terms);
      await found(worker.call('places'), 'before');
      analysis.places.find(other, terms);
      const search = worker.call('places');
      tellSoFar(search, 'so far');
      await search[end]('reason');
      expect([shown(), analysis.places.isStale(other), analysis.places.isStale(plan)]).toEqual([
        'before',
        true,
        false,
      ]);
    },
  );

  it('of another ground are not shown, however late they come', async () => {
    analysis.places.find(plan, terms);
    const late = worker.call('places');
    tellSoFar(late, 'so far');
    await showGround(analysis, worker, plan, 'other.tif');
    expect(shown()).toBeNull();
    tellSoFar(late, 'late');
    await found(late, 'late');
    expect(shown()).toBeNull();
  });

  it('keep their answers to one place apart from those to the next', async () => {
    analysis.places.ask(plan, terms, [1, 1]);
    const first = worker.call('askPlace');
    await first.done(answerTo(first, 'first'));
    expect(analysis.places.asked).toBe('first');
    analysis.places.ask(other, terms, [1, 1]);
    await worker.call('askPlace').stopped();
    // The answer for the plan as it was is none for the plan as it is.
    expect(analysis.places.asked).toBeNull();
    analysis.places.ask(other, terms, [1, 1]);
    analysis.places.dismiss();
    const late = worker.call('askPlace');
    await late.done(answerTo(late, 'late'));
    expect(analysis.places.asked).toBeNull();
  });

  it('end with a worker that breaks off, and can be looked for again', async () => {
    analysis.places.find(plan, terms);
    worker.die();
    await settle();
    expect([shown(), analysis.busy]).toEqual([null, null]);
    await showGround(analysis, worker, plan);
    analysis.places.find(plan, terms);
    await found(worker.call('places'), 'again');
    expect(shown()).toBe('again');
  });
});
