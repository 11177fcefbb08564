import demoElevationUrl from '../../../../fixtures/demo/lot.elevation.tif?url';
import demoPlanUrl from '../../../../fixtures/demo/lot.plan.geojson?url';
import type { ElevationDescription } from '../../../../lib/elevation/file/open-elevation';
import { InputError } from '../../../../lib/errors';
import { drawnOn, elevationWords, onElevation } from '../../../../lib/plan/named-elevation';
import { planArea } from '../../../../lib/plan/plan-area';
import { readPlan } from '../../../../lib/plan/read-plan';
import type { Plan } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';
import type { PageSource } from '../../worker/analysis-api';
import type { Analysis } from '../answers/analysis.svelte';
import type { PageElevation, ReadGround } from '../tasks/elevation-reader';
import type { Keeper } from './keeper.svelte';
import type { KeptWork, Work } from '../session/kept-work';
import type { LevelGround } from './level-ground';
import { lotCover } from '../answers/lot-cover';
import { fileStem } from '../plan/plan-title';
import type { PlanStore } from '../plan/plan-store.svelte';
import { save } from './save-file';
import type { Session } from '../session/session.svelte';

/** A sheet with nothing on it. */
export const emptyPlan: Plan = {
  type: 'FeatureCollection',
  features: [],
  lotfall: { version: 1 },
};

/** The name of the demo's elevation, as its plan has it. */
const demoElevationName = 'lot.elevation.tif';

/** What the demo is made of, as it comes. */
export interface Demo {
  readonly plan: string;
  readonly elevation: Blob;
}

/** Fetches the demo that comes with the page. */
export async function fetchDemo(): Promise<Demo> {
  const [plan, elevation] = await Promise.all([
    fetch(demoPlanUrl).then((answer) => answer.text()),
    fetch(demoElevationUrl).then((answer) => answer.blob()),
  ]);
  return { plan, elevation };
}

/** An elevation that waits for the unit of its heights, for the plan on the sheet or for a fresh one. */
interface Waiting {
  readonly elevation: PageElevation;
  readonly fresh: Plan | null;
  /** What is to be known of ground that was made from levels. */
  readonly levels?: { readonly of_levels: true; readonly rmse_m: number };
}

/** The library's part is fetched when it is first wanted. */
async function levelGroundOf(plan: Plan): Promise<LevelGround> {
  const { makeLevelGround } = await import('./level-ground');
  return makeLevelGround(plan);
}

/**
 * Opens and saves: what goes between the page and files and addresses. Plan and ground go together: a plan names the
 * elevation that it is drawn on, and no other ground is on the sheet with it.
 */
export class Files {
  readonly keeper: Keeper;
  readonly #session: Session;
  readonly #store: PlanStore;
  readonly #analysis: Analysis;
  readonly #demoOf: () => Promise<Demo>;
  /** Elevations of this visit, so that undoing finds the one that a plan was drawn on. */
  #known = $state.raw<readonly PageElevation[]>([]);
  /** The elevation of the demo, which is nobody's own. */
  #demoSource: PageSource | null = null;
  /** The demo as it came. */
  #demo = $state.raw<Plan | null>(null);
  /** The plan as it is in a file, or came from one. */
  #saved: Plan | null = null;
  /** The work that the sheet goes on with, as it was taken up. */
  #takenUp = $state.raw<Plan | null>(null);
  #waiting = $state.raw<Waiting | null>(null);
  /** What a plan says of an elevation that was wanted and could not be had for it: it is not tried again by itself. */
  #without: Plan['lotfall']['elevation'] | null = null;
  /** Counts what is opened: what comes late for an earlier one is let be. */
  #opening = 0;

  constructor(
    session: Session,
    store: PlanStore,
    analysis: Analysis,
    keeper: Keeper,
    demoOf: () => Promise<Demo> = fetchDemo,
  ) {
    this.#session = session;
    this.#store = store;
    this.#analysis = analysis;
    this.keeper = keeper;
    this.#demoOf = demoOf;
  }

  /** A file whose heights cannot be read before the user says in what unit they are. */
  get asks(): ElevationDescription | null {
    return this.#waiting?.elevation.opened.description ?? null;
  }

  /** The demo as it came, while its lot is what is on the sheet. */
  get demo(): Plan | null {
    const isOn = this.#store.plan.lotfall.elevation?.source === demoElevationName;
    return isOn ? this.#demo : null;
  }

