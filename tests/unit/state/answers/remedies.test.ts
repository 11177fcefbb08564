import { beforeEach, describe, expect, it } from 'vitest';
import { applyChange } from '../../../../lib/plan/change';
import type { Plan } from '../../../../lib/plan/schema';
import type { Proposal, RemediesResult } from '../../../../lib/remedies/remedies-result';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import { planWith } from '../../../../src/app/state/answers/remedies.svelte';
import { box, lineOf, planOf, polygonOf } from '../../ground/plane-lot';
import { answerTo, FakeWorker, settle, showGround, water, type Call } from '../fake-worker';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const { plan } = planOf([lot]);
const wetter: Plan = { ...plan, lotfall: { ...plan.lotfall, storm: { rain_mm: 77 } } };
const renamed: Plan = { ...plan, lotfall: { ...plan.lotfall, name: 'Another name', units: 'us' } };
const swale = lineOf(
  'remedy-swale',
  [
    [20, 20],
    [30, 20],
  ],
  { kind: 'swale' },
);

/** A proposal of which only its name and what it changes are known. */
const proposal = (id: string, rank = 0): Proposal =>
  ({ id, rank, change: { label: id, puts: [swale] } }) as unknown as Proposal;
const result = (...proposals: Proposal[]): RemediesResult =>
  ({ proposals }) as unknown as RemediesResult;

let worker: FakeWorker;
let analysis: Analysis;
beforeEach(async () => {
  worker = new FakeWorker();
  analysis = new Analysis(() => undefined, worker.start);
  await showGround(analysis, worker, plan);
});

const shown = (of: Plan): string[] | null =>
  analysis.remedies.of(of)?.proposals.map(({ id, rank }) => `${id} ${rank}`) ?? null;
const tell = (call: Call, told: Proposal): void => {
  (call.args[3] as (told: Proposal) => void)(told);
};
async function find(of: Plan, ...proposals: Proposal[]): Promise<void> {
  analysis.remedies.find(of, '2026-05-01');
  const call = worker.call('remedies');
  await call.done(answerTo(call, result(...proposals)));
}

describe('remedies', () => {
  it('are told as they come, each once, and then by rank', async () => {
    analysis.remedies.find(plan, '2026-05-01');
    const call = worker.call('remedies');
    expect([call.args[1], shown(plan), analysis.remedies.isSearching]).toEqual([
      '2026-05-01',
      [],
      true,
    ]);
    tell(call, proposal('a'));
    tell(call, proposal('b'));
    tell(call, proposal('a', 7));
    expect(shown(plan)).toEqual(['a 7', 'b 0']);
    await call.done(answerTo(call, result(proposal('b', 1), proposal('a', 2))));
    tell(call, proposal('late'));
    expect([shown(plan), analysis.remedies.isSearching]).toEqual([['b 1', 'a 2'], false]);
  });

  it('are not shown beside another plan or storm, and are there again when that is undone', async () => {
    await find(plan, proposal('a', 1));
    const { plan: taken, inverse } = applyChange(plan, proposal('a').change);
    for (const other of [taken, wetter]) {
      expect([shown(other), analysis.remedies.isStale(other)]).toEqual([null, true]);
    }
    const undone = applyChange(taken, inverse).plan;
    expect(undone).not.toBe(plan);
    for (const same of [undone, renamed]) {
      expect([shown(same), analysis.remedies.isStale(same)]).toEqual([['a 1'], false]);
    }
  });

  it.each(['stopped', 'refused', 'fails'] as const)(
    'are those of the search before when the next is %s',
    async (end) => {
      await find(plan, proposal('a', 1));
      analysis.remedies.find(wetter, '2026-05-01');
      const call = worker.call('remedies');
      tell(call, proposal('b'));
      expect([shown(plan), shown(wetter)]).toEqual([['a 1'], ['b 0']]);
      if (end === 'stopped') {
        analysis.remedies.stop();
        expect(worker.cancelled).toEqual([call.task]);
      }
      await call[end]('reason');
      expect([shown(plan), shown(wetter)]).toEqual([['a 1'], null]);
      expect([analysis.remedies.isLeftOpen, analysis.remedies.isSearching]).toEqual([true, false]);
    },
  );

  it('of another ground are not shown, however late they come', async () => {
    analysis.remedies.find(plan, '2026-05-01');
    const late = worker.call('remedies');
    tell(late, proposal('a'));
    await showGround(analysis, worker, plan, 'other.tif');
    tell(late, proposal('b'));
    expect([shown(plan), analysis.remedies.isStale(plan)]).toEqual([null, false]);
    await late.done(answerTo(late, result(proposal('a', 1))));
    expect(shown(plan)).toBeNull();
  });
});

describe('the water with a proposal', () => {
  const notes = (of: Plan, tried: Proposal): readonly string[] | null =>
    analysis.remedies.triedOf(of, tried)?.water.result.notes ?? null;

  it('belongs to one plan and one change, whatever more becomes known of it', async () => {
    await find(plan, proposal('a', 1), proposal('b', 2));
    analysis.remedies.try(plan, proposal('a'));
    analysis.remedies.try(plan, proposal('a', 1));
    const call = worker.call('withRemedy');
    expect(call.args[1]).toEqual(proposal('a').change);
    await call.done(answerTo(call, { water: water('with a'), beds: [] }));
    expect(worker.has('withRemedy')).toBe(false);
    expect(notes(plan, proposal('a', 5))).toEqual(['with a']);
    expect([notes(plan, proposal('b')), notes(wetter, proposal('a'))]).toEqual([null, null]);
  });

  it('can be asked for again where it was stopped', async () => {
    analysis.remedies.try(plan, proposal('a'));
    await worker.call('withRemedy').stopped();
    expect(analysis.remedies.isTryLeftOpen(proposal('a'))).toBe(true);
    analysis.remedies.try(plan, proposal('a'));
    await settle();
    expect(worker.has('withRemedy')).toBe(true);
  });

  it('is that of the plan that taking it in makes', () => {
    expect(planWith(plan, proposal('a')).features.map(({ id }) => id)).toEqual([
      'own',
      'remedy-swale',
    ]);
  });
});
