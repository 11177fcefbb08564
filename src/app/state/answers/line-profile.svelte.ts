import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { ProfilePicture } from '../../worker/analysis-api';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';

/** Heights along the line that is looked at. */
export class LineProfile {
  readonly #ground: GroundTasks;
  readonly #answer = new Answer<GroundQuestion, ProfilePicture>();

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** Along the line asked about last, or the one before while that is on its way. */
  get picture(): ProfilePicture | null {
    return this.#answer.current;
  }

  /** Asks for the heights along a line on the ground of a plan. */
  ask(plan: Plan, line: readonly LngLat[]): void {
    this.#ground.ask(
      'profile',
      null,
      this.#answer,
      this.#ground.on(plan),
      ({ worker, task, asked }) => worker.profile(task, asked, line),
    );
  }

  /** The line, or the ground, is gone. */
  forget(): void {
    this.#answer.forget();
  }
}
