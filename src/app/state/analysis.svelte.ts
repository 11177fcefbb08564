import { uptakeOf } from '../../../lib/basin/uptake-of';
import { wrap, type Remote } from 'comlink';
import type { DrainageResult } from '../../../lib/drainage/drainage-result';
import type { PointAnswer } from '../../../lib/drainage/probe-point';
import type { ElevationDescription } from '../../../lib/elevation/open-elevation';
import { localFrame, type FrameSpec, type LngLat } from '../../../lib/frame/frame';
import { planArea } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { DigZones, KeepClear } from '../map/map-props';
import type { DesignPicture, OpenedRecord } from '../worker/design-picture';
import type {
  AnalysisApi,
  GroundPicture,
  PageSource,
  PondingPicture,
  WaterPicture,
} from '../worker/analysis-api';
import { Places } from './places.svelte';
import { settingsThatDiffer } from './settings-that-differ';
import { Tasks, type Busy } from './tasks.svelte';

/** A storm that has not been changed for so long stays, milliseconds. */
const settlesAfterMs = 200;

/**
 * What has been computed from plan and elevation, and what is being computed. Everything here can be made again;
 * a result that is older than the plan stays on the sheet, marked, until the next one comes.
 */
export class Analysis {
  description = $state.raw<ElevationDescription | null>(null);
  ground = $state.raw<GroundPicture | null>(null);
  water = $state.raw<WaterPicture | null>(null);
  /** Standing water of a storm that is being changed; null while the whole answer is the latest. */
  ponding = $state.raw<PondingPicture | null>(null);
  keepClear = $state.raw<KeepClear | null>(null);
  digZones = $state.raw<DigZones | null>(null);
  point = $state.raw<PointAnswer | null>(null);
  /** Places for a basin, found and asked about. */
  readonly places: Places;
  designed = $state.raw<DesignPicture | null>(null);
  /** A file whose heights cannot be read before the user says in what unit they are. */
  asks = $state.raw<ElevationDescription | null>(null);

  readonly #worker: Remote<AnalysisApi>;
  readonly #tasks: Tasks;
  /** Task that works out the whole answer. */
  #draining: number | null = null;
  #settling: ReturnType<typeof setTimeout> | undefined;
  #verticalUnitM: number | null = null;
  #waterOf = $state.raw<Plan | null>(null);
  #designOf = $state.raw<Plan | null>(null);
  #designRecord: OpenedRecord | null = null;
  /** What each basin takes in while it rains, by the last design: stands in until the next one is there. */
  #uptakeM3 = $state.raw<ReadonlyMap<string, number>>(new Map());
  /** The one that the water on the sheet was computed with. */
  #uptakeOfWater = $state.raw<ReadonlyMap<string, number> | null>(null);
  /** The plan whose water was asked for last. */
  #asked: Plan | null = null;

  constructor(complain: (sentence: string) => void) {
    this.#worker = wrap<AnalysisApi>(
      new Worker(new URL('../worker/analysis.worker.ts', import.meta.url), { type: 'module' }),
    );
    this.#tasks = new Tasks(complain, (task) => void this.#worker.cancel(task));
    this.places = new Places(this.#worker, this.#tasks);
  }

  /** How far the present task has come. */
  get busy(): Busy | null {
    return this.#tasks.busy;
  }

  /** Whether the water on the sheet belongs to another plan than this one. */
  isStale(plan: Plan): boolean {
    return this.#waterOf !== plan;
  }

  /** Whether water and design on the sheet are both this plan's, and agree. */
  isSettled(plan: Plan): boolean {
    if (this.isStale(plan)) return false;
    const hasBasin = plan.features.some(({ properties }) => properties.kind === 'basin');
    return !hasBasin || (this.#designOf === plan && this.#uptakeOfWater === this.#uptakeM3);
  }

  /** The local metric frame in use: the elevation's, or one centred on the plan, or none for an empty plan. */
  frameOf(plan: Plan): FrameSpec | null {
    if (this.ground !== null) return this.ground.grid.frame;
    const area = planArea(plan);
    return area === null ? null : localFrame([(area[0] + area[2]) / 2, (area[1] + area[3]) / 2]);
  }

  /**
   * Opens an elevation file and reads the ground around the plan; where the unit of its heights must be asked
   * it stops there, with the question in `asks`. On failure what was there stays.
   * @param onRead - called in the same turn as the new ground is set, so that plan and ground change together.
   * @returns whether the ground was read.
   */
  async openElevation(source: PageSource, plan: Plan, onRead: () => void): Promise<boolean> {
    this.asks = null;
    const opened = await this.#tasks.run('Opening elevation', (task) =>
      this.#worker.openElevation(task, source),
    );
    if (opened === null) return false;
    const verticalUnitM = plan.lotfall.elevation?.vertical_unit_m ?? null;
    if (opened.needs.includes('vertical-unit') && verticalUnitM === null) {
      this.asks = opened;
      return false;
    }
    return this.#survey(plan, opened, verticalUnitM, onRead);
  }

  /** Answers the question in `asks`. */
  async answerVerticalUnit(plan: Plan, metres: number, onRead: () => void): Promise<boolean> {
    const opened = this.asks;
    if (opened === null) return false;
    this.asks = null;
    return this.#survey(plan, opened, metres, onRead);
  }

  /** Reads the ground again, around another place. */
  async resurvey(plan: Plan): Promise<boolean> {
    return this.description !== null && this.#survey(plan, this.description, this.#verticalUnitM);
  }

