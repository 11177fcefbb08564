import { InputError } from '../errors';
import type { Source } from '../source';
import { durationName } from './depth-table';

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
    durationS: 3600,
    depthMm: 305,
    source: { ...extremes, section: 'greatest sixty-minute rainfall' },
  },
  {
    durationS: 86_400,
    depthMm: 1825,
    source: { ...extremes, section: 'greatest twenty-four-hour rainfall' },
  },
  {
    durationS: 345_600,
    depthMm: 4936,
    source: { ...extremes, section: 'greatest ninety-six-hour rainfall' },
  },
];

/**
 * Refuses rain of which more falls within some time than was ever measured anywhere: its unit is wrong, or a figure
 * stands for a missing reading.
 *
 * @param depthsMm - of the steps, `NaN` for one that is missing, which counts as none.
 * @param timesS - beginnings of the steps, ascending. @param stepS - how long each is.
 * @param whereOf - names the place of a step in the text, the last of those that hold too much.
 * @throws {InputError} `rain-too-much`.
 * Cost: linear.
 */
export function refuseImpossibleRain(
  depthsMm: ArrayLike<number>,
  timesS: ArrayLike<number>,
  stepS: number,
  whereOf: (step: number) => string,
): void {
  for (const { durationS, depthMm, source } of mostMeasured) {
    if (stepS > durationS) continue;
    let from = 0;
    let sumMm = 0;
    for (let step = 0; step < depthsMm.length; step++) {
      sumMm += depthsMm[step] || 0;
      // Half a second: times in a table are rounded.
      while (timesS[step] + stepS - timesS[from] > durationS + 0.5) sumMm -= depthsMm[from++] || 0;
      if (sumMm <= depthMm + 1e-6) continue;
      throw new InputError({
        code: 'rain-too-much',
        where: whereOf(step),
        problem: `${sumMm.toFixed(0)} mm in ${durationName(durationS / 60)} is more than the ${depthMm} mm that were ever measured (${source.title}, ${source.publisher})`,
        remedy:
          'check the unit, and leave the cell empty where the figure stands for a missing reading',
      });
    }
  }
}
