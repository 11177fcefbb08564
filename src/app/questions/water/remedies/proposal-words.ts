import type { RemedyVerb } from '../../../../../lib/remedies/part';
import type { Proposal, RefusedRow, StormRow } from '../../../../../lib/remedies/remedies-result';
import { partWords, type WordsOf } from '../../../../../lib/remedies/remedy-words';
import { formatRain, formatVolume } from '../../../../../lib/units/format';
import type { UnitSystem } from '../../../../../lib/units/units';

/** Less than this is nothing, m3. Our choice, no source. */
const leastM3 = 0.02;

/** The figures of one proposal as its line has them. */
export interface ProposalFigures {
  readonly atWalls: string;
  readonly sent: string;
  readonly isSentMore: boolean;
  readonly toDig: string;
  readonly dryTo: string;
}

/** What is done, as one phrase: its parts with a semicolon between them. */
export function whatWords({ parts }: Proposal, of: WordsOf): string {
  return parts.map((part) => partWords(part, of)).join('; ');
}

/** Water near the walls of all buildings, now or with a proposal, m3. */
export function nearWallsM3({ buildings }: StormRow, when: 'before' | 'after'): number {
  return buildings.reduce((sum, { volume_m3 }) => sum + volume_m3[when], 0);
}

export function figuresOf(proposal: Proposal, units: UnitSystem): ProposalFigures {
  const [storm] = proposal.storms;
  const [before, after] = [nearWallsM3(storm, 'before'), nearWallsM3(storm, 'after')];
  const sent = sentOf(storm, units);
  return {
    atWalls: formatVolume(after, units, before),
    sent: sent.words,
    isSentMore: sent.isMore,
    toDig: earthWords(proposal, units),
    dryTo: dryToWords(proposal, units),
  };
}

/** What neighbours are sent: the most that any of them gets more, else what they get less in all. */
function sentOf({ sent }: StormRow, units: UnitSystem): { words: string; isMore: boolean } {
  const differences = sent
    .filter(({ to }) => to !== null)
    .map(({ volume_m3: { before, after } }) => after - before);
  const most = Math.max(0, ...differences);
  if (most >= leastM3) return { words: `${formatVolume(most, units)} more`, isMore: true };
  const less = -differences.reduce((sum, each) => sum + Math.min(0, each), 0);
  const words = less < leastM3 ? 'same' : `${formatVolume(less, units)} less`;
  return { words, isMore: false };
}

function earthWords({ work: { cut_m3, fill_m3 } }: Proposal, units: UnitSystem): string {
  const moved = cut_m3 + fill_m3;
  return moved < leastM3 ? 'no earth' : formatVolume(moved, units);
}

/** Up to what rain the walls stay dry that it dries. */
function dryToWords({ findings, cures }: Proposal, units: UnitSystem): string {
  if (cures.length === 0) return 'wet';
  const to = findings
    .filter(({ id }) => cures.includes(id))
    .map(({ dry_to_mm }) => dry_to_mm.after);
  return to.includes(null) ? 'not tried' : formatRain(Math.min(...to.map((mm) => mm ?? 0)), units);
}

/** What is lawful of it, as one word for its line. */
export const lawfulWords = {
  pass: 'breaks no rule',
  check: 'check first',
  fail: 'breaks a rule',
} as const;

const ends: Readonly<Record<string, string>> = {
  street: 'the street',
  'low-ground': 'lower ground of the lot',
};
const verbs: Readonly<Record<RemedyVerb, string>> = {
  'move-outlet': 'Move the outlets of the downspouts',
  'grade-away': 'Grade the ground away',
  'lead-off': 'Lead it off by a swale',
  'turn-aside': 'Turn it aside by a berm',
  'fill-hollow': 'Fill the hollow',
  'below-ground': 'Take it below ground',
  hold: 'Hold it back',
  'move-sump': 'Move the sump’s outlet',
};

/** What was tried or looked for and is not proposed, as a phrase: 'A swale to the street'. */
export function refusedWords({ remedy, key }: RefusedRow, { nameOf }: WordsOf): string {
  const way = /^(swale|pipe)-to-(.+)$/.exec(key);
  if (way !== null) return `A ${way[1]} to ${ends[way[2]] ?? nameOf(way[2])}`;
  if (key === 'barrels') return 'Rain barrels at the downspouts';
  const outlet = /^move-(.+)$/.exec(key);
  if (outlet !== null && outlet[1] !== 'downspouts')
    return `Move the outlet of ${nameOf(outlet[1])}`;
  return verbs[remedy];
}
