import type { Source } from '../source';
import { featureName } from '../plan/feature-name';
import type { PlanFeature } from '../plan/schema';
import type { PartEnd, RemedyVerb } from './part';
import type { Proposal, RefusedRow, RemediesResult, RuleRow } from './remedies-result';

/** A remedy, and where it should end. */
export interface WhyNotQuestion {
  readonly remedy: RemedyVerb;
  /** `null` for any end, or for a remedy that has none. */
  readonly to: PartEnd['to'] | null;
  /** Id of the basin or swale that it should end in, or of what it is about; `null` for any. */
  readonly feature: string | null;
}

/** What stands against a remedy, and what would have to change. */
export interface WhyNotAnswer extends WhyNotQuestion {
  /** Proposed, with nothing or something that binds; tried or looked for in vain; or not there to be tried. */
  readonly found: 'proposed' | 'refused' | 'not-there';
  /** The best proposal of that kind. */
  readonly proposal: string | null;
  readonly rank: number | null;
  readonly lawful: Proposal['lawful'] | null;
  /** What binds, a sentence each: fall, way, crossing, leave, water sent on. */
  readonly binds: readonly { readonly why: string; readonly source: Source | null }[];
  /** A sentence each. */
  readonly would_change: readonly string[];
}

/** Answers from what a search has tried: why a remedy, to an end, is not the first that is proposed. */
export function whyNot(
  { proposals, refused }: Pick<RemediesResult, 'proposals' | 'refused'>,
  question: WhyNotQuestion,
): WhyNotAnswer {
  const nothing = { ...question, proposal: null, rank: null, lawful: null };
  const found = proposals
    .filter(({ parts }) => parts.some((part) => isAsked(part, question)))
    .sort((a, b) => a.parts.length - b.parts.length || a.rank - b.rank)
    .at(0);
  if (found !== undefined) return ofProposal(found, question);
  const rows = refused.filter((row) => isRefused(row, question));
  if (rows.length > 0) {
    return {
      ...nothing,
      found: 'refused',
      binds: [...new Set(rows.map(({ because }) => because))].map((why) => ({ why, source: null })),
      would_change: [...new Set(rows.map(({ would_change }) => would_change))],
    };
  }
  return {
    ...nothing,
    found: 'not-there',
    binds: [
      {
        why: 'There is nothing of that kind to try: the plan has no such end or feature, or no water that it could take comes to a wall.',
        source: null,
      },
    ],
    would_change: [
      'Draw what it should end in (a rain garden, a swale at the back, a street before the lot), then ask again.',
    ],
  };
}

function ofProposal(proposal: Proposal, question: WhyNotQuestion): WhyNotAnswer {
  const { id, rank, lawful, mark, rules } = proposal;
  const open = rules.filter(({ result }) => result !== 'pass');
  const eases = mark === 'eases' ? [{ why: 'It eases, and does not dry.', source: null }] : [];
  return {
    ...question,
    found: 'proposed',
    proposal: id,
    rank,
    lawful,
    binds: [...open.map(({ why, source }) => ({ why, source })), ...eases],
    would_change: [
      ...new Set([
        ...open.map(changeOf),
        ...(mark === 'eases' ? ['Another remedy beside it, for what is left.'] : []),
      ]),
    ],
  };
}

/** What would settle a rule that is not met, or not yet. */
function changeOf({ rule, result }: RuleRow): string {
  if (rule === 'sends-more' || rule === 'upper-water') {
    return 'Room that holds back what it sends on, another end, or the neighbour’s leave in writing.';
  }
  if (rule === 'other-course' || rule === 'sewer-leave' || rule === 'kerb-opening') {
    return 'Leave in writing from who owns that course, street or sewer.';
  }
  if (rule === 'other-wall') return 'Another line or end, or a remedy for that wall as well.';
  if (rule === 'dig-utility' || rule === 'dig-unmarked') {
    return 'A current locate of what lies there, then digging by hand.';
  }
  if (rule.startsWith('dig-')) return 'Another line round it, or the care that is named.';
  return result === 'check' ? 'What is to be checked.' : 'Another place or size.';
}

function isAsked(
  { remedy, ends_in, about, low_spot }: Proposal['parts'][number],
  question: WhyNotQuestion,
): boolean {
  // what leads a garden's overflow on is not what leads the wall's water off
  if (remedy !== question.remedy || (low_spot === null && remedy !== 'hold')) return false;
  if (question.to !== null && ends_in?.to !== question.to) return false;
  return (
    question.feature === null || ends_in?.feature === question.feature || about === question.feature
  );
}

function isRefused({ remedy, key }: RefusedRow, { remedy: asked, to, feature }: WhyNotQuestion) {
  if (remedy !== asked) return false;
  const end = /^(?:swale|pipe)-to-(.+)$/.exec(key)?.[1];
  if (feature !== null) return end === feature || key === `move-${feature}`;
  if (to === null) return true;
  if (end === undefined) return false;
  if (to === 'street') return end === 'street';
  if (to === 'own-ground') return end === 'low-ground';
  return to !== 'storm-sewer' && end !== 'street' && end !== 'low-ground';
}

const verbs: Readonly<Record<string, RemedyVerb>> = {
  swale: 'lead-off',
  pipe: 'below-ground',
  drain: 'below-ground',
  berm: 'turn-aside',
  wall: 'turn-aside',
  fill: 'fill-hollow',
  grade: 'grade-away',
  downspout: 'move-outlet',
  sump: 'move-sump',
  barrels: 'hold',
  basin: 'hold',
};

/** The words by which remedies can be asked about. */
export const whyNotRemedies: readonly string[] = Object.keys(verbs);
/** The words for ends that are no feature of the plan. */
export const whyNotEnds = {
  street: 'street',
  sewer: 'storm-sewer',
  lawn: 'own-ground',
} as const satisfies Record<string, PartEnd['to']>;

/**
 * A question from its words: 'swale' and 'street', or the id or name of a feature.
 *
 * @returns `null` where one of the words is not known.
 */
export function whyNotQuestion(
  remedyWord: string,
  endWord: string | null,
  features: readonly PlanFeature[],
): WhyNotQuestion | null {
  const remedy = verbs[remedyWord.toLowerCase()];
  if (remedy === undefined) return null;
  if (endWord === null) return { remedy, to: null, feature: null };
  const asked = endWord.toLowerCase();
  if (asked in whyNotEnds) {
    return { remedy, to: whyNotEnds[asked as keyof typeof whyNotEnds], feature: null };
  }
  const found = features.find(
    (feature) => feature.id === endWord || featureName(feature).toLowerCase() === asked,
  );
  return found === undefined ? null : { remedy, to: null, feature: found.id };
}

/** The answer in sentences. */
export function whyNotWords(answer: WhyNotAnswer): string[] {
  const { found, rank, lawful, binds, would_change } = answer;
  const first =
    found === 'proposed'
      ? rank === 1
        ? 'It is the first that is proposed.'
        : `It is proposed, in place ${rank}${lawful === 'fail' ? ', but breaks a rule' : lawful === 'check' ? ', to be checked first' : ''}.`
      : found === 'refused'
        ? 'It is not proposed.'
        : 'It was not tried.';
  const free =
    found === 'proposed' && binds.length === 0
      ? ['Nothing binds: what is before it dries more, sends less on or moves less earth.']
      : [];
  return [
    first,
    ...free,
    ...binds.map(({ why }) => why),
    ...(would_change.length === 0 ? [] : [`What would have to change: ${would_change.join(' ')}`]),
  ];
}
