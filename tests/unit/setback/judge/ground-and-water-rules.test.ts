import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import { checkedBasins } from '../../../../lib/setback/rules/checked-basins';
import { parseRuleSet } from '../../../../lib/setback/rules/read-rule-set';
import type { SetbackResult } from '../../../../lib/setback/judge/setback-result';
import type { SetbackInput, StandingWater } from '../../../../lib/setback/judge/setback-input';
import type { CheckedBasin } from '../../../../lib/setback/rules/checked-basins';
import { box, planOf, type Drawn } from '../plan-of';

const source = { title: 'Code', publisher: 'Town', year: null, mark: 'seen' };
const rim = box(0, 0, 6, 4);

/** The rows of one rule at one basin. */
function rowsOf(
  rule: object,
  drawn: readonly Drawn[],
  given: Partial<CheckedBasin> = {},
  input: Partial<SetbackInput> = {},
): readonly SetbackResult[] {
  const whole = { id: 'r', letter: 'R', title: 'Rule', published: 'so', binding: 'must', source };
  const ruleSet = parseRuleSet(
    { id: 's', title: 'S', jurisdiction: 'J', rules: [{ ...whole, ...rule }] },
    's',
  );
  return checkSetbacks({
    plan: planOf(...drawn),
    basins: [{ id: 'b', rim, ...given }],
    ruleSet,
    today: '2026-05-10',
    ...input,
  }).results;
}

function test(id: string, properties: object): Drawn {
  return { id, properties: { kind: 'soil-test', ...properties }, point: [20, 20] };
}

describe('separation below', () => {
  const rule = { test: 'separation-below', to: ['water-table'], at_least_m: 0.9 };

  it('is the shallowest depth met in a soil test, less the depth of the dig', () => {
    const tests = [test('t1', { water_table_m: 2 }), test('t2', { water_table_m: 1.4 })];
    const [row] = rowsOf(rule, tests, { bottomDepthM: 0.5 });
    expect(row).toMatchObject({ feature: 't2', result: 'pass', required_m: 0.9 });
    expect(row.measured_m).toBeCloseTo(0.9, 9);
    expect(rowsOf(rule, tests, { bottomDepthM: 0.51 })[0].result).toBe('fail');
  });

  it('takes the settings where no test met any, and the surface where the rule says so', () => {
    const soil = { water_table_m: 1 };
    expect(rowsOf(rule, [], { bottomDepthM: 0.5 }, { soil })[0]).toMatchObject({
      result: 'fail',
      feature: null,
      measured_m: 0.5,
    });
    const fromSurface = { ...rule, measured_from: 'surface' };
    expect(rowsOf(fromSurface, [], { bottomDepthM: 0.5 }, { soil })[0].result).toBe('pass');
  });

  it('cannot be judged without a look, nor by a hole in which nothing is noted', () => {
    expect(rowsOf(rule, [], { bottomDepthM: 0.5 })[0]).toMatchObject({ result: 'check' });
    expect(rowsOf(rule, [], { bottomDepthM: 0.5 })[0].why).toMatch(/dig a look hole/);
    const deep = [test('t', { hole_depth_m: 1.5 })];
    expect(rowsOf(rule, deep, { bottomDepthM: 0.5 })[0]).toMatchObject({ result: 'check' });
    expect(rowsOf(rule, deep, { bottomDepthM: 0.5 })[0].why).toMatch(/reaches deep enough/);
    const known = [test('t', { water_table_m: 3 })];
    expect(rowsOf(rule, known)[0].why).toMatch(/to be dug is not known/);
    // However deep the dig, water 0.8 m below the surface is nearer than 0.9 m to its bottom.
    expect(rowsOf(rule, [test('t', { water_table_m: 0.8 })])[0].result).toBe('fail');
  });

  it('answers for each of water, rock and a tight layer', () => {
    const all = { ...rule, to: ['water-table', 'rock', 'limiting-layer'] };
    const tests = [test('t', { rock_m: 1, limiting_layer_m: 3 })];
    expect(
      rowsOf(all, tests, { bottomDepthM: 0.5 })
        .map((row) => row.result)
        .sort(),
    ).toEqual(['check', 'fail', 'pass']);
  });
});

