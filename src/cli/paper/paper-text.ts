import type { EarthAtWalls } from '../../../lib/paper/earth-at-walls';
import type { OnPaper } from '../../../lib/paper/on-paper';
import {
  bowlWords,
  earthWords,
  holeWords,
  lineWords,
  sizeWords,
  soakawayWords,
  soilWords,
  sourcesText,
} from '../../../lib/paper/paper-words';
import { depthClasses, type SizeOnPaper } from '../../../lib/paper/size-on-paper';
import { formatArea, formatLength, formatRain, formatVolume } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';

/** What a plan says without the heights of its ground, for people. */
export function paperText(
  answer: OnPaper,
  { title, units, notes }: { title: string; units: UnitSystem; notes: readonly string[] },
): string {
  return [
    `${title}: without elevation, what can be said of ${formatRain(answer.rain_mm, units)} of rain`,
    sizeText(answer.size, units),
    soilWords(answer, units),
    ...answer.holes.map((hole) => holeWords(hole, units)),
    answer.bowls.map((each) => bowlWords(each, units)).join('\n'),
    ...answer.soakaways.map((soakaway) => soakawayWords(soakaway, units)),
    ...wallText(answer.walls, units),
    ...answer.lines.map((line) => lineWords(line, answer.flow_mm_per_h, units)),
    `Cannot be said without heights\n${answer.cannot_say.map(({ question, why }) => `  ${question}: ${why}`).join('\n')}`,
    noteLines(notes),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function sizeText(size: SizeOnPaper, units: UnitSystem): string {
  if (size.total === null) return '';
  const rows = [...size.rows, ...(size.rows.length > 1 ? [size.total] : [])];
  const body = table(
    [
      [
        'garden by the size factors',
        'drains',
        ...depthClasses.map((depth) => `${formatLength(size.depth_m[depth], units)} deep`),
        `beyond ${formatLength(size.far_m, units)}`,
      ],
      ...rows.map(({ name, drains_m2, garden_m2 }) => [
        name,
        formatArea(drains_m2, units),
        ...depthClasses.map((depth) => formatArea(garden_m2[depth], units)),
        formatArea(garden_m2.far, units),
      ]),
    ],
    'lrrrrr',
  );
  return [body, ...sizeWords(size, units), sourcesText(size.sources)].join('\n');
}

function wallText(walls: readonly EarthAtWalls[], units: UnitSystem): string[] {
  if (walls.length === 0) return [];
  const rows = walls.map(
    ({ name, strip_m2, if_level_m3, more_for_each_percent_m3, beyond_lot_m2 }) => [
      name,
      formatArea(strip_m2, units),
      formatVolume(if_level_m3, units, 1),
      formatVolume(more_for_each_percent_m3, units, 1),
      beyond_lot_m2 < 1 ? '' : `${formatArea(beyond_lot_m2, units)} of the reach is not yours`,
    ],
  );
  return [
    [
      table(
        [
          ['earth for a 5 % fall', 'strip', 'if level now', 'more for each 1 % to the wall', ''],
          ...rows,
        ],
        'lrrrl',
      ),
      earthWords(units),
    ].join('\n'),
  ];
}
