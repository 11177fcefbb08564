import { withUptake } from '../../../lib/drainage/basin-uptake';
import { eventDuration } from '../../../lib/storm/event-duration';
import { drainSteps } from '../../../lib/drainage/drain-lot';
import { flowLines } from '../../../lib/drainage/flow-lines';
import { ledger } from '../../../lib/drainage/ledger';
import { pipeLines } from '../../../lib/drainage/pipe-lines';
import { pondingAt } from '../../../lib/drainage/ponding';
import { probePoint, type PointAnswer } from '../../../lib/drainage/probe-point';
import type { ShapedGround } from '../../../lib/drainage/shaped-ground';
import { standingRows } from '../../../lib/drainage/standing-rows';
import { partOf, withPauses, type Steps } from '../../../lib/drainage/steps';
import { stormSteps, type StormOnGround } from '../../../lib/drainage/storm-on-ground';
import { surveyLot } from '../../../lib/drainage/survey-lot';
import {
  openElevation,
  type ElevationDescription,
  type ElevationFile,
} from '../../../lib/elevation/open-elevation';
import type { Elevation } from '../../../lib/elevation/read-window';
import { assert, InputError, throwIfCancelled, type Progress } from '../../../lib/errors';
import { makeFrame, type LngLat } from '../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import { planOutline, type LngLatBox } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import { askLot, findSites, type SitesQuestion } from '../../../lib/siting/find-sites';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { designPicture, type DesignPicture, type OpenedRecord } from './design-picture';
import type {
  GroundPicture,
  PageSource,
  PlacesQuestion,
  PondingPicture,
  WaterPicture,
} from './analysis-api';
import { groundPicture } from './ground-picture';
import { KeptGround } from './kept-ground';
import {
  askedPlace,
  foundPlace,
  placesPicture,
  type AskedPlace,
  type PlacesPicture,
} from './places-picture';
import { isQuickFor, quickRain, type QuickRain } from './quick-rain';
import { pauseNowAndThen, Turns } from './turns';

/** Flow lines start where this much open ground drains through, m2. A choice for legibility. */
const lineFromM2 = 30;
/** Places found so far are told this often, milliseconds. */
const soFarEveryMs = 250;
/** A window around the middle of a raster on which nothing is drawn yet, metres. */
const firstLookM = 250;

/** A plan with its storm on its ground. */
interface Stormed {
  readonly local: LocalPlan;
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
}

/** What the worker knows between calls: the open file, the window around the lot, the ground with and without basins. */
export class Analyst {
  #file: ElevationFile | null = null;
  /** Opened but not yet read from: the ground on the sheet still comes from `#file`. */
  #opened: ElevationFile | null = null;
  #elevation: Elevation | null = null;
  /** With and without the plan's basins. */
  readonly #with = new KeptGround();
  readonly #without = new KeptGround();
  #quick: QuickRain | null = null;
  readonly #turns = new Turns();
  /** The ground and storm that places were last looked for on. */
  #bare: { readonly key: string; readonly elevation: Elevation; readonly stormed: Stormed } | null =
    null;
  #reachableM3: number | undefined;

  async open(source: PageSource, signal: AbortSignal): Promise<ElevationDescription> {
    this.#opened = await openElevation(source, { signal });
    return this.#opened.description;
  }

