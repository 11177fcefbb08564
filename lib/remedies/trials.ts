import { stormUptake } from '../basin/design/storm-uptake';
import { ledger, type Ledger } from '../drainage/answer/ledger';
import { withUptake } from '../drainage/storm/basin-uptake';
import type { ShapedGround } from '../drainage/storm/shaped-ground';
import {
  layStorm,
  pourLaid,
  type LaidStorm,
  type StormOnGround,
} from '../drainage/storm/storm-on-ground';
import { atOnce } from '../drainage/steps';
import { makeRouting } from '../drainage/terrain/routing';
import { terrainSteps } from '../drainage/terrain/terrain';
import { Workspace } from '../drainage/terrain/workspace';
import type { Grid } from '../elevation/grid';
import type { Edit } from '../ground/edit';
import { ground, groundAgain, type Ground } from '../ground/ground';
import { toLocal, type LocalPlan } from '../plan/local-plan';
import type { Plan, PlanFeature, Settings } from '../plan/schema';
import { eventDepthMm } from '../storm/event-depth';
import { eventDuration } from '../storm/event-duration';
import { KeptBasins } from './kept-basins';
import { nearWall, type NearWall } from './near-wall';

/** One storm, or the thaw, in which remedies are tried. */
export interface TrialEvent {
  /** 'storm' or 'thaw', and its depth, millimetres. */
  readonly kind: 'storm' | 'thaw';
  readonly rainMm: number;
  readonly settings: Settings;
}

/** Water near one building when an event is over. */
export interface NearWater {
  readonly volumeM3: number;
  readonly depthM: number;
  /** Length of wall with water against it, metres. */
  readonly wallM: number;
}

/** What an event leaves where. */
export interface TrialOutcome {
  readonly event: TrialEvent;
  /** Water near each building of the plan, in its order. */
  readonly near: readonly NearWater[];
  /** Water in each zone that was asked about, in order; see `Trials.watch`. */
  readonly zones: readonly NearWater[];
  /** Water that stands on each lot of the plan, basins' included, m3, in its order. */
  readonly standingM3: readonly number[];
  /** The own lot's ledger; `null` where only walls were looked at. */
  readonly ledger: Ledger | null;
}

/** A plan tried in some events. */
export interface Trial {
  readonly plan: LocalPlan;
  readonly edits: readonly Edit[];
  readonly outcomes: readonly TrialOutcome[];
}

/** Cells near a building's walls that are looked at apart from the rest. */
export interface Zone {
  /** Index of the building in the plan. */
  readonly building: number;
  readonly cells: ReadonlySet<number>;
}

/** Ground of a plan, shaped, good until the next trial. */
export interface TriedGround {
  readonly plan: LocalPlan;
  readonly shape: ShapedGround;
}

/** An event on a ground with its basins at work, and the plan in it. */
interface Settled {
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
  readonly plan: LocalPlan;
}

/**
 * Tries variants of one plan on its ground with the engine that answers everywhere else: the same ground, terrain,
 * storm, filling of basins and ledger, to the last bit. What the variants share is worked out once.
 *
 * Belongs to one thread; what `shape` gives is overwritten by the next call.
 */
