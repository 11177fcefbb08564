import type { Remote } from 'comlink';
import type { FrameSpec } from '../../../../lib/frame/frame';
import type { Plan } from '../../../../lib/plan/schema';
import type { AnalysisApi, GroundPicture, PacketAsked } from '../../worker/analysis-api';
import type { SetOptions, SetPage } from '../../worker/drawing-set';
import type { ReviewPacket } from '../../worker/review-packet';
import { Answer } from '../tasks/answer.svelte';
import type { Tasks } from '../tasks/tasks.svelte';

/** A plan as its drawing set is asked about; without ground the set says what it lacks. */
export interface SetQuestion {
  readonly plan: Plan;
  readonly ground: GroundPicture | null;
  readonly frame: FrameSpec;
  readonly options: SetOptions;
}

/** The drawing set of a plan, drawn in the worker. */
export class DrawingSet {
  readonly #tasks: Tasks;
  readonly #worker: () => Remote<AnalysisApi>;
  readonly #set = new Answer<SetQuestion, readonly SetPage[]>();

  constructor(tasks: Tasks, worker: () => Remote<AnalysisApi>) {
    this.#tasks = tasks;
    this.#worker = worker;
  }

  /** Its pages; those of the last set while another is being drawn. */
  get pages(): readonly SetPage[] | null {
    return this.#set.current;
  }

  /** What the pages were drawn from. */
  get of(): SetQuestion | null {
    return this.#set.of;
  }

  get isOpen(): boolean {
    return this.#set.isOpen;
  }

  /** Whether the pages are of this plan on this ground. */
  isOf(plan: Plan, ground: GroundPicture | null): boolean {
    const of = this.#set.of;
    return of?.plan === plan && of.ground === ground;
  }

  /** Draws the set. @returns whether it has been drawn. */
  draw(question: SetQuestion): Promise<boolean> {
    const { plan, ground, frame, options } = question;
    const ticket = this.#set.ask(question);
    return new Promise((resolve) => {
      this.#tasks.latest('drawing-set', async () => {
        const asked = { plan, frame, ground: ground?.number ?? null };
        const outcome = await this.#tasks.run('Drawing the sheet', (task, onProgress) =>
          this.#worker().drawSet(task, asked, options, onProgress),
        );
        if (outcome.how === 'done') resolve(this.#set.take(ticket, outcome.value));
        else {
          this.#set.end(ticket);
          resolve(false);
        }
      });
    });
  }

  /** The set drawn last as PDF; null where it could not be written. */
  async pdf(): Promise<Uint8Array<ArrayBuffer> | null> {
    const outcome = await this.#tasks.run('Writing the PDF', (task) => this.#worker().setPdf(task));
    return outcome.how === 'done' ? outcome.value : null;
  }

  /** A page of the set drawn last as an SVG file; null where it could not be written. */
  async svg(page: number): Promise<string | null> {
    const outcome = await this.#tasks.run('Writing the page', (task) =>
      this.#worker().setSvg(task, page),
    );
    return outcome.how === 'done' ? outcome.value : null;
  }

  /** The packet of a plan for a permit file; null where it could not be drawn, which the page has told. */
  async packet(asked: PacketAsked): Promise<ReviewPacket | null> {
    const outcome = await this.#tasks.run('Drawing the packet', (task) =>
      this.#worker().packet(task, asked),
    );
    return outcome.how === 'done' ? outcome.value : null;
  }

  forget(): void {
    this.#set.forget();
  }
}
