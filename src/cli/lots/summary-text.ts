import type { GardenChoice, ReviewedLot, ReviewResult } from '../../../lib/review/review-result';
import { formatRain, formatVolume } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';

/** Rows of each list: the whole is to fit on a page. */
const mostRows = 8;

/** A review on one page: the totals, who is worse off and how sure that is, who gets most from others, which gardens do most. */
export function summaryText(result: ReviewResult, title: string, units: UnitSystem): string {
  const { whole, lots, gardens, tried } = result;
  const write = (volumeM3: number): string => formatVolume(volumeM3, units);
  const worse = lots.filter((lot) => lot.worse.length > 0);
  return [
    `${title}: ${whole.lots} lots in ${formatRain(result.rain_mm, units)}`,
    table(
      [
        ['', 'before', 'after'],
        [
          'buildings with water near a wall',
          `${whole.wet_buildings_before}`,
          `${whole.wet_buildings_after}`,
        ],
        ['stands in low spots', write(whole.standing_before_m3), write(whole.standing_after_m3)],
        ['held by gardens', write(whole.basin_before_m3), write(whole.basin_after_m3)],
        ['leaves all lots', write(whole.leaves_before_m3), write(whole.leaves_after_m3)],
      ],
      'lrr',
    ),
    worse.length === 0
      ? 'No lot is worse off.'
      : [
          'Worse off:',
          ...worse.slice(0, mostRows).map((lot) => `  ${worseWords(lot)}`),
          ...more(worse),
        ].join('\n'),
    ['Most comes from other lots, before and after:', ...mostGetting(lots, write)].join('\n'),
    ...(gardens === undefined ? [] : [lotsByGood(gardens, lots, write)]),
    `${whole.whole} lots are judged in full; to ${whole.cut} more may come than the elevation shows; of ${whole.outside} nothing is known.`,
    ...(tried === undefined
      ? []
      : [
          `Tried on ${tried.surfaces} equally likely surfaces, with a vertical error of ${tried.rmse_m.toFixed(2)} m.`,
        ]),
    noteLines(result.notes.slice(0, mostRows)),
  ].join('\n\n');
}

function more(rows: readonly unknown[]): string[] {
  return rows.length > mostRows ? [`  and ${rows.length - mostRows} more`] : [];
}

/** What is worse on a lot, and on how many of the surfaces that were tried. */
export function worseWords({ name, worse, certainty }: ReviewedLot): string {
  const what = `${name}: ${worse.join('; ')}`;
  if (certainty === undefined) return what;
  const share = `${Math.round(100 * certainty.worse)} % of the surfaces`;
  return certainty.worse_beyond_error
    ? `${what} (more than the error of the ground: on ${share})`
    : `${what} (within the error of the ground: on ${share})`;
}

function mostGetting(lots: readonly ReviewedLot[], write: (volumeM3: number) => string): string[] {
  return lots
    .flatMap(({ name, before, after }) =>
      before === null || after === null
        ? []
        : [{ name, was: before.from_lots_m3, is: after.from_lots_m3 }],
    )
    .sort((a, b) => b.was - a.was)
    .slice(0, mostRows)
    .map(({ name, was, is }) => `  ${name}: ${write(was)}, ${write(is)}`);
}

/** Lots by what their gardens, each dug alone, keep for a cubic metre that they hold; those that harm somebody are left out. */
function lotsByGood(
  { alone }: GardenChoice,
  lots: readonly ReviewedLot[],
  write: (volumeM3: number) => string,
): string {
  const sums = new Map<string | null, { keptM3: number; holdsM3: number }>();
  for (const { lot, kept_m3, holds_m3, harms } of alone) {
    if (harms.length > 0) continue;
    const sum = sums.get(lot) ?? { keptM3: 0, holdsM3: 0 };
    sums.set(lot, { keptM3: sum.keptM3 + kept_m3, holdsM3: sum.holdsM3 + holds_m3 });
  }
  const rows = [...sums]
    .filter(([, { holdsM3 }]) => holdsM3 > 0)
    .sort(([, a], [, b]) => b.keptM3 / b.holdsM3 - a.keptM3 / a.holdsM3)
    .map(([id, { keptM3, holdsM3 }]) => {
      const name = lots.find(({ lot }) => lot === id)?.name ?? 'on no lot';
      return `  ${name}: ${(keptM3 / holdsM3).toFixed(2)} (${write(keptM3)} less leaves, ${write(holdsM3)} held)`;
    });
  return rows.length === 0
    ? 'No garden that harms nobody holds any water.'
    : [
        'Lots by what less leaves for each volume that their gardens hold:',
        ...rows.slice(0, mostRows),
        ...more(rows),
      ].join('\n');
}
