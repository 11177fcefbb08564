import { describe, expect, it } from 'vitest';
import { readRuleSet } from '../../../../lib/setback/rules/read-rule-set';
import { parseRuleSet } from '../../../../lib/setback/rules/read-rule-set';
import { ruleSetDocuments, ruleSetOf, ruleSetsOf } from '../../../../lib/setback/sets/rule-sets';

const town = {
  title: 'Town code 12.4',
  publisher: 'Our town',
  year: 2024,
  mark: 'seen',
};
const foundation = {
  test: 'distance',
  id: 'foundation',
  letter: 'F',
  title: 'Building foundation',
  published: '15 ft',
  binding: 'must',
  source: town,
  from: [{ kind: 'building' }],
  distance: { by: 'constant', m: 4.572 },
};
const lotLine = {
  test: 'inside-lot',
  id: 'lot-line',
  letter: 'L',
  title: 'Lot line',
  published: '5 ft',
  binding: 'must',
  source: town,
  m: 1.524,
};
const set = (...rules: object[]): { id: string } & Record<string, unknown> => ({
  id: 'our-town',
  title: 'Our town',
  jurisdiction: 'Our town',
  rules,
});

describe('a rule set of one’s own', () => {
  it('is read, and says that local code governs where it says nothing itself', () => {
    const { set: read, document } = readRuleSet(
      JSON.stringify(set(foundation, lotLine)),
      'town.json',
    );
    expect(read.rules.map((rule) => rule.id)).toEqual(['foundation', 'lot-line']);
    expect(read.note).toContain('Local code governs');
    expect(read.rules[0]).toMatchObject({ edge: 'rim' });
    expect(parseRuleSet(document, 'again')).toEqual(read);
  });

  it('is refused as text with the place where it stops being JSON', () => {
    expect(() => readRuleSet('{ "id": our }', 'town.json')).toThrow(/town\.json, line 1, column 9/);
    expect(() => readRuleSet(' ', 'town.json')).toThrow(/the file is empty/);
  });

  it.each<[string, object, RegExp]>([
    [
      'an unknown kind',
      { from: [{ kind: 'garage' }] },
      /rules\.0\.from\.0\.kind: in rule 'foundation', expected one of lot, .*"garage"/,
    ],
    [
      'an unknown test',
      { test: 'proximity' },
      /rules\.0\.test: .*expected one of distance, inside-lot, .*"proximity"/,
    ],
    [
      'a negative distance',
      { distance: { by: 'constant', m: -3 } },
      /distance\.m: .*expected at least 0, but it is -3/,
    ],
    [
      'a distance in words',
      { distance: { by: 'constant', m: '10 ft' } },
      /distance\.m: .*expected a number, but it is "10 ft"/,
    ],
    [
      'no source',
      { source: undefined },
      /rules\.0\.source: in rule 'foundation', .*missing; say where the figure stands/,
    ],
    [
      'a source without its mark',
      { source: { ...town, mark: undefined } },
      /source\.mark: .*missing/,
    ],
    [
      'a misspelt member',
      { bindng: 'must' },
      /rules\.0\.bindng: in rule 'foundation', 'bindng' is not known here; correct its spelling/,
    ],
    [
      'uphill less than nothing',
      { distance: { by: 'side', uphill_m: -1, downhill_m: 3 } },
      /uphill_m: .*at least 0, but it is -1/,
    ],
    ['a letter that is none', { letter: 'f' }, /letter: .*expected one or two capital letters/],
    ['an id with a space', { id: 'my rule' }, /id: .*expected small letters, digits and hyphens/],
    ['nothing to measure from', { from: [] }, /from: .*expected at least 1 entries/],
  ])('is refused with %s', (_, change, sentence) => {
    const rule = JSON.parse(JSON.stringify({ ...foundation, ...change })) as object;
    expect(() => parseRuleSet(set(rule), 'town.json')).toThrow(sentence);
  });

  it('is refused when vertical separation is asked for as a most', () => {
    const below = {
      ...foundation,
      test: 'separation-below',
      from: undefined,
      distance: undefined,
      to: ['rock'],
      at_most_m: 2,
      at_least_m: 1,
    };
    const rule = JSON.parse(JSON.stringify(below)) as object;
    expect(() => parseRuleSet(set(rule), 'town.json')).toThrow(/'at_most_m' is not known here/);
  });
});