export class Trials {
  readonly elevation: Grid;
  readonly base: LocalPlan;
  readonly built: Ground;
  readonly near: readonly NearWall[];
  readonly ownLot: number;
  /** How many grounds have been shaped so far. */
  tried = 0;
  #zones: readonly Zone[] = [];
  #settled: {
    readonly on: TriedGround;
    readonly event: TrialEvent;
    readonly found: Settled;
  } | null = null;
  readonly #workspace = new Workspace();
  readonly #laid = new Map<TrialEvent, LaidStorm>();
  readonly #basins: KeptBasins;

  /** @param elevation - heights as read. */
  constructor(elevation: Grid, base: LocalPlan) {
    this.elevation = elevation;
    this.#basins = new KeptBasins(elevation);
    this.base = base;
    this.built = ground(elevation, base);
    this.near = base.of.building.map((building) => nearWall(this.built, building));
    this.ownLot = this.built.lots.findIndex((lot) => lot.own);
  }

  /** Looks at some zones apart in all trials from now on. */
  watch(zones: readonly Zone[]): void {
    this.#zones = zones;
  }

  /** The ground of a variant. Outlines of lots and buildings must be those of the plan. */
  shape(plan: LocalPlan): TriedGround {
    this.tried++;
    const { elevation } = this;
    const grid = { ...elevation, z: this.#workspace.float32('trial ground', elevation.z.length) };
    grid.z.set(elevation.z);
    const built = groundAgain(this.built, grid, plan, elevation);
    const { width, height, z, cellM } = built.grid;
    const terrain = atOnce(terrainSteps(z, width, height, this.#workspace));
    const cellM2 = cellM * cellM;
    const routing = makeRouting(terrain, cellM2);
    return { plan, shape: { elevation, ground: built, terrain, routing, cellM2 } };
  }

  /** What each event leaves at walls, no basin taking anything in. Cost: a shaping, and a pouring for each event. */
  walls(plan: LocalPlan, events: readonly TrialEvent[]): Trial {
    const on = this.shape(plan);
    return this.#trial(
      on,
      events.map((event) => this.#outcome(on, event, this.pour(on, event), null)),
    );
  }

  /** Water in the zones that are watched, on a ground that is shaped already. */
  zonesIn(on: TriedGround, event: TrialEvent): readonly NearWater[] {
    return this.#outcome(on, event, this.pour(on, event), null).zones;
  }

  /** What each event leaves at walls and sends over lot lines, basins taking in what their filling over time says. */
  full(plan: LocalPlan, events: readonly TrialEvent[]): Trial {
    return this.fullOn(this.shape(plan), events);
  }

  /** The same on a ground that is shaped already. */
  fullOn(on: TriedGround, events: readonly TrialEvent[]): Trial {
    return this.#trial(
      on,
      events.map((event) => {
        const { shape, storm, plan: inEvent } = this.settle(on, event);
        const own = this.ownLot === -1 ? null : ledger(shape, storm, inEvent, this.ownLot);
        return this.#outcome({ ...on, shape }, event, storm, own);
      }),
    );
  }

  /** An event on a ground with its basins at work. */
  settle(on: TriedGround, event: TrialEvent): Settled {
    if (this.#settled?.on === on && this.#settled.event === event) return this.#settled.found;
    const found = this.#settle(on, event);
    this.#settled = { on, event, found };
    return found;
  }

  #settle(on: TriedGround, event: TrialEvent): Settled {
    const plan = inEvent(on.plan, event);
    const before = this.pour(on, event);
    if (plan.of.basin.length === 0) return { shape: on.shape, storm: before, plan };
    const { shape } = on;
    const question = { elevation: this.elevation, plan, shape, storm: before };
    const uptake = stormUptake(question, this.#basins.of(plan));
    const taking = withUptake(shape, uptake, eventDuration(event.settings).hours);
    if (taking === shape) return { shape, storm: before, plan };
    return { shape: taking, storm: this.pour({ plan: on.plan, shape: taking }, event), plan };
  }

  /** An event on a ground as it is. */
  pour({ plan, shape }: TriedGround, event: TrialEvent): StormOnGround {
    return pourLaid(shape, inEvent(plan, event), this.#laidOn(shape.ground, plan, event));
  }

  #trial({ plan, shape }: TriedGround, outcomes: readonly TrialOutcome[]): Trial {
    return { plan, edits: shape.ground.edits, outcomes };
  }

  #outcome(
    { shape }: TriedGround,
    event: TrialEvent,
    { depthM }: StormOnGround,
    own: Ledger | null,
  ): TrialOutcome {
    const { ground: built, cellM2 } = shape;
    return {
      event,
      near: this.near.map((wall) => wall.water(built, depthM)),
      zones: this.#zones.map(({ building, cells }) =>
        this.near[building].water(built, depthM, cells),
      ),
      standingM3: built.lots.map(
        ({ cells }) => cells.reduce((sum, cell) => sum + (depthM[cell] || 0), 0) * cellM2,
      ),
      ledger: own,
    };
  }

  /** The storm laid on surfaces: once for all variants that leave surfaces and basins as they are. */
  #laidOn(on: Ground, plan: LocalPlan, event: TrialEvent): LaidStorm {
    const { of } = this.base;
    const isSame =
      sameFeatures(plan.of.basin, of.basin) && sameFeatures(plan.of.surface, of.surface);
    if (!isSame) return layStorm(on, inEvent(plan, event), event.rainMm);
    let laid = this.#laid.get(event);
    if (laid === undefined) {
      laid = layStorm(on, inEvent(plan, event), event.rainMm);
      this.#laid.set(event, laid);
    }
    return laid;
  }
}

const inEvents = new WeakMap<LocalPlan, Map<Settings, LocalPlan>>();

/** The plan with an event's settings. */
export function inEvent(plan: LocalPlan, { settings }: TrialEvent): LocalPlan {
  if (plan.plan.lotfall === settings) return plan;
  const known = inEvents.get(plan) ?? new Map<Settings, LocalPlan>();
  inEvents.set(plan, known);
  let found = known.get(settings);
  if (found === undefined) {
    const other: Plan = { ...plan.plan, lotfall: settings };
    found = toLocal(other, plan.frame);
    known.set(settings, found);
  }
  return found;
}

/** The event that the plan itself looks at. */
export function eventOf(settings: Settings): TrialEvent {
  const kind = settings.event === 'thaw' && settings.thaw !== undefined ? 'thaw' : 'storm';
  return { kind, rainMm: eventDepthMm(settings), settings };
}

function sameFeatures(
  one: readonly { readonly feature: PlanFeature }[],
  other: readonly { readonly feature: PlanFeature }[],
): boolean {
  return one.length === other.length && one.every(({ feature }, i) => feature === other[i].feature);
}
