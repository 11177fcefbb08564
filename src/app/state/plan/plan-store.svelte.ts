import type { Change } from '../../../../lib/plan/change';
import {
  commit,
  commitOnto,
  redo,
  startHistory,
  undo,
  type History,
} from '../../../../lib/plan/history';
import type { Plan, PlanFeature, Settings } from '../../../../lib/plan/schema';

/** The plan with its history, and what a gesture would make of it before it is let go. */
export class PlanStore {
  #history = $state.raw<History>() as History;
  #draft = $state.raw<Plan | null>(null);

  constructor(plan: Plan) {
    this.#history = startHistory(plan);
  }

  /** The plan as it stands. */
  get plan(): Plan {
    return this.#history.plan;
  }

  /** The plan with the present gesture in it: what the map and the live figures show. */
  get shown(): Plan {
    return this.#draft ?? this.#history.plan;
  }

  get canUndo(): boolean {
    return this.#history.done.length > 0;
  }

  get canRedo(): boolean {
    return this.#history.undone.length > 0;
  }

  /** What undoing would take back, in the user's words. */
  get undoLabel(): string {
    return this.#history.done.at(-1)?.label ?? '';
  }

  get redoLabel(): string {
    return this.#history.undone.at(-1)?.label ?? '';
  }

  feature(id: string | null): PlanFeature | undefined {
    return id === null ? undefined : this.plan.features.find((feature) => feature.id === id);
  }

  /** Starts afresh with another plan: its past goes with the old one. */
  open(plan: Plan): void {
    this.#history = startHistory(plan);
    this.#draft = null;
  }

  commit(change: Change): void {
    this.#draft = null;
    this.#history = commit(this.#history, change);
  }

  /**
   * Replaces one feature.
   *
   * @param joins - whether it goes on with the change before, so that both are one step to undo.
   */
  put(label: string, feature: PlanFeature, joins = false): void {
    this.#draft = null;
    const change = { label, puts: [feature] };
    this.#history = (joins ? commitOnto : commit)(this.#history, change);
  }

  set(label: string, settings: Partial<Settings>): void {
    this.commit({ label, settings: { ...this.plan.lotfall, ...settings } });
  }

  /** Shows a feature as the gesture has it so far; null ends the gesture without a change. */
  draft(feature: PlanFeature | null): void {
    this.draftAll(feature === null ? [] : [feature]);
  }

  /** The same for several; none ends the gesture. */
  draftAll(features: readonly PlanFeature[]): void {
    const drafts = new Map(features.map((feature) => [feature.id, feature]));
    this.#draft =
      features.length === 0
        ? null
        : {
            ...this.plan,
            features: this.plan.features.map((other) => drafts.get(other.id) ?? other),
          };
  }

  /** Shows settings as a slider has them so far. */
  draftSettings(settings: Partial<Settings>): void {
    this.#draft = { ...this.plan, lotfall: { ...this.plan.lotfall, ...settings } };
  }

  undo(): void {
    this.#draft = null;
    this.#history = undo(this.#history);
  }

  redo(): void {
    this.#draft = null;
    this.#history = redo(this.#history);
  }
}
