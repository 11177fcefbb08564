import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors';
import { kindNames } from '../../../lib/plan/schema';
import { type RuleSetInput } from '../../../lib/setback/rules/rule';
import { parseRuleSet } from '../../../lib/setback/rules/read-rule-set';
import { ruleSetDocuments, ruleSetsOf } from '../../../lib/setback/sets/rule-sets';
import {
  conditionProperties,
  firstCondition,
  propertyNamed,
  valuesOf,
  withCondition,
} from '../../../src/app/questions/place/rules/conditions';
import {
  besideField,
  checkedDocument,
  copyOfSet,
  distanceWords,
  figuresOf,
  newRule,
  replaced,
  selectorOf,
  testWords,
  withDistanceBy,
  withFigure,
  withTest,
  type DistanceBy,
  type RuleDocument,
  type RuleTest,
} from '../../../src/app/questions/place/rules/own-rules';
import { orSentence, typedFigure } from '../../../src/app/questions/place/rules/typed-figure';

/** Why a set of these rules alone cannot be used; the set itself where it can. */
function checked(...rules: RuleDocument[]) {
  const set: RuleSetInput = { id: 'own', title: 'Own', jurisdiction: 'Here', rules };
  const found = checkedDocument(set, 'x');
  return found instanceof InputError ? found.message : found;
}

/** The sentence with which a set is refused; empty where it is not. */
function refusalOf(document: unknown): string {
  const found = checkedDocument(document, 'x');
  return found instanceof InputError ? found.message : '';
}

const tests = Object.keys(testWords) as RuleTest[];

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
    expect(refusalOf(again)).toMatch(/rules 'well' and 'well-2': both ask/);
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
    // Those that a rule may go without stand there empty.
    expect(named.get('slope')).toEqual(['at_most', 'at_least']);
    expect(named.get('wet-spot')).toEqual(['deeper_than_m', 'slower_than_mm_per_h']);
  });

  it('miss none of the numbers that the published sets have', () => {
    for (const { rules } of ruleSetDocuments) {
      for (const rule of rules) {
        const within = rule.test === 'distance' ? rule.distance : {};
        const numbers = [...Object.entries(rule), ...Object.entries(within)].flatMap(
          ([key, value]) => (typeof value === 'number' ? [key] : []),
        );
        const shown = figuresOf(rule).flatMap(({ key, value }) =>
          value === undefined ? [] : [key],
        );
        expect(shown.sort(), rule.id).toEqual(numbers.sort());
      }
    }
  });

  it('go where a rule may do without, and are told where it may not', () => {
    const slope = withTest(newRule('building', []), 'slope');
    const [most, least] = figuresOf(slope);
    const both = withFigure(slope, least, 0.01);
    expect(withFigure(both, most, undefined)).not.toHaveProperty('at_most');
    expect(typeof checked(withFigure(both, most, undefined))).toBe('object');
    expect(checked(withFigure(slope, most, undefined))).toMatch(/expected at_most, at_least/);
  });

  it('are read as typed, in a sentence where they cannot be', () => {
    const percent = { type: 'percent', label: 'slope' } as const;
    expect(typedFigure('12 %', 'metric', percent)).toBeCloseTo(0.12, 12);
    expect(typedFigure('0,5', 'metric', { type: 'number', label: 'hours' })).toBe(0.5);
    expect(typedFigure('10', 'us', { type: 'length', label: 'distance' })).toBeCloseTo(3.048, 9);
    expect(typedFigure('', 'us', { ...percent, isOptional: true })).toBeUndefined();
    expect(orSentence(() => String(typedFigure('', 'us', percent)))).toMatch(/is no number/);
    expect(orSentence(() => String(typedFigure('steep', 'us', percent)))).toMatch(
      /^slope: 'steep' is no number/,
    );
  });

  it('are replaced one at a time, and a value that does not fit is told', () => {
    const [document] = ruleSetDocuments;
    const [rule] = document.rules;
    const [figure] = figuresOf(rule);
    expect(figure).toMatchObject({ key: 'm', inDistance: true, type: 'length', value: 3.048 });
    const farther = withFigure(rule, figure, 5);
    expect(farther).toMatchObject({ id: rule.id, distance: { by: 'constant', m: 5 } });
    const wrong = { ...document, rules: [withFigure(rule, figure, -5)] };
    expect(refusalOf(wrong)).toMatch(/^x, rules\.0\.distance\.m: .*at least 0/);
  });

  it('are told beside their field without what is plain there', () => {
    const [document] = ruleSetDocuments;
    const [rule] = document.rules;
    const wrong = { ...document, rules: [withFigure(rule, figuresOf(rule)[0], -5)] };
    const found = checkedDocument(wrong, 'x');
    if (!(found instanceof InputError)) throw new Error('it is refused');
    expect(besideField(found)).toBe('Expected at least 0, but it is -5.');
  });

  it('govern the plan that keeps them', () => {
    const copy = copyOfSet(ruleSetDocuments[0], []);
    const kept = checkedDocument(copy, 'x');
    if (kept instanceof InputError) throw kept;
    const found = ruleSetsOf({ rule_sets: [kept], rule_set: copy.id });
    expect(found.chosen.id).toBe(copy.id);
    expect(found.problems).toEqual([]);
  });
});

