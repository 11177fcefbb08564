import { BasinWater, type BasinToFill, type BasinWaterOptions } from './basin-water';
import { hourS } from '../../units/units';

/** What comes to a basin, in equal steps from the beginning of the event. */
export interface Inflow {
  readonly stepS: number;
  /** Comes over the rim in each step, m3. */
  readonly runOnM3: Float64Array;
  /** Falls on the basin itself in each step, millimetres; as many steps as `runOnM3`. */
  readonly rainMm: Float64Array;
}

export interface FillAndDrainOptions extends Pick<BasinWaterOptions, 'strips' | 'full'> {
  /** Longest step while water comes, seconds. */
  readonly stepS?: number;
  /** How long after the last inflow it is followed at most, hours. */
  readonly horizonH?: number;
  /** Whether it is computed again with half the step, to see how much that changes. */
  readonly halved?: boolean;
}

/** What happens over time. All arrays are of one length; rates are means over the time since the entry before. */
export interface BasinSeries {
  /** Seconds since the beginning of the event; the first is 0. */
  readonly timeS: Float64Array;
  readonly inflowM3PerS: Float64Array;
  /** Of the water over the lowest point of the floor, at the time. */
  readonly depthM: Float64Array;
  /** What the layers hold at the time, m3. */
  readonly layersM3: Float64Array;
  readonly soakedM3PerS: Float64Array;
  readonly underdrainM3PerS: Float64Array;
  readonly overflowM3PerS: Float64Array;
}

/** What the series comes to. */
export interface FillSummary {
  /** Over the rim and on the basin itself, m3. */
  readonly inflowM3: number;
  readonly runOnM3: number;
  readonly rainM3: number;
  readonly overflowM3: number;
  readonly soakedM3: number;
  readonly underdrainM3: number;
  /** Inflow less overflow, and its share of the inflow; 1 when nothing comes. */
  readonly capturedM3: number;
  readonly capturedShare: number;
  readonly peakDepthM: number;
  readonly peakAtS: number;
  readonly peakInflowM3PerS: number;
  readonly peakOverflowM3PerS: number;
  readonly peakOverflowAtS: number | null;
  /** Seconds after the beginning at which the last rain fell on the basin; when the last water came. */
  readonly rainEndS: number;
  readonly inflowEndS: number;
  /**
   * From the end of the rain until less than a millimetre stands anywhere, seconds: 0 when none stands by then,
   * `null` when some still does at the end of the time looked at.
   */
  readonly drainDownS: number | null;
  /** The same from the time at which it stands deepest. */
  readonly drainFromPeakS: number | null;
  /** From the end of the rain until the layers hold no more than they hold for good. */
  readonly layersEmptyS: number | null;
  /** The longest time on end that at least a millimetre stood. */
  readonly longestWetS: number;
  /** How long it was followed after the beginning. */
  readonly followedS: number;
  /** Left standing and loose in the layers at the end, m3. */
  readonly leftM3: number;
  /** Inflow less everything that became of it, m3: rounding alone. */
  readonly errorM3: number;
  readonly overRim: boolean;
}

/** How much half the step changes: what the time steps make uncertain. */
export interface StepChange {
  readonly stepS: number;
  readonly overflowM3: number;
  readonly peakDepthM: number;
  readonly drainDownS: number | null;
}

export interface FilledBasin {
  readonly summary: FillSummary;
  readonly series: BasinSeries;
  /** `null` when not asked for. */
  readonly halved: StepChange | null;
}

/** Longest step while water comes: what half of it changes is below what any input is known to. */
const usualStepS = 60;
/** A week: longer than any limit on standing water. */
const usualHorizonH = 168;
/** Less than this is no standing water, metres: it fills the hollows between chips of mulch. */
export const wetM = 0.001;
/** Steps grow by this while nothing comes, up to a quarter of an hour. */
const growth = 1.05;
const longestStepS = 900;
/** While nothing comes, no step lets the level fall by more than this share of the depth of the sill. */
const fallShare = 0.005;

/**
 * Fills and drains a basin over an event and on until it is empty.
 *
 * Inflow is even within each of its steps, which are divided so that none is longer than `stepS`. Steps are
 * implicit (see {@link BasinWater}): any length is stable, and the error is of the first order in the step. Evaporation is left
 * out, on the careful side: it is a few millimetres a day.
 *
 * Cost: about 40 ns for each step, strip and layer: some 10 ms for a day of rain in steps of a minute.
 */
