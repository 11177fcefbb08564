import { hasLevels } from '../../../../lib/levels/readings';
import type { SetbackFindings } from '../../../../lib/setback/judge/setback-result';
import { isDesigned } from '../../../../lib/basin/design/design-result';
import type { Kind } from '../../../../lib/plan/schema';
import type { Analysis } from '../answers/analysis.svelte';
import type { Certainty } from '../answers/certainty.svelte';
import { today } from '../answers/findings';
import { nextStep, type Act, type Known, type NextStep } from './next-step';
import type { PlanStore } from '../plan/plan-store.svelte';
import type { Question, Session } from '../session/session.svelte';

/** What steps look at and start. */
export interface StepsPort {
  readonly session: Session;
  readonly store: PlanStore;
  readonly analysis: Analysis;
  readonly certainty: Certainty;
  readonly findings: () => SetbackFindings | null;
  /** Asks the user for an elevation file. */
  readonly openElevation: () => void;
  readonly makeLevelGround: () => void;
  readonly savePlan: () => void;
}

/** The one thing to do next under each question, and what starts it. */
export class Steps {
  readonly #port: StepsPort;

  constructor(port: StepsPort) {
    this.#port = port;
  }

  readonly #known = $derived.by((): Known => {
    const { store, analysis, certainty, findings } = this.#port;
    const { plan } = store;
    const ground = analysis.groundOf(plan);
    const water = ground === null ? null : (analysis.water?.result ?? null);
    const basin = plan.features.find(({ properties }) => properties.kind === 'basin');
    const found = analysis.designOf(plan)?.result.basins.find(({ id }) => id === basin?.id);
    const design = found !== undefined && isDesigned(found) ? found : null;
    const drains = { pass: 'in-time', fail: 'too-slow', check: 'unknown' } as const;
    const summary = findings()?.summary ?? null;
    return {
      hasElevation: analysis.ground !== null,
      hasLevels: hasLevels(plan),
      isReached: ground !== null,
      isTooCoarse: ground?.notes.some(({ refusesSiting }) => refusesSiting === true) === true,
      count: (kind: Kind) =>
        plan.features.filter(({ properties }) => properties.kind === kind).length,
      unlocated: plan.features.filter(
        ({ properties }) => properties.kind === 'utility' && properties.located === undefined,
      ).length,
      wet: (water?.buildings ?? [])
        .filter(({ depth_m, lot }) => depth_m > 0 && lot === (water?.ledger?.lot ?? null))
        .map(({ name }) => name),
      isSureness: ground !== null && certainty.isOf(ground.grid) && certainty.result !== null,
      rules: summary === null ? null : { broken: summary.must_fail, open: summary.check },
      drains: design === null ? null : drains[design.drain_down.result],
      isAstray: design?.overflow.verdict.result === 'fail',
    };
  });

  of(question: Question): NextStep {
    return nextStep(question, this.#known);
  }

  take(act: Act): void {
    const { session, store, analysis, certainty } = this.#port;
    switch (act.does) {
      case 'open-elevation':
        this.#port.openElevation();
        return;
      case 'make-level-ground':
        this.#port.makeLevelGround();
        return;
      case 'draw':
        session.take({ draw: act.kind });
        session.pullUp(false);
        return;
      case 'take-basin': {
        const basin = store.plan.features.find(({ properties }) => properties.kind === 'basin');
        session.take('edit');
        session.select(basin?.id ?? null);
        session.pullUp(false);
        return;
      }
      case 'find-places':
        analysis.places.find(store.plan, { today: today(), basins: 1 });
        return;
      case 'try-surfaces':
        if (analysis.ground !== null) void certainty.ask(analysis.ground.grid, store.plan);
        return;
      case 'save-plan':
        this.#port.savePlan();
        return;
      case 'ask':
        session.open(act.question);
        return;
    }
  }
}