describe('drain-down', () => {
  const rule = { test: 'drain-down', at_most_h: 48 };
  const at = (drainDownH: number | undefined, input: Partial<SetbackInput> = {}): SetbackResult =>
    rowsOf(rule, [], { drainDownH }, input)[0];

  it('is judged by the given hours, and by the local limit where there is one', () => {
    expect(at(48)).toMatchObject({ result: 'pass', required_h: 48, measured_h: 48, limit: 'most' });
    expect(at(48.1).result).toBe('fail');
    expect(at(30, { soil: { drain_limit_h: 24 } })).toMatchObject({
      result: 'fail',
      required_h: 24,
    });
  });

  it('given for a table’s rate fails only where the most that such soils take is too slow as well', () => {
    const given = (drainDownH: number, soil: SetbackInput['soil']): string =>
      rowsOf(rule, [], { drainDownH, pondingDepthM: 0.15 }, { soil })[0].result;
    expect(given(60, { usda_texture: 'loam' })).toBe('check');
    expect(given(40, { usda_texture: 'loam' })).toBe('pass');
    expect(given(60, { rate_mm_per_h: 5 })).toBe('fail');
    expect(given(Infinity, { group: 'C' })).toBe('check');
    expect(given(30, { group: 'A' })).toBe('check');
  });

  it('fails where water never goes, without a figure that is none', () => {
    expect(at(Infinity)).toMatchObject({ result: 'fail', measured_h: null });
  });

  it('is the ponding depth over the rate while nothing better is given', () => {
    const by = (input: Partial<SetbackInput>): SetbackResult =>
      rowsOf(rule, [], { pondingDepthM: 0.2 }, input)[0];
    expect(by({ soil: { rate_mm_per_h: 10 } })).toMatchObject({ result: 'pass', measured_h: 20 });
    expect(by({ soil: { rate_mm_per_h: 4 } })).toMatchObject({
      result: 'fail',
      measured_h: expect.closeTo(50, 9) as number,
    });
    expect(by({ soil: { rate_mm_per_h: 0 } })).toMatchObject({ result: 'fail', measured_h: null });
    expect(by({}).result).toBe('check');
    expect(by({ soil: { group: 'C' } }).result).toBe('check');
    expect(by({ soil: { group: 'A' } }).result).toBe('check');
    // The most that group D takes, 3.6 mm/h, leaves water standing for 55 h.
    expect(by({ soil: { group: 'D' } }).result).toBe('fail');
    // What is published by texture is on the safe side: enough to pass; to fail, what it takes at most is too slow as well.
    expect(by({ soil: { usda_texture: 'sand' } }).result).toBe('pass');
    const clay: Partial<SetbackInput> = { soil: { usda_texture: 'clay' } };
    expect(by(clay).result).toBe('check');
    expect(rowsOf(rule, [], { pondingDepthM: 0.3 }, clay)[0].result).toBe('fail');
  });

  it('cannot be judged while it is not known', () => {
    expect(at(undefined)).toMatchObject({ result: 'check', measured_h: null });
    expect(at(undefined).why).toMatch(/test how fast the soil takes water/);
  });
});

