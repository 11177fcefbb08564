import type { Remote } from 'comlink';
import { uptakeOf } from '../../../../lib/basin/design/for-drainage';
import type { DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import type { ErrorModel } from '../../../../lib/drainage/height-error/error-field';
import type { StandingOnLot } from '../../../../lib/drainage/answer/standing-on-lot';
import type { PointAnswer } from '../../../../lib/drainage/answer/probe-point';
import { localFrame, type FrameSpec, type LngLat } from '../../../../lib/frame/frame';
import { planArea } from '../../../../lib/plan/plan-area';
import type { Plan } from '../../../../lib/plan/schema';
import type {
  AnalysisApi,
  GroundPicture,
  PondingPicture,
  WaterPicture,
} from '../../worker/analysis-api';
import type { DesignPicture, OpenedRecord } from '../../worker/design-picture';
import { Answer } from '../tasks/answer.svelte';
import { BackdropReader } from '../tasks/backdrop-reader';
import { DrawingSet } from './drawing-set.svelte';
import { ContoursInUnits } from './contours-in-units.svelte';
import { ElevationReader, type PageElevation, type ReadGround } from '../tasks/elevation-reader';
import { GroundTasks, type GroundQuestion } from '../tasks/ground-tasks';
import type { WaterForRules } from './findings';
import { Job } from './job.svelte';
import { LastChange } from './last-change.svelte';
import { LineProfile } from './line-profile.svelte';
import { lotCover } from './lot-cover';
import { Places } from './places.svelte';
import { Remedies } from './remedies.svelte';
import { Spills } from './spills.svelte';
import { States } from './states.svelte';
import { isSameWithoutBasins, settingsThatDiffer } from './settings-that-differ';
import { Tasks, type Busy, type Complain } from '../tasks/tasks.svelte';
import { Zones } from './zones.svelte';

/** Settings that change nothing about water or basins. */
const ofNoWater: readonly string[] = ['site_weights', 'job'];

/** A storm that has not been changed for so long stays, milliseconds. */
const settlesAfterMs = 200;

/** A plan on its ground, as its basins are asked about. */
interface DesignQuestion extends GroundQuestion {
  readonly record: OpenedRecord | null;
}

/**
 * The ground on the sheet, what has been computed from it and a plan, and what is being computed. Everything here can
 * be made again. An answer is never shown on another ground than that which it was made from; one that is older than
 * the plan stays on the sheet, marked, until the next one comes.
 */
export class Analysis {
  /** Places for a basin, found and asked about. */
  readonly places: Places;
  /** The rain at which low spots begin to spill. */
  readonly spills: Spills;
  /** The plan as it stands today. */
  readonly states: States;
  /** What would dry wet walls. */
  readonly remedies: Remedies;
  /** Heights along the line that is measured. */
  readonly profile: LineProfile;
  readonly zones: Zones;
  /** The drawing set. */
  readonly set: DrawingSet;
  /** Orders, steps, plants. */
  readonly job: Job;
  readonly reader: ElevationReader;
  readonly contours: ContoursInUnits;
  readonly backdrops: BackdropReader;
  readonly lastChange = new LastChange();

  readonly #start: (onLost: () => void) => Remote<AnalysisApi>;
  readonly #complain: Complain;
  #worker: Remote<AnalysisApi> | null;
  readonly #tasks: Tasks;
  readonly #ground: GroundTasks;
  #sheet = $state.raw<ReadGround | null>(null);

  readonly #water = new Answer<GroundQuestion, WaterPicture>();
  readonly #ponding = new Answer<GroundQuestion, PondingPicture>();
  readonly #point = new Answer<GroundQuestion, PointAnswer | null>();
  readonly #designed = new Answer<DesignQuestion, DesignPicture>();
  /** The task that works out the whole answer. */
  #draining: number | null = null;
  #settling: ReturnType<typeof setTimeout> | undefined;
  /** What each basin takes in while it rains, by the last design: stands in until the next one is there. */
  #uptakeM3 = $state.raw<ReadonlyMap<string, number>>(new Map());
  /** The one that the water on the sheet was computed with. */
  #uptakeOfWater = $state.raw<ReadonlyMap<string, number> | null>(null);

  /**
   * @param start - starts a worker, and calls back when it is lost; another is then started when something is asked.
   */
  constructor(complain: Complain, start: (onLost: () => void) => Remote<AnalysisApi>) {
    this.#complain = complain;
    this.#start = start;
    this.#tasks = new Tasks(complain, (task) => void this.#remote.cancel(task));
    const worker = () => this.#remote;
    this.#ground = new GroundTasks(this.#tasks, { ground: () => this.ground, worker });
    this.zones = new Zones(this.#tasks, worker);
    this.set = new DrawingSet(this.#tasks, worker);
    this.job = new Job(this.#ground, this.#tasks, worker);
    this.reader = new ElevationReader(this.#tasks, worker);
    this.places = new Places(this.#ground);
    this.spills = new Spills(this.#ground);
    this.states = new States(this.#ground);
    this.remedies = new Remedies(this.#ground);
    this.profile = new LineProfile(this.#ground);
    this.contours = new ContoursInUnits(this.#ground);
    this.backdrops = new BackdropReader(this.#tasks, worker);
    this.#worker = this.#startWorker();
  }

  /** How far the present task has come. */
  get busy(): Busy | null {
    return this.#tasks.busy;
  }

  /** The ground on the sheet. */
  get ground(): GroundPicture | null {
    return this.#sheet?.picture ?? null;
  }

  /** The elevation that it was read from. */
  get elevation(): PageElevation | null {
    return this.#sheet?.elevation ?? null;
  }

  /** The ground on the sheet where it reaches a plan's lot at all. */
  groundOf(plan: Plan): GroundPicture | null {
    return this.ground === null || lotCover(this.ground.grid, plan) === 'none' ? null : this.ground;
  }

  /** The local metric frame to measure a plan in: the elevation's, where that reaches it, else one centred on the plan. */
  frameOf(plan: Plan): FrameSpec | null {
    const ground = this.groundOf(plan);
    if (ground !== null) return ground.grid.frame;
    const area = planArea(plan);
    return area === null ? null : localFrame([(area[0] + area[2]) / 2, (area[1] + area[3]) / 2]);
  }

  /** Reads the ground on the sheet again, around where a plan has its lot now. */
  async readAgain(plan: Plan): Promise<void> {
    const sheet = this.#sheet;
    if (sheet === null) return;
    const outcome = await this.reader.read(sheet.elevation, plan, sheet.verticalUnitM);
    if (outcome.how === 'done' && this.#sheet === sheet) this.show(outcome.value);
  }

  /** Puts a ground on the sheet; nothing that was made from another stays. */
  show(ground: ReadGround): void {
    this.#forget();
    this.#sheet = ground;
    void this.#remote.goOnWith(ground.picture.number);
  }

  /** Takes the ground off the sheet, with all that was made from it. */
  clear(): void {
    this.#forget();
    this.#sheet = null;
  }

  #forget(): void {
    clearTimeout(this.#settling);
    this.#water.forget();
    this.#ponding.forget();
    this.#point.forget();
    this.#designed.forget();
    this.zones.forget();
    this.set.forget();
    this.job.forget();
    this.places.forget();
    this.spills.forget();
    this.states.forget();
    this.remedies.forget();
    this.profile.forget();
    this.contours.forget();
    this.lastChange.forget();
    this.#uptakeM3 = new Map();
    this.#uptakeOfWater = null;
  }

  /** The water of the last plan that was followed to the end. */
  get water(): WaterPicture | null {
    return this.#water.value;
  }

  /**
   * The plan that figures of water are told with: the one shown while its water is there or on its way, and that of the
   * water on the sheet where that of the one shown was stopped or refused.
   */
  toldWith(shown: Plan): Plan {
    return this.#water.isLeftOpen ? (this.#water.of?.plan ?? shown) : shown;
  }

  /** Standing water by cell, metres: of the storm as it is being changed, else of the last answer. */
  get depthM(): Float32Array<ArrayBuffer> | null {
    return this.#pondingNow?.depthM ?? this.water?.depthM ?? null;
  }

  /** Water in each listed low spot that holds any, of the storm as it is being changed, else of the last answer. */
  get standing(): DrainageResult['standing'] {
    return this.#pondingNow?.standing ?? this.water?.result.standing ?? [];
  }

  /** Standing water of a storm that is being changed; none once the whole answer to that was stopped or refused. */
  get #pondingNow(): PondingPicture | null {
    return this.#water.isLeftOpen ? null : this.#ponding.current;
  }

  /** What stands on the own lot, of the same storm; null without an own lot. */
  get standingOnLot(): StandingOnLot | null {
    const answered = this.water?.result.standing_on_lot ?? null;
    return answered === null ? null : (this.#pondingNow?.standingOnLot ?? answered);
  }

  /** Whether the water on the sheet belongs to another plan than this one. */
  isStale(plan: Plan): boolean {
    return this.#water.of?.plan !== plan;
  }

  /**
   * What the water on the sheet says to the rules at basins: of the ground without basins where only those have changed
   * since, of the way that overflow takes only where nothing has.
   */
  waterForRules(plan: Plan): WaterForRules | null {
    const { water } = this;
    const of = this.#water.of?.plan;
    if (water === null || of === undefined || !isSameWithoutBasins(of, plan)) return null;
    const basins = of === plan ? water.result.basins : [];
    return { result: { basins }, depthBeforeM: water.depthBeforeM };
  }

  /** Whether water and design on the sheet are both this plan's, and agree. */
  isSettled(plan: Plan): boolean {
    if (this.isStale(plan)) return false;
    const hasBasin = plan.features.some(({ properties }) => properties.kind === 'basin');
    return (
      !hasBasin || (this.#designed.of?.plan === plan && this.#uptakeOfWater === this.#uptakeM3)
    );
  }

  /** Whether water or design of the plan as it stands were stopped or refused, so that what is shown is older. */
  get isLeftOpen(): boolean {
    return this.#water.isLeftOpen || this.#designed.isLeftOpen;
  }

  /** Asks once more for what was left open. */
  again(plan: Plan, record: OpenedRecord | null): void {
    if (this.#water.isLeftOpen) this.#drainWhole(plan);
    if (this.#designed.isLeftOpen) this.#designWhole(plan, record);
  }

  /**
   * Computes the plan's storm; while one is being computed only the last one asked for waits. Where the storm alone has
   * changed, as while its slider is dragged, standing water is shown at once and the rest follows when it stays.
   *
   * @param isDraft - whether a gesture is still making the plan, so that its water is no last change.
   */
  drain(plan: Plan, isDraft = false): void {
    const question = this.#ground.on(plan);
    if (question === null) return;
    clearTimeout(this.#settling);
    if (this.#isSameWater(plan)) {
      this.#ponding.forget();
      this.#water.holdsFor(question);
      this.#settle(plan, isDraft);
      return;
    }
    if (!this.#isOtherStorm(plan)) {
      this.#drainWhole(plan, isDraft);
      return;
    }
    if (this.#draining !== null) void this.#remote.cancel(this.#draining);
    this.#pond(plan);
    this.#settling = setTimeout(() => {
      this.#drainWhole(plan, isDraft);
    }, settlesAfterMs);
  }

  /** The water on the sheet is this plan's: what the last change did is told from it. */
  #settle(plan: Plan, isDraft: boolean): void {
    const { water } = this;
    if (!isDraft && water !== null) this.lastChange.settle(plan, water.result);
  }

  #drainWhole(plan: Plan, isDraft = false): void {
    let uptakeM3 = this.#uptakeM3;
    this.#ground.ask(
      'drain',
      'Following the water',
      this.#water,
      this.#ground.on(plan),
      async ({ worker, task, asked, onProgress }) => {
        uptakeM3 = this.#uptakeM3;
        this.#draining = task;
        try {
          return await worker.drain(task, asked, uptakeM3, onProgress);
        } finally {
          this.#draining = null;
        }
      },
      () => {
        this.#uptakeOfWater = uptakeM3;
        this.#settle(plan, isDraft);
        this.#ponding.forget();
      },
    );
  }

  /** Standing water alone; if it cannot be had, the whole answer that follows says why. */
  #pond(plan: Plan): void {
    this.#ground.ask(
      'ponding',
      null,
      this.#ponding,
      this.#ground.on(plan),
      ({ worker, task, asked }) => worker.ponding(task, asked, this.#uptakeM3),
    );
  }

  /** Whether a plan differs from that of the water on the sheet in what it says of storm or thaw, and in nothing else. */
  #isOtherStorm(plan: Plan): boolean {
    const of = this.#water.of?.plan;
    if (of?.features !== plan.features) return false;
    const differ = settingsThatDiffer(of, plan);
    return differ.length > 0 && differ.every((key) => ['storm', 'event', 'thaw'].includes(key));
  }

  /** Whether a plan differs from that of the water on the sheet in nothing that water knows of. */
  #isSameWater(plan: Plan): boolean {
    const of = this.#water.of?.plan;
    if (of?.features !== plan.features) return false;
    return settingsThatDiffer(of, plan).every((key) => ofNoWater.includes(key));
  }

  /** Where the water of the place asked about goes and what drains to it; null where none is asked about. */
  pointOf(at: LngLat | null): PointAnswer | null {
    return at === null ? null : this.#point.current;
  }

  /** Asks where water goes from a place and what drains to it. */
  probe(plan: Plan, at: LngLat): void {
    this.#ground.ask(
      'probe',
      'Following the water',
      this.#point,
      this.#ground.on(plan),
      ({ worker, task, asked }) => worker.probe(task, asked, at),
    );
  }

  /** The last basins that were worked out, of whatever plan. */
  get designed(): DesignPicture | null {
    return this.#designed.value;
  }

  /** The basins of this very plan, worked out; null while they are not. */
  designOf(plan: Plan): DesignPicture | null {
    return this.#designed.of?.plan === plan ? this.#designed.value : null;
  }

  /** Whether the design shown belongs to another plan or record than these. */
  isDesignStale(plan: Plan, record: OpenedRecord | null): boolean {
    const { of } = this.#designed;
    return of !== null && (of.plan !== plan || of.record !== record);
  }

  /** Works out the plan's basins, unless that has been asked for already; meanwhile only the last plan asked for waits. */
  design(plan: Plan, record: OpenedRecord | null): void {
    const { asked } = this.#designed;
    if (asked?.plan === plan && asked.record === record) return;
    const { of } = this.#designed;
    const question = this.#ground.on(plan);
    const isSame =
      question !== null &&
      of?.record === record &&
      of.plan.features === plan.features &&
      settingsThatDiffer(of.plan, plan).every((key) => ofNoWater.includes(key));
    if (isSame) this.#designed.holdsFor({ ...question, record });
    else this.#designWhole(plan, record);
  }

  #designWhole(plan: Plan, record: OpenedRecord | null): void {
    const question = this.#ground.on(plan);
    this.#ground.ask(
      'design',
      'Filling and draining the basin',
      this.#designed,
      question === null ? null : { ...question, record },
      ({ worker, task, asked, onProgress }) => worker.design(task, asked, record, onProgress),
      ({ result }) => {
        const uptakeM3 = uptakeOf(result);
        if (isSameUptake(uptakeM3, this.#uptakeM3)) return;
        this.#uptakeM3 = uptakeM3;
        // The ledger that was drawn up with another uptake does not agree with the design.
        if (this.#water.asked?.plan === plan) this.#drainWhole(plan);
      },
    );
  }

  /** Asks how far the heights' error moves what differs between a plan and what stands today. */
  askDifferenceDoubt(plan: Plan, errors: ErrorModel): void {
    this.states.askDoubt(plan, this.#uptakeM3, errors);
  }

  /** Stops the present task; what it would have replaced stays, and belongs to what it was made from. */
  cancel(): void {
    this.#tasks.stop();
  }

  get #remote(): Remote<AnalysisApi> {
    return (this.#worker ??= this.#startWorker());
  }

  #startWorker(): Remote<AnalysisApi> {
    return this.#start(() => {
      this.#worker = null;
      this.#tasks.lose();
      this.clear();
      this.#complain(
        'The part of Lotfall that computes broke off, perhaps for want of memory; nothing that is drawn is lost, and the ground is read again.',
      );
    });
  }
}

/** Differences below a litre show nowhere. */
const leastUptakeM3 = 0.001;

function isSameUptake(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): boolean {
  return (
    a.size === b.size &&
    [...a].every(([id, volumeM3]) => Math.abs(volumeM3 - (b.get(id) ?? -1)) < leastUptakeM3)
  );
}
