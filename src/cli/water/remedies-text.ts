import type { Proposal, RefusedRow, RemediesResult } from '../../../lib/remedies/remedies-result';
import {
  effectWords,
  markWords,
  partWords,
  type WordsOf,
} from '../../../lib/remedies/remedy-words';
import { whyNotWords, type WhyNotAnswer } from '../../../lib/remedies/why-not';
import { sourceLine } from '../../../lib/source';
import { formatLength, formatRain, formatVolume } from '../../../lib/units/format';
import { noteLines } from '../notes';
import { table } from '../writing/table';

/** Proposals that are told at length; the JSON has all. */
const mostTold = 6;

/** The answer for people. */
export function remediesText(
  result: RemediesResult,
  {
    title,
    words,
    taken,
    whyNot,
  }: {
    readonly title: string;
    readonly words: WordsOf;
    readonly taken: Proposal | null;
    readonly whyNot: WhyNotAnswer | null;
  },
): string {
  const { proposals, refused, measure_first, not_judged, notes, tried } = result;
  const told = proposals.slice(0, mostTold);
  const left = proposals.length - told.length;
  return [
    title,
    findingsText(result, words),
    whyNot === null ? '' : `Why not? ${whyNotWords(whyNot).join(' ')}`,
    measure_first.map(({ because }) => `Measure first: ${because}`).join('\n'),
    told.map((proposal) => proposalText(proposal, words)).join('\n\n'),
    left > 0 ? `and ${left} more; --json lists them all` : '',
    stormsText(told.at(0), words),
    taken === null ? '' : `Taken into the plan: ${taken.id}.`,
    refusedText(refused),
    not_judged.length === 0 || proposals.length === 0
      ? ''
      : `Not judged here, for this is about water on the ground and not in it:\n${table(
          not_judged.map(({ remedy, does, does_not, call, source }) => [
            `  ${remedy}`,
            `It ${does}. It does not ${does_not}. Call ${call} (${sourceLine(source)}).`,
          ]),
        )}`,
    `${tried} changed grounds were tried.`,
    noteLines(notes),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function findingsText({ findings }: RemediesResult, { units }: WordsOf): string {
  return findings
    .map(({ name, volume_m3, depth_m, wall_m, dry_to_mm }) => {
      const wall =
        wall_m > 0
          ? `, against ${formatLength(wall_m, units, 0.1)} of wall`
          : ', not at the wall itself';
      const dry =
        dry_to_mm > 0 ? `dry up to ${formatRain(dry_to_mm, units)}` : 'wet in any rain tried';
      return `${name}: ${formatVolume(volume_m3, units)} stand near it, ${formatLength(depth_m, units)} deep${wall}; ${dry}.`;
    })
    .join('\n');
}

function proposalText(proposal: Proposal, words: WordsOf): string {
  const { rank, id, parts, rules } = proposal;
  const what = parts.map((part) => partWords(part, words)).join('; ');
  const open = rules.filter(({ result }) => result !== 'pass');
  return [
    `${rank}. ${markWords(proposal)}: ${what} [${id}]`,
    `   ${effectWords(proposal, words).join(' ')}`,
    ...open.map(
      ({ result, why, source }) =>
        `   ${result === 'fail' ? '✕' : '?'} ${why}${source === null ? '' : ` (${sourceLine(source)})`}`,
    ),
  ].join('\n');
}

/** The best proposal, storm by storm. */
function stormsText(best: Proposal | undefined, { units }: WordsOf): string {
  if (best === undefined || best.storms.length < 2) return '';
  const rows = [...best.storms].sort((a, b) => a.rain_mm - b.rain_mm);
  const lots = [...new Set(rows.flatMap(({ sent }) => sent.map(({ name }) => name)))];
  const shown = lots.filter((lot) =>
    rows.some(({ sent }) =>
      sent.some(
        ({ name, volume_m3 }) => name === lot && Math.max(volume_m3.before, volume_m3.after) > 0.05,
      ),
    ),
  );
  return `With the first, storm by storm, now and after:\n${table(
    [
      ['  rain', 'near walls', ...shown.map((lot) => `sent to ${lot}`)],
      ...rows.map(({ kind, rain_mm, buildings, sent }) => {
        const near = (side: 'before' | 'after'): number =>
          buildings.reduce((sum, { volume_m3 }) => sum + volume_m3[side], 0);
        return [
          `  ${kind === 'thaw' ? 'thaw' : formatRain(rain_mm, units)}`,
          `${formatVolume(near('before'), units)} → ${formatVolume(near('after'), units, near('before'))}`,
          ...shown.map((lot) => {
            const row = sent.find(({ name }) => name === lot);
            if (row === undefined) return '–';
            const { before, after } = row.volume_m3;
            return `${formatVolume(before, units)} → ${formatVolume(after, units, before)}`;
          }),
        ];
      }),
    ],
    'rrrrr',
  )}`;
}

function refusedText(refused: readonly RefusedRow[]): string {
  if (refused.length === 0) return '';
  return `Tried or looked for, and not proposed:\n${table(refused.map(({ key, because }) => [`  ${key}`, because]))}`;
}
