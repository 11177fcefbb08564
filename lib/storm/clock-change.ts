import { dayS, hourS } from '../units/units';

/** Clocks are changed in the night before a Sunday's morning: at 1, 2 or 3, in some places at midnight. From memory. */
const latestS = 4 * hourS;

/**
 * Makes times as clocks on the wall have them run on, in place, where the clocks were set back an hour within the table:
 * all after the repeated hour is an hour later, until an hour is left out in spring.
 *
 * Nothing is touched unless every fall among the times is such an hour: it runs back by less than an hour in the small
 * hours of a Sunday, in readings an hour apart or less.
 *
 * @param timesS - in the order of the lines, seconds from the epoch as if clocks showed universal time.
 * @returns how many hours come twice.
 */
export function spreadRepeatedHours(timesS: Float64Array): number {
  const falls: number[] = [];
  for (let i = 1; i < timesS.length; i++) {
    if (timesS[i] > timesS[i - 1]) continue;
    if (!isSetBack(timesS, i)) return 0;
    falls.push(i);
  }
  if (falls.length === 0) return 0;
  const shown = timesS.slice();
  let laterS = 0;
  for (let i = 1; i < shown.length; i++) {
    if (shown[i] <= shown[i - 1]) laterS += hourS;
    else if (isSetForward(shown, i)) laterS -= hourS;
    timesS[i] = shown[i] + laterS;
  }
  return falls.length;
}

function isSetBack(timesS: Float64Array, i: number): boolean {
  const backS = timesS[i - 1] - timesS[i];
  const beside = Math.min(stepTo(timesS, i - 1), stepTo(timesS, i + 1));
  return backS < hourS && beside <= hourS && isSundayNight(timesS[i] + hourS);
}

/** One step longer by an hour than those before and after it. */
function isSetForward(timesS: Float64Array, i: number): boolean {
  const stepS = stepTo(timesS, i - 1);
  return (
    stepS <= hourS &&
    stepTo(timesS, i + 1) === stepS &&
    timesS[i] - timesS[i - 1] === stepS + hourS &&
    isSundayNight(timesS[i])
  );
}

/** Seconds from the time before to that at `i`; infinite where either is missing or time does not run on. */
function stepTo(timesS: Float64Array, i: number): number {
  const stepS = timesS[i] - timesS[i - 1];
  return stepS > 0 ? stepS : Infinity;
}

function isSundayNight(timeS: number): boolean {
  const isSunday = new Date(timeS * 1000).getUTCDay() === 0;
  return isSunday && ((timeS % dayS) + dayS) % dayS <= latestS;
}
