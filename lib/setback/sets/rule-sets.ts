import { InputError } from '../../errors';
import type { Settings } from '../../plan/schema';
import { type RuleSet, type RuleSetInput } from '../rules/rule';
import { parseRuleSet } from '../rules/read-rule-set';
import { publishedSets } from './published-sets';
import { strictestSet } from './strictest-set';

/** The documents of the rule sets that come with the program, the default first: patterns for sets of one's own. */
export const ruleSetDocuments: readonly RuleSetInput[] = [...publishedSets, strictestSet];

/** The rule sets that come with the program, the default first. */
export const ruleSets: readonly RuleSet[] = ruleSetDocuments.map((set) =>
  parseRuleSet(set, set.id),
);

/**
 * The rule set with an id among those that come with the program; the default one when none is given.
 * @throws {InputError} `rule-set-unknown`, listing the ids there are.
 */
export function ruleSetById(id: string | undefined): RuleSet {
  return chosen(ruleSets, id);
}

/** The rule sets that a plan can choose from, and what keeps some of its own from being used. */
export interface RuleSetsOfPlan {
  /** The plan's own first, then those that come with the program. A set of one's own stands in for one of the same id. */
  readonly sets: readonly RuleSet[];
  /** The one to be checked by. */
  readonly chosen: RuleSet;
  /** Ids of the sets that are the plan's own and can be used. */
  readonly own: readonly string[];
  /** One sentence for each set that cannot be used, and for a choice that is not there. */
  readonly problems: readonly string[];
}

const read = new WeakMap<object, RuleSet | InputError>();
const ofSettings = new WeakMap<object, RuleSetsOfPlan>();

/**
 * The rule sets of a plan's settings. A set that cannot be used, or a choice that is not there, is told in `problems`
 * and the default is taken instead: the plan stays as it is, and a check never runs on half a set.
 *
 * Cost: each set is parsed once for as long as its object lives, and the same settings give the same object.
 */
export function ruleSetsOf(settings: Pick<Settings, 'rule_set' | 'rule_sets'>): RuleSetsOfPlan {
  const before = ofSettings.get(settings);
  if (before !== undefined) return before;
  const own: RuleSet[] = [];
  const problems: string[] = [];
  for (const document of settings.rule_sets ?? []) {
    const set = ownRuleSet(document);
    if (set instanceof InputError) problems.push(set.message);
    else if (own.some(({ id }) => id === set.id)) {
      problems.push(`Two rule sets of the plan have the id '${set.id}'; the first is used.`);
    } else own.push(set);
  }
  const sets = [...own, ...ruleSets.filter(({ id }) => !own.some((set) => set.id === id))];
  const found: RuleSetsOfPlan = {
    sets,
    own: own.map(({ id }) => id),
    ...choose(sets, settings, problems),
  };
  ofSettings.set(settings, found);
  return found;
}

/** The rule set that a plan is checked by. */
export function ruleSetOf(settings: Pick<Settings, 'rule_set' | 'rule_sets'>): RuleSet {
  return ruleSetsOf(settings).chosen;
}

function ownRuleSet(document: { readonly id: string }): RuleSet | InputError {
  let set = read.get(document);
  if (set === undefined) {
    try {
      set = parseRuleSet(document, `rule set '${document.id}'`);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      set = error;
    }
    read.set(document, set);
  }
  return set;
}

function choose(
  sets: readonly RuleSet[],
  { rule_set }: Pick<Settings, 'rule_set'>,
  problems: readonly string[],
): Pick<RuleSetsOfPlan, 'chosen' | 'problems'> {
  try {
    return { chosen: chosen(sets, rule_set), problems };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const [usual] = ruleSets;
    const instead = `Until then ${usual.title.toLowerCase()} are taken.`;
    return { chosen: usual, problems: [...problems, `${error.message} ${instead}`] };
  }
}

function chosen(sets: readonly RuleSet[], id: string | undefined): RuleSet {
  const found = sets.find((set) => set.id === (id ?? 'default'));
  if (found !== undefined) return found;
  throw new InputError({
    code: 'rule-set-unknown',
    where: 'rule set',
    problem: `there is no rule set "${id}" that can be used`,
    remedy: `choose one of ${sets.map((set) => set.id).join(', ')}`,
  });
}
