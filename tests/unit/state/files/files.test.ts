import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Plan } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';
import { Analysis } from '../../../../src/app/state/answers/analysis.svelte';
import { emptyPlan, Files } from '../../../../src/app/state/files/files.svelte';
import { setbackFindings } from '../../../../src/app/state/answers/findings';
import { KeeperStore } from '../../../../src/app/state/files/keeper.svelte';
import type { KeptWork } from '../../../../src/app/state/session/kept-work';
import { PlanStore } from '../../../../src/app/state/plan/plan-store.svelte';
import { SessionStore, type Session } from '../../../../src/app/state/session/session.svelte';
import type { WorkShelf } from '../../../../src/app/state/files/work-shelf';
import { frame, planOf, polygonOf, box } from '../../ground/plane-lot';
import { answerTo, FakeWorker, fileOf, groundPicture, opened, settle, water } from '../fake-worker';

/** The demo's plan, which names its elevation as the fake worker knows it: by name. */
const demoPlan = readFileSync('fixtures/demo/lot.plan.geojson', 'utf8').replace(
  /"size_bytes": \d+,\s+"crc32": "\w+",/,
  '',
);
const shelf: WorkShelf = {
  works: () => Promise.resolve({ works: [], unreadable: 0 }),
  put: () => Promise.resolve({ withElevation: true }),
  putAtOnce: () => undefined,
  remove: () => Promise.resolve(),
  claim: () => undefined,
};

let worker: FakeWorker;
let session: Session;
let store: PlanStore;
let analysis: Analysis;
let files: Files;
beforeEach(() => {
  worker = new FakeWorker();
  session = new SessionStore();
  store = new PlanStore(emptyPlan);
  const complain = (sentence: string): void => {
    session.complain(sentence);
  };
  analysis = new Analysis(complain, worker.start);
  const demo = { plan: demoPlan, elevation: new Blob(['demo']) };
  files = new Files(session, store, analysis, new KeeperStore(shelf, complain), () =>
    Promise.resolve(demo),
  );
});

/** Lets the worker open a file and read it, or refuse to. */
async function open(needs: 'vertical-unit'[] = []): Promise<void> {
  await settle();
  const call = worker.call('openElevation');
  await call.done(opened((call.args[0] as { name: string }).name, call.task, needs));
}
async function read(ends: 'done' | 'not covering' | 'stopped' = 'done'): Promise<void> {
  const call = worker.call('survey');
  if (ends === 'done') await call.done(groundPicture(call.task));
  else if (ends === 'stopped') await call.stopped();
  else await call.refused({ code: 'elevation-not-covering' });
}

const lot = polygonOf('own', box(10, 10, 50, 50), { kind: 'lot', own: true });
const basin = polygonOf('basin', box(20, 20, 24, 24), { kind: 'basin' });
const planFile = (plan: Plan, name = 'a.plan.geojson'): File => new File([writePlan(plan)], name);
const named = (plan: Plan): string | undefined => plan.lotfall.elevation?.source;

/** The demo on the sheet, as the page begins. */
async function demo(): Promise<void> {
  const starting = files.openDemo();
  await open();
  await read();
  await starting;
}

/** A plan of the user's own on an elevation of the user's own. */
async function ownWork(plan: Plan = planOf([lot]).plan, name = 'yard.tif'): Promise<void> {
  const opening = files.openElevation(fileOf(name));
  await open();
  await read();
  await opening;
  store.commit({ label: 'draw', puts: [...plan.features] });
}

