import { InputError } from '../errors';
import { durationName } from './depth-table';
import type { RainReadings } from './rain-readings';
import { dayS } from '../units/units';

/** A shorter stretch is a storm or a spell of weather and says nothing of a place's rain. Own choice. */
const shortestDays = 30;

/**
 * The step of a long record of rain: the commonest time between its readings, seconds.
 *
 * @throws {InputError} `record-not-dated` where times name no day or depths are a running total; `record-short`.
 */
export function longRecordStepS({ timesS, isDated, saysForm }: RainReadings, name: string): number {
  if (!isDated || timesS.length < 2 || saysForm === 'running-total') {
    throw new InputError({
      code: 'record-not-dated',
      where: name,
      problem: 'it is not a record of days or hours with dates',
      remedy: 'give a file with a date and a depth for each day or hour',
    });
  }
  const stepS = commonestStepS(timesS);
  const spanS = timesS[timesS.length - 1] - timesS[0] + stepS;
  if (spanS < shortestDays * dayS) {
    throw new InputError({
      code: 'record-short',
      where: name,
      problem: `it spans ${durationName(Math.round(spanS / 60))}, too little for a long record`,
      remedy: `give ${shortestDays} days at least, better ten years; one storm is read as a measured storm`,
    });
  }
  return stepS;
}

function commonestStepS(timesS: Float64Array): number {
  const seen = new Map<number, number>();
  let best = timesS[1] - timesS[0];
  for (let i = 1; i < timesS.length; i++) {
    const step = Math.round(timesS[i] - timesS[i - 1]);
    const times = (seen.get(step) ?? 0) + 1;
    seen.set(step, times);
    if (times > (seen.get(best) ?? 0)) best = step;
  }
  return best;
}
