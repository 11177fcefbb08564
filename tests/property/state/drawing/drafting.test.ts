import fc from 'fast-check';
import { expect, it } from 'vitest';
import { localFrame, makeFrame } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import { addDrawn } from '../../../../src/app/state/drawing/add-drawn';
import { catchLines } from '../../../../src/app/state/drawing/catch-lines';
import { DraftingStore, type Drafting } from '../../../../src/app/state/drawing/drafting.svelte';
import { PlanStore } from '../../../../src/app/state/plan/plan-store.svelte';
import { SessionStore } from '../../../../src/app/state/session/session.svelte';

const frame = makeFrame(localFrame([-87.1, 42.5]));
const empty: Plan = { type: 'FeatureCollection', features: [], lotfall: { version: 1 } };

interface Hands {
  readonly drafting: Drafting;
  readonly session: SessionStore;
  readonly store: PlanStore;
}
type Command = (hands: Hands) => void;

const metre = fc.integer({ min: -2000, max: 2000 }).map((cm) => cm / 100);
const command: fc.Arbitrary<Command> = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.tuple(metre, metre).map((at): Command => ({ drafting }) => {
      drafting.press(frame.toLngLat(at), 0.4);
    }),
  },
  fc
    .tuple(fc.constantFrom('4', '8.35', `12' 6"`, 'x'), fc.constantFrom('', '90', '45 left'))
    .map(([length, turn]): Command => ({ drafting }) => {
      drafting.type('length', length);
      drafting.type('turn', turn);
      drafting.set();
    }),
  fc
    .constantFrom('lot', 'building', 'surface', 'wall', 'tree', 'utility')
    .map((draw): Command => ({ session }) => {
      session.take({ draw });
    }),
  fc.constantFrom<Command>(
    ({ drafting }) => {
      drafting.finish();
    },
    ({ drafting }) => {
      drafting.finishSquare();
    },
    ({ drafting }) => {
      drafting.takeBack();
    },
    ({ drafting }) => {
      drafting.putBack();
    },
    ({ drafting }) => {
      drafting.holdSquare(!drafting.isSquare);
    },
    ({ drafting }) => {
      drafting.measureBy('rectangle');
    },
    ({ drafting }) => {
      drafting.serve('gas');
    },
    ({ drafting }) => {
      drafting.stepOut();
    },
    ({ session }) => {
      if (session.aside.length > 0) session.takeUp(session.aside[0]);
    },
  ),
);

it('any drawing commands, taken back one by one, leave the plan as it was and no corner behind', () => {
  let most = 0;
  fc.assert(
    fc.property(fc.array(command, { minLength: 5, maxLength: 60 }), (commands) => {
      const session = new SessionStore();
      const store = new PlanStore(empty);
      const drafting = new DraftingStore(session, {
        frame: () => frame,
        units: () => 'metric',
        lines: () => catchLines(store.plan, frame),
        drawnOnto: () => Promise.resolve(null),
        drawn: (geometry, kind, given) =>
          addDrawn(
            { session, store, analysis: { ground: null }, onLotDrawn: () => undefined },
            geometry,
            kind,
            given,
          ),
      });
      session.take({ draw: 'building' });
      for (const run of commands) run({ drafting, session, store });
      most = Math.max(most, store.plan.features.length);
      const drawn = store.plan;
      // As the keys do: corners while there are any, then changes.
      let steps = 0;
      while (drafting.takeBack() || store.canUndo) {
        if (!drafting.canTakeBack) store.undo();
        expect(++steps).toBeLessThan(500);
      }
      expect(store.plan).toEqual(empty);
      expect(session.halfDrawn).toBeNull();
      while (store.canRedo) store.redo();
      expect(store.plan).toEqual(drawn);
    }),
    { numRuns: 200 },
  );
  // The commands do draw.
  expect(most).toBeGreaterThan(1);
});
