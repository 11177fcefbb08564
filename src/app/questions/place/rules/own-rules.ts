import { InputError } from '../../../../../lib/errors';
import type { Kind, Settings } from '../../../../../lib/plan/schema';
import { type RuleInputOf, type RuleSetInput } from '../../../../../lib/setback/rules/rule';
import { parseRuleSet } from '../../../../../lib/setback/rules/read-rule-set';
import { utility as usualUtility } from '../../../../../lib/setback/sets/shared-rules';

/** A rule set of the user's own as the plan keeps it. */
export type OwnDocument = NonNullable<Settings['rule_sets']>[number];
export type RuleDocument = RuleSetInput['rules'][number];
export type RuleTest = RuleDocument['test'];
export type DistanceDocument = RuleInputOf<'distance'>['distance'];
export type DistanceBy = DistanceDocument['by'];
export type SelectorDocument = RuleInputOf<'overflow'>['from'][number];

/** What rules can ask, in the user's words. */
export const testWords: Readonly<Record<RuleTest, string>> = {
  distance: 'a distance from features',
  'inside-lot': 'a distance inside the lot line',
  utility: 'lines in the ground, located',
  'not-uphill': 'not uphill of features',
  slope: 'the ground’s slope',
  'steep-ground': 'a distance from steep ground',
  'separation-below': 'depth to water or rock',
  'drain-down': 'how long water stands',
  overflow: 'overflow onto none of these',
  'wet-spot': 'not where water stands already',
  'on-site': 'to be judged on site',
};

/** How a distance is given. */
export const distanceWords: Readonly<Record<DistanceBy, string>> = {
  constant: 'a fixed distance',
  trunk: 'in proportion to a trunk',
  canopy: 'the edge of a canopy',
  side: 'one uphill, one downhill of it',
  'not-over': 'touching, but not over it',
};

interface FigureKind {
  readonly key: string;
  readonly label: string;
  readonly type: 'length' | 'percent' | 'number';
  /** What is written after a plain number where its label is not beside it. */
  readonly unit?: string;
  /** Whether the rule may go without it. */
  readonly isOptional?: boolean;
}

/** One number of a rule that can be typed over. */
export interface RuleFigure extends FigureKind {
  /** Whether it stands in the rule's distance. */
  readonly inDistance: boolean;
  /** `undefined` for one that the rule goes without. */
  readonly value: number | undefined;
}

const figures: Readonly<Record<RuleTest, readonly FigureKind[]>> = {
  distance: [],
  'inside-lot': [{ key: 'm', label: 'distance', type: 'length' }],
  utility: [{ key: 'tolerance_m', label: 'to each side', type: 'length' }],
  'not-uphill': [{ key: 'reach_m', label: 'looked at within', type: 'length' }],
  slope: [
    { key: 'at_most', label: 'no steeper than', type: 'percent', isOptional: true },
    { key: 'at_least', label: 'no flatter than', type: 'percent', isOptional: true },
  ],
  'steep-ground': [
    { key: 'steeper_than', label: 'ground steeper than', type: 'percent' },
    { key: 'm', label: 'distance', type: 'length' },
  ],
  'separation-below': [{ key: 'at_least_m', label: 'at least', type: 'length' }],
  'drain-down': [{ key: 'at_most_h', label: 'hours at most', type: 'number', unit: ' h' }],
  overflow: [],
  'wet-spot': [
    { key: 'deeper_than_m', label: 'water deeper than', type: 'length' },
    {
      key: 'slower_than_mm_per_h',
      label: 'on soil slower than, mm/h',
      type: 'number',
      unit: ' mm/h',
      isOptional: true,
    },
  ],
  'on-site': [],
};

const distanceFigures: Readonly<Record<DistanceBy, readonly FigureKind[]>> = {
  constant: [{ key: 'm', label: 'distance', type: 'length' }],
  trunk: [
    { key: 'per_diameter', label: 'times the trunk’s diameter', type: 'number', unit: ' × trunk' },
    { key: 'at_least_m', label: 'and at least', type: 'length', isOptional: true },
  ],
  canopy: [],
  side: [
    { key: 'uphill_m', label: 'when uphill of it', type: 'length' },
    { key: 'downhill_m', label: 'when downhill of it', type: 'length' },
  ],
  'not-over': [],
};

/** The numbers that a rule has or may have. */
export function figuresOf(rule: RuleDocument): RuleFigure[] {
  const own = valued(figures[rule.test], rule, false);
  return rule.test === 'distance'
    ? [...own, ...valued(distanceFigures[rule.distance.by], rule.distance, true)]
    : own;
}

function valued(kinds: readonly FigureKind[], members: object, inDistance: boolean): RuleFigure[] {
  const named = new Map(Object.entries(members));
  return kinds.map((kind) => {
    const value: unknown = named.get(kind.key);
    return { ...kind, inDistance, value: typeof value === 'number' ? value : undefined };
  });
}

