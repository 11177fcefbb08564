import { TableQuestion, type TableAnswers } from './table-question';
import { hourS } from '../units/units';

const iso =
  /^(\d{4})[-/](\d\d?)[-/](\d\d?)(?:[T ]+(\d\d?):(\d\d)(?::(\d\d)(?:\.\d+)?)?\s*(Z|[+-]\d\d:?\d\d)?)?$/i;
const compact = /^(\d{4})(\d\d)(\d\d)$/;
const slashed = /^(\d\d?)[/.](\d\d?)[/.](\d{4})(?:[T ,]+(\d\d?):(\d\d)(?::(\d\d))?\s*([ap]m)?)?$/i;
const clock = /^(\d{1,3}):(\d\d)(?::(\d\d))?$/;

/** With a point or a comma for the decimals. */
const plainNumber = /^\d+([.,]\d+)?$/;

/** How the times of a column are written. */
export type TimeForm = 'date' | 'compact' | 'slashed' | 'clock' | 'number';

/** How a cell is written, if it can be a time at all. */
export function timeFormOf(cell: string): TimeForm | null {
  if (iso.test(cell)) return 'date';
  if (slashed.test(cell)) return 'slashed';
  if (clock.test(cell)) return 'clock';
  const year = Number(cell.slice(0, 4));
  if (compact.test(cell) && year >= 1700 && year < 2200) return 'compact';
  return plainNumber.test(cell) ? 'number' : null;
}

/** Whether times in this form name a day. */
export function isDated(form: TimeForm): boolean {
  return form === 'date' || form === 'compact' || form === 'slashed';
}

/** Seconds from any fixed moment; `NaN` when the cell is no time. Dates without an offset are taken as they stand. */
export function timeS(cell: string, form: TimeForm, dayFirst: boolean, numberS: number): number {
  if (form === 'number') {
    return plainNumber.test(cell) ? Number(cell.replace(',', '.')) * numberS : NaN;
  }
  if (form === 'clock') {
    const [, hour, minute, second = '0'] = clock.exec(cell) ?? [];
    if (Number(minute) > 59 || Number(second) > 59) return NaN;
    return Number(hour) * hourS + Number(minute) * 60 + Number(second);
  }
  if (form === 'slashed') {
    const [, a, b, year, hour = '0', minute = '0', second = '0', half = ''] =
      slashed.exec(cell) ?? [];
    const [month, day] = dayFirst ? [b, a] : [a, b];
    const h = half === '' ? Number(hour) : (Number(hour) % 12) + (/p/i.test(half) ? 12 : 0);
    return momentS([year, month, day].map(Number), h, Number(minute), Number(second), '');
  }
  const [, year, month, day, hour = '0', minute = '0', second = '0', zone = ''] =
    (form === 'compact' ? compact : iso).exec(cell) ?? [];
  return momentS(
    [year, month, day].map(Number),
    Number(hour),
    Number(minute),
    Number(second),
    zone,
  );
}

function momentS(
  [year, month, day]: readonly number[],
  hour: number,
  minute: number,
  second: number,
  zone: string,
): number {
  // A day that rolls over (31 June) or an hour past 24 is a slip of the pen, not a time.
  const start = new Date(Date.UTC(year, month - 1, day));
  if (start.getUTCMonth() !== month - 1 || start.getUTCDate() !== day) return NaN;
  if (hour > 24 || minute > 59 || second > 59) return NaN;
  const [, sign, zoneH = '0', zoneMin = '0'] = /^([+-])(\d\d):?(\d\d)$/.exec(zone) ?? [];
  const offsetS = (Number(zoneH) * 60 + Number(zoneMin)) * 60 * (sign === '-' ? -1 : 1);
  return start.getTime() / 1000 + hour * hourS + minute * 60 + second - offsetS;
}

/** Whether dates such as 3/4/2024 have the day first: as a date with a number over 12 shows, or as the user says. */
export function dayComesFirst(
  cells: readonly string[],
  name: string,
  { dateOrder }: Pick<TableAnswers, 'dateOrder'>,
): boolean {
  for (const cell of cells) {
    const [, first, second] = slashed.exec(cell) ?? [];
    if (Number(first) > 12) return true;
    if (Number(second) > 12) return false;
  }
  if (dateOrder !== undefined) return dateOrder === 'day-first';
  throw new TableQuestion(
    {
      code: 'rain-date-order',
      where: name,
      problem: `'${cells[0]}' may be read with the day or with the month first`,
      remedy: 'say which comes first',
    },
    'dateOrder',
    [
      { value: 'month-first', label: 'month/day/year' },
      { value: 'day-first', label: 'day/month/year' },
    ],
  );
}
