import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { GatheringStore, type Gathering } from '../../../../src/app/state/files/gathering.svelte';
import { PlanStore } from '../../../../src/app/state/plan/plan-store.svelte';
import { SessionStore, type Session } from '../../../../src/app/state/session/session.svelte';
import type { PageSource } from '../../../../src/app/worker/analysis-api';
import { emptyPlan, geoJson, smallPlan, square } from '../../gather/given';

let session: Session;
let store: PlanStore;
let gathering: Gathering;
let opened: string[];
beforeEach(() => {
  session = new SessionStore();
  store = new PlanStore(smallPlan);
  opened = [];
  gathering = new GatheringStore(store, session, {
    openPlan: ({ name }: File) => Promise.resolve(void opened.push(`plan ${name}`)),
    openElevation: ({ name }: PageSource) => Promise.resolve(void opened.push(`ground ${name}`)),
    followLot: () => Promise.resolve(void opened.push('follow')),
  });
});

const near = { type: 'Polygon', coordinates: [square(0, 0, 1e-4)] };
const far = { type: 'Polygon', coordinates: [square(0.01, 0, 1e-4)] };
const fileOf = (name: string, text: string): File => new File([text], name);
const buildings = fileOf(
  'buildings.geojson',
  geoJson([
    [near, { name: 'Shed', basis: 'slab' }],
    [far, { name: 'Barn' }],
  ]),
);
const fixture = (name: string): File => new File([readFileSync(`fixtures/gather/${name}`)], name);
const comeIn = (): number[] =>
  gathering.choices.map((choice) => gathering.outcome(choice)?.ids.length ?? -1);

describe('files that are given', () => {
  it('are opened where they are plans or elevations, whatever they are called', async () => {
    await gathering.take([
      fileOf('a.json', '{"lotfall": {"version": 1}, "type": "FeatureCollection", "features": []}'),
      fileOf('ground.bin', 'II*\0....'),
      fileOf('b.plan.geojson', '{ spoiled'),
    ]);
    expect(opened).toEqual(['plan b.plan.geojson', 'ground ground.bin']);
    expect(gathering.isOpen).toBe(false);
  });

  it('become layers with a guess, and change nothing by themselves', async () => {
    await gathering.take([buildings]);
    const [choice] = gathering.choices;
    expect([choice.use, choice.columns.name?.column]).toEqual([{ kind: 'building' }, 'name']);
    expect(gathering.outcome(choice)?.left).toEqual([
      { why: 'farther than 100 m from the lot', count: 1 },
    ]);
    expect([gathering.features.length, gathering.reading, session.question]).toEqual([
      1,
      null,
      'here',
    ]);
    expect([store.plan, store.canUndo]).toEqual([smallPlan, false]);
  });

  it('that cannot be read are told in a sentence each; the others are read', async () => {
    await gathering.take([fileOf('no.geojson', '{"type": "Feat'), buildings]);
    expect(gathering.faults).toHaveLength(1);
    expect(gathering.faults[0]).toMatch(/^no\.geojson: .*\.$/);
    expect(comeIn()).toEqual([1]);
    gathering.close();
    expect([gathering.isOpen, store.plan]).toEqual([false, smallPlan]);
  });

  it('are read with what lies beside a bare shapefile', async () => {
    const { unzipSync } = await import('fflate');
    const held = unzipSync(readFileSync('fixtures/gather/trees-web.zip'));
    const files = Object.entries(held).map(
      ([name, bytes]) => new File([new Uint8Array(bytes)], name),
    );
    await gathering.take(files);
    expect(gathering.faults).toEqual([]);
    expect(gathering.choices.map(({ layer }) => layer.system.is)).toEqual(['known']);
    expect(gathering.choices[0].layer.columns.length).toBeGreaterThan(0);
  });

  it('that come late, after all was let go, are let be', async () => {
    const reading = gathering.take([buildings]);
    await Promise.resolve();
    gathering.close();
    await reading;
    gathering.close();
    const late = gathering.take([buildings]);
    while (gathering.reading === null) await Promise.resolve();
    gathering.close();
    await late;
    expect([gathering.isOpen, gathering.features]).toEqual([false, []]);
  });
});

