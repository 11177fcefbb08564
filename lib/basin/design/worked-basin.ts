import { surfaceRows, type SurfaceRow } from '../../drainage/answer/lot-run-off';
import { overflowCourse, type OverflowCourse } from '../../drainage/answer/overflow-course';
import type { ShapedGround } from '../../drainage/storm/shaped-ground';
import type { StormOnGround } from '../../drainage/storm/storm-on-ground';
import type { Grid } from '../../elevation/grid';
import type { Progress } from '../../errors';
import type { BasinForm } from '../../ground/basin-form';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { Settings } from '../../plan/schema';
import type { DesignInfiltration } from '../../soil/design-infiltration';
import { rateBounds } from '../../soil/rate-bounds';
import { eventDepthMm, thawOf } from '../../storm/event-depth';
import { stormRunOff } from '../../storm/run-off-law';
import { waterEvent } from '../../storm/water-event';
import { formatRain } from '../../units/format';
import { footM, hourS } from '../../units/units';
import { basinCatchment, waterToBasin, type BasinCatchment } from '../filling/basin-catchment';
import type { BasinToFill } from '../filling/basin-water';
import { drainFromFullS } from '../filling/drain-from-full';
import { eventInflow, type EventInflow } from '../filling/inflow';
import type { FilledInSeries, LinkedBasin } from '../filling/in-series';
import { longRun, type LongRun, type LongRunOptions, type RecordedRain } from '../filling/long-run';
import { twoYearRain, type TwoYearRain } from '../filling/two-year-rain';
import type { BasinAsBuilt } from '../form/as-built';
import { insetAreas } from '../form/bowl-storage';
import { weirCoefficients } from '../form/weir';
import type { ErosionCheck } from '../overflow/erosion';
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
import { overflowVerdicts, type JudgedOverflow } from '../overflow/overflow-verdicts';
import { sizingSoil, type SizingSoil } from '../form/size-factors';
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
import { judgeDrainDown, type DrainJudgement } from './judge-drain-down';

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
  /** Told each basin as it is built, for its drawings. */
  readonly onBuilt?: (built: BasinAsBuilt) => unknown;
}

const usualShare = 0.9;
/** Largest area that a slow soil's remedy may take: 300 ft2, above which gardens are better split (Wisconsin, summary, seen). */
const mostAreaM2 = 300 * footM ** 2;

/** How long standing water is followed after the event: two weeks, beyond the days that mosquitoes need. */
export const horizonH = 336;

/** How fast water comes in, and what that does. */
type InletVerdict = Omit<ErosionCheck, 'advice'> & Pick<NotchCheck, 'why'>;

/** What notch and inlet bear. */
interface CheckedWays {
  readonly notch: NotchCheck;
  readonly inlet: InletVerdict;
  /** Least rain of the plan's storm, spread as it is, in which each fails; `null` where none looked at does. */
  readonly failsFromMm: Readonly<Record<'notch' | 'erosion' | 'inlet', number | null>>;
}

/** What size would do, and what else. */
interface SizedBasin {
  readonly both: SizedBothWays | null;
  readonly sizingSoil: SizingSoil;
  readonly drainedM2: readonly number[];
  readonly areaForShareM2: number | null;
  readonly depthForShareM: number | null;
  readonly largestHeldMm: number | null;
  readonly remedies: readonly SlowSoilRemedy[];
}

/** Everything about one basin that goes into its document. */
export interface WorkedBasin extends CheckedWays, SizedBasin {
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
  readonly wantedShare: number;
  readonly longRun: LongRun | null;
}

/** A basin with its water, before it is filled. */
export interface BasinWithWater {
  readonly feature: LocalFeature<'basin'>;
  readonly built: BasinAsBuilt;
  readonly form: BasinForm;
  readonly catchment: BasinCatchment;
  readonly own: EventInflow;
  readonly linked: LinkedBasin;
  readonly rain2y: TwoYearRain;
  /** Of the storm that its notch is made for; what other basins send is left out. */
  readonly alone: { readonly course: OverflowCourse; readonly flowM3PerS: number };
  /** The storm that the notch is made for, what it brings, and what is in the pipes then. */
  readonly atNotch: {
    readonly storm: NotchStorm;
    readonly inflow: EventInflow;
    readonly inUseM3PerS: ReadonlyMap<string, number>;
  };
}

/** What a notch meets: the storm that it is made for, and a storm of any depth. */
export interface AtNotch {
  readonly flow: NotchFlow;
  readonly inStorm: (rainMm: number) => NotchFlow;
}

/** What all basins of a question have in common. */
export interface InCommon {
  readonly infiltration: DesignInfiltration;
  readonly kind: 'storm' | 'thaw';
  readonly spots: readonly CrossedLowSpot[];
}

/** A basin in the ground: what it is built as, and what it fills by. */
interface InGround {
  readonly feature: LocalFeature<'basin'>;
  readonly form: BasinForm;
  readonly others: readonly BasinForm[];
  readonly basin: BasinToFill;
}

