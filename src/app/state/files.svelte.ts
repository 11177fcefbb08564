import demoElevationUrl from '../../../fixtures/demo/lot.elevation.tif?url';
import demoPlanUrl from '../../../fixtures/demo/lot.plan.geojson?url';
import { InputError } from '../../../lib/errors';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import type { PageSource } from '../worker/analysis-api';
import type { Analysis } from './analysis.svelte';
import { keepWorks, keptWorks, latestWorks, workOf, type KeptWork } from './kept-work';
import { lotCover } from './lot-cover';
import { planTitle } from './plan-title';
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
  /** The user's own work of earlier visits, or that was on the sheet before, offered until it is taken up or forgotten. */
  kept = $state.raw<readonly KeptWork[]>([]);

  /** The plan as it was last kept. */
  lastKept = $state.raw<Plan | null>(null);

  readonly #session: Session;
  readonly #store: PlanStore;
  readonly #analysis: Analysis;
  /** The elevation on the sheet, when it is the user's own. */
  #source = $state.raw<PageSource | null>(null);
  /** The demo as it came. */
  #demo = $state.raw<Plan | null>(null);
  /** The plan as it was last saved to a file. */
  #saved: Plan | null = null;
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
    const found = await keptWorks();
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
        this.#putAside();
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
      this.#putAside();
      this.#show(plan, this.#source);
      const told = notes.map((note) => (/[.?]$/.test(note) ? note : `${note}.`));
      if (told.length > 0) this.#session.notice = `${file.name} is open. ${told.join(' ')}`;
      await this.followLot();
    });
  }

  savePlan(): void {
    const { plan } = this.#store;
    const name = (planTitle(plan) ?? 'lot').toLowerCase().replace(/[^a-z0-9]+/g, '-');
    this.#saved = plan;
    save(`${name}.plan.geojson`, writePlan(plan), 'application/geo+json');
  }

  /** Clears the sheet of features and of what was known of another lot; undoing brings everything back. */
  newPlan(): void {
    const { features, lotfall } = this.#store.plan;
    const { units, elevation } = lotfall;
    this.#store.commit({
      label: 'start a new plan',
      deletes: features.map(({ id }) => id),
      settings: {
        ...emptyPlan.lotfall,
        ...(units === undefined ? {} : { units }),
        // What is stated of the demo's heights holds for no other elevation.
        ...(elevation === undefined || this.#source === null ? {} : { elevation }),
      },
    });
    this.#session.complaint = null;
    this.#session.deselect();
  }

  /** Goes on with what an earlier visit left. */
  async takeUp(work: KeptWork): Promise<void> {
    await this.#attempt(async () => {
      const { plan } = readPlan(work.plan, 'kept plan');
      const { elevation } = work;
      const show = (): void => {
        this.#putAside();
        this.kept = this.kept.filter((other) => other !== work);
        this.#show(plan, elevation);
      };
      if (elevation === null) {
        show();
        await this.followLot();
      } else await this.#analysis.openElevation(elevation, plan, show);
    });
  }

  forget(work: KeptWork): void {
    this.kept = this.kept.filter((other) => other !== work);
    void keepWorks(this.hasOwnWork ? this.#work() : null, this.kept);
  }

  /** Keeps the plan on the sheet, with its elevation, for the next visit. */
  async keep(plan: Plan): Promise<void> {
    await keepWorks(workOf(plan, this.#source), this.kept);
    this.lastKept = plan;
  }

  /** Reads the ground again when the own lot has left what was read. */
  async followLot(): Promise<void> {
    const { plan } = this.#store;
    const { ground } = this.#analysis;
    const cover = ground === null ? null : lotCover(ground.grid, plan);
    if (cover !== null && cover !== 'whole') await this.#analysis.resurvey(plan);
  }

  get #demoShown(): boolean {
    return this.#demo !== null && this.#store.plan === this.#demo;
  }

  /** What is on the sheet, as it is kept. */
  #work(): KeptWork {
    return workOf(this.#store.plan, this.#source);
  }

  /** Another plan comes on the sheet: changes that are in no file yet are offered from now on. */
  #putAside(): void {
    if (!this.#store.canUndo || this.#store.plan === this.#saved) return;
    this.kept = latestWorks([this.#work(), ...this.kept]);
    void keepWorks(null, this.kept);
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
    this.#session.notice = null;
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
