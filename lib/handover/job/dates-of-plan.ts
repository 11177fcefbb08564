import { featureName } from '../../plan/feature-name';
import type { JobSettings } from '../../plan/job-settings';
import { isKind, type Plan } from '../../plan/schema';
import type { Day } from '../dates/day';
import type { DatesQuestion } from '../dates/job-dates';
import { readSpan, type Span } from '../dates/notice';

/** Days of digging where nobody says. Our choice, no source. */
export const usualDigDays = 2;

/** What a plan says of the days of its job; where it lacks what is never assumed, a sentence each. */
export type DatesAsked =
  | { readonly question: DatesQuestion; readonly lacks: null }
  | { readonly question: null; readonly lacks: readonly string[] };

/**
 * @param today - the day that the list is of.
 * @throws {InputError} `span-not-read`.
 */
export function datesAsked(plan: Plan, job: JobSettings, today: Day): DatesAsked {
  const { dig, notice } = job;
  const lacks = [
    ...(dig === undefined
      ? ['No day of digging is given, so there are no dates: give it (--dig, or under Dates).']
      : []),
    ...(notice === undefined
      ? [
          'How long before digging the notice service must be asked is not given, and differs by place: ask it and give it (--notice, or under Dates).',
        ]
      : []),
  ];
  if (dig === undefined || notice === undefined) return { question: null, lacks };
  const { last_frost: last, first_frost: first } = job;
  return {
    lacks: null,
    question: {
      today,
      dig,
      digDays: job.dig_days ?? usualDigDays,
      notice: readSpan(notice, 'notice of the public service'),
      privateNotice: spanOf(job.private_notice, 'notice of the private locator'),
      valid: spanOf(job.valid, 'how long marks are valid'),
      validFrom: job.valid_from ?? 'request',
      holidays: new Set(job.holidays),
      frost: last === undefined || first === undefined ? null : { last, first },
      plant: job.plant ?? null,
      lead: spanOf(job.lead, 'time for ordering'),
      hires: job.hires ?? [],
      locates: locatesOf(plan),
    },
  };
}

function spanOf(text: string | undefined, where: string): Span | null {
  return text === undefined ? null : readSpan(text, where);
}

function locatesOf({ features, lotfall }: Plan): DatesQuestion['locates'] {
  return [
    ...features.flatMap((feature) => {
      if (!isKind(feature, 'utility')) return [];
      const { located } = feature.properties;
      return located === undefined
        ? []
        : [{ name: featureName(feature), on: located.on, until: located.until }];
    }),
    ...(lotfall.locates ?? []).map(({ services, on, until }) => ({
      name: services.join(', '),
      on,
      until,
    })),
  ];
}