export function fillAndDrain(
  basin: BasinToFill,
  inflow: Inflow,
  options: FillAndDrainOptions = {},
): FilledBasin {
  const { halved = false, stepS = usualStepS } = options;
  const whole = run(basin, inflow, stepS, options);
  if (!halved) return { ...whole, halved: null };
  const half = run(basin, inflow, stepS / 2, options).summary;
  const { summary } = whole;
  return {
    ...whole,
    halved: {
      stepS: stepS / 2,
      overflowM3: half.overflowM3 - summary.overflowM3,
      peakDepthM: half.peakDepthM - summary.peakDepthM,
      drainDownS:
        half.drainDownS === null || summary.drainDownS === null
          ? null
          : half.drainDownS - summary.drainDownS,
    },
  };
}

function run(
  basin: BasinToFill,
  inflow: Inflow,
  longestS: number,
  options: FillAndDrainOptions,
): Omit<FilledBasin, 'halved'> {
  const water = new BasinWater(basin, options);
  const record = new Record(water);
  const { stepS, runOnM3, rainMm } = inflow;
  const parts = Math.max(1, Math.ceil(stepS / longestS - 1e-9));
  const count = lastOf(runOnM3, rainMm) + 1;
  for (let i = 0; i < count; i++) {
    for (let part = 0; part < parts; part++) {
      record.step(stepS / parts, runOnM3[i] / parts, rainMm[i] / 1000 / parts);
    }
    record.enter();
  }
  const rainEndS = (lastOf(rainMm) + 1) * stepS;
  const endS = count * stepS + (options.horizonH ?? usualHorizonH) * hourS;
  const coarseness = longestS / usualStepS;
  let nextS = stepS / parts;
  let sinceS = 0;
  while (record.timeS < endS && !isEmpty(water)) {
    nextS = Math.min(nextS, endS - record.timeS);
    const beforeM = water.depthM;
    record.step(nextS, 0, 0);
    sinceS += nextS;
    if (sinceS >= Math.min(stepS, longestStepS)) {
      record.enter();
      sinceS = 0;
    }
    const fellM = beforeM - water.depthM;
    const mayFallM = fallShare * basin.storage.overflowDepthM * coarseness;
    const grown = Math.min(nextS * growth, longestStepS * coarseness);
    nextS = fellM > mayFallM ? Math.min(grown, (nextS * mayFallM) / fellM) : grown;
    nextS = Math.max(nextS, Math.min(stepS / parts, 1));
  }
  record.enter();
  return { summary: record.summary(rainEndS, count * stepS), series: record.series() };
}

/** Index of the last step in which something comes; -1 when nothing does. */
function lastOf(...series: readonly Float64Array[]): number {
  let last = -1;
  for (const values of series) {
    for (let i = values.length - 1; i > last; i--) if (values[i] > 0) last = i;
  }
  return last;
}

function isEmpty(water: BasinWater): boolean {
  return water.depthM < wetM && water.looseM3 < wetM * water.rimAreaM2;
}

/** Follows one run: sums, peaks and times, and the series in coarser steps. */
class Record {
  timeS = 0;
  #inflowM3 = 0;
  #runOnM3 = 0;
  #rainM3 = 0;
  #overflowM3 = 0;
  #soakedM3 = 0;
  #underdrainM3 = 0;
  #peakDepthM: number;
  #peakAtS = 0;
  #peakInflow = 0;
  #peakOverflow = 0;
  #peakOverflowAtS: number | null = null;
  /** When it was last wet; when the wet spell that lasts began. */
  #lastWetS = 0;
  #wetSinceS: number | null;
  #longestWetS = 0;
  #lastLooseS = 0;
  readonly #startM3: number;
  readonly #rows: number[][] = [];
  readonly #entered = { timeS: 0, inflow: 0, soaked: 0, underdrain: 0, overflow: 0 };
  readonly #water: BasinWater;

  constructor(water: BasinWater) {
    this.#water = water;
    this.#startM3 = water.pondM3 + water.layersM3;
    this.#peakDepthM = water.depthM;
    this.#wetSinceS = water.depthM >= wetM ? 0 : null;
    this.#rows.push([0, 0, water.depthM, water.layersM3, 0, 0, 0]);
  }