describe('a new plan', () => {
  it('has no ground, no elevation and nothing computed; undoing brings all of it back', async () => {
    await demo();
    analysis.drain(store.plan);
    const call = worker.call('drain');
    await call.done(answerTo(call, water('demo')));
    const { ground } = analysis;
    files.newPlan();
    expect([store.plan.features, analysis.ground, analysis.water, named(store.plan)]).toEqual([
      [],
      null,
      null,
      undefined,
    ]);
    store.undo();
    const following = files.followPlan();
    await open();
    await read();
    await following;
    expect(store.plan.features.length).toBeGreaterThan(10);
    expect(analysis.ground?.grid).toEqual(ground?.grid);
    expect(analysis.elevation?.opened.identity.name).toBe('lot.elevation.tif');
    // And doing it again empties it again.
    store.redo();
    await files.followPlan();
    expect(analysis.ground).toBeNull();
  });

  it('stays empty when ground comes late that was asked for before', async () => {
    await demo();
    const opening = files.openElevation(fileOf('yard.tif'));
    await open();
    files.newPlan();
    await read();
    await opening;
    expect([analysis.ground, store.plan.features]).toEqual([null, []]);
  });
});

describe('an elevation', () => {
  it('is named in the plan with size and checksum', async () => {
    await ownWork();
    const { name, sizeBytes, crc32 } = opened('yard.tif', 0).identity;
    expect(store.plan.lotfall.elevation).toEqual({
      source: name,
      size_bytes: sizeBytes,
      crc32,
    });
  });

  it('begins an empty sheet on the untouched demo, also when that is touched while it is read', async () => {
    await demo();
    const opening = files.openElevation(fileOf('yard.tif'));
    await open();
    store.set('change the storm', { storm: { rain_mm: 99 } });
    await read();
    await opening;
    expect([store.plan.features, named(store.plan)]).toEqual([[], 'yard.tif']);
    // What was changed is not lost.
    expect(files.keeper.offered[0].plan).toContain('"rain_mm": 99');
  });

  it('takes nothing back that was changed while it was read', async () => {
    await ownWork();
    const opening = files.openElevation(fileOf('newer.tif'));
    await open();
    store.set('change the storm', { storm: { rain_mm: 99 } });
    await read();
    await opening;
    expect(store.plan.lotfall.storm).toEqual({ rain_mm: 99 });
    expect(named(store.plan)).toBe('newer.tif');
  });

  it('other than the one before does not inherit its unit and error, and can be taken back', async () => {
    await ownWork();
    const said = { ...store.plan.lotfall.elevation, rmse_m: 0.1, vertical_unit_m: 0.3048 };
    store.set('state the error', { elevation: said });
    const opening = files.openElevation(fileOf('newer.tif'));
    await open(['vertical-unit']);
    await opening;
    // Feet were said of the other file: here it is asked again.
    expect(files.asks?.name).toBe('newer.tif');
    expect(named(store.plan)).toBe('yard.tif');
    const answering = files.answerVerticalUnit(1);
    await settle();
    await read();
    await answering;
    expect(store.plan.lotfall.elevation).toMatchObject({ source: 'newer.tif', vertical_unit_m: 1 });
    expect(store.plan.lotfall.elevation).not.toHaveProperty('rmse_m');
    store.undo();
    const following = files.followPlan();
    await open();
    await read();
    await following;
    expect(analysis.elevation?.opened.identity.name).toBe('yard.tif');
  });

  it('that was asked for last is the one on the sheet, whichever is read first', async () => {
    const slow = files.openElevation(fileOf('slow.tif'));
    await settle();
    const late = worker.call('openElevation');
    worker.calls = [];
    await ownWork(planOf([]).plan, 'quick.tif');
    await late.done(opened('slow.tif', late.task));
    await slow;
    expect(worker.has('survey')).toBe(false);
    expect(analysis.elevation?.opened.identity.name).toBe('quick.tif');
    expect(worker.cancelled).toContain(late.task);
  });

  it('that cannot be read leaves plan and ground as they are', async () => {
    await ownWork();
    const { plan } = store;
    const { ground } = analysis;
    const opening = files.openElevation(fileOf('far.tif'));
    await open();
    await read('not covering');
    await opening;
    expect([store.plan, analysis.ground]).toEqual([plan, ground]);
    expect(session.complaint).not.toBeNull();
  });
});