/** A rule with one of its numbers replaced, or without it. */
export function withFigure(
  rule: RuleDocument,
  { key, inDistance }: Pick<RuleFigure, 'key' | 'inDistance'>,
  value: number | undefined,
): RuleDocument {
  // Whether the value fits is for the schema to say, when the set is taken over.
  return inDistance && rule.test === 'distance'
    ? { ...rule, distance: replaced(rule.distance, key, value) }
    : replaced(rule, key, value);
}

/** A copy with one member replaced, or without it. */
export function replaced<T extends object>(whole: T, key: string, value: unknown): T {
  if (value !== undefined) return { ...whole, [key]: value };
  return Object.fromEntries(Object.entries(whole).filter(([name]) => name !== key)) as T;
}

/** A first distance of each sort, to be typed over. */
const firstDistance: Readonly<Record<DistanceBy, DistanceDocument>> = {
  constant: { by: 'constant', m: 3 },
  trunk: { by: 'trunk', per_diameter: 12 },
  canopy: { by: 'canopy' },
  side: { by: 'side', uphill_m: 15, downhill_m: 3 },
  'not-over': { by: 'not-over' },
};

/** A rule whose distance is given in another way; the figures of the old one go. */
export function withDistanceBy(rule: RuleDocument, by: DistanceBy): RuleDocument {
  return rule.test === 'distance' ? { ...rule, distance: firstDistance[by] } : rule;
}

/** What a test has beside what every rule has: a first of each, to be typed over. */
function firstOf(test: RuleTest, from: SelectorDocument[]) {
  switch (test) {
    case 'distance':
      return { test, from, distance: firstDistance.constant };
    case 'inside-lot':
      return { test, m: 3 };
    case 'utility':
      return { test, tolerance_m: usualUtility.tolerance_m };
    case 'not-uphill':
      return { test, from, reach_m: 15 };
    case 'slope':
      return { test, at_most: 0.12 };
    case 'steep-ground':
      return { test, steeper_than: 0.2, m: 15 };
    case 'separation-below':
      return { test, to: ['water-table' as const], at_least_m: 0.6 };
    case 'drain-down':
      return { test, at_most_h: 48 };
    case 'overflow':
      return { test, from };
    case 'wet-spot':
      return { test, deeper_than_m: 0.03 };
    case 'on-site':
      return { test, ask: 'Ask on site' };
  }
}

/** A rule that tests something else: what both tests have is kept, and the rest is a first one to be typed over. */
export function withTest(rule: RuleDocument, test: RuleTest): RuleDocument {
  if (rule.test === test) return rule;
  const from = 'from' in rule ? rule.from : [selectorOf('building')];
  const { id, letter, title, published, binding, source, note } = rule;
  const shared = { id, letter, title, published, binding, source };
  const edge =
    hasEdge(test) && 'edge' in rule && rule.edge !== undefined ? { edge: rule.edge } : {};
  return {
    ...shared,
    ...(note === undefined ? {} : { note }),
    ...edge,
    ...firstOf(test, from),
  };
}

/** Whether rules of a test may say what of the basin is measured. */
export function hasEdge(test: RuleTest): boolean {
  return ['distance', 'inside-lot', 'utility', 'steep-ground'].includes(test);
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

/** A first distance from a kind of feature, under an id and a letter that the set does not have yet. */
export function newRule(kind: Kind, rules: readonly RuleDocument[]): RuleDocument {
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
    from: [selectorOf(kind)],
    distance: firstDistance.constant,
  };
}

/** Every feature of a kind; of lots only the neighbours', since the own one is kept inside of, not away from. */
export function selectorOf(kind: Kind): SelectorDocument {
  return kind === 'lot' ? { kind, where: { own: [false] } } : { kind };
}

function freeLetter(rules: readonly RuleDocument[]): string {
  const alphabet = Array.from({ length: 26 }, (_, i) => String.fromCharCode(65 + i));
  const all = [...alphabet, ...alphabet.map((letter) => `Z${letter}`)];
  return all.find((letter) => !rules.some((rule) => rule.letter === letter)) ?? 'ZZ';
}

/** A set as it is to be kept in the plan, or why it cannot be. */
export function checkedDocument(document: unknown, where: string): OwnDocument | InputError {
  try {
    parseRuleSet(document, where);
    return document as OwnDocument;
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

/** Why a set cannot be used, as said beside the field that was changed: without where it is and what else could be done. */
export function besideField({ problem }: InputError): string {
  const [first, ...rest] = problem.replace(/^in rule '[^']*', /, '');
  return `${first.toUpperCase()}${rest.join('')}.`;
}