describe('overflow', () => {
  const rule = {
    test: 'overflow',
    from: [{ kind: 'lot', where: { own: [false] } }, { kind: 'septic-field' }],
  };
  const drawn: Drawn[] = [
    { id: 'own', properties: { kind: 'lot', own: true }, rings: [box(-20, -20, 20, 20)] },
    { id: 'next', properties: { kind: 'lot', own: false }, rings: [box(20, -20, 60, 20)] },
    { id: 'field', properties: { kind: 'septic-field' }, rings: [box(10, -20, 14, 20)] },
  ];
  const along = (...overflowWays: XY[][]): SetbackResult =>
    rowsOf(rule, drawn, { overflowWays })[0];

  it('fails at the first thing on its way that it must not reach', () => {
    const row = along([
      [6, 2],
      [9, 2],
      [30, 2],
    ]);
    expect(row).toMatchObject({ result: 'fail', feature: 'field' });
    expect(row.nearest?.[0][0]).toBeGreaterThan(9.9);
    expect(row.nearest?.[0][0]).toBeLessThan(14.1);
  });

  it('fails by what it surely must not reach before it asks about what it may', () => {
    const unsure = {
      ...rule,
      from: [{ kind: 'building', where: { foundation: ['basement'] } }, ...rule.from],
    };
    const shed: Drawn = { id: 'shed', properties: { kind: 'building' }, rings: [box(7, 0, 9, 4)] };
    const overflowWays: XY[][] = [
      [
        [6, 2],
        [9, 2],
        [30, 2],
      ],
    ];
    expect(rowsOf(unsure, [...drawn, shed], { overflowWays })[0]).toMatchObject({
      result: 'fail',
      feature: 'field',
    });
    expect(rowsOf(unsure, [shed], { overflowWays })[0]).toMatchObject({
      result: 'check',
      feature: 'shed',
    });
  });

  it('does not take the lot that the basin lies on for a neighbour’s', () => {
    const away: XY[] = [
      [30, 2],
      [50, 2],
    ];
    const there = { rim: box(26, 0, 30, 4), overflowWays: [away] };
    expect(rowsOf(rule, drawn, there)[0]).toMatchObject({ result: 'pass' });
    expect(rowsOf(rule, drawn, { overflowWays: [away] })[0]).toMatchObject({
      result: 'fail',
      feature: 'next',
      why: 'Overflow, when full, runs onto it.',
    });
  });

  it('passes where the way leaves over the street side', () => {
    expect(
      along([
        [6, 2],
        [6, -40],
      ]),
    ).toMatchObject({ result: 'pass', feature: null });
  });

  it('runs onto nothing below the ground, and onto what it comes out on', () => {
    const intoPipe: XY[] = [
      [6, 2],
      [6, 5],
    ];
    // From 5 m to 25 m north it is in a pipe under the field.
    const outAgain: XY[] = [
      [6, 25],
      [6, 40],
    ];
    expect(along(intoPipe, outAgain)).toMatchObject({ result: 'pass' });
    const outNextDoor: XY[] = [
      [25, 10],
      [40, 10],
    ];
    expect(along(intoPipe, outNextDoor)).toMatchObject({ result: 'fail', feature: 'next' });
  });

  it('has the verdict of the design, where the rule names what is reached; else it is looked at', () => {
    const overflowWays: XY[][] = [
      [
        [6, 2],
        [9, 2],
      ],
    ];
    const judged = (result: 'pass' | 'fail' | 'check', feature: string | null) =>
      rowsOf(rule, drawn, {
        overflowWays,
        overflowVerdict: { result, feature, why: 'As designed.', at: [9, 2] },
      })[0];
    expect(judged('fail', 'field')).toMatchObject({
      ...{ result: 'fail', feature: 'field', why: 'As designed.' },
      nearest: [
        [9, 2],
        [9, 2],
      ],
    });
    expect(judged('fail', 'own')).toMatchObject({ result: 'check', feature: null });
    expect(judged('check', null)).toMatchObject({ result: 'check', why: 'As designed.' });
    expect(judged('pass', null)).toMatchObject({ result: 'pass', why: 'As designed.' });
  });

  it('cannot be judged without the ground', () => {
    expect(rowsOf(rule, drawn)[0]).toMatchObject({ result: 'check' });
    expect(along()).toMatchObject({ result: 'check' });
  });
});

