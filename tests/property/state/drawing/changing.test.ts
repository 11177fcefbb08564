import fc from 'fast-check';
import { expect, it } from 'vitest';
import { mirroredIn, movedBy, turnedAbout } from '../../../../lib/drawing/move-shape';
import { localFrame, makeFrame, type LngLat } from '../../../../lib/frame/frame';
import type { Change } from '../../../../lib/plan/change';
import type { Kind, Plan } from '../../../../lib/plan/schema';
import { readPlan } from '../../../../lib/plan/read-plan';
import { writePlan } from '../../../../lib/plan/write-plan';
import { addDrawn } from '../../../../src/app/state/drawing/add-drawn';
import {
  downspoutsAt,
  joining,
  lengthening,
  middleOf,
  featuresOf,
  moving,
  offsetting,
  roofing,
} from '../../../../src/app/state/plan/change-features';
import { Changing } from '../../../../src/app/state/drawing/changing';
import { PlanStore } from '../../../../src/app/state/plan/plan-store.svelte';
import { SessionStore } from '../../../../src/app/state/session/session.svelte';

const frame = makeFrame(localFrame([-87.1, 42.5]));
const empty: Plan = { type: 'FeatureCollection', features: [], lotfall: { version: 1 } };

/** The real store, which notes the plans that it has had. */
class WatchedStore extends PlanStore {
  readonly plans: Plan[] = [empty];
  readonly labels: string[] = [];

  override commit(change: Change): void {
    super.commit(change);
    if (this.plan === this.plans.at(-1)) return;
    this.plans.push(this.plan);
    this.labels.push(change.label);
  }
}

interface Hands {
  readonly changing: Changing;
  readonly session: SessionStore;
  readonly store: PlanStore;
}
type Command = (hands: Hands) => unknown;

const metre = fc.integer({ min: -1500, max: 1500 }).map((cm) => cm / 100);
const place = fc.tuple(metre, metre).map((at): LngLat => frame.toLngLat(at));

const draw = fc
  .tuple(
    fc.constantFrom<Kind>('lot', 'building', 'roof', 'surface'),
    metre,
    metre,
    fc.integer({ min: 1, max: 12 }),
  )
  .map(([kind, x, y, size]): Command => ({ session, store }) => {
    const ring = [
      [x, y],
      [x + size, y],
      [x + size, y + 5],
      [x, y + 5],
      [x, y],
    ].map(([east, north]) => [...frame.toLngLat([east, north])]);
    const drawnFor = { session, store, analysis: { ground: null }, onLotDrawn: () => undefined };
    return addDrawn(drawnFor, { type: 'Polygon', coordinates: [ring] }, kind);
  });

const command: fc.Arbitrary<Command> = fc.oneof(
  { weight: 5, arbitrary: draw },
  fc
    .array(fc.nat(20), { minLength: 1, maxLength: 4 })
    .map((nths): Command => ({ session, store }) => {
      const { features } = store.plan;
      session.choose(nths.flatMap((nth) => features[nth % Math.max(1, features.length)]?.id ?? []));
    }),
  fc.tuple(metre, metre, fc.constantFrom('move', 'turn', 'mirror'), fc.boolean()).map(
    ([x, y, verb, isCopy]): Command =>
      ({ changing }) =>
        changing.make((plan, ids, to) => {
          const middle = middleOf(featuresOf(plan, ids), to) ?? [0, 0];
          const motion = {
            move: movedBy(x, y),
            turn: turnedAbout(middle, 10 * x),
            mirror: mirroredIn(middle, [middle[0] + 1, middle[1] + y]),
          }[verb];
          return moving(plan, ids, motion, to, verb, isCopy);
        }),
  ),
  fc.tuple(fc.integer({ min: -30, max: 30 }), fc.boolean()).map(
    ([dm, isCopy]): Command =>
      ({ changing }) =>
        changing.make((plan, ids, to) => offsetting(plan, ids[0], dm / 10, to, isCopy)),
  ),
  fc.tuple(fc.nat(3), fc.integer({ min: 1, max: 90 })).map(
    ([side, dm]): Command =>
      ({ changing }) =>
        changing.make((plan, ids, to) => lengthening(plan, ids[0], side, dm / 10, 'start', to)),
  ),
  fc
    .tuple(place, fc.constantFrom('split', 'hole'), fc.integer({ min: 1, max: 60 }))
    .map(([at, does, size]): Command => ({ changing, session, store }) => {
      const [id] = session.chosen;
      if (id === undefined) return undefined;
      // About the middle of what is chosen half of the time, so that something comes of it.
      const [x, y] =
        size % 2 === 0 ? frame.toLocal(at) : middleOf(featuresOf(store.plan, [id]), frame)!;
      const line = [
        [x - size, y - size / 3],
        [x + size, y],
        [x, y + size / 3],
      ].map(([east, north]) =>
        frame.toLngLat([does === 'split' ? east : x + (east - x) / 99, north]),
      );
      return changing.drawnOnto({ does, id }, does === 'split' ? line.slice(0, 2) : line);
    }),
  fc.constantFrom<Command>(
    async ({ changing, session }) => {
      const [id] = session.chosen;
      if (id === undefined || !(await changing.copy(0.5, 1))) return;
      session.choose([id, ...session.chosen]);
      await changing.make(joining);
    },
    ({ changing }) => changing.make((plan, ids, to) => roofing(plan, ids[0], 0.45, to)),
    ({ changing }) => changing.make((plan, ids) => downspoutsAt(plan, ids[0], [0, 1])),
    ({ changing }) => changing.remove(),
    ({ session }) => {
      session.lock('roof', !session.locked.has('roof'));
    },
  ),
);

it('any changes, undone one by one, leave the plan as it was; each is one step and opens again', async () => {
  let most = 0;
  const done = new Set<string>();
  await fc.assert(
    fc.asyncProperty(fc.array(command, { minLength: 5, maxLength: 40 }), async (commands) => {
      const session = new SessionStore();
      const store = new WatchedStore(empty);
      const { plans } = store;
      const changing = new Changing(session, store, () => frame);
      for (const run of commands) await run({ changing, session, store });
      for (const label of store.labels) done.add(label.split(' ')[0]);
      most = Math.max(most, store.plan.features.length);
      expect(readPlan(writePlan(store.plan), 'drawn').plan.features).toHaveLength(
        store.plan.features.length,
      );
      for (const plan of plans.slice(0, -1).reverse()) {
        store.undo();
        expect(store.plan).toEqual(plan);
      }
      expect(store.canUndo).toBe(false);
      while (store.canRedo) store.redo();
      expect(store.plan).toEqual(plans.at(-1));
    }),
    { numRuns: 60, seed: 23 },
  );
  expect(most).toBeGreaterThan(4);
  // Every kind of change was made.
  expect([...done].sort()).toEqual(
    [
      'copy',
      'delete',
      'draw',
      'join',
      'make',
      'mirror',
      'move',
      'offset',
      'put',
      'set',
      'split',
      'turn',
    ].sort(),
  );
});
