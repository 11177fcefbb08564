import { tick } from 'svelte';
import type { Plan } from '../../../../lib/plan/schema';
import type { Draft } from '../layers/draft';
import type { Tool } from '../../state/session/tool';

/** What a gesture has made so far. It speaks about the plan and the tool it began with: with another it is void. */
export class HeldDraft {
  readonly #plan: () => Plan;
  readonly #tool: () => Tool;
  #held = $state.raw<{ draft: Draft; plan: Plan; tool: Tool } | null>(null);

  constructor(plan: () => Plan, tool: () => Tool) {
    this.#plan = plan;
    this.#tool = tool;
  }

  get now(): Draft | null {
    const held = this.#held;
    return held?.plan === this.#plan() && held.tool === this.#tool() ? held.draft : null;
  }

  put(draft: Draft | null): void {
    this.#held = draft === null ? null : { draft, plan: this.#plan(), tool: this.#tool() };
  }

  /** Hands a finished change over. Returns whether the plan took it; else the drawing goes back to the plan. */
  async handOver(draft: Draft, tell: () => void): Promise<boolean> {
    const before = this.#plan();
    this.put(draft);
    tell();
    await tick();
    const isTaken = this.#plan() !== before;
    if (!isTaken) this.put(null);
    return isTaken;
  }
}