function inGround(
  { plan, shape }: DesignQuestion,
  built: BasinAsBuilt,
  subsoil: BasinToFill['subsoil'],
): InGround | null {
  const feature = plan.of.basin.find(({ id }) => id === built.id);
  const form = shape.ground.basins.find(({ id }) => id === built.id);
  if (feature === undefined || form === undefined) return null;
  return {
    feature,
    form,
    others: shape.ground.basins.filter(({ id }) => id !== built.id),
    basin: {
      storage: built.storage,
      layers: built.layers.layers,
      subsoil,
      underdrain: feature.feature.properties.underdrain,
      notch: {
        coefficient: weirCoefficients.grass.metric,
        widthM: built.finished.form.overflowWidthM,
      },
    },
  };
}

/** What comes to the only basin of a plan, whose overflow reaches no other; nothing for one that is not in the ground. */
export function onlyBasin(
  question: DesignQuestion,
  built: BasinAsBuilt,
  subsoil: BasinToFill['subsoil'],
  lotfall: Settings,
): LinkedBasin[] {
  const found = inGround(question, built, subsoil);
  if (found === null) return [];
  const { shape, storm } = question;
  const { rainMm } = twoYearRain(lotfall);
  const water = waterToBasin(shape, storm, found.form, [], rainMm);
  const inflow = eventInflow(water, waterEvent(lotfall));
  return [{ id: built.id, basin: found.basin, inflow, overflowsTo: null }];
}

/** What comes to a basin and where its overflow goes; nothing for one that is not in the ground. */
export function withWater(
  question: DesignQuestion,
  built: BasinAsBuilt,
  subsoil: BasinToFill['subsoil'],
  lotfall: Settings,
): BasinWithWater[] {
  const { plan, shape, storm } = question;
  const found = inGround(question, built, subsoil);
  if (found === null) return [];
  const { feature, form, others, basin } = found;
  const rain2y = twoYearRain(lotfall);
  const catchment = basinCatchment(shape, storm, form, others, rain2y.rainMm);
  const own = eventInflow(catchment, waterEvent(lotfall));
  const rarer = notchStorm(lotfall, feature.feature.properties.notch_rain_mm);
  const atNotch = {
    storm: rarer,
    inflow: eventInflow(catchment, waterEvent(rarer.settings)),
    inUseM3PerS: pipesInUse(storm, rarer.settings),
  };
  const [{ overflowM3PerS: flowM3PerS }] = notchFlows([
    { id: built.id, basin, inflow: atNotch.inflow, overflowsTo: null },
  ]);
  const course = overflowCourse(shape, plan, form, flowM3PerS, atNotch.inUseM3PerS);
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
      alone: { course, flowM3PerS },
      atNotch,
    },
  ];
}

/**
 * Everything about a basin that has been filled.
 *
 * @param byFacet - as in `WorkedBasin`.
 */
export function workOut(
  question: DesignQuestion,
  part: BasinWithWater,
  filled: FilledInSeries,
  met: AtNotch,
  common: InCommon,
  byFacet: number | null,
): WorkedBasin {
  const { plan, shape, wantedShare = usualShare } = question;
  const { lotfall } = plan.plan;
  const { feature, built, form, catchment, own, linked, alone, atNotch } = part;
  const { datumM } = shape.ground.grid;
  const { infiltration, kind } = common;
  const fromFullS = drainFromFullS(linked.basin, { horizonH });
  const judgement = judged(form, filled, fromFullS, common, lotfall.soil);
  const flowM3PerS = met.flow.overflowM3PerS;
  // followed anew only where other basins add to it
  const course =
    flowM3PerS === alone.flowM3PerS
      ? alone.course
      : overflowCourse(shape, plan, form, flowM3PerS, atNotch.inUseM3PerS);
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
    rainMm: eventDepthMm(lotfall),
    rateKnown: infiltration.rateMPerS !== null,
    fromFullS,
    judgement,
    rain2y: part.rain2y,
    byFacet,
    overflow: overflowVerdicts(course, plan, feature.id, common.spots),
    inlets: course.inlets,
    toBasin: linked.overflowsTo?.id ?? null,
    notchStorm: atNotch.storm,
    notchFlow: met.flow,
    ...checkedWays(built, atNotch.storm, met, lotfall),
    wantedShare,
    ...sized(part, filled, judgement, infiltration, wantedShare, lotfall),
    longRun: overYears(question, part),
  };
}

function judged(
  { pondingDepthM }: BasinForm,
  { summary: { drainDownS } }: FilledInSeries,
  fromFullS: number | null,
  { infiltration, kind }: InCommon,
  soil: Settings['soil'],
): DrainJudgement {
  const bounds = rateBounds(infiltration, soil);
  return judgeDrainDown(
    {
      afterRainH: drainDownS === null ? null : drainDownS / hourS,
      fromFullH: fromFullS === null ? null : fromFullS / hourS,
      followedH: horizonH,
      event: kind,
      rateKnown: infiltration.rateMPerS !== null,
      fastestH: bounds.by === 'measured' ? undefined : pondingDepthM / bounds.mostMPerS / hourS,
      byMap: bounds.by === 'group',
    },
    soil,
  );
}