  /**
   * Computes the plan's storm; while one is being computed only the last one asked for waits. Where the storm alone has
   * changed, as while its slider is dragged, standing water is shown at once and the rest follows when it stays.
   */
  drain(plan: Plan): void {
    if (this.ground === null) return;
    this.#asked = plan;
    clearTimeout(this.#settling);
    if (this.#isSameWater(plan)) {
      this.#waterOf = plan;
      return;
    }
    if (!this.#isOtherStorm(plan)) {
      this.#drainWhole(plan);
      return;
    }
    if (this.#draining !== null) void this.#worker.cancel(this.#draining);
    this.#pond(plan);
    this.#settling = setTimeout(() => {
      this.#drainWhole(plan);
    }, settlesAfterMs);
  }

  #drainWhole(plan: Plan): void {
    this.#tasks.latest('drain', async () => {
      const uptakeM3 = this.#uptakeM3;
      const water = await this.#tasks.run('Following the water', (task, onProgress) => {
        this.#draining = task;
        return this.#worker.drain(task, plan, uptakeM3, onProgress);
      });
      this.#draining = null;
      if (water === null) return;
      this.water = water;
      this.#uptakeOfWater = uptakeM3;
      this.ponding = null;
      this.#waterOf = plan;
    });
  }

  /** Standing water alone; if it cannot be had, the whole answer that follows says why. */
  #pond(plan: Plan): void {
    this.#tasks.latest('ponding', async () => {
      const task = this.#tasks.next();
      const ended = await this.#worker.ponding(task, plan, this.#uptakeM3).catch(() => null);
      if (ended?.ok === true && this.#isOtherStorm(plan)) this.ponding = ended.value;
    });
  }

  /** Whether a plan differs from that of the water on the sheet in what it says of storm or thaw, and in nothing else. */
  #isOtherStorm(plan: Plan): boolean {
    const of = this.#waterOf;
    if (of === null || of.features !== plan.features) return false;
    const differ = settingsThatDiffer(of, plan);
    return differ.length > 0 && differ.every((key) => ['storm', 'event', 'thaw'].includes(key));
  }

  /** Whether a plan differs from that of the water on the sheet in nothing that water knows of. */
  #isSameWater(plan: Plan): boolean {
    const of = this.#waterOf;
    if (of === null || of === plan || of.features !== plan.features) return false;
    return settingsThatDiffer(of, plan).every((key) => key === 'site_weights');
  }

  /** Standing water by cell, metres: of the storm as it is being changed, else of the last answer. */
  get depthM(): Float32Array<ArrayBuffer> | null {
    return this.ponding?.depthM ?? this.water?.depthM ?? null;
  }

  /** Water in each listed low spot that holds any, of the storm as it is being changed, else of the last answer. */
  get standing(): DrainageResult['standing'] {
    return this.ponding?.standing ?? this.water?.result.standing ?? [];
  }

  /** Asks where water goes from a place and what drains to it. */
  probe(plan: Plan, at: LngLat): void {
    if (this.ground === null) return;
    this.#tasks.latest('probe', async () => {
      this.point = await this.#tasks.run('Following the water', (task) =>
        this.#worker.probe(task, plan, at),
      );
    });
  }

  /** Computes the keep-clear zones of the plan's rule set. */
  zones(plan: Plan, frame: FrameSpec | null): void {
    if (frame === null) {
      this.keepClear = null;
      return;
    }
    this.#tasks.latest('zones', async () => {
      const zones = await this.#tasks.run('Drawing keep-clear zones', (task) =>
        this.#worker.keepClear(task, plan, frame),
      );
      if (zones !== null) this.keepClear = zones;
    });
  }

  /** Computes the ground to be dug and the zones of hand digging along lines. */
  zonesOfDigging(plan: Plan, frame: FrameSpec | null, today: string): void {
    if (frame === null) {
      this.digZones = null;
      return;
    }
    this.#tasks.latest('digging', async () => {
      const zones = await this.#tasks.run('Outlining the ground to be dug', (task) =>
        this.#worker.digZones(task, plan, frame, today),
      );
      if (zones !== null) this.digZones = zones;
    });
  }

  /** Works out the plan's basins; while that goes on only the last plan asked for waits. */
  design(plan: Plan, record: OpenedRecord | null): void {
    if (this.ground === null) return;
    this.#tasks.latest('design', async () => {
      if (this.#designOf === plan && this.#designRecord === record) return;
      const designed = await this.#tasks.run('Filling and draining the basin', (task, onProgress) =>
        this.#worker.design(task, plan, record, onProgress),
      );
      this.#designOf = plan;
      this.#designRecord = record;
      if (designed === null) return;
      this.designed = designed;
      const uptakeM3 = uptakeOf(designed.result);
      if (isSameUptake(uptakeM3, this.#uptakeM3)) return;
      this.#uptakeM3 = uptakeM3;
      // The ledger that was drawn up with another uptake does not agree with the design.
      if (this.#asked === plan) this.#drainWhole(plan);
    });
  }

  /** Whether the design shown belongs to another plan than this one. */
  isDesignStale(plan: Plan): boolean {
    return this.designed !== null && this.#designOf !== plan;
  }

  /** Stops the present task; what it would have replaced stays. */
  cancel(): void {
    this.#tasks.stop();
  }

  async #survey(
    plan: Plan,
    description: ElevationDescription,
    verticalUnitM: number | null,
    onRead: () => void = () => undefined,
  ): Promise<boolean> {
    const ground = await this.#tasks.run('Reading ground', (task, onProgress) =>
      this.#worker.survey(task, plan, verticalUnitM, onProgress),
    );
    if (ground === null) return false;
    this.#verticalUnitM = verticalUnitM;
    this.description = description;
    this.ground = ground;
    clearTimeout(this.#settling);
    this.water = null;
    this.ponding = null;
    this.point = null;
    this.places.forget();
    this.designed = null;
    this.#designOf = null;
    this.#uptakeM3 = new Map();
    this.#waterOf = null;
    onRead();
    return true;
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
