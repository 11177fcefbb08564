import { InputError } from '../../errors';
import { longRecordStepS } from '../../storm/long-record';
import { refuseImpossibleRain } from '../../storm/most-rain';
import { rainReadings } from '../../storm/rain-readings';
import type { TableAnswers } from '../../storm/table-question';
import type { RecordedRain } from './long-run';
import { dayS, hourS } from '../../units/units';

/** Finer steps say nothing more over a year, and many years of them are too much. */
const finestS = 300;
/** Two centuries of hours. */
const mostSteps = 2_000_000;

/**
 * Reads a long record of rain as steps in order, the missing ones marked, for sending it through a basin.
 *
 * The step is the commonest time between readings. Readings at other times count in the step that they fall into.
 *
 * @throws {InputError} those of `rainReadings`, `longRecordStepS` and `refuseImpossibleRain`; `record-step`; a
 *   `TableQuestion` for what the table leaves open.
 * Cost: linear in characters.
 */
export function recordedRain(
  text: string,
  name: string,
  answers: TableAnswers = {},
): { readonly record: RecordedRain; readonly notes: readonly string[] } {
  const readings = rainReadings(text, name, answers);
  const { timesS, depthsMm } = readings;
  const stepS = longRecordStepS(readings, name);
  if (stepS < finestS || stepS > dayS) {
    throw new InputError({
      code: 'record-step',
      where: name,
      problem: `its readings are ${Math.round(stepS / 60)} min apart`,
      remedy: 'give a record in steps of 5 min to a day',
    });
  }
  const count = Math.round((timesS[timesS.length - 1] - timesS[0]) / stepS) + 1;
  if (count > mostSteps) {
    throw new InputError({
      code: 'record-step',
      where: name,
      problem: `it spans ${count} steps`,
      remedy: `give at most ${mostSteps}`,
    });
  }
  const perStep = readings.isRate ? stepS / hourS : 1;
  const readMm = depthsMm.map((depth) => depth * perStep);
  refuseImpossibleRain(readMm, timesS, stepS, (i) => `${name}, line ${readings.lines[i]}`);
  const steps = new Float64Array(count).fill(NaN);
  for (let i = 0; i < timesS.length; i++) {
    if (Number.isNaN(readMm[i])) continue;
    const at = Math.min(count - 1, Math.round((timesS[i] - timesS[0]) / stepS));
    steps[at] = (Number.isNaN(steps[at]) ? 0 : steps[at]) + readMm[i];
  }
  const start = new Date(timesS[0] * 1000).toISOString();
  return { record: { stepS, depthsMm: steps, start }, notes: readings.notes };
}
