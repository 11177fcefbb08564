import { formatLength, formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { CrossingPair } from './crossing-pairs';
import type { CrossingRow, LineCrossings } from './line-crossings';

/** Less over the line is not told to people, m3; the document has all. Our choice, no source. */
const leastM3 = 0.05;
/** A place is as wide as it was where it is no more than this wider or narrower, metres. Our choice, no source. */
const leastWidthM = 2;

/** The rows that are worth telling people. */
export function toldCrossings<T extends Pick<CrossingRow, 'volume_m3'>>(rows: readonly T[]): T[] {
  return rows.filter(({ volume_m3 }) => volume_m3 >= leastM3);
}

/** Of the pairs those that differ by so much. */
export function changedPairs(pairs: readonly CrossingPair[]): CrossingPair[] {
  return pairs.filter(
    ({ before, after }) =>
      Math.abs((after?.volume_m3 ?? 0) - (before?.volume_m3 ?? 0)) >= leastM3 ||
      Math.abs((after?.width_m ?? 0) - (before?.width_m ?? 0)) >= leastWidthM,
  );
}

/** Where a crossing lies, in words: 'out to Marl Hollow 14, 12.5 m along the line'. */
export function crossingPlace(row: CrossingRow, units: UnitSystem): string {
  const way = row.direction === 'in' ? `in from ${row.name}` : `out to ${row.name}`;
  return `${way}, ${placeWords(row, units)}`;
}

function placeWords({ by, along_m }: CrossingRow, units: UnitSystem): string {
  switch (by) {
    case 'standing-water':
      return 'within standing water';
    case 'edge-of-elevation':
      return 'over the edge of the elevation';
    case 'ground':
    case 'drain':
    case 'roof': {
      const where =
        along_m === null
          ? 'spread over the rest of the line'
          : `${formatLength(along_m, units, 0.1)} along the line`;
      return by === 'ground' ? where : `by ${by}, ${where}`;
    }
  }
}

/** Volume, width and the most in an hour: '6.3 m³ over 4.0 m, at most 7.1 m³/h'. */
export function crossingFigures(
  { volume_m3, width_m, peak_at_most_m3_per_h }: CrossingRow,
  units: UnitSystem,
): string {
  const width = width_m === null ? '' : ` over ${formatLength(width_m, units, 0.1)}`;
  const peak =
    peak_at_most_m3_per_h === null
      ? ''
      : `, at most ${formatVolume(peak_at_most_m3_per_h, units)}/h`;
  return `${formatVolume(volume_m3, units)}${width}${peak}`;
}

/** What the most in an hour means. */
export function peakWords({
  hours,
  hours_known,
}: Pick<LineCrossings, 'hours' | 'hours_known'>): string {
  const taken = hours_known
    ? `the event’s ${hours} h`
    : `${hours} h, for the plan does not say how long the storm lasts`;
  return `At most: as fast as it could cross in the fullest part of ${taken}, if all water came at once and no low spot held any back. What it takes to come is not computed, so that less is likely.`;
}
