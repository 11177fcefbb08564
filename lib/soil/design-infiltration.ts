import type { FeatureOf } from '../plan/schema';
import type { SoilSettings } from '../plan/soil-settings';
import { sourceLine, type Source } from '../source';
import { groupRatesMPerS } from '../storm/group-infiltration';
import { tr55Groups } from '../storm/sources';
import { hourS, inchPerHMPerS } from '../units/units';
import { factorChoices, factorOfRatio, layerCountsM, usualFactor } from './design-factor';
import { broadRateMPerS, designRateTable, tableRateMPerS } from './design-rates';
import { planSoil, type PlanSoil } from './plan-soil';
import { handDug, reducePercolation, reduceTest, type ReducedTest } from './reduce-test';
import { factorByRatio, iowaRate, marylandRate, minnesotaTooFast } from './sources';
import { plain, rate, type ArithmeticStep } from './step';
import { textureNames } from './texture-table';
import { featureName } from '../plan/feature-name';

/** A soil test of the plan, worked out. */
export interface WorkedTest {
  /** Of the feature; `null` for the percolation time that is typed in. */
  readonly id: string | null;
  readonly name: string;
  /** Where it was made: at the depth of a basin's bottom or in a layer below. */
  readonly level: 'bottom' | 'below';
  readonly reduced: ReducedTest;
}

/** The rate at which the soil below a basin is counted on to take water, and how it came about. */
export interface DesignInfiltration {
  /** For design, metres a second; `null` while nothing is known of the soil. */
  readonly rateMPerS: number | null;
  /** What the tests together come to, before the factor; `null` without a usable test. */
  readonly measuredMPerS: number | null;
  readonly from: 'typed' | 'tests' | 'texture' | 'group' | 'none';
  /** What the measured rate was divided by; 1 where the rate is one for design as it stands. */
  readonly factor: number;
  /** The soil that the plan and its tests describe. */
  readonly soil: PlanSoil;
  /** Every test of the plan, usable or not. */
  readonly tests: readonly WorkedTest[];
  /** The arithmetic from the tests' rates to that for design; theirs stand with each test. */
  readonly steps: readonly ArithmeticStep[];
  /** Sentences that belong with the rate, wherever it is used. */
  readonly notes: readonly string[];
  readonly source: Source | null;
}

/**
 * The design infiltration rate from what a plan says of its soil. The first that is given counts: a typed rate, field
 * tests, the USDA texture, the soil by feel, the hydrologic soil group. Only what was measured is divided by a factor;
 * the published rates are for design already.
 *
 * @param soil - the plan's soil settings.
 * @param tests - its soil tests.
 * Sources: with the result; the order is ours.
 */
export function designInfiltration(
  soil: SoilSettings | undefined,
  tests: readonly FeatureOf<'soil-test'>[],
): DesignInfiltration {
  const worked = workedTests(soil, tests);
  const usable = worked.filter(({ reduced }) => reduced.rateMPerS !== null);
  const atBottom = usable.filter(({ level }) => level === 'bottom');
  // With none at the bottom, what is known of the soil below has to do.
  const counting = atBottom.length > 0 ? atBottom : usable;
  const measured = combined(counting, soil?.combine ?? 'slowest');
  const kind = planSoil(soil, tests);
  const left = [...leftOut(worked), ...kind.notes];
  const common = { measuredMPerS: measured?.result.value ?? null, soil: kind, tests: worked };
  const plainly = { ...common, factor: 1, steps: [] };

  if (soil?.rate_mm_per_h !== undefined) {
    const rateMPerS = soil.rate_mm_per_h / 1000 / hourS;
    const isFaster = measured !== null && measured.result.value < rateMPerS;
    const faster = isFaster ? ['The rate typed in is faster than what the tests measured.'] : [];
    const notes = [...left, ...faster, ...suitability(rateMPerS)];
    return { ...plainly, rateMPerS, from: 'typed', notes, source: null };
  }
  if (measured !== null) {
    const below = layerBelow(soil, tests, atBottom.length > 0 ? usable : []);
    const chosen = designFactor(measured.result.value, below, soil?.safety_factor);
    const rateMPerS = below?.mPerS === 0 ? 0 : measured.result.value / chosen.factor;
    return {
      ...common,
      rateMPerS,
      from: 'tests',
      factor: chosen.factor,
      steps: [measured, ...chosen.steps, ...dividedBy(chosen.factor, measured, rateMPerS)],
      notes: [
        ...left,
        ...testNotes(usable),
        ...chosen.notes,
        ...suitability(rateMPerS, measured.result.value),
      ],
      source: chosen.source,
    };
  }
  const { notes, ...told } = untested(soil, kind);
  return { ...plainly, ...told, notes: [...left, ...notes] };
}

