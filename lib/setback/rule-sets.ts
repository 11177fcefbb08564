import { InputError } from '../errors';
import { parseRuleSet, type RuleSet } from './rule';
import { commonSetbacks } from './sets/common-setbacks';
import { minnesotaSet } from './sets/minnesota-set';
import { westernWashingtonSet } from './sets/western-washington-set';
import { newJerseySet } from './sets/new-jersey-set';
import { mississaugaSet } from './sets/mississauga-set';
import { strictestSet } from './sets/strictest-set';

/** The rule sets that come with the program, the default first. */
export const ruleSets: readonly RuleSet[] = [
  commonSetbacks,
  minnesotaSet,
  westernWashingtonSet,
  newJerseySet,
  mississaugaSet,
  strictestSet,
].map((set) => parseRuleSet(set, set.id));

/**
 * The rule set with an id; the default one when none is given.
 * @throws {InputError} `rule-set-unknown`, listing the ids there are.
 */
export function ruleSetById(id: string | undefined): RuleSet {
  const found = ruleSets.find((set) => set.id === (id ?? 'default'));
  if (found !== undefined) return found;
  throw new InputError({
    code: 'rule-set-unknown',
    where: 'rule set',
    problem: `there is no rule set "${id}"`,
    remedy: `choose one of ${ruleSets.map((set) => set.id).join(', ')}`,
  });
}