describe('an existing wet spot', () => {
  const rule = { test: 'wet-spot', deeper_than_m: 0.03, slower_than_mm_per_h: 12.7 };
  /** Cells of a metre over 20 m x 20 m, dry but for one in the rim. */
  const standing = (depthM: number): StandingWater => {
    const cells = new Float32Array(400);
    cells[(10 - 3) * 20 + 12] = depthM;
    return { grid: { width: 20, height: 20, cellM: 1, westM: -10, northM: 10 }, depthM: cells };
  };
  const at = (depthM: number, input: Partial<SetbackInput> = {}): SetbackResult =>
    rowsOf(rule, [], {}, { standing: standing(depthM), ...input })[0];

  it('is refused on slow soil only, by the deepest water inside the rim', () => {
    expect(at(0.1, { soil: { rate_mm_per_h: 5 } })).toMatchObject({
      result: 'fail',
      feature: null,
    });
    expect(at(0.1, { soil: { rate_mm_per_h: 5 } }).measured_depth_m).toBeCloseTo(0.1, 6);
    expect(at(0.1, { soil: { rate_mm_per_h: 50 } }).result).toBe('pass');
    expect(at(0.1, { soil: { rate_mm_per_h: 5 } }).result).toBe('fail');
    expect(at(0.1, { soil: { group: 'D' } }).result).toBe('fail');
    expect(at(0.1, { soil: { group: 'A' } }).result).toBe('pass');
    expect(at(0.1, { soil: { group: 'B' } }).result).toBe('pass');
    expect(at(0.1, { soil: { usda_texture: 'sand' } }).result).toBe('pass');
    expect(at(0.1, { soil: { usda_texture: 'clay' } }).result).toBe('fail');
    // Slower than the limit by its published rate, but such soils may take some times as much.
    expect(at(0.1, { soil: { usda_texture: 'silt-loam' } }).result).toBe('check');
  });

  it('goes by the slowest soil test where there is one', () => {
    const infiltrates = (mmInAnHour: number): Drawn =>
      test('t', {
        method: 'ring',
        readings: [
          { minutes: 0, water_depth_m: 0.2 },
          { minutes: 60, water_depth_m: 0.2 - mmInAnHour / 1000 },
        ],
      });
    const by = (mmInAnHour: number): string =>
      rowsOf(rule, [infiltrates(mmInAnHour)], {}, { standing: standing(0.1) })[0].result;
    expect([by(4), by(150)]).toEqual(['fail', 'pass']);
  });

  it('cannot be judged while the soil is not known, and is none where no water stands', () => {
    expect(at(0.1).result).toBe('check');
    expect(at(0.1, { soil: { group: 'C' } }).result).toBe('check');
    expect(at(0.02)).toMatchObject({ result: 'pass' });
  });

  it('cannot be judged without the ground, but on soil that is fast enough whatever stands', () => {
    expect(rowsOf(rule, [])[0]).toMatchObject({ result: 'check', measured_depth_m: null });
    expect(rowsOf(rule, [], {}, { soil: { rate_mm_per_h: 50 } })[0].result).toBe('pass');
    expect(rowsOf(rule, [], {}, { soil: { rate_mm_per_h: 5 } })[0].result).toBe('check');
  });
});

describe('a distance in proportion to a trunk', () => {
  const tree = (trunk_diameter_m: number): Drawn => ({
    id: 'oak',
    properties: { kind: 'tree', trunk_diameter_m },
    point: [8, 2],
  });
  const distance = { by: 'trunk', per_diameter: 12, at_least_m: 3 };
  const rule = { test: 'distance', from: [{ kind: 'tree' }], distance };

  it('is no less than the least that the rule names', () => {
    expect(rowsOf(rule, [tree(0.1)])[0].required_m).toBe(3);
    expect(rowsOf(rule, [tree(0.5)])[0].required_m).toBe(6);
  });
});

describe('conditions', () => {
  const rule = {
    test: 'distance',
    from: [{ kind: 'tree', where: { trunk_diameter_m: { at_least: 0.3 } } }],
    distance: { by: 'constant', m: 5 },
  };
  const tree = (properties: object): Drawn => ({
    id: 'oak',
    properties: { kind: 'tree', ...properties },
    point: [8, 2],
  });

  it('on a number pick features from that number on', () => {
    expect(rowsOf(rule, [tree({ trunk_diameter_m: 0.3 })])[0].result).toBe('fail');
    expect(rowsOf(rule, [tree({ trunk_diameter_m: 0.29 })])).toHaveLength(0);
  });

  it('on a property that is absent cannot be judged, apply or do not, as the rule says', () => {
    const absent = (word: string): readonly SetbackResult[] =>
      rowsOf({ ...rule, from: [{ ...rule.from[0], absent: word }] }, [tree({})]);
    expect(absent('check')[0]).toMatchObject({ result: 'check' });
    expect(absent('applies')[0].result).toBe('fail');
    expect(absent('skip')).toHaveLength(0);
  });
});

