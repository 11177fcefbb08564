import type { Plan } from '../../../../lib/plan/schema';
import type { SpillRain } from '../../worker/analysis-api';
import { Answer } from '../tasks/answer.svelte';
import type { GroundQuestion, GroundTasks } from '../tasks/ground-tasks';
import { settingsThatDiffer } from './settings-that-differ';
import { withKey } from '../plan/with-key';

/** Settings that change nothing about how much rain fills a low spot. */
const notOfFilling: readonly string[] = ['site_weights', 'name', 'units', 'prices', 'rule_set'];

/** The rain at which low spots begin to spill: it belongs to the ground and the kind of storm, not to the depth of the storm. */
export class Spills {
  readonly #ground: GroundTasks;
  readonly #rains = new Answer<GroundQuestion, SpillRain[]>();

  constructor(ground: GroundTasks) {
    this.#ground = ground;
  }

  /** Of the low spots of a plan; null while they are not known. */
  of(plan: Plan): readonly SpillRain[] | null {
    const { of, current } = this.#rains;
    return of !== null && fillsAlike(of.plan, plan) ? current : null;
  }

  /** Asks for those of a plan, unless they are there or on their way. */
  ask(plan: Plan): void {
    const { asked, isLeftOpen } = this.#rains;
    if (asked !== null && !isLeftOpen && fillsAlike(asked.plan, plan)) return;
    this.#ground.ask(
      'spills',
      null,
      this.#rains,
      this.#ground.on(plan),
      ({ worker, task, asked }) => worker.spills(task, asked),
    );
  }

  /** The ground is another. */
  forget(): void {
    this.#rains.forget();
  }
}

/** Whether two plans differ in the depth of their storm at most, as far as low spots know. */
function fillsAlike(a: Plan, b: Plan): boolean {
  if (a === b) return true;
  if (a.features !== b.features) return false;
  const differ = settingsThatDiffer(a, b).filter((key) => !notOfFilling.includes(key));
  return differ.every((key) => key === 'storm' && kindOfStorm(a) === kindOfStorm(b));
}

function kindOfStorm({ lotfall }: Plan): string {
  const { storm } = lotfall;
  return JSON.stringify(storm === undefined ? null : withKey(storm, 'rain_mm', 0));
}
