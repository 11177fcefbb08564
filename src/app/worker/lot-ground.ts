import { withUptake } from '../../../lib/drainage/storm/basin-uptake';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { listedLowSpots, type ListedLowSpot } from '../../../lib/drainage/answer/listed-low-spots';
import { pondingAt } from '../../../lib/drainage/storm/ponding';
import { probePoint, type PointAnswer } from '../../../lib/drainage/answer/probe-point';
import { spillOrderSteps } from '../../../lib/drainage/answer/spill-order';
import { designSurvey } from '../../../lib/basin/design/design-survey';
import { jobDocuments, type JobDocuments } from '../../../lib/handover/job/job-documents';
import type { ShapedGround } from '../../../lib/drainage/storm/shaped-ground';
import { standingOnLot, standsOnLotM3 } from '../../../lib/drainage/answer/standing-on-lot';
import { standingRows } from '../../../lib/drainage/answer/standing-rows';
import { partOf, withPauses, type Steps } from '../../../lib/drainage/steps';
import { stormSteps } from '../../../lib/drainage/storm/storm-on-ground';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { Cancelled, throwIfCancelled, type Progress } from '../../../lib/errors';
import { makeFrame, type LngLat } from '../../../lib/frame/frame';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import type { Change } from '../../../lib/plan/change';
import type { Plan } from '../../../lib/plan/schema';
import { remedySteps } from '../../../lib/remedies/remedies';
import type { Proposal, RemediesResult } from '../../../lib/remedies/remedies-result';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { askLot, findSites, type SitesQuestion } from '../../../lib/siting/answer/find-sites';
import { expectNearLot } from '../../../lib/siting/answer/near-lot';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { eventDuration } from '../../../lib/storm/event-duration';
import type { DifferenceDoubt } from '../../../lib/drainage/certainty/difference-doubt';
import type { ErrorModel } from '../../../lib/drainage/height-error/error-field';
import type {
  ContourLine,
  ExistingState,
  PlacesTerms,
  PondingPicture,
  ProfilePicture,
  SpillRain,
  WaterPicture,
  RemedyPicture,
} from './analysis-api';
import { designPicture, type DesignPicture, type OpenedRecord } from './design-picture';
import { contourLines } from './ground-picture';
import { KeptGround } from './kept-ground';
import {
  askedPlace,
  foundPlace,
  placesPicture,
  type AskedPlace,
  type PlacesPicture,
} from './places-picture';
import { profilePicture } from './profile-picture';
import { remedyPictureSteps } from './remedy-picture';
import { isQuickFor, quickRain, type QuickRain } from './quick-rain';
import { pauseNowAndThen, type Turns } from './turns';
import { TwoStates } from './two-states';
import { waterSteps, type Stormed } from './water-picture';

/** Places found so far are told this often, milliseconds. */
const soFarEveryMs = 250;

/** The ground and storm that places were last looked for on, and what the search found could be caught at most. */
interface BareGround {
  readonly key: string;
  readonly stormed: Stormed;
  reachableM3: number | undefined;
}

/**
 * The ground of one survey with all that is kept of it from question to question: nothing of another elevation can get
 * into it. What shapes or pours on its buffers does so in turn.
 */
export class LotGround {
  /** The survey that read it. */
  readonly number: number;
  /** The file that it was read from. */
  readonly file: number;
  readonly #elevation: Elevation;
  readonly #turns: Turns;
  /** With and without the plan's basins. */
  readonly #with: KeptGround;
  readonly #without: KeptGround;
  readonly #states: TwoStates;
  #quick: QuickRain | null = null;
  #bare: BareGround | null = null;