  async survey(
    plan: Plan,
    verticalUnitM: number | null,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<GroundPicture> {
    const file = this.#opened ?? this.#file;
    assert(file !== null, 'a survey needs an open file');
    this.#opened = null;
    const {
      elevation,
      plan: local,
      shape,
    } = await surveyLot(file, plan, {
      area: planOutline(plan) ?? middleOf(file.description),
      signal,
      onProgress,
      pause: pauseNowAndThen(),
      ...(verticalUnitM === null ? {} : { verticalUnitM }),
    });
    throwIfCancelled(signal);
    this.#file = file;
    this.#elevation = elevation;
    this.#with.take(shape, local);
    this.#without.forget();
    return groundPicture(elevation, onProgress);
  }

  drain(
    plan: Plan,
    uptakeM3: ReadonlyMap<string, number>,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<WaterPicture> {
    return this.#inSteps(this.#drainSteps(plan, uptakeM3), signal, onProgress);
  }

  /** The plan's storm with another depth or of another kind, on ground that is shaped already: standing water alone. */
  ponding(
    plan: Plan,
    uptakeM3: ReadonlyMap<string, number>,
    signal: AbortSignal,
  ): Promise<PondingPicture> {
    return this.#inSteps(this.#pondingSteps(plan, uptakeM3), signal);
  }

  probe(plan: Plan, at: LngLat, signal: AbortSignal): Promise<PointAnswer | null> {
    return this.#inSteps(this.#probeSteps(plan, at), signal);
  }

  *#drainSteps(plan: Plan, uptakeM3: ReadonlyMap<string, number>): Steps<WaterPicture> {
    const { elevation, local, shape, storm } = yield* partOf(
      this.#stormSteps(plan, uptakeM3),
      0,
      0.4,
    );
    const rmseM = plan.lotfall.elevation?.rmse_m;
    const about = { crs: elevation.systemName, ...(rmseM === undefined ? {} : { rmseM }) };
    const result = yield* partOf(drainSteps(shape, storm, local, about), 0.4, 0.75);
    yield { fraction: 0.75, stage: 'Drawing flow paths' };
    const lines = flowLines(shape, storm, local.frame, lineFromM2);
    const before = yield* partOf(this.#beforeSteps(plan), 0.8, 1);
    return {
      result,
      ...before,
      depthM: storm.depthM.slice(),
      flowLines: lines,
      pipeLines: pipeLines(shape, storm, local),
    };
  }

  *#pondingSteps(plan: Plan, uptakeM3: ReadonlyMap<string, number>): Steps<PondingPicture> {
    const { elevation } = this;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const shape = yield* this.#with.steps(elevation, local);
    if (!isQuickFor(this.#quick, shape, plan)) this.#quick = quickRain(shape, local);
    const { ready, spots, rows } = this.#quick;
    const taking = withUptake(shape, uptakeM3, eventDuration(plan.lotfall).hours);
    const rainMm = eventDepthMm(plan.lotfall);
    const ponding = pondingAt({ ...ready, shape: taking }, local, rainMm);
    return {
      rainMm,
      depthM: ponding.depthM,
      standing: standingRows(shape, ponding, spots, rows),
    };
  }

  *#probeSteps(plan: Plan, at: LngLat): Steps<PointAnswer | null> {
    const { local, shape, storm } = yield* this.#stormSteps(plan);
    return probePoint(shape, storm, local, at);
  }

  /** Looks over the whole lot for places, on the ground as it is without any basin. */
  async places(
    question: PlacesQuestion,
    signal: AbortSignal,
    onProgress: Progress,
    onPlaces: (soFar: PlacesPicture) => void,
  ): Promise<PlacesPicture> {
    const asked = await this.#sitesQuestion(question, signal, onProgress);
    const { frame } = asked.plan;
    const found = await findSites(asked, {
      signal,
      onProgress,
      onSites: nowAndThen((sites) => {
        onPlaces({
          candidates: sites.map((site) => foundPlace(site, frame)),
          joint: null,
          answer: null,
        });
      }),
    });
    this.#reachableM3 = found.reachable_m3 > 0 ? found.reachable_m3 : undefined;
    return placesPicture(found, frame);
  }

  /** Why a basin can lie at a place, or why not; its score is by the last search. */
  async askPlace(
    question: PlacesQuestion,
    at: LngLat,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<AskedPlace> {
    const asked = await this.#sitesQuestion(question, signal, onProgress);
    const { frame } = asked.plan;
    return askedPlace(askLot(asked, frame.toLocal(at), this.#reachableM3), at, frame);
  }

  /** The plan without its basins on a ground that is kept from question to question: others change theirs meanwhile. */
  async #sitesQuestion(
    { plan, today, basins }: PlacesQuestion,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<SitesQuestion> {
    const { elevation } = this;
    const key = bareKey(plan);
    if (this.#bare?.key !== key || this.#bare.elevation !== elevation) {
      const stormed = await withPauses(this.#bareSteps(plan, new KeptGround()), pauseNowAndThen(), {
        signal,
        onProgress,
      });
      this.#bare = { key, elevation, stormed };
      this.#reachableM3 = undefined;
    }
    const { shape, storm } = this.#bare.stormed;
    return { elevation, plan: bareOf(plan, elevation), shape, storm, today, basins };
  }

  /** Works out the basins of the plan on their ground. */
  design(
    plan: Plan,
    record: OpenedRecord | null,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<DesignPicture> {
    return this.#inSteps(this.#designSteps(plan, record, onProgress), signal);
  }

  *#designSteps(
    plan: Plan,
    record: OpenedRecord | null,
    onProgress: Progress,
  ): Steps<DesignPicture> {
    const { elevation, ...ground } = yield* this.#stormSteps(plan);
    return designPicture(elevation.grid, ground, record, onProgress);
  }

  /** Takes the steps of work on the kept grounds when it is its turn, letting word to stop come in. */
  #inSteps<T>(
    steps: Steps<T>,
    signal: AbortSignal,
    onProgress: Progress = () => undefined,
  ): Promise<T> {
    return this.#turns.take(() => withPauses(steps, pauseNowAndThen(), { signal, onProgress }));
  }

  *#stormSteps(
    plan: Plan,
    uptakeM3: ReadonlyMap<string, number> = new Map(),
  ): Steps<Stormed & { readonly elevation: Elevation }> {
    const { elevation } = this;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const kept = yield* partOf(this.#with.steps(elevation, local), 0, 0.7);
    const shape = withUptake(kept, uptakeM3, eventDuration(plan.lotfall).hours);
    const rainMm = eventDepthMm(plan.lotfall);
    const storm = yield* partOf(stormSteps(shape, local, rainMm), 0.7, 1);
    return { elevation, local, shape, storm };
  }

  /** The same storm on the ground without basins. */
  *#beforeSteps(plan: Plan): Steps<Pick<WaterPicture, 'before' | 'depthBeforeM'>> {
    if (!plan.features.some((feature) => feature.properties.kind === 'basin')) {
      return { before: null, depthBeforeM: null };
    }
    const { local, shape, storm } = yield* this.#bareSteps(plan, this.#without);
    const lot = shape.ground.lots.findIndex(({ own }) => own);
    return {
      before: lot === -1 ? null : ledger(shape, storm, local, lot),
      depthBeforeM: storm.depthM.slice(),
    };
  }

  /** The plan without its basins, and the same storm on its ground. */
  *#bareSteps(plan: Plan, kept: KeptGround): Steps<Stormed> {
    const local = bareOf(plan, this.elevation);
    const shape = yield* partOf(kept.steps(this.elevation, local), 0, 0.7);
    const rainMm = eventDepthMm(plan.lotfall);
    const storm = yield* partOf(stormSteps(shape, local, rainMm), 0.7, 1);
    return { local, shape, storm };
  }

  get elevation(): Elevation {
    if (this.#elevation !== null) return this.#elevation;
    throw new InputError({
      code: 'no-elevation',
      where: 'elevation',
      problem: 'no elevation has been read for this place yet',
      remedy: 'open an elevation GeoTIFF that covers the lot',
    });
  }
}

/** The plan without its basins. */
function bareOf(plan: Plan, { grid }: Elevation): LocalPlan {
  const features = plan.features.filter((feature) => feature.properties.kind !== 'basin');
  return toLocal({ ...plan, features }, makeFrame(grid.frame));
}

/** The same for plans that make the same ground and storm without their basins. */
function bareKey({ features, lotfall }: Plan): string {
  return JSON.stringify([
    features.filter((feature) => feature.properties.kind !== 'basin'),
    { ...lotfall, site_weights: null },
  ]);
}

/** Lets a call through at once, and then one in so many milliseconds. */
function nowAndThen<T>(call: (value: T) => void): (value: T) => void {
  let last = -Infinity;
  return (value) => {
    const now = performance.now();
    if (now - last < soFarEveryMs) return;
    last = now;
    call(value);
  };
}

/** The middle of a raster, as far as a first look needs. */
function middleOf({ bounds }: ElevationDescription): LngLatBox {
  const lng = (bounds.west + bounds.east) / 2;
  const lat = (bounds.south + bounds.north) / 2;
  const metresPerDegree = 111_320;
  const dLat = Math.min((bounds.north - bounds.south) / 4, firstLookM / 2 / metresPerDegree);
  const perLng = metresPerDegree * Math.cos((lat * Math.PI) / 180);
  const dLng = Math.min((bounds.east - bounds.west) / 4, firstLookM / 2 / perLng);
  return [lng - dLng, lat - dLat, lng + dLng, lat + dLat];
}
