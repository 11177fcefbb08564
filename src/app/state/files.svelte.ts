import demoElevationUrl from '../../../fixtures/demo/lot.elevation.tif?url';
import demoPlanUrl from '../../../fixtures/demo/lot.plan.geojson?url';
import { gridBounds } from '../../../lib/elevation/grid-corners';
import { InputError } from '../../../lib/errors';
import { planArea } from '../../../lib/plan/plan-area';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import type { PageSource } from '../worker/analysis-api';
import type { Analysis } from './analysis.svelte';
import { forgetWork, keepWork, keptWork, type KeptWork } from './kept-work';
import type { PlanStore } from './plan-store.svelte';
import { save } from './save-file';
import type { Session } from './session.svelte';

/** A sheet with nothing on it. */
export const emptyPlan: Plan = {
  type: 'FeatureCollection',
  features: [],
  lotfall: { version: 1 },
};

/** Opens, saves and keeps: what goes between the page and files, addresses and the browser's own store. */
export class Files {
  /** The user's own work of an earlier visit, offered until it is taken up, forgotten or overtaken by new work. */
  kept = $state.raw<KeptWork | null>(null);

  /** The plan as it was last kept. */
  lastKept = $state.raw<Plan | null>(null);

  readonly #session: Session;
  readonly #store: PlanStore;
  readonly #analysis: Analysis;
  /** The elevation on the sheet, when it is the user's own. */
  #source = $state.raw<PageSource | null>(null);
  /** The demo as it came. */
  #demo = $state.raw<Plan | null>(null);
  /** An elevation that waits for its vertical unit, with the plan it is to be read for. */
  #waiting: { opened: PageSource; plan: Plan } | null = null;

  constructor(session: Session, store: PlanStore, analysis: Analysis) {
    this.#session = session;
    this.#store = store;
    this.#analysis = analysis;
  }

  /** Whether there is anything of the user's own on the sheet: the demo as it comes is not worth keeping. */
  get hasOwnWork(): boolean {
    return this.#store.canUndo || this.#source !== null;
  }

  /** Puts the demo on the sheet, and offers what an earlier visit left. */
  async start(): Promise<void> {
    const found = await keptWork();
    await this.openDemo();
    this.kept = found;
  }

  async openDemo(): Promise<void> {
    await this.#attempt(async () => {
      const [text, blob] = await Promise.all([
        fetch(demoPlanUrl).then((answer) => answer.text()),
        fetch(demoElevationUrl).then((answer) => answer.blob()),
      ]);
      const { plan } = readPlan(text, 'demo plan');
      await this.#analysis.openElevation({ name: 'demo elevation', blob }, plan, () => {
        this.#demo = plan;
        this.#show(plan, null);
      });
    });
  }

  async openElevation(opened: PageSource): Promise<void> {
    await this.#attempt(async () => {
      // The untouched demo lies nowhere near anybody's elevation: their own work starts on an empty sheet.
      const { units } = this.#store.plan.lotfall;
      const fresh = units === undefined ? emptyPlan : withSettings(emptyPlan, { units });
      const plan = this.#demoShown ? fresh : this.#store.plan;
      this.#waiting = { opened, plan };
      await this.#analysis.openElevation(opened, plan, () => {
        this.#settle(opened, plan);
      });
    });
  }

  /** Answers the question that an elevation left open. */
  async answerVerticalUnit(metres: number): Promise<void> {
    if (this.#waiting === null) return;
    const { opened, plan } = this.#waiting;
    const elevation = { ...plan.lotfall.elevation, vertical_unit_m: metres };
    await this.#analysis.answerVerticalUnit(plan, metres, () => {
      this.#settle(opened, withSettings(plan, { elevation }));
    });
  }

  async openPlan(file: File): Promise<void> {
    await this.#attempt(async () => {
      const { plan, notes } = readPlan(await file.text(), file.name);
      this.#show(plan, this.#source);
      if (notes.length > 0) this.#session.complaint = notes.join(' ');
      await this.followLot();
    });
  }

  savePlan(): void {
    const { plan } = this.#store;
    const name = (plan.lotfall.name ?? 'lot').toLowerCase().replace(/[^a-z0-9]+/g, '-');
    save(`${name}.plan.geojson`, writePlan(plan), 'application/geo+json');
  }

  /** Clears the sheet; undoing brings everything back. */
  newPlan(): void {
    const { features } = this.#store.plan;
    this.#store.commit({ label: 'start a new plan', deletes: features.map(({ id }) => id) });
    this.#session.deselect();
  }

  /** Goes on with what an earlier visit left. */
  async takeUp(work: KeptWork): Promise<void> {
    this.kept = null;
    await this.#attempt(async () => {
      const { plan } = readPlan(work.plan, 'kept plan');
      const { elevation } = work;
      const show = (): void => {
        this.#show(plan, elevation);
      };
      if (elevation === null) show();
      else await this.#analysis.openElevation(elevation, plan, show);
    });
  }

  forget(): void {
    this.kept = null;
    void forgetWork();
  }

  /** Keeps a plan, with the elevation on the sheet, for the next visit. */
  async keep(plan: Plan): Promise<void> {
    this.kept = null;
    await keepWork(writePlan(plan), this.#source);
    this.lastKept = plan;
  }

  /** Reads the ground again when the own lot has left what was read. */
  async followLot(): Promise<void> {
    const { plan } = this.#store;
    const area = planArea(plan);
    const { ground } = this.#analysis;
    if (area === null || ground === null) return;
    const [west, south, east, north] = gridBounds(ground.grid);
    const inside = area[0] >= west && area[1] >= south && area[2] <= east && area[3] <= north;
    if (!inside) await this.#analysis.resurvey(plan);
  }

  get #demoShown(): boolean {
    return this.#demo !== null && this.#store.plan === this.#demo;
  }

  #show(plan: Plan, source: PageSource | null): void {
    this.#store.open(plan);
    this.#source = source;
    this.#session.deselect();
  }

  /** The ground has been read: the sheet now shows it, with its plan. */
  #settle(opened: PageSource, plan: Plan): void {
    this.#waiting = null;
    if (this.#demoShown) {
      this.#show(plan, opened);
      this.#session.question = 'here';
      return;
    }
    this.#source = opened;
    if (plan !== this.#store.plan) this.#store.set('set the unit of the heights', plan.lotfall);
  }

  /** Does what may fail through the user's input; a failure is told in its one sentence. */
  async #attempt(work: () => Promise<void>): Promise<void> {
    this.#session.complaint = null;
    try {
      await work();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.#session.complaint = error.message;
    }
  }
}

function withSettings(plan: Plan, settings: Partial<Plan['lotfall']>): Plan {
  return { ...plan, lotfall: { ...plan.lotfall, ...settings } };
}