  constructor(number: number, file: number, survey: Survey, turns: Turns) {
    this.number = number;
    this.file = file;
    this.#elevation = survey.elevation;
    this.#turns = turns;
    this.#with = new KeptGround(survey.elevation);
    this.#with.take(survey.shape, survey.plan);
    this.#without = new KeptGround(survey.elevation);
    this.#states = new TwoStates(survey.elevation);
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

  /** The answer for the plan as it stands today. */
  existing(plan: Plan, signal: AbortSignal, onProgress: Progress): Promise<ExistingState> {
    return this.#inSteps(this.#states.existingSteps(plan), signal, onProgress);
  }

  /** How far the error of the heights moves what differs between the two states; others take their turns meanwhile. */
  differenceDoubt(
    plan: Plan,
    uptakeM3: ReadonlyMap<string, number>,
    errors: ErrorModel,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<ReadonlyMap<string, DifferenceDoubt>> {
    const steps = this.#states.doubtSteps(plan, uptakeM3, errors);
    return withPauses(steps, pauseNowAndThen(), { signal, onProgress });
  }

  /** Work on a plan and its ground as a whole; what shares the ground waits until it is done. */
  onSurvey<T>(plan: Plan, signal: AbortSignal, work: (survey: Survey) => Promise<T>): Promise<T> {
    const elevation = this.#elevation;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    return this.#turns.take(async () => {
      const shape = await withPauses(this.#with.steps(local), pauseNowAndThen(), { signal });
      return work({ elevation, plan: local, shape });
    });
  }

  probe(plan: Plan, at: LngLat, signal: AbortSignal): Promise<PointAnswer | null> {
    return this.#inSteps(this.#probeSteps(plan, at), signal);
  }

  contours({ lotfall }: Plan): ContourLine[] {
    return contourLines(this.#elevation, lotfall.units ?? 'metric');
  }

  /** Heights along a line, on the ground as it was read and as a plan has it. */
  async profile(plan: Plan, line: readonly LngLat[], signal: AbortSignal): Promise<ProfilePicture> {
    const { grid } = this.#elevation;
    const shape = await this.#inSteps(
      this.#with.steps(toLocal(plan, makeFrame(grid.frame))),
      signal,
    );
    return profilePicture(grid, shape.ground, line);
  }

  /**
   * The rain at which low spots begin to spill, whatever the depth of the plan's storm: of the low spots of the own lot,
   * or of all where there is none. It takes many turns, each short, so that what is asked meanwhile need not wait.
   *
   * @throws {Cancelled} also where the ground has been shaped for another plan meanwhile.
   */
  async spills(plan: Plan, signal: AbortSignal): Promise<SpillRain[]> {
    const local = toLocal(plan, makeFrame(this.#elevation.grid.frame));
    const shape = await this.#inSteps(this.#with.steps(local), signal);
    const spots = spotsToFill(shape);
    const steps = spillOrderSteps(shape, local, spots);
    const pause = pauseNowAndThen();
    for (;;) {
      const next = await this.#turns.take(() => {
        throwIfCancelled(signal);
        if (!this.#with.holds(shape)) throw new Cancelled();
        return Promise.resolve(steps.next());
      });
      if (next.done === true) {
        return spots.map(({ key }, i) => ({ id: key, spillsFromMm: next.value[i] }));
      }
      await pause();
    }
  }

  *#drainSteps(plan: Plan, uptakeM3: ReadonlyMap<string, number>): Steps<WaterPicture> {
    const { elevation, ...stormed } = yield* partOf(this.#stormSteps(plan, uptakeM3), 0, 0.4);
    const water = yield* partOf(waterSteps(stormed, elevation.systemName), 0.4, 0.8);
    return { ...water, ...(yield* partOf(this.#beforeSteps(plan), 0.8, 1)) };
  }

  *#pondingSteps(plan: Plan, uptakeM3: ReadonlyMap<string, number>): Steps<PondingPicture> {
    const elevation = this.#elevation;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const shape = yield* this.#with.steps(local);
    if (!isQuickFor(this.#quick, shape, plan)) this.#quick = quickRain(shape, local);
    const { ready, spots } = this.#quick;
    const taking = withUptake(shape, uptakeM3, eventDuration(plan.lotfall).hours);
    const rainMm = eventDepthMm(plan.lotfall);
    const ponding = pondingAt({ ...ready, shape: taking }, local, rainMm);
    const standing = standingRows(shape, ponding, spots);
    return {
      rainMm,
      depthM: ponding.depthM,
      standing,
      standingOnLot: standingOnLot(standsOnLotM3(shape, ponding.depthM), standing),
    };
  }

  *#probeSteps(plan: Plan, at: LngLat): Steps<PointAnswer | null> {
    const { local, shape, storm } = yield* this.#stormSteps(plan);
    return probePoint(shape, storm, local, at);
  }

  /** Looks over the whole lot for places, on the ground as it is without any basin. */
  async places(
    plan: Plan,
    terms: PlacesTerms,
    signal: AbortSignal,
    onProgress: Progress,
    onPlaces: (soFar: PlacesPicture) => void,
  ): Promise<PlacesPicture> {
    const bare = await this.#bareGround(plan, signal, onProgress);
    const asked = this.#sitesQuestion(bare, plan, terms);
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
    bare.reachableM3 = found.reachable_m3 > 0 ? found.reachable_m3 : undefined;
    return placesPicture(found, frame);
  }

  /** Why a basin can lie at a place, or why not; its score is by the last search. */
  async askPlace(
    plan: Plan,
    terms: PlacesTerms,
    at: LngLat,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<AskedPlace> {
    expectNearLot(plan, at);
    const bare = await this.#bareGround(plan, signal, onProgress);
    const asked = this.#sitesQuestion(bare, plan, terms);
    const { frame } = asked.plan;
    return askedPlace(askLot(asked, frame.toLocal(at), bare.reachableM3), at, frame);
  }

  /**
   * The ground of a plan without its basins, in buffers of its own that are never written over: a search on it goes on
   * beside what others do on theirs.
   */
  async #bareGround(plan: Plan, signal: AbortSignal, onProgress: Progress): Promise<BareGround> {
    const key = bareKey(plan);
    if (this.#bare?.key === key) return this.#bare;
    const kept = new KeptGround(this.#elevation);
    const stormed = await this.#inSteps(this.#bareSteps(plan, kept), signal, onProgress);
    this.#bare = { key, stormed, reachableM3: undefined };
    return this.#bare;
  }

  #sitesQuestion(
    { stormed }: BareGround,
    plan: Plan,
    { today, basins }: PlacesTerms,
  ): SitesQuestion {
    const elevation = this.#elevation;
    const { shape, storm } = stormed;
    return { elevation, plan: bareOf(plan, elevation), shape, storm, today, basins };
  }

  /** Tries what would dry wet walls, in buffers of its own; others take their turns meanwhile. */
  async remedies(
    plan: Plan,
    today: string,
    signal: AbortSignal,
    onProgress: Progress,
    onProposal: (proposal: Proposal) => void,
  ): Promise<RemediesResult> {
    const elevation = this.#elevation;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const pause = pauseNowAndThen();
    const shape = await withPauses(new KeptGround(elevation).steps(local), pause, { signal });
    const ruleSet = ruleSetOf(plan.lotfall);
    const steps = remedySteps({ elevation, plan: local, shape, ruleSet, today });
    for (;;) {
      throwIfCancelled(signal);
      const next = steps.next();
      if (next.done === true) return next.value;
      const { fraction, stage, proposal } = next.value;
      onProgress(fraction, stage);
      if (proposal !== undefined) onProposal(proposal);
      await pause();
    }
  }

  /** The answer for a plan with a change that is not in it yet; others take their turns meanwhile. */
  withRemedy(
    plan: Plan,
    change: Change,
    signal: AbortSignal,
    onProgress: Progress,
  ): Promise<RemedyPicture> {
    const steps = remedyPictureSteps(this.#elevation, plan, change);
    return withPauses(steps, pauseNowAndThen(), { signal, onProgress });
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

  /** Orders, steps and plants of a plan's gardens, by what it says of its job. */
  job(plan: Plan, today: string, signal: AbortSignal): Promise<JobDocuments> {
    return this.onSurvey(plan, signal, (survey) =>
      Promise.resolve(
        jobDocuments({
          plan: survey.plan,
          elevation: survey.elevation.grid,
          ...designSurvey(survey),
          today,
        }),
      ),
    );
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
    const elevation = this.#elevation;
    const local = toLocal(plan, makeFrame(elevation.grid.frame));
    const kept = yield* partOf(this.#with.steps(local), 0, 0.7);
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
    const local = bareOf(plan, this.#elevation);
    const shape = yield* partOf(kept.steps(local), 0, 0.7);
    const rainMm = eventDepthMm(plan.lotfall);
    const storm = yield* partOf(stormSteps(shape, local, rainMm), 0.7, 1);
    return { local, shape, storm };
  }
}

/** Low spots that are filled one after the other; those that hold most come first. Our choice: more would crowd any scale. */
const mostSpots = 30;

/** The low spots of the own lot, or all where there is none. */
function spotsToFill({ ground, terrain }: ShapedGround): ListedLowSpot[] {
  const own = ground.lots.findIndex((lot) => lot.own);
  return listedLowSpots(ground, terrain)
    .filter(({ pitCell }) => own === -1 || ground.lotOf[pitCell] === own)
    .slice(0, mostSpots);
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