describe('a contradictory rule set', () => {
  it.each<[string, object[], RegExp]>([
    [
      'one id twice',
      [foundation, { ...lotLine, id: 'foundation' }],
      /expected ids to be unique, but 'Building foundation' and 'Lot line' both have foundation/,
    ],
    [
      'one letter twice',
      [foundation, { ...lotLine, letter: 'F' }],
      /expected letters to be unique/,
    ],
    [
      'a value that the property never has',
      [{ ...foundation, from: [{ kind: 'building', where: { foundation: ['cellar'] } }] }],
      /condition on foundation can never be met: it is never cellar, only basement, crawl-space/,
    ],
    [
      'a misspelt property',
      [{ ...foundation, from: [{ kind: 'building', where: { foundtion: ['slab'] } }] }],
      /a building has no such property, but it has foundation/,
    ],
    [
      'an empty range',
      [
        {
          ...foundation,
          from: [{ kind: 'tree', where: { trunk_diameter_m: { at_least: 2, at_most: 1 } } }],
        },
      ],
      /nothing is at least 2 and at most 1/,
    ],
    [
      'a range of words',
      [{ ...foundation, from: [{ kind: 'building', where: { foundation: { at_least: 1 } } }] }],
      /it is not a number/,
    ],
    [
      'a list of words for a number',
      [{ ...foundation, from: [{ kind: 'tree', where: { trunk_diameter_m: ['thick'] } }] }],
      /it is a number, which wants at_least/,
    ],
    [
      'a slope from both sides with nothing between',
      [{ ...lotLine, test: 'slope', m: undefined, at_least: 0.05, at_most: 0.02 }],
      /no ground is at least 5 % steep and, as it asks too, at most 2 %/,
    ],
    [
      'two slopes with nothing between',
      [
        { ...lotLine, test: 'slope', m: undefined, at_least: 0.05 },
        { ...lotLine, id: 'flat', letter: 'G', test: 'slope', m: undefined, at_most: 0.02 },
      ],
      /as rule 'flat' asks too, at most 2 %/,
    ],
    [
      'away from the own lot and inside it',
      [{ ...foundation, from: [{ kind: 'lot' }] }, lotLine],
      /keeps the basin away from its own lot, and rule 'lot-line' keeps it inside/,
    ],
    [
      'two figures for the very same',
      [foundation, { ...foundation, id: 'again', letter: 'A', distance: { by: 'constant', m: 3 } }],
      /rules 'foundation' and 'again': both ask a figure of the very same things/,
    ],
  ])('with %s is refused in a sentence', (_, rules, sentence) => {
    const plain = JSON.parse(JSON.stringify(set(...rules))) as unknown;
    expect(() => parseRuleSet(plain, 'town.json')).toThrow(sentence);
  });

  it('is none when a stricter rule looks at some of the same features, or is only advice', () => {
    const basement = {
      ...foundation,
      id: 'basement',
      letter: 'FB',
      from: [{ kind: 'building', where: { foundation: ['basement'] } }],
      distance: { by: 'constant', m: 9 },
    };
    const better = {
      ...foundation,
      id: 'better',
      letter: 'A',
      binding: 'advice',
      distance: { by: 'constant', m: 9 },
    };
    const neighbours = {
      ...foundation,
      id: 'n',
      letter: 'N',
      from: [{ kind: 'lot', where: { own: [false] } }],
    };
    const mine = {
      ...foundation,
      id: 'm',
      letter: 'M',
      from: [{ kind: 'well', where: { public: [true] }, absent: 'skip' }],
    };
    expect(
      parseRuleSet(set(foundation, basement, better, neighbours, mine, lotLine), 'x').rules,
    ).toHaveLength(6);
  });

  it('is none of those that come with the program', () => {
    for (const document of ruleSetDocuments) {
      expect(parseRuleSet(JSON.parse(JSON.stringify(document)), document.id).id).toBe(document.id);
    }
  });
});

describe('the rule sets of a plan', () => {
  it('are the plan’s own and those that come with the program, and the id chooses', () => {
    const settings = { rule_set: 'our-town', rule_sets: [set(foundation)] };
    const found = ruleSetsOf(settings);
    expect(found.own).toEqual(['our-town']);
    expect(found.problems).toEqual([]);
    expect(ruleSetOf(settings).title).toBe('Our town');
    expect(found.sets.map(({ id }) => id)).toContain('default');
    expect(ruleSetsOf(settings)).toBe(found);
  });

  it('stay usable when one of them is broken: a sentence, and the default instead', () => {
    const broken = set({ ...foundation, from: [{ kind: 'garage' }] });
    const settings = { rule_set: 'our-town', rule_sets: [broken] };
    const found = ruleSetsOf(settings);
    expect(found.chosen.id).toBe('default');
    expect(found.problems).toHaveLength(2);
    expect(found.problems[0]).toMatch(/^rule set 'our-town', rules\.0\.from\.0\.kind: /);
    expect(found.problems[1]).toContain('common handbook setbacks are taken');
  });

  it('let one of the plan’s own stand in for one of the same id, and the first of two', () => {
    const mine = { ...set(foundation), id: 'minnesota' };
    const found = ruleSetsOf({ rule_set: 'minnesota', rule_sets: [mine, mine] });
    expect(found.chosen.title).toBe('Our town');
    expect(found.sets.filter(({ id }) => id === 'minnesota')).toHaveLength(1);
    expect(found.problems).toEqual([expect.stringContaining("the id 'minnesota'") as string]);
  });
});
