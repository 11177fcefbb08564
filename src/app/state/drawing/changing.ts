import { movedBy } from '../../../../lib/drawing/move-shape';
import type { Frame, LngLat } from '../../../../lib/frame/frame';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import {
  addedBy,
  featuresOf,
  holing,
  inMotion,
  moving,
  nudging,
  removing,
  splitting,
  unlocked,
  type Changed,
} from '../plan/change-features';
import type { PlanStore } from '../plan/plan-store.svelte';
import type { Session } from '../session/session.svelte';
import type { DrawnOnto } from '../session/tool';

/** Makes a change of what is chosen. */
export type MakeChange = (
  plan: Plan,
  ids: readonly string[],
  frame: Frame,
) => Changed | Promise<Changed>;

/** Changes what is chosen on the sheet, each time as one step that can be undone. */
export class Changing {
  readonly #session: Session;
  readonly #store: PlanStore;
  readonly #frame: () => Frame | null;

  constructor(session: Session, store: PlanStore, frame: () => Frame | null) {
    this.#session = session;
    this.#store = store;
    this.#frame = frame;
  }

  /** Of some ids, those whose kinds are not locked. */
  unlocked(ids: readonly string[]): string[] {
    return unlocked(this.#store.plan, ids, this.#session.locked);
  }

  /** What is chosen, as moving it would have it. */
  moved(eastM: number, northM: number): PlanFeature[] {
    const frame = this.#frame();
    if (frame === null) return [];
    const features = featuresOf(this.#store.plan, this.unlocked(this.#session.chosen));
    return inMotion(features, movedBy(eastM, northM), frame);
  }

  move(eastM: number, northM: number): Promise<boolean> {
    return this.make((plan, ids, frame) => nudging(plan, ids, eastM, northM, frame));
  }

  remove(): Promise<boolean> {
    return this.make((plan, ids) => removing(plan, ids));
  }

  copy(eastM: number, northM: number): Promise<boolean> {
    const by = movedBy(eastM, northM);
    return this.make((plan, ids, frame) => moving(plan, ids, by, frame, 'move', true));
  }

  /** A line that splits an outline, or a hole, was drawn. Returns a sentence where nothing comes of it. */
  async drawnOnto({ does, id }: DrawnOnto, places: readonly LngLat[]): Promise<string | null> {
    const { plan } = this.#store;
    const frame = this.#frame();
    if (frame === null) return 'There is nothing on the sheet to draw onto.';
    const changed =
      does === 'split' ? await splitting(plan, id, places, frame) : holing(plan, id, places);
    if (typeof changed === 'string') return changed;
    if (this.#store.plan !== plan) return 'The plan has changed meanwhile: end the drawing again.';
    this.#session.drawn();
    this.#store.commit(changed);
    this.#session.choose([id, ...addedBy(plan, changed)]);
    return null;
  }

  /**
   * Makes one change of what is chosen; what it adds is chosen then, and what it takes out is not any more. What cannot be
   * done is told in a sentence. Returns whether it was done.
   */
  async make(change: MakeChange): Promise<boolean> {
    const { plan } = this.#store;
    const frame = this.#frame();
    const { chosen } = this.#session;
    const ids = this.unlocked(chosen);
    if (frame === null || ids.length === 0) {
      return this.#refuse(
        chosen.length === 0
          ? 'Choose something on the sheet first.'
          : 'What is chosen is locked: unlock its kind first.',
      );
    }
    const changed = await change(plan, ids, frame);
    if (typeof changed === 'string') return this.#refuse(changed);
    if (this.#store.plan !== plan) {
      return this.#refuse('The plan has changed meanwhile: nothing was done, try again.');
    }
    const added = addedBy(plan, changed);
    this.#store.commit(changed);
    const left = new Set(this.#store.plan.features.map(({ id }) => id));
    this.#session.choose(added.length > 0 ? added : chosen.filter((id) => left.has(id)));
    this.#session.closeComplaint();
    return true;
  }

  #refuse(sentence: string): false {
    this.#store.draftAll([]);
    this.#session.complain(sentence);
    return false;
  }
}
