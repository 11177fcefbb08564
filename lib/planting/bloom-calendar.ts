import { monthNames } from './months';
import type { Plant } from './plant';

/** What is in bloom, month by month. Field names are those of the JSON output. */
export interface BloomCalendar {
  readonly rows: readonly { readonly name: string; readonly months: readonly boolean[] }[];
  /** Months between the first and the last bloom in which nothing is. */
  readonly gaps: readonly string[];
  /** What flowers and is not known to. */
  readonly unknown: readonly string[];
}

/** Whether a plant blooms in a month, 1 to 12; a bloom may run over the end of the year. */
export function bloomsIn({ bloom }: Pick<Plant, 'bloom'>, month: number): boolean {
  if (bloom === null) return false;
  const [first, last] = bloom;
  return first <= last ? month >= first && month <= last : month >= first || month <= last;
}

export function bloomCalendar(plants: readonly Plant[]): BloomCalendar {
  const rows = plants
    .filter(({ bloom }) => bloom !== null)
    .map((plant) => ({
      name: plant.name,
      months: monthNames.map((_, i) => bloomsIn(plant, i + 1)),
    }));
  const any = monthNames.map((_, i) => rows.some(({ months }) => months[i]));
  const [first, last] = [any.indexOf(true), any.lastIndexOf(true)];
  return {
    rows,
    gaps: monthNames.filter((_, i) => i > first && i < last && !any[i]),
    unknown: plants.filter(({ bloom }) => bloom === null).map(({ name }) => name),
  };
}
