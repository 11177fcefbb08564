import { patchesOf, toMultiPolygon } from '../../drainage/answer/contributing-area';
import { listedLowSpots } from '../../drainage/answer/listed-low-spots';
import { surfaceRows, type SurfaceRow } from '../../drainage/answer/lot-run-off';
import { overflowCourse, type OverflowCourse } from '../../drainage/answer/overflow-course';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Grid } from '../../elevation/grid';
import type { Progress } from '../../errors';
import type { BasinForm } from '../../ground/basin-form';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { Settings } from '../../plan/schema';
import { designInfiltration, type DesignInfiltration } from '../../soil/design-infiltration';
import { rateBounds } from '../../soil/rate-bounds';
import { greenAmptSoil } from '../../soil/green-ampt-soil';
import { eventDepthMm, thawOf } from '../../storm/event-depth';
import { stormRunOff } from '../../storm/run-off-law';
import { waterEvent } from '../../storm/water-event';
import { formatRain } from '../../units/format';
import { footM, hourS, mmPerHOfMPerS } from '../../units/units';
import { basinAsBuilt, type BasinAsBuilt } from '../form/as-built';
import { basinCatchment, type BasinCatchment } from '../filling/basin-catchment';
import type { BasinToFill } from '../filling/basin-water';
import { insetAreas } from '../form/bowl-storage';
import { inflowByFacet } from '../filling/inflow-between';
import { designedBasin } from './designed-basin';
import type { BasinDesign, BasinNotDug, DesignResult } from './design-result';
import { drainFromFullS } from '../filling/drain-from-full';
import type { ErosionCheck } from '../overflow/erosion';
import { eventInflow, type EventInflow } from '../filling/inflow';
import { fillInSeries, type FilledInSeries, type LinkedBasin } from '../filling/in-series';
import { judgeDrainDown, type DrainJudgement } from './judge-drain-down';
import { judgeOverflow, type JudgedOverflow } from '../overflow/judge-overflow';
import { longRun, type LongRun, type LongRunOptions, type RecordedRain } from '../filling/long-run';
import { nextBasin } from '../overflow/next-basin';
import {
  checkInlet,
  checkNotch,
  inletWidthM,
  ofAnyStorm,
  type NotchCheck,
} from '../overflow/notch';
import { notchFlows, pipesInUse, type NotchFlow } from '../overflow/notch-flow';
import { notchStorm, stormAt, type NotchStorm } from '../overflow/notch-storm';
import type { CrossedLowSpot } from '../overflow/overflow-verdict';
import { sizeBothWays, type SizedBothWays } from '../sizing/size-both-ways';
import {
  areaForShare,
  depthForShare,
  largestHeldMm,
  leastOf,
  sizeBounds,
  type SizingTask,
} from '../sizing/sizing';
import { slowSoilRemedies, type SlowSoilRemedy } from '../sizing/slow-soil';
import { twoYearRain, type TwoYearRain } from '../filling/two-year-rain';
import { weirCoefficients } from '../form/weir';

/** A plan's basins on their ground, in the plan's storm or thaw. */
export interface DesignQuestion {
  /** Bare heights as read. */
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  /** The ground with the basins cut in, and the event on it. */
  readonly shape: ShapedGround;
  readonly storm: StormOnGround;
  /** Share of the inflow that is to be captured; nine tenths when not given (our choice, no source). */
  readonly wantedShare?: number;
  /** Measured rain to send through each basin as well. */
  readonly record?: RecordedRain;
  readonly longRun?: LongRunOptions;
  readonly onProgress?: Progress;
}

const usualShare = 0.9;
/** Largest area that a slow soil's remedy may take: 300 ft2, above which gardens are better split (Wisconsin, summary, seen). */
const mostAreaM2 = 300 * footM ** 2;
/** How long standing water is followed after the event: two weeks, beyond the days that mosquitoes need. */
const horizonH = 336;

