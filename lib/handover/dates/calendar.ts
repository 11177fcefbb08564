import { Crc32 } from '../../elevation/bytes/crc32';
import { sourceLine } from '../../source';
import { addDays, dayNumber, type Day } from './day';
import type { DateEntry } from './job-dates';

/** Octets of a line of an iCalendar file, the break not counted (RFC 5545, 3.1). */
const longestLine = 75;

const frequency = { week: 'WEEKLY', month: 'MONTHLY', year: 'YEARLY' } as const;

/**
 * Days as an iCalendar file (RFC 5545): whole days, the same bytes for the same days.
 *
 * Each entry's UID is made from the plan and its key alone, so that a calendar takes a later file as an update.
 *
 * @param plan - what tells the plan from others; its name.
 * @param date - that the file is of.
 */
export function calendarOf(entries: readonly DateEntry[], plan: string, date: Day): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Lotfall//Days of a job//EN',
    'CALSCALE:GREGORIAN',
    `X-WR-CALNAME:${escaped(plan)}`,
    ...entries.flatMap((entry) => eventOf(entry, plan, date)),
    'END:VCALENDAR',
  ];
  return lines.flatMap(folded).join('\r\n') + '\r\n';
}

function eventOf(entry: DateEntry, plan: string, date: Day): string[] {
  const { key, kind, day, until, repeats, title, note, source } = entry;
  const told = source === null ? note : `${note} (${sourceLine(source)})`;
  return [
    'BEGIN:VEVENT',
    `UID:${key}.${new Crc32().add(new TextEncoder().encode(plan)).digits}@lotfall.invalid`,
    `DTSTAMP:${compact(date)}T000000Z`,
    // a file of a later day counts as newer
    `SEQUENCE:${Math.max(0, dayNumber(date))}`,
    `DTSTART;VALUE=DATE:${compact(day)}`,
    `DTEND;VALUE=DATE:${compact(addDays(until, 1))}`,
    ...(repeats === null
      ? []
      : [`RRULE:FREQ=${frequency[repeats.every]};UNTIL=${compact(repeats.until)}`]),
    `SUMMARY:${escaped(title)}`,
    `DESCRIPTION:${escaped(told)}`,
    'TRANSP:TRANSPARENT',
    ...(kind === 'ask'
      ? [
          'BEGIN:VALARM',
          'ACTION:DISPLAY',
          `DESCRIPTION:${escaped(title)}`,
          'TRIGGER:-P1D',
          'END:VALARM',
        ]
      : []),
    'END:VEVENT',
  ];
}

function compact(day: Day): string {
  return day.replaceAll('-', '');
}

function escaped(text: string): string {
  return text
    .replaceAll('\\', '\\\\')
    .replaceAll(/[;,]/g, (sign) => `\\${sign}`)
    .replaceAll(/\r\n|\r|\n/g, '\\n');
}

/** A line in pieces of at most 75 octets, each but the first with a blank before it, never within a character. */
function folded(line: string): string[] {
  const encoder = new TextEncoder();
  const pieces: string[] = [];
  let piece = '';
  let octets = 0;
  for (const character of line) {
    const size = encoder.encode(character).length;
    if (octets + size > longestLine) {
      pieces.push(piece);
      piece = ' ';
      octets = 1;
    }
    piece += character;
    octets += size;
  }
  return [...pieces, piece];
}