describe('selectors that together leave nothing open', () => {
  const house = (properties: object): Drawn => ({
    id: 'house',
    properties: { kind: 'building', ...properties },
    rings: [box(4, -2, 12, 6)],
  });
  const rule = (...conditions: object[]): object => ({
    test: 'distance',
    from: conditions.map((where) => ({ kind: 'building', where })),
    distance: { by: 'constant', m: 3 },
  });
  const below = { foundation: ['basement', 'crawl-space'] };
  const above = { foundation: ['slab', 'none'] };

  it('fail a basin on a house whatever foundation it has', () => {
    expect(rowsOf(rule(below, above), [house({})])[0]).toMatchObject({
      result: 'fail',
      why: 'The basin lies over it.',
    });
    expect(rowsOf(rule(below, { foundation: ['slab'] }), [house({})])[0]).toMatchObject({
      result: 'check',
      why: expect.stringContaining('foundation') as string,
    });
  });

  it('are found by numbers and by the user’s own properties too', () => {
    const small = { footing_m: { at_most: 0.3 } };
    expect(rowsOf(rule(small, { footing_m: { at_least: 0.3 } }), [house({})])[0].result).toBe(
      'fail',
    );
    expect(rowsOf(rule(small, { footing_m: { at_least: 0.4 } }), [house({})])[0].result).toBe(
      'check',
    );
    expect(rowsOf(rule({ footing_m: { at_least: 0 } }), [house({})])[0].result).toBe('fail');
    const own = [{ cladding: ['brick'] }, { cladding: ['wood'] }];
    expect(rowsOf(rule(...own), [house({})])[0].result).toBe('check');
    expect(rowsOf(rule(...own, {}), [house({})])[0].result).toBe('fail');
  });

  it('pick nothing where no value of what is lacking would', () => {
    const never = { foundation: ['basement'], storeys: { at_least: 3 } };
    expect(rowsOf(rule(never), [house({ storeys: 2 })])).toHaveLength(0);
  });
});

describe('what of the basin is measured', () => {
  const well: Drawn = { id: 'well', properties: { kind: 'well' }, point: [16, 2] };
  const rule = (edge: string): object => ({
    test: 'distance',
    from: [{ kind: 'well' }],
    edge,
    distance: { by: 'constant', m: 10 },
  });
  const given = { bermWidthM: 0.9, bottomInsetM: 0.75 };

  it('is the rim, the foot of the berm or the edge of the floor', () => {
    const measured = ['rim', 'berm', 'bottom'].map((edge) => {
      const [row] = rowsOf(rule(edge), [well], given);
      const [[x0], [x1]] = row.nearest!;
      expect(x1 - x0).toBeCloseTo(row.measured_m!, 6);
      return row.measured_m;
    });
    expect(measured[0]).toBeCloseTo(10, 6);
    expect(measured[1]).toBeCloseTo(9.1, 6);
    expect(measured[2]).toBeCloseTo(10.75, 2);
  });

  it('keeps the foot of the berm inside the lot', () => {
    const own: Drawn = {
      id: 'own',
      properties: { kind: 'lot', own: true },
      rings: [box(-1, -10, 30, 20)],
    };
    const inside = (edge: string): number | null =>
      rowsOf({ test: 'inside-lot', m: 0, edge }, [own], given)[0].measured_m;
    expect(inside('rim')).toBeCloseTo(1, 6);
    expect(inside('berm')).toBeCloseTo(0.1, 6);
    expect(inside('bottom')).toBeCloseTo(1.75, 2);
  });

  it('follows from depth, slope, freeboard and layers of the basin in the plan', () => {
    const plan = planOf({
      id: 'b',
      properties: {
        kind: 'basin',
        ponding_depth_m: 0.2,
        freeboard_m: 0.1,
        side_slope: 2,
        layers: [
          { material: 'planting-mix', thickness_m: 0.3 },
          { material: 'mulch', thickness_m: 0.05 },
        ],
      },
      rings: [rim],
    });
    const [basin] = checkedBasins(plan, () => ({ drainDownH: 20 }));
    expect(basin).toMatchObject({ id: 'b', drainDownH: 20 });
    expect(basin.bottomInsetM).toBeCloseTo(0.6, 9);
    expect(basin.bottomDepthM).toBeCloseTo(0.65, 9);
  });

  it('never measures a basin from itself', () => {
    const other: Drawn = { id: 'other', properties: { kind: 'basin' }, rings: [box(10, 0, 12, 4)] };
    const itself: Drawn = { id: 'b', properties: { kind: 'basin' }, rings: [rim] };
    const apart = { ...rule('rim'), from: [{ kind: 'basin' }] };
    const rows = rowsOf(apart, [other, itself]);
    expect(rows.map((row) => row.feature)).toEqual(['other']);
    expect(rows[0].measured_m).toBeCloseTo(4, 6);
  });
});

