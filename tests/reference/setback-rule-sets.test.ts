import { describe, expect, it } from 'vitest';
import { asksAsMuch } from '../../lib/setback/rules/asks-as-much';
import type { Rule } from '../../lib/setback/rules/rule';
import { parseRuleSet } from '../../lib/setback/rules/read-rule-set';
import { ruleSetById, ruleSetDocuments, ruleSets } from '../../lib/setback/sets/rule-sets';

const footM = 0.3048;

/** Published figures, typed from the sources' rows in feet (or metres) and turned into metres here. */
const rows: readonly [set: string, rule: string, metres: number][] = [
  // Minnesota Stormwater Manual, bioretention page: 10 / 10 / 50 / 50 ft.
  ['minnesota', 'foundation', 10 * footM],
  ['minnesota', 'lot-line', 10 * footM],
  ['minnesota', 'septic', 50 * footM],
  ['minnesota', 'well', 50 * footM],
  ['minnesota', 'steep-ground', 200 * footM],
  // Rain Garden Handbook for Western Washington, 2013, p. 13.
  ['western-washington', 'foundation', 10 * footM],
  ['western-washington', 'steep-ground', 50 * footM],
  // Rain garden slides, New Jersey, 2011, slide 17: 10 ft with basement, 2 without, septic 25.
  ['new-jersey', 'basement', 10 * footM],
  ['new-jersey', 'foundation', 2 * footM],
  ['new-jersey', 'septic', 25 * footM],
  // City of Mississauga: 3 m from buildings and trees, 1.25 m from neighbours.
  ['mississauga', 'foundation', 3],
  ['mississauga', 'tree', 3],
  ['mississauga', 'lot-line', 1.25],
  // The middle of the published ranges (our choice, no source); the line's zone: 18 in of the uniform colour code's guide.
  ['default', 'foundation', 10 * footM],
  ['default', 'lot-line', 10 * footM],
  ['default', 'septic', 50 * footM],
  ['default', 'well', 50 * footM],
  ['default', 'utility', 1.5 * footM],
  // Buckinghamshire Council: 5 m from foundation, retaining structure, highway or boundary; 10 m between soakaways.
  ['england', 'foundation', 5],
  ['england', 'retaining-wall', 5],
  ['england', 'lot-line', 5],
  ['england', 'other-basin', 10],
  ['england', 'water-table', 1],
  // Lakehead Region Conservation Authority: over 3 m from the foundation, over 9 m from a downspout.
  ['lakehead', 'foundation', 3],
  ['lakehead', 'downspout', 9],
  // Depths to water and rock: 3 ft (Minnesota manual, bioretention page), 2 ft (New Jersey slides, slide 17), a hole of
  // 36 in (Western Washington handbook, p. 15).
  ['default', 'water-table', 3 * footM],
  ['minnesota', 'water-table', 3 * footM],
  ['new-jersey', 'water-table', 2 * footM],
  ['western-washington', 'look-hole', 3 * footM],
  // Minnesota Stormwater Manual, setbacks, earlier table: 100 ft from a well. New York notice centre: 24 in each side.
  ['strictest', 'well', 100 * footM],
  ['strictest', 'utility', 2 * footM],
];

function metresOf(rule: Rule): number | undefined {
  switch (rule.test) {
    case 'distance':
      return rule.distance.by === 'constant' ? rule.distance.m : undefined;
    case 'inside-lot':
    case 'steep-ground':
      return rule.m;
    case 'utility':
      return rule.toleranceM;
    case 'not-uphill':
      return rule.reachM;
    case 'separation-below':
      return rule.atLeastM;
    default:
      return undefined;
  }
}

function ruleOf(set: string, id: string): Rule {
  const found = ruleSetById(set).rules.find((rule) => rule.id === id);
  if (found === undefined) throw new Error(`${set} has no rule ${id}`);
  return found;
}