/** The last step from what tests measured to the rate for design; none where that is 0. */
function dividedBy(factor: number, measured: ArithmeticStep, rateMPerS: number): ArithmeticStep[] {
  if (rateMPerS === 0) return [];
  return [
    {
      words: 'Divided by the factor for design',
      formula: '{measured} ÷ {factor}',
      terms: { measured: measured.result, factor: plain(factor) },
      result: rate(rateMPerS),
    },
  ];
}

type Untested = Pick<DesignInfiltration, 'rateMPerS' | 'from' | 'notes' | 'source'>;

function byTexture(rateMPerS: number, of: string): Untested {
  const note = `A table’s rate for ${of}, for soil that is not compacted: where machines have driven, take the next slower texture. A test in the ground is better.`;
  const notes = [note, ...suitability(rateMPerS)];
  return { rateMPerS, from: 'texture', notes, source: designRateTable.source };
}

/** The rate by a table, for soil of which there is no test; by its texture, else by its group. */
function untested(soil: SoilSettings | undefined, { texture }: PlanSoil): Untested {
  if (texture !== null) {
    const of = texture === 'silt' ? 'silt loam (silt has none of its own)' : textureNames[texture];
    return byTexture(tableRateMPerS(designRateTable, texture), of);
  }
  if (soil?.texture !== undefined) {
    return byTexture(broadRateMPerS(soil.texture), `the slowest ${soil.texture} soil`);
  }
  if (soil?.group !== undefined) {
    const rateMPerS = groupRatesMPerS[soil.group].least;
    const note =
      soil.group === 'D'
        ? 'Group D has no lower limit: no infiltration is counted on until a test shows some.'
        : `The lower limit of group ${soil.group}: a soil map is no test of your lot.`;
    const notes = [note, ...suitability(rateMPerS)];
    return { rateMPerS, from: 'group', notes, source: tr55Groups };
  }
  const note = 'Nothing is known of the soil: dig a hole and see how fast it empties.';
  return { rateMPerS: null, from: 'none', notes: [note], source: null };
}

/** The tests of a plan and the percolation time that is typed in. */
function workedTests(
  soil: SoilSettings | undefined,
  tests: readonly FeatureOf<'soil-test'>[],
): WorkedTest[] {
  const worked: WorkedTest[] = tests.map(({ id, properties }) => ({
    id,
    name: featureName({ id, properties }),
    level: properties.level ?? 'bottom',
    reduced: reduceTest(properties, soil?.borehole),
  }));
  if (soil?.percolation !== undefined) {
    worked.push({
      id: null,
      name: 'The percolation test',
      level: 'bottom',
      reduced: reducePercolation(soil.percolation, soil.borehole),
    });
  }
  return worked;
}

/** The slowest layer within 1.5 m below the bottom; its rate `null` where a layer was met but not tested. */
interface LayerBelow {
  readonly mPerS: number | null;
  /** Who says so. */
  readonly by: string;
}

function layerBelow(
  soil: SoilSettings | undefined,
  tests: readonly FeatureOf<'soil-test'>[],
  usable: readonly WorkedTest[],
): LayerBelow | null {
  const found: LayerBelow[] = usable.flatMap(({ name, level, reduced }) =>
    level === 'below' ? [{ mPerS: reduced.rateMPerS, by: name }] : [],
  );
  if (soil?.layer_below_mm_per_h !== undefined) {
    found.push({ mPerS: soil.layer_below_mm_per_h / 1000 / hourS, by: 'the plan' });
  }
  if (found.length > 0) {
    return found.reduce((a, b) => ((b.mPerS ?? 0) < (a.mPerS ?? 0) ? b : a));
  }
  const met = tests.find(
    ({ properties: { limiting_layer_m: layerM, hole_depth_m: bottomM } }) =>
      layerM !== undefined && layerM - (bottomM ?? layerM) <= layerCountsM,
  );
  return met === undefined ? null : { mPerS: null, by: featureName(met) };
}