  /** What is on the sheet, as far as it is the user's own; null for the demo as it comes and for an empty sheet. */
  get ownWork(): Work | null {
    const { plan } = this.#store;
    const { halfDrawn: drawing, aside } = this.#session;
    const elevation = this.#ownElevation(plan);
    const isOwn =
      drawing !== null ||
      aside.length > 0 ||
      this.#store.canUndo ||
      elevation !== null ||
      this.#takenUp !== null;
    return isOwn ? { plan, elevation, drawing, aside } : null;
  }

  /** Puts the demo on the sheet, and offers what an earlier visit left. */
  async start(): Promise<void> {
    await Promise.all([this.openDemo(), this.keeper.start()]);
  }

  async openDemo(): Promise<void> {
    await this.#attempt(async (isLate) => {
      const { text, source } = await this.#demoFiles();
      const { plan } = readPlan(text, 'demo plan');
      const read = await this.#readFor(plan, source);
      if (isLate() || read === null) return;
      this.#putAside();
      this.#show(plan, read);
      this.#demo = this.#store.plan;
      this.#saved = this.#store.plan;
    });
  }

  async openElevation(source: PageSource): Promise<void> {
    await this.#attempt(async (isLate) => {
      // The untouched demo lies nowhere near anybody's elevation: their own work starts on an empty sheet.
      const { units } = this.#store.plan.lotfall;
      const fresh = units === undefined ? emptyPlan : withSettings(emptyPlan, { units });
      const isFresh = this.#demo !== null && this.#store.plan === this.#demo;
      const elevation = await this.#analysis.reader.open(source);
      if (isLate() || elevation === null) return;
      await this.#readOnto({ elevation, fresh: isFresh ? fresh : null }, null, isLate);
    });
  }

  /** Makes the ground from the levels of the plan on the sheet, and puts it there. */
  async makeLevelGround(): Promise<void> {
    const { plan } = this.#store;
    await this.#attempt(async (isLate) => {
      const { source, rmseM } = await levelGroundOf(plan);
      const elevation = await this.#analysis.reader.open(source);
      if (isLate() || elevation === null) return;
      const levels = { of_levels: true as const, rmse_m: Math.round(1000 * rmseM) / 1000 };
      await this.#readOnto({ elevation, fresh: null, levels }, null, isLate);
    });
  }

  /** Answers the question that an elevation left open. */
  async answerVerticalUnit(metres: number): Promise<void> {
    const waiting = this.#waiting;
    if (waiting === null) return;
    await this.#attempt((isLate) => this.#readOnto(waiting, metres, isLate));
  }

  async openPlan(file: File): Promise<void> {
    await this.#attempt(async (isLate) => {
      const { plan, notes } = readPlan(await file.text(), file.name);
      if (isLate()) return;
      const read = await this.#groundFor(plan, file.name);
      if (isLate() || read === 'stopped') return;
      this.#putAside();
      this.#show(plan, read.ground);
      this.#saved = this.#store.plan;
      const told = [...notes, ...read.notes].map((note) =>
        /[.?]$/.test(note) ? note : `${note}.`,
      );
      if (told.length > 0) this.#session.tell(`${file.name} is open. ${told.join(' ')}`);
    });
  }

  savePlan(): void {
    const { plan } = this.#store;
    this.#saved = plan;
    save(`${fileStem(plan)}.plan.geojson`, writePlan(plan), 'application/geo+json');
  }

  /** Clears the sheet of features, ground and what was known of another lot; undoing brings everything back. */
  newPlan(): void {
    this.#begin();
    const { features, lotfall } = this.#store.plan;
    const { units } = lotfall;
    this.#store.commit({
      label: 'start a new plan',
      deletes: features.map(({ id }) => id),
      settings: { ...emptyPlan.lotfall, ...(units === undefined ? {} : { units }) },
    });
    this.#analysis.clear();
    this.#session.closeComplaint();
    this.#session.closeNotice();
    this.#session.deselect();
    this.#session.open('here');
  }

  /** Goes on with what an earlier visit left. */
  async takeUp(work: KeptWork): Promise<void> {
    await this.#attempt(async (isLate) => {
      const { plan } = readPlan(work.plan, 'kept plan');
      const source = work.elevation ?? (await this.#sourceFor(plan));
      const ground = source === null ? null : await this.#readFor(plan, source);
      if (isLate()) return;
      this.#putAside();
      this.keeper.takenUp(work);
      this.#show(plan, ground);
      this.#takenUp = this.#store.plan;
      this.#session.goOnFrom(work.drawing, work.aside ?? []);
      if (ground === null) this.#session.tell(withoutGround('Your work is open', plan));
    });
  }

  /** Reads the ground again when the own lot has left what was read. */
  async followLot(): Promise<void> {
    const { plan } = this.#store;
    const { ground } = this.#analysis;
    const cover = ground === null ? null : lotCover(ground.grid, plan);
    if (cover !== null && cover !== 'whole') await this.#analysis.readAgain(plan);
  }

  /**
   * Lets the ground follow the plan where it has come to be drawn on another elevation than the one on the sheet, or
   * on none, as by undoing; and reads it again where it was lost.
   */
  async followPlan(): Promise<void> {
    const { plan } = this.#store;
    const shown = this.#analysis.elevation;
    if (shown !== null && drawnOn(plan, shown.opened.identity) === 'same') return;
    if (shown !== null) this.#analysis.clear();
    const said = plan.lotfall.elevation;
    if (said === undefined || said === this.#without) return;
    const source = await this.#sourceFor(plan);
    if (source === null || this.#store.plan.lotfall.elevation !== said) return;
    const isLate = this.#begin();
    const ground = await this.#readFor(plan, source);
    if (isLate()) return;
    if (ground === null) this.#without = said ?? null;
    else this.#showGround(ground);
  }

  /** Opens and reads an elevation again for a plan that was drawn on it; null when that does not succeed. */
  async #readFor(plan: Plan, source: PageSource): Promise<ReadGround | null> {
    const elevation = await this.#analysis.reader.open(source);
    if (elevation === null || drawnOn(plan, elevation.opened.identity) === 'other') return null;
    const unitM = plan.lotfall.elevation?.vertical_unit_m ?? null;
    const outcome = await this.#analysis.reader.read(elevation, plan, unitM);
    return outcome.how === 'done' ? outcome.value : null;
  }

  /**
   * The ground for a plan from a file: of the elevation that it names where that has been opened on this visit; for a
   * plan that names none, or only another name, of the one on the sheet, where that reaches it.
   */
  async #groundFor(
    plan: Plan,
    fileName: string,
  ): Promise<'stopped' | { ground: ReadGround | null; notes: readonly string[] }> {
    const shown = this.#analysis.elevation;
    const drawn = shown === null ? 'other' : drawnOn(plan, shown.opened.identity);
    const isOnShown = drawn === 'unsure' || (drawn === 'unnamed' && planArea(plan) !== null);
    const source = (await this.#sourceFor(plan)) ?? (isOnShown ? (shown?.source ?? null) : null);
    const none = { ground: null, notes: [withoutGround('There is no ground', plan)] };
    if (source === null) return none;
    const elevation = await this.#analysis.reader.open(source);
    if (elevation === null || drawnOn(plan, elevation.opened.identity) === 'other') return none;
    const unitM = plan.lotfall.elevation?.vertical_unit_m ?? null;
    const isTold = ({ code }: { readonly code: string }): boolean =>
      code !== 'elevation-not-covering';
    const outcome = await this.#analysis.reader.read(elevation, plan, unitM, isTold);
    if (outcome.how === 'stopped') return 'stopped';
    if (outcome.how !== 'done') {
      const why = `${elevation.opened.identity.name} does not reach the lot of ${fileName}`;
      return drawn === 'unnamed' ? { ground: null, notes: [why, ...none.notes] } : none;
    }
    const named = elevationWords(plan) ?? '';
    const isOther = drawnOn(plan, elevation.opened.identity) === 'unsure';
    const note = `It names ${named} as its elevation, and is shown on ${elevation.opened.identity.name}`;
    return { ground: outcome.value, notes: isOther ? [note] : [] };
  }

  /** Reads an elevation that the user has opened around the plan on the sheet, or a fresh one. */
  async #readOnto(waiting: Waiting, metres: number | null, isLate: () => boolean): Promise<void> {
    const { elevation, fresh, levels } = waiting;
    const { identity, description } = elevation.opened;
    const on = (plan: Plan): Plan => {
      const named = onElevation(plan, identity);
      if (levels !== undefined) {
        return withSettings(named, { elevation: { ...named.lotfall.elevation, ...levels } });
      }
      if (metres === null) return named;
      return withSettings(named, {
        elevation: { ...named.lotfall.elevation, vertical_unit_m: metres },
      });
    };
    const plan = on(fresh ?? this.#store.plan);
    const unitM = plan.lotfall.elevation?.vertical_unit_m ?? null;
    if (description.needs.includes('vertical-unit') && unitM === null) {
      this.#waiting = waiting;
      return;
    }
    const outcome = await this.#analysis.reader.read(elevation, plan, unitM);
    if (isLate() || outcome.how !== 'done') return;
    if (fresh !== null) {
      this.#putAside();
      this.#show(plan, outcome.value);
      this.#session.open('here');
      return;
    }
    // The plan may have been changed while its ground was read.
    const now = this.#store.plan;
    const drawn = drawnOn(now, identity);
    const before = elevationWords(now);
    const next = on(now);
    this.#showGround(outcome.value);
    if (next !== now) this.#store.set(`open ${identity.name}`, next.lotfall);
    if (before !== null && (drawn === 'other' || drawn === 'unsure')) {
      this.#session.tell(`The plan was drawn on ${before}; it is now on ${identity.name}.`);
    }
    await this.followLot();
  }

  /** Puts a plan on the sheet, with its ground or with none. */
  #show(plan: Plan, ground: ReadGround | null): void {
    if (ground === null) {
      this.#analysis.clear();
      this.#without = plan.lotfall.elevation ?? null;
      this.#store.open(plan);
    } else {
      this.#showGround(ground);
      this.#store.open(onElevation(plan, ground.elevation.opened.identity));
    }
    this.#saved = null;
    this.#takenUp = null;
    this.#session.deselect();
  }

  #showGround(ground: ReadGround): void {
    const { elevation } = ground;
    this.#known = [elevation, ...this.#known.filter(({ source }) => source !== elevation.source)];
    this.#without = null;
    this.#analysis.show(ground);
  }

  /** The elevation that a plan names, of this visit or the demo's. */
  async #sourceFor(plan: Plan): Promise<PageSource | null> {
    const { elevation } = plan.lotfall;
    if (elevation?.of_levels === true) {
      // What cannot be made any more is told when it is asked for.
      return this.#sourceOf(plan) ?? (await levelGroundOf(plan).catch(() => null))?.source ?? null;
    }
    const isDemo = elevation?.source === demoElevationName;
    return this.#sourceOf(plan) ?? (isDemo ? (await this.#demoFiles()).source : null);
  }

  async #demoFiles(): Promise<{ readonly text: string; readonly source: PageSource }> {
    const { plan, elevation } = await this.#demoOf();
    this.#demoSource ??= { name: demoElevationName, blob: elevation };
    return { text: plan, source: this.#demoSource };
  }

  /** The elevation of this visit that a plan names. */
  #sourceOf(plan: Plan): PageSource | null {
    const found = this.#known.find(({ opened }) => drawnOn(plan, opened.identity) === 'same');
    return found?.source ?? null;
  }

  #ownElevation(plan: Plan): PageSource | null {
    const source = this.#sourceOf(plan);
    return source === this.#demoSource ? null : source;
  }

  /** Another plan comes on the sheet: changes that are in no file yet are offered from now on. */
  #putAside(): void {
    const work = this.ownWork;
    const { plan, canUndo } = this.#store;
    const isWorth =
      work !== null &&
      (work.drawing !== null || (plan !== this.#saved && (canUndo || this.#takenUp !== null)));
    this.keeper.putAside(isWorth ? work : null);
  }

  /** What was being opened before is let be. Returns whether something else has been begun since. */
  #begin(): () => boolean {
    const mine = ++this.#opening;
    this.#waiting = null;
    this.#analysis.reader.stop();
    return () => mine !== this.#opening;
  }

  /** Opens something; what may fail through the user's input is told in its one sentence. */
  async #attempt(work: (isLate: () => boolean) => Promise<void>): Promise<void> {
    this.#session.closeComplaint();
    this.#session.closeNotice();
    const isLate = this.#begin();
    try {
      await work(isLate);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      if (!isLate()) this.#session.complain(error.message);
    }
  }
}

function withSettings(plan: Plan, settings: Partial<Plan['lotfall']>): Plan {
  return { ...plan, lotfall: { ...plan.lotfall, ...settings } };
}

/** Which file is to be opened for a plan that is shown without ground. */
function withoutGround(what: string, plan: Plan): string {
  const named = elevationWords(plan);
  return named === null
    ? `${what}: open the elevation that it was drawn on under question 1.`
    : `${what}: it was drawn on ${named}; open that file under question 1.`;
}