/** Everything about one basin that goes into its document. */
export interface WorkedBasin {
  readonly feature: LocalFeature<'basin'>;
  readonly built: BasinAsBuilt;
  /** Over the datum of the elevation. */
  readonly levels: { readonly rimM: number; readonly sillM: number; readonly floorM: number };
  readonly toLngLat: LocalPlan['frame']['toLngLat'];
  readonly catchment: BasinCatchment;
  /** The ground of the catchment by what covers it. */
  readonly surfaces: readonly SurfaceRow[];
  readonly own: EventInflow;
  readonly filled: FilledInSeries;
  readonly kind: 'storm' | 'thaw';
  readonly rainMm: number;
  readonly rateKnown: boolean;
  readonly fromFullS: number | null;
  readonly judgement: DrainJudgement;
  readonly rain2y: TwoYearRain;
  /** Inflow by another rule of routing over that by the usual one; `null` where they agree. */
  readonly byFacet: number | null;
  readonly overflow: JudgedOverflow;
  readonly inlets: OverflowCourse['inlets'];
  readonly toBasin: string | null;
  readonly notchStorm: NotchStorm;
  readonly notchFlow: NotchFlow;
  readonly notch: NotchCheck;
  readonly inlet: InletVerdict;
  /** Least rain of the plan's storm, spread as it is, in which each fails; `null` where none looked at does. */
  readonly failsFromMm: Readonly<Record<'notch' | 'erosion' | 'inlet', number | null>>;
  readonly wantedShare: number;
  readonly both: SizedBothWays | null;
  readonly drainedM2: readonly number[];
  readonly areaForShareM2: number | null;
  readonly depthForShareM: number | null;
  readonly largestHeldMm: number | null;
  readonly remedies: readonly SlowSoilRemedy[];
  readonly longRun: LongRun | null;
}

/**
 * Works out every basin of a plan: form, what drains to it, filling and draining over the event, overflow, sizing,
 * quantities. The page and the command line both ask here.
 *
 * @returns `basins` empty when the plan has none. Plain data, ready for JSON.
 * @throws {InputError} what the plan's storm throws; `basins-in-a-circle`.
 * Cost: about a quarter of a second for a basin on a grid of 300 x 300 cells, most of it for shaping its ground.
 */
export function designBasins(question: DesignQuestion): DesignResult {
  const { plan, elevation, onProgress } = question;
  const { lotfall } = plan.plan;
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const infiltration = designInfiltration(lotfall.soil, tests);
  const floor = greenAmptSoil(infiltration, lotfall.soil);
  const event = waterEvent(lotfall);

  const notDug = new Map<string, BasinNotDug>();
  const built: BasinAsBuilt[] = [];
  plan.of.basin.forEach((feature, i) => {
    onProgress?.(i / plan.of.basin.length, `Working out ${nameOf(feature)}`);
    const made = basinAsBuilt(elevation, plan, feature.id);
    // in fine cells it may be dug, and yet be smaller than one of the ground that water is followed over
    const why = 'notDug' in made ? made.notDug : notCut(question.shape, feature.id);
    if (why !== null) {
      notDug.set(feature.id, { id: feature.id, name: nameOf(feature), not_dug: why });
    } else if (!('notDug' in made)) built.push(made);
  });
  const parts = built.flatMap((each) => partsOf(question, each, floor?.soil ?? null, lotfall));
  const filled = fillInSeries(
    parts.map(({ linked }) => linked),
    { horizonH, halved: true },
  );

  const flows = notchFlows(
    parts.map(({ linked, atNotch }) => ({ ...linked, inflow: atNotch.inflow })),
  );
  const inStorm = notchFlowsByDepth(parts, lotfall);
  const spots = parts.length === 0 ? [] : crossedLowSpots(question.shape, plan);
  const byFacet = inflowByFacet(
    question.shape,
    question.storm,
    plan,
    parts.map(({ form }) => form),
  );
  const worked = parts.map((part, i): WorkedBasin => ({
    ...workOut(
      question,
      part,
      filled[i],
      { flow: flows[i], inStorm: (rainMm) => inStorm(rainMm)[i] },
      infiltration,
      event.kind,
      spots,
    ),
    byFacet: byFacet[i],
  }));
  const designs = new Map<string, BasinDesign | BasinNotDug>(notDug);
  for (const each of worked) {
    designs.set(each.feature.id, designedBasin(each, lotfall.prices));
  }
  return {
    basins: plan.of.basin.flatMap(({ id }) => designs.get(id) ?? []),
    soil: {
      rate_mm_per_h:
        infiltration.rateMPerS === null ? null : infiltration.rateMPerS * mmPerHOfMPerS,
      from: infiltration.from,
      factor: infiltration.factor,
      suction_m: floor?.soil.suctionM ?? null,
      deficit: floor?.soil.deficit ?? null,
      source: infiltration.source,
      notes: [...infiltration.notes, ...(floor?.notes ?? [])],
    },
    notes: event.notes,
  };
}

