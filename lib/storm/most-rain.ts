import { InputError } from '../errors';
import type { Source } from '../source';
import { durationName } from './depth-table';
import { dayS, hourS } from '../units/units';

const extremes: Omit<Source, 'section'> = {
  title: 'World Weather and Climate Extremes Archive',
  publisher: 'World Meteorological Organization',
  year: null,
  mark: 'seen',
};

/** The most rain ever measured at one place, by time, shortest first. Over 72 h 3,929 mm fell (not read there, so left out). */
const mostMeasured: readonly { durationS: number; depthMm: number; source: Source }[] = [
  {
    durationS: 60,
    depthMm: 31.2,
    source: { ...extremes, section: 'greatest one-minute rainfall' },
  },
  {
    durationS: hourS,
    depthMm: 305,
    source: { ...extremes, section: 'greatest sixty-minute rainfall' },
  },
  {
    durationS: dayS,
    depthMm: 1825,
    source: { ...extremes, section: 'greatest twenty-four-hour rainfall' },
  },
  {
    durationS: 345_600,
    depthMm: 4936,
    source: { ...extremes, section: 'greatest ninety-six-hour rainfall' },
  },
];

/** Largest point rainfalls of the world lie under 425 mm times the hours to the power of 0.47. */
const envelope = {
  depthMm: 425,
  power: 0.47,
  source: {
    title: 'Guide to Hydrological Practices (WMO-No. 168)',
    publisher: 'World Meteorological Organization',
    section: "world's greatest observed point rainfalls",
    year: null,
    mark: 'from memory',
  } satisfies Source,
};
const missingMark =
  'check the unit, and leave the cell empty where the figure stands for a missing reading';
/** Within shorter times gauges tell no depths, seconds. Our choice, no source. */
const shortestS = 60;
/** Times within which rain is looked at besides those of the measured extremes, hours. */
const otherTimesH = [1 / 30, 1 / 12, 1 / 6, 1 / 4, 1 / 2, 2, 3, 6, 12, 48, 72, 168, 336, 720, 8760];

interface MostRain {
  readonly depthMm: number;
  /** As a clause: what no more was than. */
  readonly words: string;
}

/**
 * The most rain that may be believed within a time: what was measured where it is one of the times with a record, else
 * the larger of the envelope and the line through the logarithms of the records on both sides; after the longest the
 * record grows as the envelope does.
 */
function mostRain(durationS: number): MostRain {
  const inTime = Math.max(durationS, shortestS);
  // Half a second: times in a table are rounded.
  const record = mostMeasured.find((each) => Math.abs(each.durationS - inTime) <= 0.5);
  if (record !== undefined) {
    const { title, publisher } = record.source;
    return {
      depthMm: record.depthMm,
      words: `the ${record.depthMm} mm that were ever measured (${title}, ${publisher})`,
    };
  }
  const underEnvelope = envelope.depthMm * (inTime / hourS) ** envelope.power;
  const above = mostMeasured.findIndex((each) => each.durationS > inTime);
  const last = mostMeasured[mostMeasured.length - 1];
  const [from, to] = above < 1 ? [last, last] : [mostMeasured[above - 1], mostMeasured[above]];
  const power =
    from === to
      ? envelope.power
      : Math.log(to.depthMm / from.depthMm) / Math.log(to.durationS / from.durationS);
  const depthMm = Math.max(underEnvelope, from.depthMm * (inTime / from.durationS) ** power);
  const { title, publisher, mark } = envelope.source;
  return {
    depthMm,
    words: `the ${depthMm.toFixed(0)} mm within which all rain ever measured in such a time lies (after ${title}, ${publisher}, ${mark})`,
  };
}

/**
 * Refuses a depth that is more than was ever measured in its time.
 *
 * @param where - names its place in the text or plan.
 * @throws {InputError} `rain-too-much`.
 */
export function refuseImpossibleDepth(
  depthMm: number,
  durationS: number,
  where: string,
  remedy = 'check the unit and the duration',
): void {
  const most = mostRain(durationS);
  if (depthMm <= most.depthMm + 1e-6) return;
  throw new InputError({
    code: 'rain-too-much',
    where,
    problem: `${depthMm.toFixed(0)} mm in ${durationName(durationS / 60)} is more than ${most.words}`,
    remedy,
  });
}

/**
 * Refuses rain of which more falls within some time than was ever measured anywhere: its unit is wrong, or a figure
 * stands for a missing reading.
 *
 * @param depthsMm - of the steps, `NaN` for one that is missing, which counts as none.
 * @param timesS - beginnings of the steps, ascending. @param stepS - how long each is.
 * @param whereOf - names the place of a step in the text, the last of those that hold too much.
 * @throws {InputError} `rain-too-much`.
 * Cost: linear, about twenty passes.
 */
export function refuseImpossibleRain(
  depthsMm: ArrayLike<number>,
  timesS: ArrayLike<number>,
  stepS: number,
  whereOf: (step: number) => string,
): void {
  const times = [
    stepS,
    ...mostMeasured.map(({ durationS }) => durationS),
    ...otherTimesH.map((hours) => hours * hourS),
  ].filter((durationS) => durationS >= stepS);
  for (const durationS of times) {
    const { depthMm } = mostRain(durationS);
    let from = 0;
    let sumMm = 0;
    for (let step = 0; step < depthsMm.length; step++) {
      sumMm += depthsMm[step] || 0;
      while (timesS[step] + stepS - timesS[from] > durationS + 0.5) sumMm -= depthsMm[from++] || 0;
      if (sumMm > depthMm + 1e-6)
        refuseImpossibleDepth(sumMm, durationS, whereOf(step), missingMark);
    }
  }
}
