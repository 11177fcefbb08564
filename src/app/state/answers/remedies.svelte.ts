import { proxy } from 'comlink';
import { applyChange } from '../../../../lib/plan/change';
import type { Plan } from '../../../../lib/plan/schema';
import type { Proposal, RemediesResult } from '../../../../lib/remedies/remedies-result';
import type { RemedyPicture } from '../../worker/analysis-api';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';
import { settingsThatDiffer } from './settings-that-differ';

/** Settings that change nothing about what dries a wall and what it does to whom. */
const notOfRemedies: readonly string[] = ['site_weights', 'name', 'units', 'prices'];

/** A proposal in a plan, as its water is asked about. */
interface TriedQuestion extends GroundQuestion {
  readonly proposal: Proposal;
}

/** Proposals so far, and whether more may come. */
export interface Found {
  readonly proposals: readonly Proposal[];
  /** `null` while the search goes on. */
  readonly result: RemediesResult | null;
}

/** What would dry wet walls: asked for by the user, never shown beside a plan, storm or ground that it was not tried in. */
export class Remedies {
  readonly #ground: GroundTasks;
  readonly #found = new Answer<GroundQuestion, RemediesResult>();
  readonly #tried = new Answer<TriedQuestion, RemedyPicture>();
  /** Those that have come of the search that is going on, and the plan it goes on in. */
  #soFar = $state.raw<{ readonly plan: Plan; readonly proposals: readonly Proposal[] } | null>(
    null,
  );
  #stop: () => void = () => undefined;

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** What has been found for a plan, or is there so far; null where nothing was asked about such a plan. */
  of(plan: Plan): Found | null {
    if (this.#soFar !== null && isSame(this.#soFar.plan, plan)) {
      return { proposals: this.#soFar.proposals, result: null };
    }
    const { of, value } = this.#found;
    return of === null || value === null || !isSame(of.plan, plan)
      ? null
      : { proposals: value.proposals, result: value };
  }

  /** Whether something was found, but for another plan or storm than this one. */
  isStale(plan: Plan): boolean {
    return this.of(plan) === null && (this.#soFar !== null || this.#found.value !== null);
  }

  /** Whether a search goes on, in whatever plan. */
  get isSearching(): boolean {
    return this.#found.isOpen;
  }

  /** Whether the search that was asked for last was stopped, refused or failed. */
  get isLeftOpen(): boolean {
    return this.#found.isLeftOpen;
  }

  /**
   * Tries what would dry the walls of a plan.
   *
   * @param today - ISO date on which locates must be current.
   */
  find(plan: Plan, today: string): void {
    this.#ground.ask(
      'remedies',
      'Trying what would dry it',
      this.#found,
      this.#ground.on(plan),
      async (call) => {
        let isOver = false;
        const onProposal = proxy((proposal: Proposal) => {
          // What is told late must not take the place of the whole answer.
          // Nor that of another ground.
          if (isOver || this.#soFar === null) return;
          this.#soFar = { plan, proposals: withOne(this.#soFar.proposals, proposal) };
        });
        this.#soFar = { plan, proposals: [] };
        this.#stop = () => void call.worker.cancel(call.task);
        try {
          return await call.worker.remedies(
            call.task,
            call.asked,
            today,
            call.onProgress,
            onProposal,
          );
        } finally {
          isOver = true;
          this.#soFar = null;
        }
      },
    );
  }

  /** Stops the search that goes on; what was found before stays with what it was found for. */
  stop(): void {
    this.#stop();
  }

  /** A proposal for a plan by its id. */
  proposal(plan: Plan, id: string | null): Proposal | null {
    return id === null
      ? null
      : (this.of(plan)?.proposals.find((proposal) => proposal.id === id) ?? null);
  }

  /** A plan with a proposal in it, and its water; null while that is not there. */
  triedOf(plan: Plan, proposal: Proposal): RemedyPicture | null {
    const { of, value } = this.#tried;
    return of !== null && isSame(of.plan, plan) && isSameChange(of.proposal, proposal)
      ? value
      : null;
  }

  /** Whether the water with a proposal was asked for and has not come: stopped, refused or failed. */
  isTryLeftOpen(proposal: Proposal): boolean {
    const { asked, isLeftOpen } = this.#tried;
    return isLeftOpen && asked !== null && isSameChange(asked.proposal, proposal);
  }

  /** Follows the water of a plan with a proposal in it, unless that is there or on its way. */
  try(plan: Plan, proposal: Proposal): void {
    const { asked, isLeftOpen } = this.#tried;
    const isAsked =
      asked !== null && isSame(asked.plan, plan) && isSameChange(asked.proposal, proposal);
    if (isAsked && !isLeftOpen) return;
    const question = this.#ground.on(plan);
    this.#ground.ask(
      'with remedy',
      'Following the water with it',
      this.#tried,
      question === null ? null : { ...question, proposal },
      ({ worker, task, asked: on, onProgress }) =>
        worker.withRemedy(task, on, proposal.change, onProgress),
    );
  }

  /** The ground is another. */
  forget(): void {
    this.#found.forget();
    this.#tried.forget();
    this.#soFar = null;
  }
}

/** A plan as it would be with a proposal. */
export function planWith(plan: Plan, { change }: Proposal): Plan {
  return applyChange(plan, change).plan;
}

/** The list with one proposal in the place of what is known under its id, or at the end. */
function withOne(list: readonly Proposal[], proposal: Proposal): readonly Proposal[] {
  const at = list.findIndex(({ id }) => id === proposal.id);
  return at === -1 ? [...list, proposal] : list.with(at, proposal);
}

/** More becomes known of a proposal while the search goes on; what it changes stays. */
function isSameChange(a: Proposal, b: Proposal): boolean {
  return a.id === b.id && JSON.stringify(a.change) === JSON.stringify(b.change);
}

/** Whether two plans are one as far as remedies know: undoing makes the same plan anew. */
function isSame(a: Plan, b: Plan): boolean {
  if (a === b) return true;
  return (
    (a.features === b.features ||
      (a.features.length === b.features.length &&
        a.features.every((feature, i) => feature === b.features[i]))) &&
    settingsThatDiffer(a, b).every((key) => notOfRemedies.includes(key))
  );
}