/** Why a basin is not cut into the ground; `null` where it is. */
function notCut({ ground }: ShapedGround, basinId: string): string | null {
  if (ground.basins.some(({ id }) => id === basinId)) return null;
  const edit = ground.edits.find(({ id, kind }) => id === basinId && kind === 'basin');
  return edit?.notes.at(0) ?? 'Not dug: it is not in the ground.';
}

/** How fast water comes in, and what that does. */
type InletVerdict = Omit<ErosionCheck, 'advice'> & Pick<NotchCheck, 'why'>;

/** A basin with its water, before it is filled. */
interface Part {
  readonly feature: LocalFeature<'basin'>;
  readonly built: BasinAsBuilt;
  readonly form: BasinForm;
  readonly catchment: BasinCatchment;
  readonly own: EventInflow;
  readonly linked: LinkedBasin;
  readonly rain2y: TwoYearRain;
  /** The storm that the notch is made for, what it brings, and what is in the pipes then. */
  readonly atNotch: {
    readonly storm: NotchStorm;
    readonly inflow: EventInflow;
    readonly inUseM3PerS: ReadonlyMap<string, number>;
  };
}

/** What comes to the notches and leaves by them in a storm of any depth, spread as the plan's own; each depth once. */
function notchFlowsByDepth(
  parts: readonly Part[],
  lotfall: Settings,
): (rainMm: number) => NotchFlow[] {
  const known = new Map<number, NotchFlow[]>();
  return (rainMm) => {
    let flows = known.get(rainMm);
    if (flows === undefined) {
      const event = waterEvent(stormAt(lotfall, rainMm));
      flows = notchFlows(
        parts.map(({ linked, catchment }) => ({
          ...linked,
          inflow: eventInflow(catchment, event),
        })),
      );
      known.set(rainMm, flows);
    }
    return flows;
  };
}

/** What a notch meets: the storm that it is made for, and a storm of any depth. */
interface AtNotch {
  readonly flow: NotchFlow;
  readonly inStorm: (rainMm: number) => NotchFlow;
}

function partsOf(
  { plan, shape, storm }: DesignQuestion,
  built: BasinAsBuilt,
  subsoil: BasinToFill['subsoil'],
  lotfall: Settings,
): Part[] {
  const feature = plan.of.basin.find(({ id }) => id === built.id);
  const form = shape.ground.basins.find(({ id }) => id === built.id);
  if (feature === undefined || form === undefined) return [];
  const others = shape.ground.basins.filter(({ id }) => id !== built.id);
  const rain2y = twoYearRain(lotfall);
  const catchment = basinCatchment(shape, storm, form, others, rain2y.rainMm);
  const own = eventInflow(catchment, waterEvent(lotfall));
  const rarer = notchStorm(lotfall, feature.feature.properties.notch_rain_mm);
  const atNotch = {
    storm: rarer,
    inflow: eventInflow(catchment, waterEvent(rarer.settings)),
    inUseM3PerS: pipesInUse(storm, rarer.settings),
  };
  const basin: BasinToFill = {
    storage: built.storage,
    layers: built.layers.layers,
    subsoil,
    underdrain: feature.feature.properties.underdrain,
    notch: {
      coefficient: weirCoefficients.grass.metric,
      widthM: built.finished.form.overflowWidthM,
    },
  };
  const [alone] = notchFlows([{ id: built.id, basin, inflow: atNotch.inflow, overflowsTo: null }]);
  const course = overflowCourse(shape, plan, form, alone.overflowM3PerS, atNotch.inUseM3PerS);
  const overflowsTo = nextBasin(shape, course, others);
  return [
    {
      feature,
      built,
      form,
      catchment,
      own,
      linked: { id: built.id, basin, inflow: own, overflowsTo },
      rain2y,
      atNotch,
    },
  ];
}

