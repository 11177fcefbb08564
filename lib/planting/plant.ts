import type { ZoneName } from '../basin/form/planting-zones';
import type { Source } from '../source';

/** A kind of plant, in the words that a list and a drawing need. */
export interface Plant {
  /** Its scientific name. */
  readonly name: string;
  readonly common: string | null;
  readonly zone: ZoneName;
  /** Across, when grown. */
  readonly spreadM: number;
  /** From and to, when grown. */
  readonly heightM: readonly [number, number];
  /** First and last month in bloom, 1 to 12; the first may be the later one. */
  readonly bloom: readonly [number, number] | null;
  readonly sun: string;
  readonly nativeTo: string;
  /** Where figures are from; `null` for a list of the user's own. */
  readonly sources: {
    readonly height: Source;
    readonly spread: Source;
    readonly bloom: Source;
  } | null;
}

/** Stays in view wherever plants are named. */
export const nativeReminder =
  'Check your local native and invasive lists before you buy: a plant that belongs in one place is a pest in another.';

/** From here up a plant is tall and tends to flop: 3 ft. */
export const tallM = 0.9144;
export const tallSource: Source = {
  title: 'Rain garden plants (NebGuide G1759)',
  publisher: 'Nebraska Extension',
  year: 2007,
  mark: 'seen',
};
