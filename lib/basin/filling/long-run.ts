import { BasinWater, type BasinToFill } from './basin-water';
import { wetM } from './fill-and-drain';
import { dayS, hourS } from '../../units/units';

/** Measured rain in equal steps over a year or many. */
export interface RecordedRain {
  readonly stepS: number;
  /** Depth in each step, millimetres; `NaN` where it is missing. */
  readonly depthsMm: Float64Array;
  /** When the first step begins: an ISO moment, taken as written, without a time zone. */
  readonly start: string;
}

/** Area of one kind of surface that drains to the basin. */
export interface LongRunPart {
  readonly areaM2: number;
  /** What runs off by the depth of rain that has fallen in its storm, both millimetres; see `stormRunOff`. */
  readonly runOffMm: (rainMm: number) => number;
  /** Room of barrels that hold its water back, m3; they are taken to be emptied in dry weather. */
  readonly barrelM3: number;
}

export interface LongRunOptions {
  /** What plants and air take from the layers, millimetres a day: one figure, or one for each month; none when not given. */
  readonly dryMmPerDay?: number | readonly number[];
  /** Dry hours after which a new storm begins. */
  readonly gapH?: number;
  /** Low spots on the way hold back so much of each storm first, m3. */
  readonly heldBackM3?: number;
}

/** What one calendar year, or all together, came to. Volumes in m3. */
export interface LongRunYear {
  /** `null` for all together. */
  readonly year: number | null;
  readonly days: number;
  readonly missingDays: number;
  readonly rainMm: number;
  readonly inflowM3: number;
  readonly overflowM3: number;
  readonly soakedM3: number;
  readonly driedM3: number;
  readonly underdrainM3: number;
  readonly capturedShare: number;
  /** Storms in which water came, and those in which it overflowed. */
  readonly storms: number;
  readonly overflows: number;
  /** Hours with water standing, and the longest spell on end. */
  readonly wetH: number;
  readonly longestWetH: number;
  readonly peakDepthM: number;
}

export interface LongRun {
  readonly years: readonly LongRunYear[];
  readonly all: LongRunYear;
  /** Inflow less everything that became of it, m3. */
  readonly errorM3: number;
  readonly notes: readonly string[];
}

/** Storms are apart when it is dry for this long. Our choice, no source; six hours to a day are in use. */
const usualGapH = 12;
/** Steps while water comes are no longer than this; while it only sinks, than that. */
const wetStepS = 900;
const drainStepS = hourS;
const strips = 3;

/**
 * Sends a long record of rain through a basin: the same water, layers and soil as in one storm, with drying between.
 *
 * Rain runs off by what has fallen in its storm so far, at average wetness; of daily rain each day is a
 * storm of its own, as curve numbers are made for. It is there within its step: on a lot it takes minutes. Hours in which nothing moves
 * are passed over at once. Snow counts as rain when it falls. Gaps in the record count as dry and are told.
 *
 * Cost: some 10 us for each wet or draining hour; about half a second for thirty years by the hour.
 */
export function longRun(
  basin: BasinToFill,
  parts: readonly LongRunPart[],
  record: RecordedRain,
  options: LongRunOptions = {},
): LongRun {
  const { stepS, depthsMm } = record;
  const water = new BasinWater(basin, { strips });
  const startedM3 = water.layersM3;
  const runOff = new StormRunOff(parts, options.heldBackM3 ?? 0);
  const gapS = (options.gapH ?? usualGapH) * hourS;
  // 0 where every wet step is a storm of its own
  const gapSteps = Math.round(gapS / stepS - 0.1);
  const startS = beginningS(record.start);
  const drying = dryingOf(options.dryMmPerDay);
  const years = new Map<number, Tally>();
  let dry = Infinity;
  const storm = { overflowed: false, wetSpellS: 0 };
  let year = new Tally();
  let yearEndS = -Infinity;
  let dryS = 0;
  const letDry = (nowS: number): void => {
    const mmPerDay = drying[new Date(nowS * 1000).getUTCMonth()];
    year.driedM3 += water.dry((mmPerDay / 1000) * (dryS / dayS));
    water.rest(dryS);
    dryS = 0;
  };

  for (let step = 0; step < depthsMm.length; step++) {
    const nowS = startS + step * stepS;
    if (nowS >= yearEndS) {
      const date = new Date(nowS * 1000);
      yearEndS = Date.UTC(date.getUTCFullYear() + 1, 0, 1) / 1000;
      year = new Tally();
      years.set(date.getUTCFullYear(), year);
    }
    year.steps++;
    const given = depthsMm[step];
    const rainMm = given > 0 ? given : 0;
    if (Number.isNaN(given)) year.missing++;
    if (rainMm === 0) {
      dry++;
      if (water.pondM3 === 0 && water.looseM3 < 1e-9) {
        // nothing moves: only plants and air take water, once a day
        dryS += stepS;
        storm.wetSpellS = 0;
        if (dryS >= dayS) letDry(nowS);
        continue;
      }
    } else {
      if (dryS > 0) letDry(nowS);
      if (dry >= gapSteps) {
        runOff.begin();
        storm.overflowed = false;
        year.storms++;
      }
      dry = 0;
    }
    const runOnM3 = rainMm > 0 ? runOff.after(rainMm) : 0;
    const inner = Math.ceil(stepS / (rainMm > 0 || water.pondM3 > 0 ? wetStepS : drainStepS));
    year.rainMm += rainMm;
    year.inflowM3 += runOnM3 + (rainMm / 1000) * water.rimAreaM2;
    for (let i = 0; i < inner; i++) {
      water.step(stepS / inner, runOnM3 / inner, rainMm / 1000 / inner);
      year.count(water, stepS / inner, storm);
    }
  }
  const all = new Tally();
  for (const each of years.values()) all.add(each);
  const heldM3 = water.pondM3 + water.layersM3 - startedM3;
  return {
    years: [...years].map(([each, tally]) => tally.row(each, stepS)),
    all: all.row(null, stepS),
    errorM3: all.inflowM3 - all.overflowM3 - all.soakedM3 - all.driedM3 - all.underdrainM3 - heldM3,
    notes: notesOn(all, options, stepS),
  };
}