function workOut(
  question: DesignQuestion,
  { feature, built, form, catchment, own, linked, rain2y, atNotch }: Part,
  filled: FilledInSeries,
  { flow: notchFlow, inStorm }: AtNotch,
  infiltration: DesignInfiltration,
  kind: 'storm' | 'thaw',
  spots: readonly CrossedLowSpot[],
): Omit<WorkedBasin, 'byFacet'> {
  const { plan, shape, wantedShare = usualShare, record } = question;
  const { lotfall } = plan.plan;
  const { basin } = linked;
  const rateKnown = infiltration.rateMPerS !== null;
  const bounds = rateBounds(infiltration, lotfall.soil);
  const fromFullS = drainFromFullS(basin, { horizonH });
  const { summary } = filled;
  const judgement = judgeDrainDown(
    {
      afterRainH: summary.drainDownS === null ? null : summary.drainDownS / hourS,
      fromFullH: fromFullS === null ? null : fromFullS / hourS,
      followedH: horizonH,
      event: kind,
      rateKnown,
      fastestH:
        bounds.by === 'measured' ? undefined : form.pondingDepthM / bounds.mostMPerS / hourS,
      byMap: bounds.by === 'group',
    },
    lotfall.soil,
  );
  const course = overflowCourse(shape, plan, form, notchFlow.overflowM3PerS, atNotch.inUseM3PerS);
  const { finished } = built;
  const { datumM } = shape.ground.grid;
  const { sideSlope } = finished.form;
  const checkedAt = (peakM3PerS: number): NotchCheck =>
    checkNotch({
      widthM: finished.form.overflowWidthM,
      freeboardM: finished.form.freeboardM,
      sideSlope,
      peakM3PerS,
    });
  const inletAt = (peakM3PerS: number): InletVerdict => {
    const task = { peakM3PerS, widthM: inletWidthM, slope: built.ponding.slope ?? 0 };
    const { advice, ...check } = checkInlet(task, sideSlope);
    return { ...check, why: advice };
  };
  const failsFrom = (fails: (flow: NotchFlow) => boolean): number | null =>
    leastOf((rainMm) => fails(inStorm(Math.round(rainMm))), ...sizeBounds.rainMm);
  const failsFromMm = {
    notch: failsFrom(({ overflowM3PerS }) => checkedAt(overflowM3PerS).result === 'fail'),
    erosion: failsFrom(({ overflowM3PerS }) => checkedAt(overflowM3PerS).erosion.result === 'fail'),
    inlet: failsFrom(({ runOnM3PerS }) => inletAt(runOnM3PerS).result === 'fail'),
  };
  const { units = 'metric' } = lotfall;
  const inAnyStorm = <T extends Pick<NotchCheck, 'result' | 'why'>>(
    atPeak: T,
    fromMm: number | null,
  ): T =>
    atNotch.storm.isEnough
      ? atPeak
      : ofAnyStorm(atPeak, fromMm === null ? null : formatRain(fromMm, units));
  const atPeak = checkedAt(notchFlow.overflowM3PerS);
  const notch = {
    ...inAnyStorm(atPeak, failsFromMm.notch),
    erosion: inAnyStorm(atPeak.erosion, failsFromMm.erosion),
  };
  const inlet = inAnyStorm(inletAt(notchFlow.runOnM3PerS), failsFromMm.inlet);

  const task = sizingTask(built, basin, filled);
  const drained = [
    ...catchment.roofs.map(({ areaM2, distanceM }) => ({ areaM2, fromDownspoutM: distanceM })),
    { areaM2: catchment.groundM2, fromDownspoutM: Infinity },
  ].filter(({ areaM2 }) => areaM2 > 0);
  const soil = infiltration.soil.broad;
  const rainMm = eventDepthMm(lotfall);
  const runOffShare =
    (own.fromGroundM3 + own.fromRoofsM3) / Math.max(1e-9, (catchment.areaM2 * rainMm) / 1000);
  return {
    feature,
    built,
    levels: {
      rimM: datumM + form.rimM,
      sillM: datumM + form.overflowM,
      floorM: datumM + form.floorM,
    },
    toLngLat: plan.frame.toLngLat,
    catchment,
    surfaces: surfaceRows(question.storm, lotfall, catchment.areasByClass),
    own,
    filled,
    kind,
    rainMm,
    rateKnown,
    fromFullS,
    judgement,
    rain2y,
    overflow: judgeOverflow(course, plan, feature.id, spots),
    inlets: course.inlets,
    toBasin: linked.overflowsTo?.id ?? null,
    notchStorm: atNotch.storm,
    notchFlow,
    notch,
    inlet,
    failsFromMm,
    wantedShare,
    both:
      soil === null || drained.length === 0
        ? null
        : sizeBothWays(task, soil, drained, wantedShare, Math.max(0.01, runOffShare), units),
    drainedM2: drained.map(({ areaM2 }) => areaM2),
    areaForShareM2: areaForShare(task, wantedShare),
    depthForShareM: depthForShare(task, wantedShare),
    largestHeldMm:
      thawOf(lotfall) === null
        ? largestHeldMm(basin, (depthMm) => inflowOfStorm(catchment, lotfall, depthMm))
        : null,
    remedies:
      rateKnown && (judgement.judgedH === null || judgement.judgedH > judgement.limitH)
        ? slowSoilRemedies(task, {
            limitH: judgement.limitH,
            wantedShare: Math.min(wantedShare, Math.max(0.01, summary.capturedShare)),
            mostAreaM2: Math.max(mostAreaM2, built.finished.rimAreaM2),
            units,
          })
        : [],
    longRun:
      record === undefined
        ? null
        : longRun(basin, longRunParts(catchment), record, {
            ...question.longRun,
            heldBackM3: catchment.groups.reduce((sum, { heldBackM3 }) => sum + heldBackM3, 0),
          }),
  };
}

