import { InputError } from '../errors';
import type { StormSettings } from '../plan/storm-settings';
import { durationName } from './depth-table';
import { refuseImpossibleRain } from './most-rain';
import { rainReadings, type RainReadings } from './rain-readings';
import { TableQuestion, type TableAnswers } from './table-question';
import { dayMin, hourS } from '../units/units';

type MeasuredRain = NonNullable<StormSettings['measured']>;

/** A measured storm as read, and what was made of it, in the user's words. */
export interface ReadMeasuredRain {
  readonly measured: MeasuredRain;
  readonly totalMm: number;
  readonly notes: readonly string[];
}

/** A storm of more steps is a record of many: a fortnight of minutes. */
const mostSteps = 20_160;
/** As much as a plan may hold in a storm, millimetres. */
const mostMm = 2000;
/** The shortest steps that a plan may hold, seconds. */
const finestS = 6;
/** Times that differ from whole steps by less are whole steps written roughly, seconds. */
const roughlyS = 1;

/**
 * Reads a measured storm from text with a column of times and one of depths: its depths in equal steps, from the first
 * that is wet to the last.
 *
 * Depths may be those of each step or all that has fallen so far: the heading tells, or a fall from one to the next, else
 * the user is asked. Steps without a reading count as dry, and a note says how many. Neither depth nor time is rounded.
 *
 * @param name - what to call it in messages.
 * @throws {InputError} naming the line: those of `rainReadings` and `refuseImpossibleRain`, `rain-falls`, `rain-dry`,
 *   `rain-too-long`, `rain-too-much`; a `TableQuestion` for what the table leaves open.
 */
export function readMeasuredRain(
  text: string,
  name: string,
  answers: TableAnswers = {},
): ReadMeasuredRain {
  const readings = rainReadings(text, name, answers);
  const notes = [...readings.notes];
  const form = readings.isRate ? 'each-step' : formOf(readings, name, answers);
  const steps =
    form === 'running-total'
      ? fromRunningTotal(readings, name, answers, notes)
      : fromSteps(readings, name, answers, notes);
  const { stepS } = steps;
  const first = steps.depthsMm.findIndex((depth) => depth > 0);
  if (first === -1) {
    throw new InputError({
      code: 'rain-dry',
      where: name,
      problem: 'no rain falls in it',
      remedy: 'choose a stretch of time in which it rained',
    });
  }
  const last = steps.depthsMm.findLastIndex((depth) => depth > 0);
  const depths = steps.depthsMm.slice(first, last + 1);
  if (depths.length < steps.depthsMm.length) {
    notes.push('Dry time before and after the rain was left out.');
  }
  refuseImpossibleRain(
    depths,
    depths.map((_, step) => step * stepS),
    stepS,
    () => name,
  );
  const totalMm = depths.reduce((sum, depth) => sum + depth, 0);
  if (totalMm > mostMm) {
    throw new InputError({
      code: 'rain-too-much',
      where: name,
      problem: `${totalMm.toFixed(0)} mm fall in it, ${mostMm} at most are taken`,
      remedy: 'check the unit, and cut out one storm',
    });
  }
  return { measured: { source: name, step_min: stepS / 60, depths_mm: depths }, totalMm, notes };
}

/** Whether depths are those of steps or all so far. */
function formOf(
  { depthsMm, saysForm }: RainReadings,
  name: string,
  { depths }: TableAnswers,
): 'each-step' | 'running-total' {
  if (depths !== undefined) return depths;
  if (saysForm !== null) return saysForm;
  let changes = 0;
  let falls = 0;
  let before = NaN;
  for (const depth of depthsMm) {
    if (Number.isNaN(depth)) continue;
    if (depth !== before && !Number.isNaN(before)) changes++;
    if (depth < before) falls++;
    before = depth;
  }
  // Rain comes and goes; a total only ever rises, but for a gauge that is emptied now and then.
  if (falls > 0 && falls >= changes / 4) return 'each-step';
  throw new TableQuestion(
    {
      code: 'rain-form-open',
      where: name,
      problem:
        falls === 0
          ? 'its depths never fall, so they may be those of each step or all that has fallen so far'
          : 'its depths rise nearly always, as a total would that is set back now and then',
      remedy: 'say which they are',
    },
    'depths',
    [
      { value: 'each-step', label: 'what fell in each step' },
      { value: 'running-total', label: 'all that has fallen so far' },
    ],
  );
}

interface Steps {
  readonly stepS: number;
  readonly depthsMm: number[];
}

function fromSteps(
  readings: RainReadings,
  name: string,
  answers: TableAnswers,
  notes: string[],
): Steps {
  const { timesS, depthsMm, isRate } = readings;
  const asked = askedStepS(answers);
  const stepS = evenStepS(timesS) ?? asked;
  if (stepS === null) throw askStep(name, timesS.length);
  const steps = stepsOver(timesS, stepS, name);
  if (isRate) notes.push('Its rates were turned into depths of their steps.');
  let gaps = steps.length - timesS.length;
  timesS.forEach((time, i) => {
    // A time and its step may differ by rounding; asked-for steps take in whatever falls within them.
    const step = Math.floor((time - timesS[0] + roughlyS) / stepS);
    if (Number.isNaN(depthsMm[i])) gaps++;
    else steps[step] += depthsMm[i] * (isRate ? stepS / hourS : 1);
  });
  if (evenStepS(timesS) !== null && gaps > 0) {
    notes.push(
      `${gaps} of its ${steps.length} steps have no reading and are taken as dry: the storm may have been larger.`,
    );
  }
  return { stepS, depthsMm: steps };
}

