import type { ObservedRow } from '../../../lib/drainage/answer/observed-water';
import { formatLength, formatRain } from '../../../lib/units/format';
import { formatRate } from '../../../lib/units/rate';
import { mmPerHOfMPerS, type UnitSystem } from '../../../lib/units/units';
import { table } from '../writing/table';

/** Water that was seen beside what is reckoned, for people; nothing where nobody saw any. */
export function observedText(rows: readonly ObservedRow[], units: UnitSystem): string[] {
  if (rows.length === 0) return [];
  const length = (value: number | null): string =>
    value === null ? '' : formatLength(value, units);
  const rate = (row: ObservedRow): string => {
    const { took_at_least_mm_per_h: least, took_at_most_mm_per_h: most } = row;
    const write = (value: number): string => formatRate(value / mmPerHOfMPerS, units);
    return [
      ...(least === null ? [] : [`at least ${write(least)}`]),
      ...(most === null ? [] : [`at most ${write(most)}`]),
    ].join(', ');
  };
  return [
    '',
    table(
      [
        ['water seen', 'on', 'rain', 'seen', 'reckoned', 'the ground took'],
        ...rows.map((row) => [
          row.name,
          row.on ?? '',
          `${formatRain(row.rain_mm, units)}${row.rain_assumed ? ' (assumed)' : ''}`,
          length(row.seen_depth_m),
          length(row.computed_depth_m),
          rate(row),
        ]),
      ],
      'llrrrl',
    ),
    ...rows.map(({ name, why }) => `${name}: ${why.join(' ')}`),
  ];
}
