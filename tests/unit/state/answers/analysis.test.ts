import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Plan } from '../../../../lib/plan/schema';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import type { PlanOnGround } from '../../../../src/app/worker/analysis-api';
import { box, planOf, polygonOf } from '../../ground/plane-lot';
import {
  answerTo,
  design,
  FakeWorker,
  fileOf,
  groundPicture,
  opened,
  ponding,
  settle,
  showGround,
  water,
} from '../fake-worker';

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const basin = polygonOf('basin', box(20, 20, 24, 24), { kind: 'basin' });
const moved = polygonOf('basin', box(30, 20, 34, 24), { kind: 'basin' });
const first = planOf([lot, basin]).plan;
const second: Plan = { ...first, features: [lot, moved] };
const rainier = (plan: Plan, rainMm: number): Plan => ({
  ...plan,
  lotfall: { ...plan.lotfall, storm: { rain_mm: rainMm } },
});

let worker: FakeWorker;
let analysis: Analysis;
let complaints: string[];
beforeEach(() => {
  worker = new FakeWorker();
  complaints = [];
  analysis = new Analysis((sentence) => complaints.push(sentence), worker.start);
});
afterEach(() => {
  vi.useRealTimers();
});

/** What is known of the water on the sheet. */
const onSheet = () => analysis.water?.result.notes[0] ?? null;

/** Answers the call that is waiting with water of a name. */
async function flow(name: string): Promise<void> {
  const call = worker.call('drain');
  await call.done(answerTo(call, water(name)));
}

describe('water', () => {
  it('belongs to the plan that it was made from, and is stale for another', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    expect(analysis.isStale(first)).toBe(true);
    await flow('first');
    expect([onSheet(), analysis.isStale(first), analysis.isStale(second)]).toEqual([
      'first',
      false,
      true,
    ]);
  });

  it.each(['stopped', 'refused', 'fails'] as const)(
    'that is %s leaves the former on the sheet, stale, and says that the plan as it is was not worked out',
    async (end) => {
      await showGround(analysis, worker, first);
      analysis.drain(first);
      await flow('first');
      analysis.drain(second);
      expect(analysis.isLeftOpen).toBe(false);
      await worker.call('drain')[end]('reason');
      expect([onSheet(), analysis.isStale(second), analysis.isLeftOpen]).toEqual([
        'first',
        true,
        true,
      ]);
      expect(complaints).toHaveLength(end === 'stopped' ? 0 : 1);
      analysis.again(second, null);
      await flow('second');
      expect([onSheet(), analysis.isStale(second), analysis.isLeftOpen]).toEqual([
        'second',
        false,
        false,
      ]);
    },
  );

  it('of a plan that was gone back from does not take the place of what is there', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    await flow('first');
    analysis.drain(second);
    // The drag is dropped: the plan is the first again, whose water is there.
    analysis.drain(first);
    expect(analysis.isStale(first)).toBe(false);
    await flow('second');
    expect([onSheet(), analysis.isStale(first)]).toEqual(['first', false]);
  });

  it('is followed for the last of the plans asked about meanwhile, and those between are left out', async () => {
    const third = planOf([lot]).plan;
    await showGround(analysis, worker, first);
    for (const plan of [first, second, third]) analysis.drain(plan);
    await flow('first');
    expect((worker.call('drain').args[0] as PlanOnGround).plan).toBe(third);
    await flow('third');
    expect([onSheet(), analysis.isStale(third), worker.has('drain')]).toEqual([
      'third',
      false,
      false,
    ]);
  });

  it('that comes late for ground that is not on the sheet any more is not shown', async () => {
    await showGround(analysis, worker, first, 'old.tif');
    analysis.drain(first);
    const late = worker.call('drain');
    await showGround(analysis, worker, first, 'new.tif');
    await late.done(answerTo(late, water('old')));
    expect(analysis.water).toBeNull();
    analysis.drain(first);
    await flow('new');
    expect(onSheet()).toBe('new');
  });

  it.each([
    ['ground', { ground: 99 }],
    ['plan', { version: 99 }],
  ])('that was made from another %s than was asked about is not taken', async (_, other) => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    const call = worker.call('drain');
    await call.done({ ...(answerTo(call, water('other')) as object), ...other });
    expect([analysis.water, analysis.isLeftOpen]).toEqual([null, true]);
  });

  it('is asked about by another number for each state of the plan, on the ground on the sheet', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    const before = worker.call('drain').args[0] as PlanOnGround;
    await flow('first');
    analysis.drain(second);
    const after = worker.call('drain').args[0] as PlanOnGround;
    expect(before.ground).toBe(analysis.ground?.number);
    expect(after.ground).toBe(before.ground);
    expect(after.version).not.toBe(before.version);
  });

  it('is not asked about without ground', () => {
    analysis.drain(first);
    expect(worker.calls).toEqual([]);
  });
});