function fromRunningTotal(
  readings: RainReadings,
  name: string,
  answers: TableAnswers,
  notes: string[],
): Steps {
  const kept = [...readings.depthsMm.keys()].filter((i) => !Number.isNaN(readings.depthsMm[i]));
  const missing = readings.depthsMm.length - kept.length;
  if (missing > 0) notes.push(`${missing} missing readings were bridged by straight lines.`);
  const times = kept.map((i) => readings.timesS[i]);
  const totals = kept.map((i) => readings.depthsMm[i]);
  totals.forEach((total, i) => {
    if (i === 0 || total >= totals[i - 1]) return;
    throw new InputError({
      code: 'rain-falls',
      where: `${name}, line ${readings.lines[kept[i]]}`,
      problem: `the total falls from ${totals[i - 1].toFixed(2)} to ${total.toFixed(2)} mm`,
      remedy:
        'cut the file where the gauge was set back, or say that depths are those of each step',
    });
  });
  const stepS = evenStepS(times) ?? askedStepS(answers);
  if (stepS === null) throw askStep(name, times.length);
  const rises = totals.slice(1).map((total, i) => total - totals[i]);
  const startsMm = totals[0];
  const counts = startsMm > 0 && startsMm <= Math.max(0, ...rises);
  if (startsMm > 0) {
    notes.push(
      counts
        ? `The first reading, ${startsMm.toFixed(2)} mm, is taken to have fallen in one step before it.`
        : `The total begins at ${startsMm.toFixed(2)} mm, which fell before and is not counted.`,
    );
  }
  const fromS = times[0] - (counts ? stepS : 0);
  const at = counts ? [fromS, ...times] : times;
  const fallen = counts ? [0, ...totals] : totals.map((total) => total - startsMm);
  const count = stepsOver([fromS, times[times.length - 1] - stepS], stepS, name).length;
  let before = 0;
  const depthsMm = Array.from({ length: count }, (_, step) => {
    const now =
      step === count - 1
        ? fallen[fallen.length - 1]
        : totalAt(at, fallen, fromS + (step + 1) * stepS);
    const depth = now - before;
    before = now;
    return Math.max(0, depth);
  });
  return { stepS, depthsMm };
}

/** The total at a moment, on the straight line between readings. */
function totalAt(times: readonly number[], totals: readonly number[], timeS: number): number {
  const above = times.findIndex((time) => time >= timeS);
  if (above <= 0) return above === 0 ? totals[0] : totals[totals.length - 1];
  const share = (timeS - times[above - 1]) / (times[above] - times[above - 1]);
  return totals[above - 1] + share * (totals[above] - totals[above - 1]);
}

/** Empty steps from the first time to the last, both with a step of their own. */
function stepsOver(timesS: ArrayLike<number>, stepS: number, name: string): number[] {
  const count = Math.floor((timesS[timesS.length - 1] - timesS[0] + roughlyS) / stepS) + 1;
  if (count <= mostSteps) return new Array<number>(Math.max(1, count)).fill(0);
  throw new InputError({
    code: 'rain-too-long',
    where: name,
    problem: `it spans ${durationName((count * stepS) / 60)} in steps of ${durationName(stepS / 60)}`,
    remedy: 'cut out one storm, or open it as a long record',
  });
}

/** The least difference between times when all are whole multiples of it, else `null`. */
function evenStepS(timesS: ArrayLike<number>): number | null {
  const least = leastStepS(timesS);
  // Steps finer than a plan can hold are summed up like uneven ones.
  if (least === null || least < finestS) return null;
  for (let i = 1; i < timesS.length; i++) {
    const steps = (timesS[i] - timesS[i - 1]) / least;
    if (Math.abs(steps - Math.round(steps)) * least > roughlyS) return null;
  }
  return least;
}

function leastStepS(timesS: ArrayLike<number>): number | null {
  let least = Infinity;
  for (let i = 1; i < timesS.length; i++) least = Math.min(least, timesS[i] - timesS[i - 1]);
  return Number.isFinite(least) ? least : null;
}

function askedStepS({ stepMin }: TableAnswers): number | null {
  const minutes = Number(stepMin);
  return minutes > 0 && minutes <= dayMin ? minutes * 60 : null;
}

function askStep(name: string, readings: number): TableQuestion {
  return new TableQuestion(
    {
      code: 'rain-step',
      where: name,
      problem:
        readings < 2
          ? 'one reading alone does not say in what time it fell'
          : 'its times are not in equal steps',
      remedy: 'say in what steps its rain is to be summed up',
    },
    'stepMin',
    ['5', '10', '15', '30', '60'].map((value) => ({ value, label: `${value} min` })),
  );
}
