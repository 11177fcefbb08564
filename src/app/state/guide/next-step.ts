import type { Kind } from '../../../../lib/plan/schema';
import type { Question } from '../session/session.svelte';

/** What a button beside a step starts. */
export type Act =
  | { readonly does: 'open-elevation' }
  | { readonly does: 'make-level-ground' }
  | { readonly does: 'draw'; readonly kind: Kind }
  | { readonly does: 'take-basin' }
  | { readonly does: 'find-places' }
  | { readonly does: 'try-surfaces' }
  | { readonly does: 'save-plan' }
  | { readonly does: 'ask'; readonly question: Question };

/** The one thing to do next under a question: why, and what starts it. */
export interface NextStep {
  readonly says: string;
  readonly label: string;
  readonly act: Act;
  /** Another way to the same. */
  readonly or?: { readonly label: string; readonly act: Act };
}

/** What is known of the plan and its answers, as far as the next step hangs on it. */
export interface Known {
  readonly hasElevation: boolean;
  /** Whether levels of the plan are enough to make a ground. */
  readonly hasLevels: boolean;
  /** Whether the elevation reaches the lot. */
  readonly isReached: boolean;
  /** Whether the elevation's cells are too wide to show a yard. */
  readonly isTooCoarse: boolean;
  readonly count: (kind: Kind) => number;
  /** Utility lines that nobody has located. */
  readonly unlocated: number;
  /** Buildings of the lot with water by them, by name. */
  readonly wet: readonly string[];
  readonly isSureness: boolean;
  readonly rules: { readonly broken: number; readonly open: number } | null;
  /** How the basin drains; null while that is not worked out. */
  readonly drains: 'in-time' | 'too-slow' | 'unknown' | null;
  /** Whether overflow runs where it must not. */
  readonly isAstray: boolean;
}

const chooseFile = {
  label: 'Choose the file',
  act: { does: 'open-elevation' },
} as const;

/** Heights, of whatever kind there are. */
const bringHeights: NextStep = {
  says: 'Bring heights first: a height file of bare earth, or levels read with string, hose or instrument.',
  ...chooseFile,
  or: { label: 'Set a level', act: { does: 'draw', kind: 'spot-height' } },
};

const makeGround: NextStep = {
  says: 'The levels are enough for a ground.',
  label: 'Make the ground',
  act: { does: 'make-level-ground' },
};

const drawLot: NextStep = {
  says: 'Draw the lot line first: everything else is asked of that lot.',
  label: 'Draw it',
  act: { does: 'draw', kind: 'lot' },
};

function goTo(number: number, question: Question, says: string): NextStep {
  return { says, label: `Go to question ${number}`, act: { does: 'ask', question } };
}

function draw(kind: Kind, says: string): NextStep {
  return { says, label: 'Draw it', act: { does: 'draw', kind } };
}

/** What is to be done next under a question; it is never nothing. */
export function nextStep(question: Question, known: Known): NextStep {
  const missing = missingFirst(question, known);
  if (missing !== null) return missing;
  switch (question) {
    case 'here':
      return nextHere(known);
    case 'water':
      return nextOfWater(known);
    case 'place':
      return nextOfPlace(known);
    case 'dig':
      return nextOfDig(known);
    case 'handover':
      return nextOfHandover(known);
  }
}

/** What no answer can do without. */
function missingFirst(question: Question, known: Known): NextStep | null {
  if (!known.hasElevation) return known.hasLevels ? makeGround : withoutHeights(known);
  if (known.count('lot') === 0) return drawLot;
  if (!known.isReached) {
    return { ...chooseFile, says: 'This elevation does not reach the lot: open one that does.' };
  }
  if (known.isTooCoarse) {
    if (known.hasLevels) return makeGround;
    return {
      ...bringHeights,
      says: 'These heights cannot show a yard: open a file of 1 m or finer, or measure levels.',
    };
  }
  if ((question === 'dig' || question === 'handover') && known.count('basin') === 0) {
    return goTo(3, 'place', 'There is no basin yet: look for a place first.');
  }
  return null;
}

