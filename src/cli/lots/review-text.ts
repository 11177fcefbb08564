import type {
  GardenChoice,
  LotWaterRow,
  ReviewedLot,
  ReviewResult,
} from '../../../lib/review/review-result';
import { formatArea, formatRain, formatVolume } from '../../../lib/units/format';
import type { UnitSystem } from '../../../lib/units/units';
import { noteLines } from '../notes';
import { table } from '../writing/table';
import { worseWords } from './summary-text';

/** Lots in the table for people; the files have all. */
const mostRows = 40;
/** Lines in the table for people. */
const mostLines = 20;

/** What the command prints: who is worse off, every lot before and after, and the lines that most crosses. */
export function reviewText(result: ReviewResult, title: string, units: UnitSystem): string {
  const { whole } = result;
  const write = (volumeM3: number): string => formatVolume(volumeM3, units);
  const worse = result.lots.filter((lot) => lot.worse.length > 0);
  return [
    `${title}: ${whole.lots} lots in ${formatRain(result.rain_mm, units)}`,
    worse.length === 0
      ? 'No lot is worse off with the gardens than without.'
      : `Worse off with the gardens than without: ${worse.map((lot) => (lot.certainty === undefined ? `${lot.name} (${lot.worse.join('; ')})` : worseWords(lot))).join('. ')}.`,
    [
      `Buildings with water near a wall: ${whole.wet_buildings_before} before, ${whole.wet_buildings_after} after.`,
      `Stands in low spots: ${write(whole.standing_before_m3)} before, ${write(whole.standing_after_m3)} after.`,
      `Held by gardens: ${write(whole.basin_before_m3)} before, ${write(whole.basin_after_m3)} after.`,
      `Leaves all lots: ${write(whole.leaves_before_m3)} before, ${write(whole.leaves_after_m3)} after.`,
    ].join('\n'),
    lotTableText(result, units),
    lineTableText(result, units),
    ...(result.gardens === undefined ? [] : [gardensText(result.gardens, units)]),
    'State when the storm is over. What crosses a line leaves out what only winds over it from cell to cell, which lines.csv has as gross; net is the difference between there and back.',
    noteLines(result.notes),
  ].join('\n\n');
}

function lotTableText({ lots }: ReviewResult, units: UnitSystem): string {
  const pair = (lot: ReviewedLot, figure: (row: LotWaterRow) => number): string =>
    lot.before === null || lot.after === null
      ? '–'
      : `${formatVolume(figure(lot.before), units)} → ${formatVolume(figure(lot.after), units)}`;
  const rows = [...lots]
    .sort((a, b) => b.worse.length - a.worse.length || standing(b) - standing(a))
    .slice(0, mostRows)
    .map((lot) => [
      lot.name,
      lot.reach,
      pair(lot, (row) => row.standing_m3),
      pair(lot, (row) => row.basin_m3),
      pair(lot, (row) => row.from_lots_m3),
      pair(lot, (row) => row.to_lots_m3),
      lot.after === null
        ? '–'
        : lot.after.wet_buildings.map((building) => building.name).join(', ') || 'none',
    ]);
  const left = lots.length - rows.length;
  return [
    table(
      [['lot', 'known', 'stands', 'in gardens', 'from lots', 'to lots', 'wet buildings'], ...rows],
      'llrrrrl',
    ),
    ...(left > 0 ? [`and ${left} more lots; --out lots.csv lists them all`] : []),
  ].join('\n');
}

function standing({ after }: ReviewedLot): number {
  return after?.standing_m3 ?? -1;
}

function lineTableText({ lines_after, lots }: ReviewResult, units: UnitSystem): string {
  const names = new Map(lots.map(({ lot, name }) => [lot, name]));
  const nameOf = (id: string | null): string =>
    id === null ? 'street and other ground' : (names.get(id) ?? id);
  const rows = [...lines_after]
    .sort((p, q) => Math.abs(q.net_m3) - Math.abs(p.net_m3))
    .slice(0, mostLines)
    .map(({ a, b, a_to_b_m3, b_to_a_m3, net_m3 }) => {
      const [from, to] = net_m3 >= 0 ? [a, b] : [b, a];
      const [out, back] = net_m3 >= 0 ? [a_to_b_m3, b_to_a_m3] : [b_to_a_m3, a_to_b_m3];
      return [
        nameOf(from),
        nameOf(to),
        formatVolume(Math.abs(net_m3), units),
        formatVolume(out, units),
        formatVolume(back, units),
      ];
    });
  if (rows.length === 0) return 'Nothing crosses a lot line.';
  return table([['from', 'to', 'net', 'there', 'back'], ...rows], 'llrrr');
}

/** Each garden alone, the best first, and the best together. */
function gardensText({ alone, best, budget_m2 }: GardenChoice, units: UnitSystem): string {
  if (alone.length === 0) return 'No garden is proposed.';
  const names = new Map(alone.map(({ garden, name }) => [garden, name]));
  const rows = alone.map(({ name, area_m2, walls_m3, kept_m3, kept_m3_per_m2, harms }) => [
    name,
    formatArea(area_m2, units),
    formatVolume(walls_m3, units),
    formatVolume(kept_m3, units),
    `${(1000 * kept_m3_per_m2).toFixed(0)} mm`,
    harms.join('; ') || 'harms nobody',
  ]);
  const together =
    best === null
      ? `No set of them within ${formatArea(budget_m2, units)} does good and harms nobody.`
      : [
          `Best within ${formatArea(budget_m2, units)}, in this order: ${best.gardens.map((id) => names.get(id) ?? id).join(', ')}.`,
          `Together ${formatArea(best.area_m2, units)}: ${formatVolume(best.walls_m3, units)} less near walls, ${formatVolume(best.kept_m3, units)} less leaves the lots, and no lot is worse off while they are dug one after the other.`,
          best.exhaustive
            ? `All sets were tried, ${best.tried} within that area.`
            : `${best.tried} sets were tried, not all: a better one may have been missed.`,
        ].join('\n');
  return `${table(
    [['garden alone', 'area', 'less near walls', 'kept', 'depth kept', ''], ...rows],
    'lrrrrl',
  )}\n${together}`;
}