describe('a plan from a file', () => {
  const far = {
    ...lot,
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          [2.3, 48.8],
          [2.3006, 48.8],
          [2.3006, 48.8004],
          [2.3, 48.8004],
          [2.3, 48.8],
        ],
      ],
    },
  } as typeof lot;
  const house = {
    ...basin,
    id: 'house',
    properties: { kind: 'building', foundation: 'basement' },
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          [2.3001, 48.8001],
          [2.3002, 48.8001],
          [2.3002, 48.8002],
          [2.3001, 48.8002],
          [2.3001, 48.8001],
        ],
      ],
    },
  } as typeof lot;
  const garden = {
    ...basin,
    geometry: {
      type: 'Polygon',
      coordinates: [
        [
          [2.3003, 48.8001],
          [2.30035, 48.8001],
          [2.30035, 48.80015],
          [2.3003, 48.80015],
          [2.3003, 48.8001],
        ],
      ],
    },
  } as typeof lot;

  it('away from the ground is measured in a frame of its own, without that ground', async () => {
    await demo();
    const opening = files.openPlan(planFile(planOf([far, house, garden]).plan));
    await open();
    await read('not covering');
    await opening;
    expect(analysis.ground).toBeNull();
    expect(session.complaint).toBeNull();
    expect(session.notice).toContain('does not reach');
    const spec = analysis.frameOf(store.plan);
    const findings = setbackFindings(store.plan, spec, null);
    const distance = findings?.results.find(
      ({ feature, measured_m: measuredM }) => feature === 'house' && measuredM !== null,
    );
    // 0.0001 degrees of longitude on the WGS 84 ellipsoid at 48.8001 degrees north (from memory: a cos(lat) / sqrt(1 - e2 sin2(lat))).
    const e2 = 0.00669437999;
    const sin = Math.sin((48.80015 * Math.PI) / 180);
    const metres =
      (1e-4 * (Math.PI / 180) * 6_378_137 * Math.sqrt(1 - sin ** 2)) / Math.sqrt(1 - e2 * sin ** 2);
    expect(distance?.measured_m).toBeCloseTo(metres, 3);
  });

  it('that names no elevation is shown on the ground that reaches it, and names it from then on', async () => {
    await ownWork(planOf([]).plan);
    const opening = files.openPlan(planFile(planOf([lot]).plan));
    await open();
    await read();
    await opening;
    expect(named(store.plan)).toBe('yard.tif');
    expect(analysis.ground).not.toBeNull();
  });

  it('that was drawn on another file than is open is shown without ground, and says which to open', async () => {
    await ownWork();
    const other = { source: 'north.tif', size_bytes: 2_400_000, crc32: '0f6c22a9' };
    await files.openPlan(planFile(planOf([lot], { elevation: other }).plan));
    expect(analysis.ground).toBeNull();
    expect(session.notice).toContain(
      'it was drawn on north.tif (2.4 MB); open that file under question 1',
    );
    expect(worker.calls).toEqual([]);
    // It goes on saying so, and when the file is opened there is nothing to be undone.
    expect(named(store.plan)).toBe('north.tif');
    await files.followPlan();
    expect(worker.calls).toEqual([]);
  });

  it('that was drawn on an elevation of this visit is shown on that one', async () => {
    await ownWork();
    const text = writePlan(store.plan);
    await demo();
    const opening = files.openPlan(new File([text], 'mine.plan.geojson'));
    await open();
    expect(worker.call('survey')).toBeDefined();
    await read();
    await opening;
    expect(analysis.elevation?.opened.identity.name).toBe('yard.tif');
  });

  it('changes nothing when its reading is stopped', async () => {
    await ownWork();
    const { plan } = store;
    const opening = files.openPlan(planFile(planOf([lot, basin]).plan));
    await open();
    await read('stopped');
    await opening;
    expect(store.plan).toBe(plan);
  });

  it('that cannot be read leaves what is on the sheet', async () => {
    await ownWork();
    const { plan } = store;
    await files.openPlan(new File(['{'], 'broken.geojson'));
    expect(store.plan).toBe(plan);
    expect(session.complaint).toContain('broken.geojson');
  });
});