describe('what lies below the ground of a feature', () => {
  const from = (kind: string): object => ({
    test: 'distance',
    from: [{ kind }],
    distance: { by: 'constant', m: 3 },
  });

  it('is measured to the wall of a tank, and to a footing wider than the wall', () => {
    const tank: Drawn = {
      id: 't',
      properties: { kind: 'septic-tank', radius_m: 1.2 },
      point: [10, 2],
    };
    expect(rowsOf(from('septic-tank'), [tank])[0].measured_m).toBeCloseTo(2.8, 6);
    const house: Drawn = {
      id: 'h',
      properties: { kind: 'building', footing_m: 0.4 },
      rings: [box(9.3, 0, 20, 9)],
    };
    expect(rowsOf(from('building'), [house])[0]).toMatchObject({ result: 'fail' });
    expect(rowsOf(from('building'), [house])[0].measured_m).toBeCloseTo(2.9, 6);
    expect(rowsOf(from('building'), [{ ...house, rings: [box(6.3, 0, 20, 9)] }])[0]).toMatchObject({
      measured_m: 0,
      penetration_m: expect.closeTo(0.1, 6) as number,
    });
  });

  it('takes a root circle that was looked at before one from the trunk', () => {
    const rule = { ...from('tree'), distance: { by: 'trunk', per_diameter: 12 } };
    const oak = (properties: object): Drawn => ({
      id: 'oak',
      properties: { kind: 'tree', ...properties },
      point: [12, 2],
    });
    expect(rowsOf(rule, [oak({ trunk_diameter_m: 0.4 })])[0].required_m).toBeCloseTo(4.8, 9);
    expect(rowsOf(rule, [oak({ trunk_diameter_m: 0.4, root_radius_m: 7 })])[0]).toMatchObject({
      required_m: 7,
      result: 'fail',
    });
    expect(rowsOf(rule, [oak({ root_radius_m: 5 })])[0].result).toBe('pass');
  });
});

describe('with no elevation at all', () => {
  it('every rule has an answer, and those that need the ground answer check', () => {
    const rules = [
      { test: 'slope', at_most: 0.1 },
      { test: 'steep-ground', steeper_than: 0.2, m: 10 },
      { test: 'not-uphill', from: [{ kind: 'building' }], reach_m: 50 },
      { test: 'wet-spot', deeper_than_m: 0.03 },
      { test: 'overflow', from: [{ kind: 'building' }] },
      { test: 'drain-down', at_most_h: 24 },
      { test: 'separation-below', to: ['rock'], at_least_m: 1 },
    ];
    const house: Drawn = { id: 'h', properties: { kind: 'building' }, rings: [box(9, 0, 20, 9)] };
    for (const rule of rules) {
      expect(
        rowsOf(rule, [house]).map((row) => row.result),
        rule.test,
      ).toEqual(['check']);
    }
  });
});
