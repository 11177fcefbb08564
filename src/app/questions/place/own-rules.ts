import { InputError } from '../../../../lib/errors';
import type { Kind, Settings } from '../../../../lib/plan/schema';
import { parseRuleSet, type RuleInputOf, type RuleSetInput } from '../../../../lib/setback/rule';

/** A rule set of the user's own as the plan keeps it. */
export type OwnDocument = NonNullable<Settings['rule_sets']>[number];
export type RuleDocument = RuleSetInput['rules'][number];

/** One number of a rule that can be typed over. */
export interface RuleFigure {
  readonly key: string;
  /** Whether it stands in the rule's distance. */
  readonly inDistance: boolean;
  readonly label: string;
  readonly type: 'length' | 'percent' | 'number';
  readonly value: number;
}

const labels: Readonly<Record<string, string>> = {
  m: 'distance',
  per_diameter: 'times the trunk’s diameter',
  at_least_m: 'at least',
  uphill_m: 'when uphill of it',
  downhill_m: 'when downhill of it',
  tolerance_m: 'to each side',
  reach_m: 'looked at within',
  at_most: 'no steeper than',
  at_least: 'no flatter than',
  steeper_than: 'ground steeper than',
  at_most_h: 'hours at most',
  deeper_than_m: 'water deeper than',
  slower_than_mm_per_h: 'soil slower than, mm/h',
};

/** The numbers of a rule, in the order in which its document has them. */
export function figuresOf(rule: RuleDocument): RuleFigure[] {
  const own = numbersIn(rule, false);
  return rule.test === 'distance' ? [...own, ...numbersIn(rule.distance, true)] : own;
}

function numbersIn(members: object, inDistance: boolean): RuleFigure[] {
  return Object.entries(members).flatMap(([key, value]): RuleFigure[] =>
    typeof value === 'number' && labels[key] !== undefined
      ? [{ key, inDistance, label: labels[key], type: typeOf(key), value }]
      : [],
  );
}

function typeOf(key: string): RuleFigure['type'] {
  if (key === 'm' || key.endsWith('_m')) return 'length';
  return ['at_most', 'at_least', 'steeper_than'].includes(key) ? 'percent' : 'number';
}

/** A rule with one of its numbers replaced. */
export function withFigure(rule: RuleDocument, figure: RuleFigure, value: number): RuleDocument {
  const changed =
    figure.inDistance && rule.test === 'distance'
      ? { ...rule, distance: { ...rule.distance, [figure.key]: value } }
      : { ...rule, [figure.key]: value };
  // Whether the value fits is for the schema to say, when the set is taken over.
  return changed;
}

/** A copy of a set to be changed, under an id and a title that no set of the plan has. */
export function copyOfSet(document: RuleSetInput, taken: readonly string[]): RuleSetInput {
  let number = 1;
  const idOf = (): string => `own-${document.id}${number === 1 ? '' : `-${number}`}`;
  while (taken.includes(idOf())) number++;
  return {
    ...document,
    id: idOf(),
    title: `${document.title}, changed${number === 1 ? '' : ` (${number})`}`,
  };
}

/** A first rule for a kind of feature, under an id and a letter that the set does not have yet. */
export function newRule(kind: Kind, rules: readonly RuleDocument[]): RuleInputOf<'distance'> {
  let number = 1;
  const idOf = (): string => `${kind}${number === 1 ? '' : `-${number}`}`;
  while (rules.some(({ id }) => id === idOf())) number++;
  return {
    test: 'distance',
    id: idOf(),
    letter: freeLetter(rules),
    title: `Distance from ${kind.replaceAll('-', ' ')}`,
    published: '3 m',
    binding: 'must',
    source: { title: 'Local code', publisher: 'not named yet', year: null, mark: 'from memory' },
    // The own lot is kept inside of, not away from.
    from: [kind === 'lot' ? { kind, where: { own: [false] } } : { kind }],
    distance: { by: 'constant', m: 3 },
  };
}

function freeLetter(rules: readonly RuleDocument[]): string {
  const alphabet = Array.from({ length: 26 }, (_, i) => String.fromCharCode(65 + i));
  const all = [...alphabet, ...alphabet.map((letter) => `Z${letter}`)];
  return all.find((letter) => !rules.some((rule) => rule.letter === letter)) ?? 'ZZ';
}

/** A set as it is to be kept in the plan, or the sentence that says why it cannot be. */
export function checkedDocument(document: unknown, where: string): OwnDocument | string {
  try {
    parseRuleSet(document, where);
    return document as OwnDocument;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.message;
  }
}