describe('work that is taken up again', () => {
  const kept = (plan: Plan, more: Partial<KeptWork> = {}): KeptWork => ({
    id: 'kept',
    plan: writePlan(plan),
    title: null,
    at: '2026-05-01T10:00:00.000Z',
    elevation: null,
    drawing: null,
    ...more,
  });
  const elevation = { source: 'large.tif', size_bytes: 80_000_000, crc32: '0f6c22a9' };

  it('whose elevation was not kept opens without ground and names the file', async () => {
    await demo();
    await files.takeUp(kept(planOf([lot], { elevation }).plan));
    expect(analysis.ground).toBeNull();
    expect(store.plan.features).toHaveLength(1);
    expect(session.notice).toBe(
      'Your work is open: it was drawn on large.tif (80.0 MB); open that file under question 1.',
    );
  });

  it('of a time when plans named nothing never lies on the demo’s ground', async () => {
    await demo();
    await files.takeUp(kept(planOf([lot]).plan));
    expect(analysis.ground).toBeNull();
  });

  it('that was drawn on the demo’s ground has it again', async () => {
    await demo();
    const { plan } = store;
    files.newPlan();
    const taking = files.takeUp(kept(plan));
    await open();
    await read();
    await taking;
    expect(analysis.elevation?.opened.identity.name).toBe('lot.elevation.tif');
  });

  it('whose elevation was kept but is another file by now opens without ground', async () => {
    const source = fileOf('large.tif');
    const taking = files.takeUp(kept(planOf([lot], { elevation }).plan, { elevation: source }));
    await open();
    await taking;
    expect(worker.has('survey')).toBe(false);
    expect([analysis.ground, store.plan.features.length]).toEqual([null, 1]);
  });

  it('goes on with what was half drawn', async () => {
    const corners = [frame.toLngLat([1, 1]), frame.toLngLat([5, 1])];
    const drawing = { kind: 'building', corners, outline: null } as const;
    await files.takeUp(kept(planOf([lot]).plan, { drawing }));
    expect(session.tool).toEqual({ draw: 'building', corners });
    expect(files.ownWork?.drawing).toEqual(drawing);
  });
});

describe('what is the user’s own', () => {
  it('is not the demo as it comes, but one corner drawn on it', async () => {
    await demo();
    expect(files.ownWork).toBeNull();
    session.take({ draw: 'lot' });
    expect(files.ownWork).toBeNull();
    session.begin([[-87, 42]]);
    expect(files.ownWork?.drawing?.corners).toEqual([[-87, 42]]);
    // Another tool lays aside what was begun.
    session.take('edit');
    expect(files.ownWork).toMatchObject({
      drawing: null,
      aside: [{ kind: 'lot', corners: [[-87, 42]] }],
    });
  });

  it('keeps its elevation while the ground is lost and read again', async () => {
    await ownWork();
    const source = files.ownWork?.elevation;
    expect(source).not.toBeNull();
    worker.die();
    await settle();
    expect(files.ownWork?.elevation).toBe(source);
    const following = files.followPlan();
    await open();
    await read();
    await following;
    expect(analysis.ground).not.toBeNull();
  });

  it('is offered when another plan comes on the sheet, unless it is in a file', async () => {
    await ownWork();
    await demo();
    expect(files.keeper.offered).toHaveLength(1);
    const opening = files.openPlan(planFile(store.plan, 'same.geojson'));
    await open();
    await read();
    await opening;
    expect(files.keeper.offered).toHaveLength(1);
  });
});
