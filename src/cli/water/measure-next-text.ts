import type { NextReading } from '../../../lib/drainage/answer/measure-next';
import { formatLength } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';

/** Where to read the next levels, for people; nothing where none is asked for. */
export function measureNextText(next: readonly NextReading[], units: UnitSystem): string[] {
  if (next.length === 0) return [];
  return [
    '',
    'Measure here next',
    ...next.map(({ why, from }) => {
      const tapes = from.map(
        ({ level, distance_m }) => `${formatLength(distance_m, units)} from ${level}`,
      );
      return `  ${tapes.join(' and ')}: ${why}`;
    }),
  ];
}
