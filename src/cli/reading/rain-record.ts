import { basename } from 'node:path';
import type { LongRunOptions, RecordedRain } from '../../../lib/basin/filling/long-run';
import { recordedRain } from '../../../lib/basin/filling/recorded-rain';
import { InputError } from '../../../lib/errors';
import { depthUnitMm, TableQuestion, type TableAnswers } from '../../../lib/storm/table-question';
import { parseRain } from '../../../lib/units/parse-length';
import type { Call } from '../command';
import { readText } from './read-text';
import { usage } from '../usage';

/** Options for sending a long record of rain through a basin. */
export const recordOptions = {
  record: { type: 'string' },
  'record-unit': { type: 'string' },
  'record-station': { type: 'string' },
  'record-column': { type: 'string' },
  'date-order': { type: 'string' },
  drying: { type: 'string' },
} as const;

export const recordHelp = `  --record <file.csv>                   measured rain by the hour or day, a year or many, to send through each basin
  --record-unit <unit>                  mm, in, cm or tenth-mm: unit of its depths, where the file does not say
  --record-station <name>               which of its stations; --record-column <name>: which of its columns
  --date-order <order>                  month-first or day-first, for dates such as 3/4/2024
  --drying <depth>                      what plants and air take from the layers in a day, for example 2mm; else nothing`;

const optionFor: Readonly<Partial<Record<keyof TableAnswers, string>>> = {
  depthUnit: '--record-unit',
  station: '--record-station',
  depthColumn: '--record-column',
  dateOrder: '--date-order',
};

/** The record that the call names, read; `null` when it names none. */
export async function recordOf(call: Call): Promise<{
  readonly record: RecordedRain;
  readonly options: LongRunOptions;
  readonly notes: readonly string[];
} | null> {
  const path = call.option('record');
  const dries = call.option('drying');
  if (path === undefined) {
    const lone = Object.keys(recordOptions).find((name) => call.option(name) !== undefined);
    if (lone !== undefined) throw usage(`--${lone} goes with a record`, 'add --record <file.csv>');
    return null;
  }
  const text = await readText(path, 'the record');
  try {
    return {
      ...recordedRain(text, basename(path), answersOf(call)),
      options: dries === undefined ? {} : { dryMmPerDay: parseRain(dries) },
    };
  } catch (error) {
    if (!(error instanceof TableQuestion)) throw error;
    const option = optionFor[error.asks];
    if (option === undefined) throw error;
    throw new InputError(
      {
        code: error.code,
        where: error.where,
        problem: error.problem,
        remedy: `add ${option} with one of ${error.choices.map(({ value }) => value).join(', ')}`,
      },
      { cause: error },
    );
  }
}

function answersOf(call: Call): TableAnswers {
  const unit = call.option('record-unit');
  const station = call.option('record-station');
  const column = call.option('record-column');
  const order = call.option('date-order');
  if (unit !== undefined && !(unit in depthUnitMm)) {
    throw usage(
      `--record-unit '${unit}' is no unit of rain`,
      `use ${Object.keys(depthUnitMm).join(', ')}`,
    );
  }
  if (order !== undefined && order !== 'month-first' && order !== 'day-first') {
    throw usage(`--date-order '${order}' is no order`, 'use month-first or day-first');
  }
  return {
    ...(unit === undefined ? {} : { depthUnit: unit as keyof typeof depthUnitMm }),
    ...(station === undefined ? {} : { station }),
    ...(column === undefined ? {} : { depthColumn: column }),
    ...(order === undefined ? {} : { dateOrder: order }),
  };
}
