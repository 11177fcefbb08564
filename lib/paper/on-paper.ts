import { drainVerdict, usualDrainLimit } from '../basin/design/judge-drain-down';
import { bowlStorage, insetAreas } from '../basin/form/bowl-storage';
import { assumedSoilNote } from '../basin/form/size-factors';
import { volumeAt } from '../basin/form/stage-storage';
import { drawnButNotJudged } from '../drainage/answer/works-not-judged';
import { freeboardM } from '../ground/basin-form';
import { basinDefaults } from '../ground/ground';
import { featureName } from '../plan/feature-name';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { designInfiltration, type DesignInfiltration } from '../soil/design-infiltration';
import { planSoil } from '../soil/plan-soil';
import { eventDepthMm } from '../storm/event-depth';
import { hourS, mmPerHOfMPerS } from '../units/units';
import type { Verdict } from '../verdict';
import { drainedAreas } from './drained-areas';
import { earthAtWalls, type EarthAtWalls } from './earth-at-walls';
import { depthInTimeM, holeVerdicts, type HoleVerdict } from './hole-verdict';
import { linesOf, type NamedLine } from './lines-on-paper';
import { soakawaysOnPaper, type SoakawayOnPaper } from './soakaways-on-paper';
import { sizeOnPaper, type SizeOnPaper } from './size-on-paper';

/** What a basin holds and how long it stands, with its rim taken as level ground. */
export interface BowlOnPaper {
  readonly basin: string;
  readonly name: string;
  readonly holds_m3: number;
  readonly ponding_depth_m: number;
  /** The ponding depth over the rate for design; null while nothing is known of the soil. */
  readonly empty_after_h: number | null;
  readonly limit_h: number;
  readonly result: Verdict;
}

/** What is not answered without the heights of the ground, and why. */
export interface Unsaid {
  readonly question: string;
  readonly why: string;
}

/** What a plan says before the heights of its ground are known. */
export interface OnPaper {
  readonly elevation: null;
  readonly rain_mm: number;
  readonly soil: Pick<DesignInfiltration, 'from' | 'notes'> & {
    readonly rate_mm_per_h: number | null;
    /** As deep as water may stand to be gone in time at that rate, at most a foot. */
    readonly depth_in_time_m: number | null;
  };
  readonly holes: readonly HoleVerdict[];
  readonly size: SizeOnPaper;
  readonly bowls: readonly BowlOnPaper[];
  readonly soakaways: readonly SoakawayOnPaper[];
  readonly walls: readonly EarthAtWalls[];
  readonly lines: readonly NamedLine[];
  /** Rain on the drained areas that lines are asked to carry, mm in an hour. */
  readonly flow_mm_per_h: number;
  readonly cannot_say: readonly Unsaid[];
  readonly notes: readonly string[];
}

/**
 * Answers without any elevation and without a surface of levels: sizes by published factors, what a test hole says, what a
 * basin holds, earth for the fall at walls, and the fall along lines that have two levels or more.
 *
 * @param file - what to name in a sentence that refuses.
 * @throws {InputError} what reading levels throws (`levels-two-zeros`, ...).
 */
export function onPaper(plan: LocalPlan, file: string): OnPaper {
  const { lotfall } = plan.plan;
  const rainMm = eventDepthMm(lotfall);
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const soil = designInfiltration(lotfall.soil, tests);
  const { broad } = planSoil(lotfall.soil, tests);
  const areas = drainedAreas(plan);
  const size = sizeOnPaper(plan, areas, { broad, rainMm });
  const { lines, flow_mm_per_h } = linesOf(plan, areas, file);
  return {
    elevation: null,
    rain_mm: rainMm,
    soil: {
      from: soil.from,
      notes: soil.notes,
      rate_mm_per_h: soil.rateMPerS === null ? null : soil.rateMPerS * mmPerHOfMPerS,
      depth_in_time_m: soil.rateMPerS === null ? null : depthInTimeM(soil.rateMPerS, lotfall.soil),
    },
    holes: holeVerdicts(tests, lotfall.soil),
    size,
    bowls: plan.of.basin.map((basin) => bowl(basin, plan, soil)),
    soakaways: soakawaysOnPaper(plan, soil),
    walls: earthAtWalls(plan),
    lines,
    flow_mm_per_h,
    cannot_say: unsaid(lines.length > 0),
    notes: [
      ...(tests.length > 0 && soil.from === 'tests'
        ? [
            'The handout’s depth counts what the wall of the hole took as well, the rate for design does not and is divided by a factor besides: the smaller depth is on the safe side.',
          ]
        : []),
      ...drawnButNotJudged(plan.of),
      ...(size.soil_assumed ? [assumedSoilNote] : []),
      ...(areas.length === 0
        ? ['No roof and no paving is drawn, so no size can be given: draw their outlines.']
        : [
            'Sizes are for all of what is listed led to the garden; what really comes there, lawn and neighbours’ ground as well, hangs on the heights.',
          ]),
    ],
  };
}

function bowl(
  { id, feature, shape }: LocalFeature<'basin'>,
  { plan }: LocalPlan,
  { rateMPerS, from }: DesignInfiltration,
): BowlOnPaper {
  const { properties } = feature;
  const pondingDepthM = properties.ponding_depth_m ?? basinDefaults.pondingDepthM;
  const outline = insetAreas(shape.rings[0]);
  const storage = bowlStorage(outline, {
    areaM2: outline.areaM2,
    pondingDepthM,
    freeboardM: properties.freeboard_m ?? freeboardM,
    sideSlope: properties.side_slope ?? basinDefaults.sideSlope,
  });
  const limitH = plan.lotfall.soil?.drain_limit_h ?? usualDrainLimit.hours;
  const hours = rateMPerS === null ? undefined : pondingDepthM / rateMPerS / hourS;
  return {
    basin: id,
    name: featureName(feature),
    holds_m3: volumeAt(storage, storage.overflowDepthM),
    ponding_depth_m: pondingDepthM,
    empty_after_h: hours === undefined || hours === Infinity ? null : hours,
    limit_h: limitH,
    result: drainVerdict(hours, limitH, { byMap: from === 'group' }),
  };
}

function unsaid(hasLines: boolean): Unsaid[] {
  const remedy =
    'Name an elevation file, or read three levels or more (a string and a tape do) and add them as spot heights.';
  return [
    {
      question: 'what drains to the garden, the low spots, and who sends water to whom',
      why: `That hangs on the heights of the ground. ${remedy}`,
    },
    {
      question: 'where overflow runs, and what it reaches',
      why: 'Its way follows the ground.',
    },
    {
      question: 'which depth fits the slope, and the earth to move at the garden',
      why: 'Both hang on how the ground falls there: two stakes, a string and a level across the place tell it.',
    },
    ...(hasLines
      ? []
      : [
          {
            question: 'whether there is a lower end to lead water to',
            why: 'Two levels along the way tell it: read one at each end.',
          },
        ]),
  ];
}