/** Levels that are set want their readings; where there are none, heights of any kind will do. */
function withoutHeights({ count }: Known): NextStep {
  const levels = count('spot-height');
  if (levels === 0) return bringHeights;
  return {
    says: `A ground needs three levels with their readings: ${levels === 1 ? 'one is' : `${levels} are`} set.`,
    label: 'Set a level',
    act: { does: 'draw', kind: 'spot-height' },
    or: chooseFile,
  };
}

function nextHere({ count, unlocated }: Known): NextStep {
  if (count('building') === 0)
    return draw('building', 'Draw the house: water turns aside at its walls.');
  if (count('roof') === 0) return draw('roof', 'Draw its roof: rain on it comes down elsewhere.');
  if (count('downspout') === 0) {
    return draw('downspout', 'Set a downspout wherever roof water comes down.');
  }
  if (count('utility') === 0) {
    return draw('utility', 'Draw the buried lines that you know of: no line drawn is not no line.');
  }
  if (count('soil-test') === 0)
    return draw('soil-test', 'Set a soil test where you dug a test hole.');
  const lines = unlocated === 1 ? 'line' : 'lines';
  return unlocated > 0
    ? goTo(5, 'handover', `${unlocated} buried ${lines} nobody has marked yet: see whom to ask.`)
    : goTo(2, 'water', 'Enough is drawn to see where the water goes.');
}

function nextOfWater({ wet, isSureness, count }: Known): NextStep {
  if (!isSureness) {
    const what = wet.length > 0 ? `the water by ${wet.join(' and ')}` : 'the low spots';
    return {
      says: `Heights have errors: see how sure ${what} is.`,
      label: 'Try it',
      act: { does: 'try-surfaces' },
    };
  }
  return count('basin') === 0
    ? goTo(3, 'place', 'Now look for a place where a basin takes that water.')
    : goTo(3, 'place', 'Now see whether the basin keeps its distances.');
}

function nextOfPlace({ rules, count }: Known): NextStep {
  if (count('basin') === 0) {
    return {
      says: 'Have the lot searched for places that keep every rule.',
      label: 'Find places',
      act: { does: 'find-places' },
    };
  }
  if (rules !== null && rules.broken > 0) {
    return {
      says: 'Move the basin: the rows with ✕ say from what, and how far.',
      label: 'Take it in hand',
      act: { does: 'take-basin' },
    };
  }
  if (rules !== null && rules.open > 0) {
    return goTo(5, 'handover', 'What cannot be judged yet wants asking: see whom.');
  }
  return goTo(4, 'dig', 'It may lie here. See what it holds and how it drains.');
}

function nextOfDig({ drains, isAstray, count }: Known): NextStep {
  if (drains === 'unknown' && count('soil-test') === 0) {
    return draw('soil-test', 'Test the soil there: the time until it is empty hangs on it.');
  }
  if (drains === 'too-slow') {
    return {
      says: 'It stands too long: make it shallower or wider, or see below what helps slow soil.',
      label: 'Take it in hand',
      act: { does: 'take-basin' },
    };
  }
  if (isAstray) {
    return {
      says: 'Drag its overflow to where water does no harm.',
      label: 'Take it in hand',
      act: { does: 'take-basin' },
    };
  }
  return goTo(5, 'handover', 'It fills, drains and overflows as it should.');
}

function nextOfHandover({ rules, unlocated }: Known): NextStep {
  const isOpen = unlocated > 0 || (rules !== null && rules.open > 0);
  return {
    says: isOpen
      ? 'Ask for the lines below first; nothing is dug before they are marked.'
      : 'All is asked and judged: take the plan along.',
    label: 'Keep the plan as a file',
    act: { does: 'save-plan' },
  };
}
