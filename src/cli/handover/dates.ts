import { calendarOf } from '../../../lib/handover/dates/calendar';
import { dayText } from '../../../lib/handover/dates/day';
import {
  jobDates,
  type DateEntry,
  type DatesQuestion,
  type JobDates,
} from '../../../lib/handover/dates/job-dates';
import { datesAsked } from '../../../lib/handover/job/dates-of-plan';
import type { JobSettings } from '../../../lib/plan/job-settings';
import type { Plan } from '../../../lib/plan/schema';
import { sourceLine } from '../../../lib/source';
import { csv } from '../../../lib/tables/write-csv';
import type { Command } from '../command';
import { dayOf } from '../reading/day';
import { refuseWithoutBasin } from '../reading/gardens';
import { planOf } from '../reading/inputs';
import { jobOf } from '../reading/job';
import { noteLines, sentences } from '../notes';
import { table } from '../writing/table';
import { usage } from '../usage';

/** `lotfall dates`: the days of the job. */
export const dates: Command = {
  name: 'dates',
  summary: 'the days of the job around the day of digging, what clashes, and a calendar file',
  help: `Usage: lotfall dates <plan.geojson> --dig 2027-05-08 --notice '3 business days' [--out dates.ics]

  --dig <date>                          first day of digging
  --days <number>                       days that digging takes; when not given 2
  --notice <span>                       what your notice service asks for before digging: '3 business days',
                                        '2 to 10 working days', '48 hours'. Never assumed: ask the service
  --private-notice <span>               how long before digging a private locator is to be booked
  --valid <span>                        how long marks may be relied on: '20 business days', '45 days'
  --valid-from <request|start>          from when on that counts; when not given from the day of the call
  --holidays <date,date,…>              days that are no business days
  --last-frost <day> --first-frost <day>  of the year, as '15 May' and '5 Oct' or 05-15 and 10-05
  --plant <date>                        when to plant; when not given the day after digging
  --lead <span>                         how long before they come things are to be ordered
  --hire <thing>                        hired for the days of digging; may be given more than once
  --date-order <month-first|day-first>  how dates such as 5/8/2027 are meant
  --date <date>                         the day that the list is of; else today
  --out <file>                          .ics (iCalendar, whole days; a later file updates the entries), .csv, .json, .txt`,
  options: {
    dig: { type: 'string' },
    days: { type: 'string' },
    notice: { type: 'string' },
    'private-notice': { type: 'string' },
    valid: { type: 'string' },
    'valid-from': { type: 'string' },
    holidays: { type: 'string' },
    'last-frost': { type: 'string' },
    'first-frost': { type: 'string' },
    plant: { type: 'string' },
    lead: { type: 'string' },
    hire: { type: 'string', multiple: true },
    'date-order': { type: 'string' },
    date: { type: 'string' },
  },
  forms: ['.ics', '.csv'],
  async run(call) {
    const { plan, file, notes } = await planOf(call);
    refuseWithoutBasin(plan, file);
    const asked = questionOf(plan, await jobOf(call, plan), dayOf(call, 'date'));
    const found = jobDates(asked);
    const result = { ...found, notes: sentences(notes, found.notes) };
    const name = plan.lotfall.name ?? file;
    return {
      text: datesText(name, result),
      json: { dig: asked.dig, ...result },
      files: {
        '.ics': calendarOf(result.entries, name, asked.today),
        '.csv': datesTable(result.entries),
      },
      alsoText: true,
    };
  },
};

function questionOf(plan: Plan, job: JobSettings, today: string): DatesQuestion {
  const { question } = datesAsked(plan, job, today);
  if (question !== null) return question;
  if (job.dig === undefined) throw usage('no day of digging is named', 'add --dig 2027-05-08');
  throw usage(
    'how long before digging the notice service is to be asked is not given, and differs by place',
    "ask the service and add --notice '3 business days'",
  );
}

function datesText(name: string, { entries, conflicts, notes }: JobDates): string {
  return [
    name,
    table(
      entries.map((entry) => [
        dayText(entry.day),
        entry.until === entry.day ? '' : `to ${dayText(entry.until)}`,
        `${entry.title}${repeatText(entry)}`,
      ]),
    ),
    ...(conflicts.length === 0
      ? []
      : [`Does not go together\n${conflicts.map((each) => `  ${each}`).join('\n')}`]),
    noteLines(notes),
  ].join('\n\n');
}

function repeatText({ repeats }: DateEntry): string {
  return repeats === null ? '' : `, every ${repeats.every} until ${dayText(repeats.until)}`;
}

function datesTable(entries: readonly DateEntry[]): string {
  return csv([
    ['day', 'until', 'repeats', 'repeats_until', 'kind', 'title', 'note', 'source'],
    ...entries.map(({ day, until, repeats, kind, title, note, source }) => [
      day,
      until,
      repeats?.every ?? '',
      repeats?.until ?? '',
      kind,
      title,
      note,
      source === null ? '' : sourceLine(source),
    ]),
  ]);
}