describe('standing water while the storm is changed', () => {
  it('is shown at once, and the whole answer follows when the storm has stayed for a moment', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(rainier(first, 20));
    await flow('20 mm');
    vi.useFakeTimers();
    analysis.drain(rainier(first, 30));
    const pond = worker.call('ponding');
    await pond.done(answerTo(pond, ponding(30)));
    expect(analysis.depthM?.[0]).toBe(30);
    expect(worker.has('drain')).toBe(false);
    vi.advanceTimersByTime(150);
    analysis.drain(rainier(first, 40));
    vi.advanceTimersByTime(150);
    expect(worker.has('drain')).toBe(false);
    vi.advanceTimersByTime(100);
    await flow('40 mm');
    expect([onSheet(), analysis.depthM?.[0]]).toEqual(['40 mm', 0]);
    // What comes late for the storm as it was on the way does not stand on the whole answer.
    const late = worker.call('ponding');
    await late.done(answerTo(late, ponding(40)));
    expect(analysis.depthM?.[0]).toBe(0);
  });

  it('goes when the whole answer is stopped, and figures are told with the storm that they were made from', async () => {
    await showGround(analysis, worker, first);
    const [plan, next] = [rainier(first, 20), rainier(first, 30)];
    analysis.drain(plan);
    await flow('20 mm');
    vi.useFakeTimers();
    analysis.drain(next);
    const pond = worker.call('ponding');
    await pond.done(answerTo(pond, ponding(30)));
    expect(analysis.toldWith(next)).toBe(next);
    vi.advanceTimersByTime(1000);
    await worker.call('drain').stopped();
    expect([analysis.depthM?.[0], analysis.toldWith(next)]).toEqual([0, plan]);
    expect(analysis.isStale(next)).toBe(true);
  });

  it('does not come back when the storm is as it was', async () => {
    await showGround(analysis, worker, first);
    const plan = rainier(first, 20);
    analysis.drain(plan);
    await flow('20 mm');
    vi.useFakeTimers();
    analysis.drain(rainier(first, 30));
    const pond = worker.call('ponding');
    analysis.drain(plan);
    await pond.done(answerTo(pond, ponding(30)));
    expect(analysis.depthM?.[0]).toBe(0);
    vi.advanceTimersByTime(1000);
    expect(worker.has('drain')).toBe(false);
  });
});

describe('a design', () => {
  async function designed(plan: Plan, takenInM3 = 1): Promise<void> {
    analysis.design(plan, null);
    const call = worker.call('design');
    await call.done(answerTo(call, design(takenInM3)));
  }

  it.each(['stopped', 'refused', 'fails'] as const)(
    'that was %s is not that of the plan: the former stays, stale',
    async (end) => {
      await showGround(analysis, worker, first);
      await designed(first);
      analysis.design(second, null);
      await worker.call('design')[end]('reason');
      expect(analysis.designOf(second)).toBeNull();
      expect(analysis.designOf(first)).not.toBeNull();
      expect(analysis.isDesignStale(second, null)).toBe(true);
      expect(analysis.isSettled(second)).toBe(false);
      expect(analysis.isLeftOpen).toBe(true);
      // It does not begin again by itself.
      analysis.design(second, null);
      expect(worker.has('design')).toBe(false);
      analysis.again(second, null);
      const call = worker.call('design');
      await call.done(answerTo(call, design(2)));
      expect(analysis.designOf(second)).not.toBeNull();
      expect(analysis.isLeftOpen).toBe(false);
    },
  );

  it('has the water followed again with what it takes in, once', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    await flow('without uptake');
    await designed(first, 3);
    expect(analysis.isSettled(first)).toBe(false);
    expect(worker.call('drain').args[1]).toEqual(new Map([['basin', 3]]));
    await flow('with uptake');
    expect(analysis.isSettled(first)).toBe(true);
    analysis.design(first, null);
    expect(worker.calls).toEqual([]);
  });

  it('with another record is another', async () => {
    await showGround(analysis, worker, first);
    await designed(first);
    const record = { name: 'rain.csv' } as never;
    expect(analysis.isDesignStale(first, record)).toBe(true);
    analysis.design(first, record);
    expect(worker.has('design')).toBe(true);
  });

  it('says nothing of another ground', async () => {
    await showGround(analysis, worker, first, 'old.tif');
    await designed(first);
    await showGround(analysis, worker, first, 'new.tif');
    expect([analysis.designed, analysis.designOf(first)]).toEqual([null, null]);
  });
});

describe('what the water says to the rules', () => {
  it('is the way of overflow of the very plan, and standing water where only basins have changed', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    const picture = water('first');
    const row = { id: 'basin' };
    const call = worker.call('drain');
    const depthBeforeM = new Float32Array(1);
    const result = { ...picture.result, basins: [row] };
    await call.done(answerTo(call, { ...picture, result, depthBeforeM }));
    expect(analysis.waterForRules(first)).toEqual({ result: { basins: [row] }, depthBeforeM });
    expect(analysis.waterForRules(second)).toEqual({ result: { basins: [] }, depthBeforeM });
    expect(analysis.waterForRules(rainier(first, 90))).toBeNull();
    const house = polygonOf('house', box(12, 40, 20, 48), { kind: 'building' });
    expect(analysis.waterForRules({ ...first, features: [lot, basin, house] })).toBeNull();
  });
});

