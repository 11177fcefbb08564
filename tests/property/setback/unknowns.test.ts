import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSetbacks } from '../../../lib/setback/judge/check-setbacks';
import { parseRuleSet } from '../../../lib/setback/rules/read-rule-set';
import type { Verdict } from '../../../lib/verdict';
import { box, planOf } from '../../unit/setback/plan-of';

const source = { title: 'Code', publisher: 'Town', year: null, mark: 'seen' };
const metres = (max: number): fc.Arbitrary<number> => fc.double({ min: 0, max, noNaN: true });

interface Tree {
  readonly trunk_diameter_m?: number;
  readonly canopy_radius_m?: number;
}

/** What a rule says to a basin so far east of a tree; null where it does not concern the tree. */
function verdict(awayM: number, tree: Tree, from: object, distance: object): Verdict | null {
  const ruleSet = parseRuleSet(
    {
      id: 's',
      title: 'S',
      jurisdiction: 'J',
      rules: [
        {
          test: 'distance',
          id: 'r',
          letter: 'R',
          title: 'Rule',
          published: 'so',
          binding: 'must',
          source,
          from: [from],
          distance,
        },
      ],
    },
    's',
  );
  const { results } = checkSetbacks({
    plan: planOf({ id: 'oak', properties: { kind: 'tree', ...tree }, point: [0, 0] }),
    basins: [{ id: 'b', rim: box(awayM, -1, awayM + 2, 1) }],
    ruleSet,
    today: '2026-05-10',
  });
  return results.at(0)?.result ?? null;
}

describe('a rule about a tree of which something is not known', () => {
  it('passes and fails only where it would whatever that is', () => {
    fc.assert(
      fc.property(
        metres(40),
        fc.record({ trunk_diameter_m: metres(1.5), canopy_radius_m: metres(15) }),
        fc.record({ trunk_diameter_m: fc.boolean(), canopy_radius_m: fc.boolean() }),
        fc.record({
          by: fc.constant('trunk'),
          per_diameter: metres(24),
          or_canopy: fc.boolean(),
          at_least_m: metres(6),
        }),
        fc.option(metres(1), { nil: undefined }),
        (awayM, tree, known, distance, thickerThanM) => {
          const from = {
            kind: 'tree',
            ...(thickerThanM === undefined
              ? {}
              : { where: { trunk_diameter_m: { at_least: thickerThanM } } }),
          };
          const told: Tree = {
            ...(known.trunk_diameter_m ? { trunk_diameter_m: tree.trunk_diameter_m } : {}),
            ...(known.canopy_radius_m ? { canopy_radius_m: tree.canopy_radius_m } : {}),
          };
          const judged = verdict(awayM, told, from, distance);
          const truly = verdict(awayM, tree, from, distance);
          // what does not concern the tree forbids nothing
          if (judged === 'pass') expect(truly ?? 'pass').toBe('pass');
          else if (judged === 'fail') expect(truly).toBe('fail');
          else if (judged === null) expect(truly).toBeNull();
          if (known.trunk_diameter_m && known.canopy_radius_m) expect(judged).toBe(truly);
        },
      ),
      { seed: 41, numRuns: 1500 },
    );
  });
});