/** What the measured rate is divided by, and the arithmetic that leads there. */
function designFactor(
  bottomMPerS: number,
  below: LayerBelow | null,
  own: number | undefined,
): Pick<DesignInfiltration, 'factor' | 'steps' | 'notes' | 'source'> {
  if (below === null) {
    const factor = own ?? usualFactor;
    const published = factorChoices.find((choice) => choice.factor === factor);
    return { factor, steps: [], notes: [], source: published?.source ?? null };
  }
  const ratio = below.mPerS === null || below.mPerS === 0 ? Infinity : bottomMPerS / below.mPerS;
  const byRatio = factorOfRatio(ratio);
  // A greater factor of the user's own is his to take, a smaller one would go below what is published for his soil.
  const factor = Math.max(byRatio, own ?? 0);
  const notes: string[] = [];
  if (own !== undefined && own < byRatio) {
    notes.push(
      `The factor ${own} is for soil without a slower layer below; by the ratio of the rates ${byRatio} counts.`,
    );
  }
  if (below.mPerS === null) {
    notes.push(
      `${below.by} met a hard or tight layer of which no rate is known: the greatest published factor, ${byRatio}, counts. Test that layer, and mark the test as below the bottom.`,
    );
  } else if (below.mPerS === 0) {
    notes.push(`The layer below takes no water (${below.by}): no infiltration is counted on.`);
  }
  return {
    factor,
    steps: Number.isFinite(ratio)
      ? [
          {
            words: `So many times faster than the slowest layer below (${below.by})`,
            formula: '{bottom} ÷ {below}',
            terms: { bottom: rate(bottomMPerS), below: rate(below.mPerS ?? 0) },
            result: plain(ratio),
          },
        ]
      : [],
    notes,
    source: factor === byRatio ? factorByRatio : null,
  };
}

/** What has to be said of the tests that count: what holds for all once, the rest with the test's name. */
function testNotes(tests: readonly WorkedTest[]): string[] {
  const said = tests.flatMap(({ name, reduced }) =>
    reduced.notes.map((note) => (note === handDug ? note : `${name}: ${note}`)),
  );
  return [...new Set(said)];
}

/** Soil that takes more in the field has to be slowed. Source: `minnesotaTooFast`. */
const tooFastMPerS = 8.3 * inchPerHMPerS;
/** Soil should take more, or be amended. Source: `iowaRate`. */
const comfortableMPerS = 0.5 * inchPerHMPerS;
/** A poor location below this. Source: `marylandRate`. */
const poorMPerS = 0.25 * inchPerHMPerS;

/** What published limits say to a rate for design and, where there is one, to the measured rate behind it. */
function suitability(rateMPerS: number, fieldMPerS = rateMPerS): string[] {
  if (fieldMPerS > tooFastMPerS) {
    return [
      `Faster than 8.3 in/h (211 mm/h) in the field: Minnesota wants such soil slowed with finer soil or compost, as water is hardly cleaned in it (${sourceLine(minnesotaTooFast)}).`,
    ];
  }
  if (rateMPerS === 0) {
    return [
      'The rate is zero: no water is counted on to soak in, and what ponds stays. Test at other places, or plan an underdrain.',
    ];
  }
  if (rateMPerS < poorMPerS) {
    return [
      `Slower than 0.25 in/h (6 mm/h): a poor place by a Maryland rule of thumb; plan for amended soil or an underdrain (${sourceLine(marylandRate)}).`,
    ];
  }
  if (rateMPerS < comfortableMPerS) {
    return [
      `Slower than 0.5 in/h (13 mm/h): Iowa advises to amend the soil (${sourceLine(iowaRate)}).`,
    ];
  }
  return [];
}

/** Why each test that cannot be used is left out, with its place and remedy. */
function leftOut(tests: readonly WorkedTest[]): string[] {
  return tests.flatMap(({ name, reduced }) => {
    const problem = reduced.problems.find(({ stops }) => stops);
    if (problem === undefined) return [];
    const at = problem.row === null ? '' : ` Reading ${problem.row + 1}:`;
    return [`${name} is left out.${at} ${problem.text}`];
  });
}

/** What the usable tests come to; `null` without any. */
function combined(
  tests: readonly WorkedTest[],
  how: 'slowest' | 'geometric-mean',
): ArithmeticStep | null {
  const usable = tests.filter(({ reduced }) => reduced.rateMPerS !== null);
  if (usable.length === 0) return null;
  const rates = usable.map(({ reduced }) => reduced.rateMPerS ?? 0);
  const terms = Object.fromEntries(rates.map((each, i) => [String(i), rate(each)]));
  const names = rates.map((_, i) => `{${i}}`);
  if (rates.length === 1) {
    return {
      words: `Measured at ${usable[0].name}`,
      formula: '{0}',
      terms,
      result: rate(rates[0]),
    };
  }
  if (how === 'slowest') {
    return {
      words: `The slowest of ${rates.length} tests`,
      formula: names.join(', '),
      terms,
      result: rate(Math.min(...rates)),
    };
  }
  // By logarithms: a product of many small rates would run out of range. One rate of zero makes the mean zero.
  const mean = Math.exp(rates.reduce((sum, each) => sum + Math.log(each), 0) / rates.length);
  return {
    words: `The geometric mean of ${rates.length} tests`,
    formula: `(${names.join(' × ')})^(1/${rates.length})`,
    terms,
    result: rate(mean),
  };
}