describe('zones', () => {
  const { frame } = { frame: groundPicture(0).grid.frame };

  it('of a plan that was gone on from are not shown when the next ones were stopped', async () => {
    analysis.zones.askKeepClear(first, frame);
    await worker.call('keepClear').done('zones of the first');
    expect(analysis.zones.keepClear).toBe('zones of the first');
    analysis.zones.askKeepClear(second, frame);
    expect(analysis.zones.keepClear).toBe('zones of the first');
    await worker.call('keepClear').stopped();
    expect(analysis.zones.keepClear).toBeNull();
  });

  it('are none without a place', async () => {
    analysis.zones.askDigZones(first, frame, '2026-05-01');
    await worker.call('digZones').done('zones');
    analysis.zones.askDigZones(planOf([]).plan, null, '2026-05-01');
    expect(analysis.zones.digZones).toBeNull();
  });
});

describe('a place asked about', () => {
  it('answers for the last place, whichever comes last, and for none when that was stopped', async () => {
    await showGround(analysis, worker, first);
    analysis.probe(first, [1, 1]);
    analysis.probe(first, [2, 2]);
    const one = worker.call('probe');
    await one.done(answerTo(one, 'one'));
    expect(analysis.pointOf([2, 2])).toBe('one');
    await worker.call('probe').stopped();
    expect(analysis.pointOf([2, 2])).toBeNull();
  });

  it('answers nothing while none is asked about', async () => {
    await showGround(analysis, worker, first);
    analysis.probe(first, [1, 1]);
    const call = worker.call('probe');
    await call.done(answerTo(call, 'late'));
    expect(analysis.pointOf(null)).toBeNull();
  });
});

describe('the frame to measure in', () => {
  const far = {
    ...lot,
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          [2.3, 48.8],
          [2.301, 48.8],
          [2.301, 48.801],
          [2.3, 48.8],
        ],
      ],
    },
  } as typeof lot;

  it('is the elevation’s where that reaches the lot, and the lot’s own where it does not', async () => {
    await showGround(analysis, worker, first);
    expect(analysis.frameOf(first)).toBe(analysis.ground?.grid.frame);
    const plan = planOf([far]).plan;
    expect(analysis.groundOf(plan)).toBeNull();
    expect(analysis.frameOf(plan)?.projection).toContain('lon_0=2.3005');
  });

  it('is none for an empty plan without ground', () => {
    expect(analysis.frameOf(planOf([]).plan)).toBeNull();
  });
});

describe('ground', () => {
  it('that is read stays off the sheet until it is shown; what is there stays when reading fails', async () => {
    await showGround(analysis, worker, first);
    const { ground } = analysis;
    const opening = analysis.reader.open(fileOf('other.tif'));
    const open = worker.call('openElevation');
    await open.done(opened('other.tif', open.task));
    const elevation = await opening;
    if (elevation === null) throw new Error('not opened');
    const reading = analysis.reader.read(elevation, first, null);
    await worker.call('survey').refused({ code: 'elevation-not-covering' });
    expect(await reading).toMatchObject({ how: 'refused' });
    expect(analysis.ground).toBe(ground);
    expect(complaints).toEqual(['lot: no; try.']);
  });

  it('tells the worker which it goes on with', async () => {
    await showGround(analysis, worker, first);
    expect(worker.wentOnWith).toEqual([analysis.ground?.number]);
  });

  it('read again around another place is dropped when another was shown meanwhile', async () => {
    await showGround(analysis, worker, first, 'old.tif');
    void analysis.readAgain(second);
    const late = worker.call('survey');
    analysis.clear();
    await late.done(groundPicture(late.task));
    expect(analysis.ground).toBeNull();
  });
});

describe('a worker that breaks off', () => {
  it('ends all that is going on, takes its ground off the sheet and is started again', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    await flow('first');
    analysis.drain(second);
    analysis.design(second, null);
    expect(analysis.busy).not.toBeNull();
    worker.die();
    await settle();
    expect([analysis.busy, analysis.ground, analysis.water]).toEqual([null, null, null]);
    expect(complaints).toHaveLength(1);
    expect(complaints[0]).toContain('broke off');
    await showGround(analysis, worker, second);
    expect(worker.started).toBe(2);
    analysis.drain(second);
    await flow('second');
    expect(onSheet()).toBe('second');
  });
});

describe('progress', () => {
  it('is that of the task that began last, and stopping stops that one', async () => {
    await showGround(analysis, worker, first);
    analysis.drain(first);
    analysis.design(first, null);
    expect(analysis.busy?.stage).toBe('Filling and draining the basin');
    const { task } = worker.call('design');
    analysis.cancel();
    expect(worker.cancelled).toEqual([task]);
    await worker.call('design').stopped();
    // The other is still going on, and can be stopped as well.
    expect(analysis.busy?.stage).toBe('Following the water');
  });
});