  step(stepS: number, runOnM3: number, rainM: number): void {
    const water = this.#water;
    const beforeM = water.depthM;
    const rainM3 = rainM * water.rimAreaM2;
    const looseBefore = water.looseM3;
    water.step(stepS, runOnM3, rainM);
    const startS = this.timeS;
    this.timeS += stepS;
    this.#runOnM3 += runOnM3;
    this.#rainM3 += rainM3;
    this.#inflowM3 += runOnM3 + rainM3;
    this.#overflowM3 += water.overflowM3;
    this.#soakedM3 += water.soakedM3;
    this.#underdrainM3 += water.underdrainM3;
    this.#peakInflow = Math.max(this.#peakInflow, (runOnM3 + rainM3) / stepS);
    if (water.overflowM3 / stepS > this.#peakOverflow) {
      this.#peakOverflow = water.overflowM3 / stepS;
      this.#peakOverflowAtS = this.timeS;
    }
    if (water.depthM > this.#peakDepthM) {
      this.#peakDepthM = water.depthM;
      this.#peakAtS = this.timeS;
    }
    this.#followWet(beforeM, startS, stepS);
    const limitM3 = wetM * water.rimAreaM2;
    if (water.looseM3 >= limitM3) this.#lastLooseS = this.timeS;
    else if (looseBefore >= limitM3) {
      this.#lastLooseS = startS + (stepS * (looseBefore - limitM3)) / (looseBefore - water.looseM3);
    }
  }

  #followWet(beforeM: number, startS: number, stepS: number): void {
    const { depthM, emptyAfter } = this.#water;
    const isWet = depthM >= wetM;
    if (isWet) {
      this.#lastWetS = this.timeS;
      this.#wetSinceS ??= startS + (stepS * (wetM - beforeM)) / (depthM - beforeM);
    } else if (this.#wetSinceS !== null) {
      // it fell evenly, to nothing before the step's end perhaps
      const fallS = depthM === 0 ? stepS * emptyAfter : stepS;
      this.#lastWetS = startS + (fallS * (beforeM - wetM)) / (beforeM - depthM);
    }
    if (this.#wetSinceS === null) return;
    this.#longestWetS = Math.max(this.#longestWetS, this.#lastWetS - this.#wetSinceS);
    if (!isWet) this.#wetSinceS = null;
  }

  /** Puts what has happened since the last entry into the series. */
  enter(): void {
    const water = this.#water;
    const entered = this.#entered;
    const overS = this.timeS - entered.timeS;
    if (overS === 0) return;
    this.#rows.push([
      this.timeS,
      (this.#inflowM3 - entered.inflow) / overS,
      water.depthM,
      water.layersM3,
      (this.#soakedM3 - entered.soaked) / overS,
      (this.#underdrainM3 - entered.underdrain) / overS,
      (this.#overflowM3 - entered.overflow) / overS,
    ]);
    entered.timeS = this.timeS;
    entered.inflow = this.#inflowM3;
    entered.soaked = this.#soakedM3;
    entered.underdrain = this.#underdrainM3;
    entered.overflow = this.#overflowM3;
  }

  series(): BasinSeries {
    const column = (at: number): Float64Array => Float64Array.from(this.#rows, (row) => row[at]);
    return {
      timeS: column(0),
      inflowM3PerS: column(1),
      depthM: column(2),
      layersM3: column(3),
      soakedM3PerS: column(4),
      underdrainM3PerS: column(5),
      overflowM3PerS: column(6),
    };
  }

  summary(rainEndS: number, inflowEndS: number): FillSummary {
    const water = this.#water;
    const inflowM3 = this.#inflowM3;
    const overflowM3 = this.#overflowM3;
    const isWet = water.depthM >= wetM;
    const isLoose = water.looseM3 >= wetM * water.rimAreaM2;
    const heldM3 = water.pondM3 + water.layersM3 - this.#startM3;
    return {
      inflowM3,
      runOnM3: this.#runOnM3,
      rainM3: this.#rainM3,
      overflowM3,
      soakedM3: this.#soakedM3,
      underdrainM3: this.#underdrainM3,
      capturedM3: inflowM3 - overflowM3,
      capturedShare: inflowM3 > 0 ? 1 - overflowM3 / inflowM3 : 1,
      peakDepthM: this.#peakDepthM,
      peakAtS: this.#peakAtS,
      peakInflowM3PerS: this.#peakInflow,
      peakOverflowM3PerS: this.#peakOverflow,
      peakOverflowAtS: this.#peakOverflowAtS,
      rainEndS,
      inflowEndS,
      drainDownS: isWet ? null : Math.max(0, this.#lastWetS - rainEndS),
      drainFromPeakS: isWet ? null : Math.max(0, this.#lastWetS - this.#peakAtS),
      layersEmptyS: isLoose ? null : Math.max(0, this.#lastLooseS - rainEndS),
      longestWetS: this.#longestWetS,
      followedS: this.timeS,
      leftM3: water.pondM3 + water.looseM3,
      errorM3: inflowM3 - overflowM3 - this.#soakedM3 - this.#underdrainM3 - heldM3,
      overRim: water.overRim,
    };
  }
}
