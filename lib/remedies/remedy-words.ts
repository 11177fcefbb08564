import { formatArea, formatLength, formatRain, formatVolume } from '../units/format';
import type { UnitSystem } from '../units/units';
import type { PartRow, Proposal, StormRow } from './remedies-result';

/** What a sentence about remedies needs to know of the plan. */
export interface WordsOf {
  readonly units: UnitSystem;
  /** What a feature is called by its id. */
  readonly nameOf: (id: string) => string;
}

/** One thing that can be done, in plain words, no full stop: 'lead it off to the Rain garden by 31 m of swale'. */
export function partWords(part: PartRow, of: WordsOf): string {
  const { figures, about } = part;
  const length = formatLength(part.length_m, of.units, 0.1);
  const name = about === null ? '' : of.nameOf(about);
  const figure = (key: string): number => Number(figures[key]);
  switch (part.remedy) {
    case 'move-outlet':
      if (figures.below_ground === 'pipe') {
        return `lead the water of ${name} on by ${length} of pipe to ${endWords(part, of)}`;
      }
      return about === null
        ? `move the outlets of ${figure('count')} downspouts`
        : `move the outlet of ${name} ${length} away`;
    case 'move-sump':
      return `move the sump’s outlet ${length} away`;
    case 'grade-away':
      return `grade the ground away from ${name} along ${length} of wall, 5 % over ${formatLength(figure('over_m'), of.units, 0.1)}`;
    case 'lead-off':
      return part.low_spot === null
        ? `lead the overflow of ${name} off to ${endWords(part, of)} by ${length} of swale`
        : `lead it off to ${endWords(part, of)} by ${length} of swale`;
    case 'turn-aside':
      return `turn it aside by ${length} of ${figures.as === 'wall' ? 'low wall' : 'berm'} uphill of the wall`;
    case 'fill-hollow':
      return `fill the hollow, ${formatArea(figure('area_m2'), of.units)}`;
    case 'below-ground':
      return part.ends_in?.to === 'storm-sewer'
        ? 'take it below ground: a yard drain into the storm sewer'
        : `take it below ground: a yard drain and ${length} of pipe to ${endWords(part, of)}`;
    case 'hold':
      return holdWords(part, name, of);
  }
}

function holdWords({ figures }: PartRow, name: string, { units }: WordsOf): string {
  const { count, to_m2, to_depth_m, new_m2, moved_m } = figures;
  if (new_m2 !== undefined) {
    return `hold it in a new rain garden of ${formatArea(Number(new_m2), units)} where it runs by`;
  }
  if (moved_m !== undefined) {
    return `move ${name} ${formatLength(Number(moved_m), units, 0.1)}, to where it runs by`;
  }
  if (count !== undefined) return `hold it in ${count} rain barrels at the downspouts`;
  if (to_m2 !== undefined) {
    return `widen ${name} from ${formatArea(Number(figures['from_m2']), units)} to ${formatArea(Number(to_m2), units)}`;
  }
  return `deepen ${name} to ${formatLength(Number(to_depth_m), units)} of ponding`;
}

function endWords({ ends_in, key }: PartRow, { nameOf }: WordsOf): string {
  if (ends_in === null) return 'lower ground';
  if (ends_in.to === 'street') return 'the street';
  if (ends_in.feature !== null) return nameOf(ends_in.feature);
  const above = /lawn-above-(.+)$/.exec(key);
  return above === null ? 'lower ground of the lot' : `the lawn above ${nameOf(above[1])}`;
}

/** What a proposal does and takes, one sentence each. */
export function effectWords(proposal: Proposal, { units }: WordsOf): string[] {
  const [storm] = proposal.storms;
  return [
    ...wallWords(proposal, storm, units),
    ...storm.sent
      .filter(({ to }) => to !== null)
      .flatMap(({ name, volume_m3: { before, after } }) => {
        const words = sentWords(name, before, after, units);
        return words === null ? [] : [words];
      }),
    workWords(proposal, units),
    ...certaintyWords(proposal),
  ];
}

function wallWords({ findings, cures }: Proposal, storm: StormRow, units: UnitSystem): string[] {
  const cured = findings.filter(({ id }) => cures.includes(id));
  const tried = cured.filter(({ dry_to_mm }) => dry_to_mm.after !== null);
  const walls = storm.buildings
    .filter(({ volume_m3 }) => volume_m3.before > leastM3)
    .map(
      ({ name, volume_m3: { before, after } }) =>
        `${name} ${formatVolume(before, units)} to ${formatVolume(after, units, before)}`,
    );
  const upTo =
    tried.length === 0
      ? ''
      : `; dry up to ${formatRain(Math.min(...tried.map(({ dry_to_mm }) => dry_to_mm.after ?? 0)), units)}`;
  return walls.length === 0 ? [] : [`Water near walls: ${walls.join(', ')}${upTo}.`];
}

/** Less than this is nothing, m3. Our choice, no source. */
const leastM3 = 0.02;

function sentWords(name: string, before: number, after: number, units: UnitSystem): string | null {
  if (Math.max(before, after) < leastM3) return null;
  const difference = after - before;
  const much = formatVolume(Math.abs(difference), units);
  if (Math.abs(difference) < leastM3) return `Sends ${name} as much as now.`;
  return `Sends ${name} ${much} ${difference > 0 ? 'more' : 'less'}.`;
}

function workWords({ work }: Proposal, units: UnitSystem): string {
  const { cut_m3, fill_m3, deepest_m } = work;
  const earth = [
    ...(cut_m3 >= leastM3 ? [`${formatVolume(cut_m3, units)} to dig`] : []),
    ...(fill_m3 >= leastM3 ? [`${formatVolume(fill_m3, units)} to fill`] : []),
  ];
  const deep = deepest_m > 0 ? `, ${formatLength(deepest_m, units)} at the deepest` : '';
  return earth.length === 0 ? `No earth to move${deep}.` : `${earth.join(', ')}${deep}.`;
}

function certaintyWords({ certainty }: Proposal): string[] {
  if (certainty === null) return [];
  const percent = (part: number): string => `${Math.round(100 * part)} %`;
  const walls = certainty.walls.map(
    ({ name, probability }) =>
      `${name} ${percent(probability.before)} now, ${percent(probability.after)} with it`,
  );
  return [
    `A metre of wall or more is wet on so many of ${certainty.surfaces} equally likely surfaces: ${walls.join('; ')}.`,
  ];
}

/** The mark of a proposal in words. */
export function markWords({ mark, lawful }: Proposal): string {
  const effect = mark === 'dries' ? 'dries' : 'eases';
  if (lawful === 'fail') return `${effect}, but breaks a rule`;
  return lawful === 'check' ? `${effect}, check first` : effect;
}
