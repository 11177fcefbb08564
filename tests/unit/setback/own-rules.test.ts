import { describe, expect, it } from 'vitest';
import { kindNames } from '../../../lib/plan/schema';
import { parseRuleSet } from '../../../lib/setback/rule';
import { ruleSetDocuments, ruleSetsOf } from '../../../lib/setback/rule-sets';
import {
  checkedDocument,
  copyOfSet,
  figuresOf,
  newRule,
  withFigure,
} from '../../../src/app/questions/place/own-rules';

describe('a set copied to be changed', () => {
  it('has an id that no other has, and is a set that can be used', () => {
    for (const document of ruleSetDocuments) {
      const first = copyOfSet(document, []);
      const second = copyOfSet(document, [first.id]);
      expect(second.id).not.toBe(first.id);
      expect(parseRuleSet(second, second.id).rules).toHaveLength(document.rules.length);
    }
  });

  it('takes a rule for every kind of feature, each with its own id and letter', () => {
    const copy = copyOfSet(ruleSetDocuments[1], []);
    let { rules } = copy;
    for (const kind of kindNames) {
      // Minnesota has rules of the very same for buildings and wells.
      if (kind !== 'building' && kind !== 'well') rules = [...rules, newRule(kind, rules)];
    }
    const whole = { ...copy, rules: rules.slice(0, 31) };
    expect(checkedDocument(whole, 'x')).toBe(whole);
    expect(newRule('tree', rules).id).toBe('tree-2');
  });

  it('is told when a rule is added that is there already', () => {
    const copy = copyOfSet(ruleSetDocuments[1], []);
    const again = { ...copy, rules: [...copy.rules, newRule('well', copy.rules)] };
    expect(checkedDocument(again, 'x')).toMatch(/rules 'well' and 'well-2': both ask/);
  });
});

describe('the figures of a rule', () => {
  it('are all that can be typed over, wherever they stand', () => {
    const named = new Map(
      ruleSetDocuments.flatMap(({ rules }) =>
        rules.map((rule) => [rule.test, figuresOf(rule).map(({ key }) => key)] as const),
      ),
    );
    expect(named.get('inside-lot')).toEqual(['m']);
    expect(named.get('utility')).toEqual(['tolerance_m']);
    expect(named.get('steep-ground')).toEqual(['steeper_than', 'm']);
    expect(named.get('drain-down')).toEqual(['at_most_h']);
    expect(named.get('separation-below')).toEqual(['at_least_m']);
  });

  it('are replaced one at a time, and a value that does not fit is told', () => {
    const [document] = ruleSetDocuments;
    const [rule] = document.rules;
    const [figure] = figuresOf(rule);
    expect(figure).toMatchObject({ key: 'm', inDistance: true, type: 'length', value: 3.048 });
    const farther = withFigure(rule, figure, 5);
    expect(farther).toMatchObject({ id: rule.id, distance: { by: 'constant', m: 5 } });
    const wrong = { ...document, rules: [withFigure(rule, figure, -5)] };
    expect(checkedDocument(wrong, 'x')).toMatch(/^x, rules\.0\.distance\.m: .*at least 0/);
  });

  it('govern the plan that keeps them', () => {
    const copy = copyOfSet(ruleSetDocuments[0], []);
    const kept = checkedDocument(copy, 'x');
    if (typeof kept === 'string') throw new Error(kept);
    const found = ruleSetsOf({ rule_sets: [kept], rule_set: copy.id });
    expect(found.chosen.id).toBe(copy.id);
    expect(found.problems).toEqual([]);
  });
});