function checkedWays(
  { finished: { form }, ponding }: BasinAsBuilt,
  { isEnough }: NotchStorm,
  { flow, inStorm }: AtNotch,
  { units = 'metric' }: Settings,
): CheckedWays {
  const { overflowWidthM: widthM, freeboardM, sideSlope } = form;
  const notchAt = ({ overflowM3PerS: peakM3PerS }: NotchFlow): NotchCheck =>
    checkNotch({ widthM, freeboardM, sideSlope, peakM3PerS });
  const inletAt = ({ runOnM3PerS: peakM3PerS }: NotchFlow): InletVerdict => {
    const task = { peakM3PerS, widthM: inletWidthM, slope: ponding.slope ?? 0 };
    const { advice, ...check } = checkInlet(task, sideSlope);
    return { ...check, why: advice };
  };
  const failsFrom = (result: (flow: NotchFlow) => NotchCheck['result']): number | null =>
    leastOf((rainMm) => result(inStorm(Math.round(rainMm))) === 'fail', ...sizeBounds.rainMm);
  const failsFromMm = {
    notch: failsFrom((each) => notchAt(each).result),
    erosion: failsFrom((each) => notchAt(each).erosion.result),
    inlet: failsFrom((each) => inletAt(each).result),
  };
  const inAnyStorm = <T extends Pick<NotchCheck, 'result' | 'why'>>(
    atPeak: T,
    fromMm: number | null,
  ): T =>
    isEnough ? atPeak : ofAnyStorm(atPeak, fromMm === null ? null : formatRain(fromMm, units));
  const atPeak = notchAt(flow);
  return {
    notch: {
      ...inAnyStorm(atPeak, failsFromMm.notch),
      erosion: inAnyStorm(atPeak.erosion, failsFromMm.erosion),
    },
    inlet: inAnyStorm(inletAt(flow), failsFromMm.inlet),
    failsFromMm,
  };
}

function sized(
  { built, catchment, own, linked: { basin } }: BasinWithWater,
  filled: FilledInSeries,
  { judgedH, limitH }: DrainJudgement,
  { rateMPerS, soil: { broad } }: DesignInfiltration,
  wantedShare: number,
  lotfall: Settings,
): SizedBasin {
  const { units = 'metric' } = lotfall;
  const task = sizingTask(built, basin, filled);
  const drained = [
    ...catchment.roofs.map(({ areaM2, distanceM }) => ({ areaM2, fromDownspoutM: distanceM })),
    { areaM2: catchment.groundM2, fromDownspoutM: Infinity },
  ].filter(({ areaM2 }) => areaM2 > 0);
  const runOffShare =
    (own.fromGroundM3 + own.fromRoofsM3) /
    Math.max(1e-9, (catchment.areaM2 * eventDepthMm(lotfall)) / 1000);
  const soil = sizingSoil(broad);
  const both =
    drained.length === 0
      ? null
      : sizeBothWays(task, soil.texture, drained, wantedShare, Math.max(0.01, runOffShare), units);
  const isSlow = rateMPerS !== null && (judgedH === null || judgedH > limitH);
  return {
    both,
    sizingSoil: soil,
    drainedM2: drained.map(({ areaM2 }) => areaM2),
    areaForShareM2: both === null ? areaForShare(task, wantedShare) : both.stormAreaM2,
    depthForShareM: depthForShare(task, wantedShare),
    // low spots on the way are taken to hold back as much as in the plan's own storm
    largestHeldMm:
      thawOf(lotfall) === null
        ? largestHeldMm(basin, (rainMm) =>
            eventInflow(catchment, waterEvent(stormAt(lotfall, rainMm))),
          )
        : null,
    remedies: isSlow
      ? slowSoilRemedies(task, {
          limitH,
          wantedShare: Math.min(wantedShare, Math.max(0.01, filled.summary.capturedShare)),
          mostAreaM2: Math.max(mostAreaM2, built.finished.rimAreaM2),
          units,
        })
      : [],
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

/** The record of rain sent through the basin; `null` without one. */
function overYears(
  { record, longRun: options }: DesignQuestion,
  { catchment: { groups }, linked: { basin } }: BasinWithWater,
): LongRun | null {
  if (record === undefined) return null;
  const parts = groups.flatMap((group) =>
    group.parts.map(({ surface, byMinuteM2, barrelM3 }) => ({
      areaM2: byMinuteM2.reduce((sum, areaM2) => sum + areaM2, 0),
      runOffMm: stormRunOff(surface, 'average'),
      barrelM3,
    })),
  );
  const heldBackM3 = groups.reduce((sum, group) => sum + group.heldBackM3, 0);
  return longRun(basin, parts, record, { ...options, heldBackM3 });
}
