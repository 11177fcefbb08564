import type { Call } from '../command';
import { usage } from '../usage';

export const dayOption = { on: { type: 'string' } } as const;

export const dayHelp = `  --on <date>                           day on which locates must be current, as 2026-11-25; else today`;

/** The day that locates are judged on: the one named, or today where the user is. */
export function dayOf(call: Call, option = 'on'): string {
  const named = call.option(option);
  if (named === undefined) return today();
  const day = /^\d{4}-\d{2}-\d{2}$/.test(named) ? new Date(`${named}T00:00:00`) : undefined;
  // A 31 February would be read as a day in March.
  if (day === undefined || Number.isNaN(day.getTime()) || isoDay(day) !== named) {
    throw usage(`--${option} '${named}' is no date`, 'write it as 2026-11-25');
  }
  return named;
}

/** Today, where the user is. */
export function today(): string {
  return isoDay(new Date());
}

function isoDay(date: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(date.getFullYear()).padStart(4, '0')}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