/** An ISO day or moment in seconds; without a zone as universal time, so that no summer time comes in between. */
function beginningS(start: string): number {
  const hasZone = !start.includes('T') || /Z|[+-]\d\d:?\d\d$/.test(start);
  return Date.parse(hasZone ? start : `${start}Z`) / 1000;
}

function dryingOf(given: LongRunOptions['dryMmPerDay']): readonly number[] {
  if (given === undefined) return new Array<number>(12).fill(0);
  return typeof given === 'number' ? new Array<number>(12).fill(given) : given;
}

function notesOn(all: Tally, { dryMmPerDay }: LongRunOptions, stepS: number): string[] {
  const notes: string[] = [];
  if (dryMmPerDay === undefined) {
    notes.push(
      'Plants and air are taken to draw nothing from the layers between storms: on the careful side.',
    );
  }
  if (stepS > hourS) {
    notes.push(
      `Rain in steps of ${stepS / hourS} h is taken to fall evenly within them, each a storm of its own: real storms are sharper, and overflow more.`,
    );
  }
  if (all.missing > 0) {
    notes.push(
      `Rain is missing on ${((all.missing * stepS) / dayS).toFixed(1)} days and counts as none.`,
    );
  }
  return notes;
}

/** What runs off all parts in the storm so far. */
class StormRunOff {
  #fallenMm = 0;
  #ranM3 = 0;
  #heldM3 = 0;
  readonly #parts: readonly LongRunPart[];
  readonly #holdsM3: number;

  constructor(parts: readonly LongRunPart[], holdsM3: number) {
    this.#parts = parts;
    this.#holdsM3 = holdsM3;
  }

  begin(): void {
    this.#fallenMm = 0;
    this.#ranM3 = 0;
    this.#heldM3 = 0;
  }

  /** What comes to the basin of a further depth of rain, m3. */
  after(rainMm: number): number {
    this.#fallenMm += rainMm;
    let ranM3 = 0;
    for (let i = 0; i < this.#parts.length; i++) {
      const { areaM2, runOffMm, barrelM3 } = this.#parts[i];
      ranM3 += Math.max(0, (areaM2 * runOffMm(this.#fallenMm)) / 1000 - barrelM3);
    }
    const newM3 = ranM3 - this.#ranM3;
    this.#ranM3 = ranM3;
    // Below zero, then, where paving that spreads over very sandy ground gives a trifle less of more rain: none runs back.
    const heldM3 = Math.min(newM3, this.#holdsM3 - this.#heldM3);
    this.#heldM3 += heldM3;
    return newM3 - heldM3;
  }
}

/** Sums of one year. */
class Tally {
  steps = 0;
  missing = 0;
  rainMm = 0;
  inflowM3 = 0;
  overflowM3 = 0;
  soakedM3 = 0;
  driedM3 = 0;
  underdrainM3 = 0;
  storms = 0;
  overflows = 0;
  wetS = 0;
  longestWetS = 0;
  peakDepthM = 0;

  /** Counts a step that the water has just made; `storm` is of the storm and the wet spell that last. */
  count(water: BasinWater, stepS: number, storm: { overflowed: boolean; wetSpellS: number }): void {
    this.overflowM3 += water.overflowM3;
    this.soakedM3 += water.soakedM3;
    this.underdrainM3 += water.underdrainM3;
    this.peakDepthM = Math.max(this.peakDepthM, water.depthM);
    if (water.overflowM3 > 0 && !storm.overflowed) {
      storm.overflowed = true;
      this.overflows++;
    }
    if (water.depthM >= wetM) {
      storm.wetSpellS += stepS;
      this.wetS += stepS;
      this.longestWetS = Math.max(this.longestWetS, storm.wetSpellS);
    } else storm.wetSpellS = 0;
  }

  add(other: Tally): void {
    this.steps += other.steps;
    this.missing += other.missing;
    this.rainMm += other.rainMm;
    this.inflowM3 += other.inflowM3;
    this.overflowM3 += other.overflowM3;
    this.soakedM3 += other.soakedM3;
    this.driedM3 += other.driedM3;
    this.underdrainM3 += other.underdrainM3;
    this.storms += other.storms;
    this.overflows += other.overflows;
    this.wetS += other.wetS;
    this.longestWetS = Math.max(this.longestWetS, other.longestWetS);
    this.peakDepthM = Math.max(this.peakDepthM, other.peakDepthM);
  }

  row(year: number | null, stepS: number): LongRunYear {
    return {
      year,
      days: (this.steps * stepS) / dayS,
      missingDays: (this.missing * stepS) / dayS,
      rainMm: this.rainMm,
      inflowM3: this.inflowM3,
      overflowM3: this.overflowM3,
      soakedM3: this.soakedM3,
      driedM3: this.driedM3,
      underdrainM3: this.underdrainM3,
      capturedShare: this.inflowM3 > 0 ? 1 - this.overflowM3 / this.inflowM3 : 1,
      storms: this.storms,
      overflows: this.overflows,
      wetH: this.wetS / hourS,
      longestWetH: this.longestWetS / hourS,
      peakDepthM: this.peakDepthM,
    };
  }
}