function sizingTask(
  built: BasinAsBuilt,
  basin: BasinToFill,
  { inflow }: FilledInSeries,
): SizingTask {
  const { form, rimAreaM2, shape } = built.finished;
  const { layers, subsoil, underdrain, notch } = basin;
  return {
    layers,
    subsoil,
    underdrain,
    notch,
    inflow,
    outline: insetAreas(shape.rim),
    bowl: {
      areaM2: rimAreaM2,
      pondingDepthM: form.pondingDepthM,
      freeboardM: form.freeboardM,
      sideSlope: form.sideSlope,
    },
  };
}

/** The inflow of the plan's storm at another depth; low spots on the way are taken to hold back as much as in its own. */
function inflowOfStorm(catchment: BasinCatchment, lotfall: Settings, depthMm: number): EventInflow {
  return eventInflow(catchment, waterEvent(stormAt(lotfall, depthMm)));
}

function longRunParts(catchment: BasinCatchment): Parameters<typeof longRun>[1] {
  return catchment.groups.flatMap(({ parts }) =>
    parts.map(({ surface, byMinuteM2, barrelM3 }) => ({
      areaM2: byMinuteM2.reduce((sum, areaM2) => sum + areaM2, 0),
      runOffMm: stormRunOff(surface, 'average'),
      barrelM3,
    })),
  );
}

/** The low spots of the ground that are worth listing, with their outlines. */
function crossedLowSpots(shape: ShapedGround, plan: LocalPlan): CrossedLowSpot[] {
  const { grid } = shape.ground;
  const mask = new Uint8Array(grid.z.length);
  return listedLowSpots(shape.ground, shape.terrain).map(({ key, cells }) => {
    for (const cell of cells) mask[cell] = 1;
    const outline = toMultiPolygon(patchesOf(grid, mask), plan.frame);
    for (const cell of cells) mask[cell] = 0;
    return { id: key, outline };
  });
}

function nameOf({ id, feature }: LocalFeature<'basin'>): string {
  return feature.properties.name ?? id;
}
