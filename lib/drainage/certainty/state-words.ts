import type { DifferenceDoubt } from './difference-doubt';
import { elsewhere, soakedWords } from '../answer/ledger';
import { figureKey, type StateFigure } from '../answer/two-states';
import { nameById } from '../../plan/feature-name';
import type { Plan } from '../../plan/schema';
import { formatLength, formatVolume } from '../../units/format';
import type { UnitSystem } from '../../units/units';

/** What is told as no change whatever the heights' error, metres and cubic metres. Our choices, no source. */
const leastDepthM = 0.005;
const leastM3 = 0.01;

/** What a change comes to: smaller than its doubt is the same. */
export type Change = 'more' | 'less' | 'same';

/** What a figure is about, in words. */
export function figureWords({ about, id, to }: StateFigure, plan: Plan): string {
  const name = (lot: string | null): string =>
    lot === null ? elsewhere : nameById(plan.features, lot);
  switch (about) {
    case 'at-wall':
      return `wall of ${name(id)}`;
    case 'exchange':
    case 'run-on':
      return `${name(id)} to ${name(to ?? null)}`;
    case 'soaked':
      return soakedWords;
    case 'standing':
      return 'stands in low spots';
    case 'basin':
      return 'held by basins';
    case 'barrel':
      return 'in barrels';
    case 'sewer':
      return 'to the storm sewer';
  }
}

/** One of a figure's values, in the unit that suits the larger of the two. */
export function figureText(
  valueM: number,
  { unit, before, after }: StateFigure,
  units: UnitSystem,
): string {
  const most = Math.max(Math.abs(before), Math.abs(after), Math.abs(valueM));
  return unit === 'm3' ? formatVolume(valueM, units, most) : formatLength(valueM, units);
}

/** The same with its sign. */
export function changeText(value: number, figure: StateFigure, units: UnitSystem): string {
  const text = figureText(Math.abs(value), figure, units);
  if (Number.parseFloat(text) === 0) return text;
  return `${value > 0 ? '+' : '−'}${text}`;
}

/** Whether a figure is more or less than it is today, by its doubt where that is known. */
export function changeOf(figure: StateFigure, doubt: DifferenceDoubt | null): Change {
  const { unit, before, after } = figure;
  const least = unit === 'm' ? leastDepthM : leastM3;
  const change = after - before;
  if (Math.abs(change) < least) return 'same';
  if (doubt !== null && doubt.lowest <= 0 && doubt.highest >= 0) return 'same';
  return change > 0 ? 'more' : 'less';
}

/** A figure with what is to be said of it. */
export interface StateRow {
  readonly figure: StateFigure;
  readonly doubt: DifferenceDoubt | null;
  readonly change: Change;
}

/**
 * The figures that change first, the others after them.
 *
 * @param doubts - by `figureKey`; null while they have not been tried.
 */
export function stateRows(
  figures: readonly StateFigure[],
  doubts: ReadonlyMap<string, DifferenceDoubt> | null,
): StateRow[] {
  const rows = figures.map((figure): StateRow => {
    const doubt = doubts?.get(figureKey(figure)) ?? null;
    return { figure, doubt, change: changeOf(figure, doubt) };
  });
  const isSame = ({ change }: StateRow): boolean => change === 'same';
  return [...rows.filter((row) => !isSame(row)), ...rows.filter(isSame)];
}

/** Whom it makes worse: walls that are wetter, and lots that get more, each in a few words; the most first. */
export function madeWorse(rows: readonly StateRow[], plan: Plan, units: UnitSystem): string[] {
  const more = rows.filter(({ change }) => change === 'more').map(({ figure }) => figure);
  const byChange = (a: StateFigure, b: StateFigure): number =>
    b.after - b.before - (a.after - a.before);
  const walls = more.filter(({ about }) => about === 'at-wall').sort(byChange);
  const lots = more
    .filter(
      ({ about, to }) => (about === 'exchange' || about === 'run-on') && typeof to === 'string',
    )
    .sort(byChange);
  return [
    ...walls.map(
      (figure) =>
        `${figureText(figure.after, figure, units)} at the ${figureWords(figure, plan)}, ${
          figure.before < leastDepthM
            ? 'where none stands today'
            : `today ${figureText(figure.before, figure, units)}`
        }`,
    ),
    ...lots.map(
      (figure) =>
        `${nameById(plan.features, figure.to ?? '')} gets ${figureText(figure.after - figure.before, figure, units)} more from ${
          figure.id === null ? elsewhere : nameById(plan.features, figure.id)
        }`,
    ),
  ];
}