describe('a rule that is turned into another', () => {
  it.each(tests)('tests %s and can be used at once, whatever it tested before', (test) => {
    for (const before of tests) {
      const rule = withTest(withTest(newRule('tree', []), before), test);
      expect(rule.test).toBe(test);
      expect(typeof checked(rule), before).toBe('object');
      expect(rule).toMatchObject({ id: 'tree', letter: 'A', binding: 'must' });
    }
  });

  it('keeps what both have: features, the basin’s edge, the note', () => {
    const rule = { ...newRule('well', []), edge: 'berm' as const, note: 'Ask the county.' };
    expect(withTest(rule, 'overflow')).toMatchObject({
      from: [{ kind: 'well' }],
      note: 'Ask the county.',
    });
    expect(withTest(rule, 'overflow')).not.toHaveProperty('edge');
    expect(withTest(rule, 'inside-lot')).toMatchObject({ edge: 'berm' });
    expect(withTest(rule, 'distance')).toBe(rule);
  });

  it.each(Object.keys(distanceWords) as DistanceBy[])('gives its distance by %s', (by) => {
    const rule = withDistanceBy(newRule('tree', []), by);
    expect(rule).toMatchObject({ distance: { by } });
    expect(typeof checked(rule)).toBe('object');
  });
});

describe('which features a rule is about', () => {
  it.each(kindNames)('can be asked of every property of a %s that has a schema', (kind) => {
    for (const property of conditionProperties(kind)) {
      const selector = withCondition({ kind }, property.name, firstCondition(property));
      const rule = { ...newRule(kind, []), from: [selector] };
      expect(typeof checked(rule as RuleDocument), property.name).toBe('object');
      expect(propertyNamed(kind, property.name, firstCondition(property))).toEqual(property);
    }
  });

  it('is offered by what the plan knows: foundations, sides, services, trunks', () => {
    const of = (kind: (typeof kindNames)[number], name: string) =>
      conditionProperties(kind).find((each) => each.name === name);
    expect(of('building', 'foundation')).toMatchObject({
      type: 'choice',
      choices: ['basement', 'crawl-space', 'slab', 'none'],
    });
    expect(of('utility', 'service')?.choices).toContain('gas');
    expect(of('utility', 'side')?.choices).toEqual(['public', 'private']);
    expect(of('lot', 'own')?.type).toBe('yes-no');
    expect(of('tree', 'trunk_diameter_m')).toMatchObject({
      type: 'length',
      label: 'trunk diameter',
    });
    expect(of('roof', 'material')?.type).toBe('text');
    expect(of('utility', 'located')).toBeUndefined();
    expect(of('lot', 'kind')).toBeUndefined();
  });

  it('loses what absence means with its last condition', () => {
    const one = withCondition({ kind: 'building', absent: 'skip' }, 'foundation', ['slab']);
    expect(one).toEqual({ kind: 'building', absent: 'skip', where: { foundation: ['slab'] } });
    const two = withCondition(one, 'footing_m', { at_most: 1 });
    expect(withCondition(two, 'footing_m', undefined)).toEqual(one);
    expect(withCondition(one, 'foundation', undefined)).toEqual({ kind: 'building' });
    expect(selectorOf('lot')).toEqual({ kind: 'lot', where: { own: [false] } });
  });

  it('shows conditions that the schema does not know as they stand', () => {
    expect(propertyNamed('building', 'storeys', { at_least: 2 }).type).toBe('number');
    expect(propertyNamed('building', 'wall_cladding', ['brick'])).toMatchObject({
      type: 'text',
      label: 'wall cladding',
    });
    expect(propertyNamed('tree', 'trunk_diameter_m', ['thick']).type).toBe('text');
    expect(valuesOf(' brick, true,, stone ')).toEqual(['brick', true, 'stone']);
  });

  it('is told where no feature could meet it', () => {
    const rule = newRule('building', []);
    const from = (where: object) => checked(replaced(rule, 'from', [{ kind: 'building', where }]));
    expect(from({ foundation: [] })).toMatch(/^x, rules\.0\.from\.0\.where\.foundation/);
    expect(from({ foundation: ['cellar'] })).toMatch(/foundation can never be met/);
    expect(from({ footing_m: { at_least: 2, at_most: 1 } })).toMatch(/can never be met/);
  });
});