describe('the rule sets', () => {
  it.each(rows)('%s: %s is %f m', (set, id, metres) => {
    expect(metresOf(ruleOf(set, id))).toBeCloseTo(metres, 9);
  });

  it('have Washington’s 50 ft uphill and 10 ft downhill of a septic system', () => {
    expect(ruleOf('western-washington', 'septic')).toMatchObject({
      distance: { by: 'side', uphillM: 50 * footM, downhillM: 10 * footM },
    });
  });

  it('have the root circles: 12 in of trunk gives 12 ft in the common set and 18 ft in the strictest', () => {
    const inchM = 0.0254;
    for (const [set, feet] of [
      ['default', 12],
      ['strictest', 18],
    ] as const) {
      const tree = ruleOf(set, 'tree');
      if (tree.test !== 'distance' || tree.distance.by !== 'trunk') throw new Error('not by trunk');
      expect(tree.distance.perDiameter * 12 * inchM).toBeCloseTo(feet * footM, 9);
    }
  });

  it('have the published slope limits', () => {
    expect(ruleOf('default', 'slope')).toMatchObject({ atMost: 0.12 });
    expect(ruleOf('western-washington', 'slope')).toMatchObject({ atMost: 0.1 });
    expect(ruleOf('minnesota', 'slope')).toMatchObject({ atMost: 0.33 });
    expect(ruleOf('minnesota', 'least-slope')).toMatchObject({ atLeast: 0.01 });
  });

  it('have the published times to drain down: 48 h in Nebraska and New Jersey', () => {
    for (const set of ['default', 'new-jersey', 'strictest']) {
      expect(ruleOf(set, 'drain-down')).toMatchObject({ atMostH: 48 });
    }
  });

  it('keep the figure as published in agreement with the metres', () => {
    for (const set of ruleSets) {
      for (const rule of set.rules) {
        const metres = metresOf(rule);
        const feet = /^(\d+) ft(?:$| (?:with|from|without))/.exec(rule.published);
        if (metres !== undefined && feet !== null) {
          expect(metres, `${set.id} ${rule.id}`).toBeCloseTo(Number(feet[1]) * footM, 9);
        }
      }
    }
  });

  it('have in the strictest set what only one of the others asks for', () => {
    expect(ruleOf('strictest', 'retaining-wall')).toMatchObject({ distance: { m: 5 } });
    expect(ruleOf('strictest', 'soil-rate').published).toContain('1e-6 m/s');
    expect(ruleOf('strictest', 'least-slope')).toMatchObject({ atLeast: 0.01 });
    expect(ruleOf('strictest', 'downspout')).toMatchObject({ binding: 'must' });
    // New Jersey asks it of fast soil too.
    expect(ruleOf('strictest', 'wet-spot')).toMatchObject({ slowerThanMmPerH: undefined });
    const steep = ruleSetById('strictest').rules.flatMap((rule) =>
      rule.test === 'steep-ground' ? [[rule.steeperThan, rule.m / footM]] : [],
    );
    expect(steep).toEqual([
      [0.2, expect.closeTo(200, 6)],
      [0.1, expect.closeTo(50, 6)],
    ]);
  });

  it('have a rule in the strictest set that asks as much, for every rule of every set', () => {
    const strictest = ruleSetById('strictest').rules;
    for (const set of ruleSets) {
      for (const rule of set.rules) {
        const found = strictest.some((each) => asksAsMuch(each, rule));
        expect(found, `${set.id} ${rule.id}`).toBe(true);
      }
    }
    // and none there that another makes idle
    for (const rule of strictest) {
      const others = strictest.filter((each) => each !== rule);
      expect(
        others.some((each) => asksAsMuch(each, rule)),
        rule.id,
      ).toBe(false);
    }
  });

  it('say that local code governs, and name a source with its mark for every rule', () => {
    for (const set of ruleSets) {
      expect(set.note).toContain('Local code governs');
      for (const rule of set.rules) {
        expect(rule.source.title.length, rule.id).toBeGreaterThan(0);
        if (rule.source.mark === 'common practice, no source') expect(rule.source.year).toBeNull();
      }
    }
  });
});

describe('a rule set from a file', () => {
  it('is refused with the place and what was expected', () => {
    const set = structuredClone(ruleSetDocuments[0]) as unknown as {
      rules: { binding: string }[];
    };
    set.rules[2].binding = 'perhaps';
    expect(() => parseRuleSet(set, 'town.json')).toThrow(
      /town\.json, rules\.2\.binding: .*perhaps/,
    );
  });

  it('is refused when two rules share a letter', () => {
    const set = structuredClone(ruleSetDocuments[0]) as unknown as {
      rules: { letter: string }[];
    };
    set.rules[1].letter = set.rules[0].letter;
    expect(() => parseRuleSet(set, 'town.json')).toThrow(/letters to be unique/);
  });

  it('is looked up by id, with the choices when there is none', () => {
    expect(() => ruleSetById('atlantis')).toThrow(/default, minnesota.*england/);
  });
});
