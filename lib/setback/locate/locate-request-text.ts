import { formatArea, formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { LocateLine, LocateRequest } from './locate-request';
import type { LocateState } from './locates';
import { markings, markingSource, otherMarks, ukColours, ukColoursSource } from './marking-colours';
import type { Source } from '../../source';

/** A locate request as plain text, to be copied into an e-mail or read out over the telephone. */
export function locateRequestText(request: LocateRequest, units: UnitSystem): string {
  const length = (metres: number): string => formatLength(metres, units);
  const [along, across] = request.sides_m;
  const where = [
    `Locate request for ${request.lot}, ${request.on}`,
    `To be dug: ${request.parts.join(', ')}, with ${length(request.working_margin_m)} of working room around.`,
    `Area to be outlined in white: ${formatArea(request.area_m2, units)}, within a rectangle of ${length(along)} by ${length(across)}.`,
    `Its corners (latitude, longitude): ${request.corners
      .map(([lng, lat]) => `${lat.toFixed(6)}, ${lng.toFixed(6)}`)
      .join('; ')}.`,
    ...request.from_buildings.map(({ name, distance_m, direction }) =>
      distance_m === 0
        ? `Against ${name}, ${direction} of it.`
        : `${length(distance_m)} ${direction} of ${name}.`,
    ),
  ];
  const asks = request.ask.map((ask) =>
    [
      ask.needed
        ? `Ask ${ask.who}.`
        : `On record by ${ask.by === 'public' ? 'the public notice service' : 'a private locator'}: valid until ${ask.valid_until}.`,
      ...ask.answer_lines.map((line) => `  ${line}`),
      ...ask.lines.map((line) => `  ${lineText(line, length)}`),
      ...(ask.lines.length === 0
        ? ['  no such line is drawn, which does not mean there is none']
        : []),
    ].join('\n'),
  );
  const colours = [
    ...otherMarks,
    ...Object.values(markings).map(({ colour, meaning }) => ({ colour, meaning })),
  ].map(({ colour, meaning }) => `${colour} ${meaning}`);
  return [
    where.join('\n'),
    ...asks,
    `Hand tools only within ${length(request.tolerance_m)} to each side of a marked line, its width not counted, or what your law says.`,
    `Colours of marks in North America: ${colours.join('; ')} (${sourceText(markingSource)}). ${ukColours} (${sourceText(ukColoursSource)})`,
    request.cautions.map((caution) => `- ${caution}`).join('\n'),
  ].join('\n\n');
}

function sourceText({ title, publisher, year, mark }: Source): string {
  return `${title}, ${publisher}, ${year ?? 'undated'}, ${mark}`;
}

const stateWords: Readonly<Record<LocateState, string>> = {
  current: 'located',
  never: 'not located yet',
  expired: 'its locate has run out',
  'not-yet': 'its locate is dated later',
  'dates-in-doubt': 'the dates of its locate lie more than a year off, check them',
  'wrong-party': 'located by the other party only',
  'side-unknown': 'whose it is, is not known: ask both',
};

function lineText(line: LocateLine, length: (metres: number) => string): string {
  const until = line.valid_until === null ? '' : ` until ${line.valid_until}`;
  const place =
    line.distance_m === 0
      ? 'runs through the ground to be dug'
      : `${length(line.distance_m)} from the ground to be dug`;
  return `${line.name} (${line.service.replaceAll('-', ' ')}, ${line.colour}, ${line.letter}, ${line.dash}): ${stateWords[line.state]}${until}; ${place}${line.hand_dig ? '; dig by hand near it' : ''}`;
}