describe('what becomes of layers', () => {
  it('follows the kind, the columns and the distance that are chosen', async () => {
    await gathering.take([buildings]);
    const [{ id }] = gathering.choices;
    await gathering.choose(id, 'surface:lawn');
    expect(gathering.features[0].properties).toMatchObject({ kind: 'surface', cover: 'lawn' });
    await gathering.choose(id, 'building');
    await gathering.useColumn(id, 'foundation', 'basis');
    await gathering.useColumn(id, 'name', null);
    expect(gathering.features[0].properties).toMatchObject({ foundation: 'slab' });
    expect(gathering.features[0].properties.name).toBeUndefined();
    await gathering.answer({ nearM: null });
    expect(comeIn()).toEqual([2]);
    await gathering.choose(id, null);
    expect([gathering.features, gathering.outcome(gathering.choices[0])]).toEqual([[], null]);
  });

  it('is asked for a system and taken by its code; no code is told and changes nothing', async () => {
    store.open(emptyPlan);
    await gathering.take([fixture('trees.csv')]);
    const asked = (): string | undefined => gathering.outcome(gathering.choices[0])?.asked?.asks;
    expect(asked()).toBe('system');
    await gathering.nameSystem('somewhere');
    expect(session.complaint).toMatch(/'somewhere' is no code/);
    expect(asked()).toBe('system');
    await gathering.nameSystem('EPSG:26916');
    expect([asked(), session.complaint, comeIn()]).toEqual([undefined, null, [2]]);
    await gathering.nameSystem('');
    expect(asked()).toBe('system');
  });

  it('closes lines where that is asked for', async () => {
    const line = { type: 'LineString', coordinates: square(0, 0, 1e-4) };
    await gathering.take([fileOf('buildings.geojson', geoJson([[line]]))]);
    expect(comeIn()).toEqual([0]);
    await gathering.answer({ closes: true });
    expect(comeIn()).toEqual([1]);
  });

  it('is worked out anew for another plan; on an empty one everything comes in', async () => {
    await gathering.take([buildings]);
    store.open(emptyPlan);
    await gathering.followPlan();
    expect([gathering.triedOn, comeIn()]).toEqual([store.plan, [2]]);
  });
});

describe('adding', () => {
  it('is one change with a name; undoing takes it back and gives the choice again', async () => {
    await gathering.take([buildings]);
    await gathering.answer({ nearM: null });
    await gathering.add();
    expect([gathering.isAdded, store.undoLabel, opened]).toEqual([
      true,
      'bring in 2 features',
      ['follow'],
    ]);
    expect(store.plan.features).toHaveLength(3);
    await gathering.followPlan();
    await gathering.add();
    expect([comeIn(), store.plan.features.length]).toEqual([[2], 3]);
    store.undo();
    expect([gathering.isAdded, store.plan.features, store.canUndo]).toEqual([
      false,
      smallPlan.features,
      false,
    ]);
    await gathering.followPlan();
    expect(comeIn()).toEqual([2]);
    store.redo();
    expect([gathering.isAdded, comeIn()]).toEqual([true, [2]]);
  });

  it('lets other files begin afresh', async () => {
    await gathering.take([buildings]);
    await gathering.add();
    await gathering.take([fixture('gas.kml')]);
    expect(gathering.isAdded).toBe(false);
    expect(gathering.choices.map(({ layer }) => layer.file)).not.toContain('buildings.geojson');
  });

  it('does nothing where nothing comes in', async () => {
    await gathering.take([fileOf('buildings.geojson', geoJson([[far]]))]);
    await gathering.add();
    expect([store.plan, store.canUndo]).toEqual([smallPlan, false]);
  });
});
