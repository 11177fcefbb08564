import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../../lib/elevation/grid';
import type { XY } from '../../../../lib/frame/frame';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import type { SetbackResult } from '../../../../lib/setback/judge/setback-result';
import type { LocalPlan } from '../../../../lib/plan/local-plan';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import { box, disc, frame, planOf, type Drawn } from '../plan-of';

const today = '2026-05-10';

/** The row of one rule, and of one feature where several have one. */
function rowOf(
  plan: LocalPlan,
  rim: readonly XY[],
  rule: string,
  options: { feature?: string | null; set?: string; elevation?: Grid; on?: string } = {},
): SetbackResult {
  const { results } = checkSetbacks({
    plan,
    basins: [{ id: 'basin', rim }],
    ruleSet: ruleSetById(options.set),
    elevation: options.elevation,
    today: options.on ?? today,
  });
  const found = results.find(
    (row) =>
      row.rule === rule && (options.feature === undefined || row.feature === options.feature),
  );
  if (found === undefined) throw new Error(`no row of ${rule}`);
  return found;
}

function house(foundation?: string): Drawn {
  return {
    id: 'house',
    properties: { kind: 'building', ...(foundation === undefined ? {} : { foundation }) },
    rings: [box(0, 0, 10, 8)],
  };
}

/** A plane rising `ratio` to the east over 60 m x 60 m around the origin. */
function ramp(ratio: number, cellM = 0.5): Grid {
  const cells = Math.round(60 / cellM);
  const z = Float32Array.from({ length: cells * cells }, (_, i) => {
    const x = -30 + ((i % cells) + 0.5) * cellM;
    return 10 + ratio * x;
  });
  return {
    width: cells,
    height: cells,
    cellM,
    westM: -30,
    northM: 30,
    z,
    datumM: 100,
    frame: frame.spec,
  };
}

describe('a distance rule', () => {
  it('measures from the rim to the wall and passes at exactly the distance', () => {
    const row = rowOf(planOf(house('basement')), box(13.048, 1, 16, 5), 'foundation');
    expect(row.measured_m).toBeCloseTo(3.048, 6);
    expect(row.margin_m).toBeCloseTo(0, 6);
    expect(row.result).toBe('pass');
    expect(row.nearest?.[0][0]).toBeCloseTo(13.048, 6);
    expect(row.nearest?.[1][0]).toBeCloseTo(10, 6);
  });

  it('fails a centimetre short, and says by how much', () => {
    const row = rowOf(planOf(house('slab')), box(13.038, 1, 16, 5), 'foundation');
    expect(row.result).toBe('fail');
    expect(row.margin_m).toBeCloseTo(-0.01, 6);
  });

  it('measures 0 and a penetration when the basin lies over the feature', () => {
    const row = rowOf(planOf(house('slab')), box(8, 2, 14, 6), 'foundation');
    expect(row).toMatchObject({ measured_m: 0, result: 'fail', why: 'The basin lies over it.' });
    expect(row.penetration_m).toBeCloseTo(2, 1);
  });

  it('applies the common set to a building whose foundation is not given', () => {
    expect(rowOf(planOf(house()), box(11, 1, 13, 5), 'foundation').result).toBe('fail');
  });

  it('cannot judge a rule for basements at a building whose foundation is not given', () => {
    const near = rowOf(planOf(house()), box(11, 1, 13, 5), 'basement', { set: 'new-jersey' });
    expect(near.result).toBe('check');
    expect(near.why).toContain('foundation');
    const far = rowOf(planOf(house()), box(14, 1, 16, 5), 'basement', { set: 'new-jersey' });
    expect(far.result).toBe('pass');
  });

  it('lets a basin touch paving but not lie over it', () => {
    const drive: Drawn = {
      id: 'drive',
      properties: { kind: 'surface', cover: 'paving' },
      rings: [box(0, 0, 3, 20)],
    };
    expect(rowOf(planOf(drive), box(3, 5, 6, 9), 'built-over').result).toBe('pass');
    expect(rowOf(planOf(drive), box(2.9, 5, 6, 9), 'built-over').result).toBe('fail');
    expect(rowOf(planOf(drive), box(0, 0, 3, 20), 'built-over').result).toBe('fail');
  });

  it('finds a wall that crosses a basin without a corner in it', () => {
    const wall: Drawn = {
      id: 'wall',
      properties: { kind: 'wall' },
      line: [
        [-5, 0],
        [15, 0],
      ],
    };
    const row = rowOf(planOf(wall), disc([5, 0], 2), 'built-over');
    expect(row.result).toBe('fail');
    expect(row.penetration_m).toBeCloseTo(2, 1);
  });

  it('finds a well that lies whole inside the basin', () => {
    const well: Drawn = { id: 'well', properties: { kind: 'well' }, point: [0, 0] };
    expect(rowOf(planOf(well), disc([0.5, 0], 3), 'well')).toMatchObject({
      measured_m: 0,
      result: 'fail',
    });
  });

  it('cannot be judged when it is kept or missed by less than the feature’s place is known to', () => {
    const tank: Drawn = {
      id: 't',
      properties: { kind: 'septic-tank', accuracy_m: 2 },
      point: [0, 0],
    };
    const at = (west: number): SetbackResult =>
      rowOf(planOf(tank), box(west, -1, west + 2, 1), 'septic');
    expect(at(16)).toMatchObject({ result: 'check', required_m: 15.24, accuracy_m: 2 });
    expect(at(16).margin_m).toBeCloseTo(0.76, 6);
    expect(at(17.25).result).toBe('pass');
    expect(at(15.2).result).toBe('check');
    expect(at(15.2).why).toMatch(/^Too near as drawn/);
    expect(at(13.2).result).toBe('fail');
  });

  it('cannot tell whether a basin lies over what is known too roughly', () => {
    const easement: Drawn = {
      id: 'e',
      properties: { kind: 'easement', accuracy_m: 0.5 },
      rings: [box(0, 0, 3, 20)],
    };
    const at = (west: number): string =>
      rowOf(planOf(easement), box(west, 5, west + 3, 9), 'easement').result;
    expect([at(2), at(2.9), at(3.4), at(3.6)]).toEqual(['fail', 'check', 'check', 'pass']);
  });
});

describe('the tree rule', () => {
  const at = (properties: object): LocalPlan =>
    planOf({ id: 'oak', properties: { kind: 'tree', ...properties }, point: [0, 0] });

  it('takes the larger of 1 ft for each inch of trunk and the canopy', () => {
    expect(
      rowOf(at({ trunk_diameter_m: 0.508, canopy_radius_m: 4 }), box(7, 0, 9, 2), 'tree')
        .required_m,
    ).toBeCloseTo(6.096, 9);
    expect(
      rowOf(at({ trunk_diameter_m: 0.2, canopy_radius_m: 4 }), box(7, 0, 9, 2), 'tree').required_m,
    ).toBe(4);
  });

  it('cannot pass while trunk or canopy is unknown, but fails within the one that is known', () => {
    expect(rowOf(at({ trunk_diameter_m: 0.2 }), box(7, 0, 9, 2), 'tree')).toMatchObject({
      result: 'check',
    });
    expect(rowOf(at({}), box(7, 0, 9, 2), 'tree').why).toContain('trunk');
    expect(rowOf(at({ trunk_diameter_m: 0.2 }), box(1, 0, 3, 2), 'tree').result).toBe('fail');
  });

  it('passes far enough away for any tree, whatever the plan does not say of it', () => {
    // 1.5 m of trunk ask for 18 m by the common rules and for 27 m by the strictest.
    expect(rowOf(at({}), box(18, 0, 21, 2), 'tree').result).toBe('pass');
    expect(rowOf(at({}), box(17.9, 0, 21, 2), 'tree').result).toBe('check');
    const strictest = (west: number): SetbackResult =>
      rowOf(at({ canopy_radius_m: 2 }), box(west, 0, west + 3, 2), 'tree', { set: 'strictest' });
    expect(strictest(27)).toMatchObject({ result: 'pass', required_m: 3 });
    expect(strictest(27).why).toContain('though the plan lacks the trunk’s diameter');
    expect(strictest(26.9).result).toBe('check');
    expect(rowOf(at({}), box(15, 0, 18, 2), 'tree', { set: 'new-jersey' }).result).toBe('pass');
    expect(rowOf(at({}), box(14.9, 0, 18, 2), 'tree', { set: 'new-jersey' }).result).toBe('check');
  });

  it('lacks nothing that could ask for no more than is known', () => {
    const row = rowOf(at({ trunk_diameter_m: 1.5 }), box(17, 0, 20, 2), 'tree');
    expect(row).toMatchObject({ result: 'fail', required_m: 18 });
    expect(rowOf(at({ trunk_diameter_m: 1.5 }), box(18, 0, 20, 2), 'tree').result).toBe('pass');
  });
});

describe('the lot line', () => {
  const own: Drawn = {
    id: 'own',
    properties: { kind: 'lot', own: true },
    rings: [box(0, 0, 40, 20)],
  };
  const other: Drawn = {
    id: 'other',
    properties: { kind: 'lot', own: false },
    rings: [box(40, 0, 80, 20)],
  };

  it('is kept from the inside', () => {
    const row = rowOf(planOf(own, other), box(10, 5, 14, 9), 'lot-line');
    expect(row).toMatchObject({ feature: 'own', result: 'pass' });
    expect(row.measured_m).toBeCloseTo(5, 6);
  });

  it('gives a negative distance for a basin that leaves the lot', () => {
    const row = rowOf(planOf(own, other), box(38, 5, 43, 9), 'lot-line');
    expect(row.result).toBe('fail');
    expect(row.measured_m).toBeCloseTo(-3, 6);
  });

  it('gives a negative distance for a basin wholly on the neighbour’s lot', () => {
    expect(rowOf(planOf(own, other), box(50, 5, 52, 9), 'lot-line').measured_m).toBeCloseTo(-12, 6);
  });

  it('counts the edge of a hole in the lot', () => {
    const holed: Drawn = { ...own, rings: [box(0, 0, 40, 20), box(18, 8, 20, 10)] };
    expect(rowOf(planOf(holed), disc([19, 9], 4), 'lot-line').measured_m).toBeLessThan(-2);
    expect(rowOf(planOf(holed), box(24, 8, 27, 11), 'lot-line').measured_m).toBeCloseTo(4, 6);
  });

  it('cannot be judged without an own lot', () => {
    expect(rowOf(planOf(other), box(50, 5, 52, 9), 'lot-line').result).toBe('check');
  });
});

describe('utilities', () => {
  const gas = (more: object): Drawn => ({
    id: 'gas',
    properties: { kind: 'utility', service: 'gas', ...more },
    line: [
      [0, 0],
      [20, 0],
    ],
  });
  const byPublic = { by: 'public', on: '2026-05-01', until: '2026-05-20' };
  const byPrivate = { ...byPublic, by: 'private' };
  const clear = box(5, 2, 9, 5);

  it.each([
    ['no locate', { side: 'public' }, 'check'],
    ['a current public locate of a public line', { side: 'public', located: byPublic }, 'pass'],
    ['a private locate of a public line', { side: 'public', located: byPrivate }, 'check'],
    ['a public locate of a private line', { side: 'private', located: byPublic }, 'check'],
    ['a private locate of a private line', { side: 'private', located: byPrivate }, 'pass'],
    ['a locate without a side', { located: byPublic }, 'check'],
    [
      'an expired locate',
      { side: 'public', located: { ...byPublic, until: '2026-05-09' } },
      'check',
    ],
    ['a locate to come', { side: 'public', located: { ...byPublic, on: '2026-05-11' } }, 'check'],
    [
      'a locate that ends today',
      { side: 'public', located: { ...byPublic, until: today } },
      'pass',
    ],
  ])('a clear line with %s: %s gives %s', (_, properties, result) => {
    expect(rowOf(planOf(gas(properties)), clear, 'utility', { feature: 'gas' }).result).toBe(
      result,
    );
  });

  it('fails inside the tolerance zone whatever the locate', () => {
    expect(rowOf(planOf(gas({})), box(5, 0.4, 9, 4), 'utility', { feature: 'gas' }).result).toBe(
      'fail',
    );
    expect(rowOf(planOf(gas({})), box(5, 0.46, 9, 4), 'utility', { feature: 'gas' }).result).toBe(
      'check',
    );
  });

  it('starts the zone at the side of the line, and cannot judge within the accuracy of its place', () => {
    const row = rowOf(
      planOf(gas({ accuracy_m: 0.5, diameter_m: 0.2, side: 'public', located: byPublic })),
      box(5, 1, 9, 4),
      'utility',
      { feature: 'gas' },
    );
    expect(row).toMatchObject({ required_m: 0.4572, accuracy_m: 0.5, result: 'check' });
    expect(row.measured_m).toBeCloseTo(0.9, 6);
    expect(row.why).toContain('less than the place');
  });

  it('never passes for lines that are not on the plan by silence', () => {
    expect(rowOf(planOf(), clear, 'utility', { feature: null })).toMatchObject({ result: 'check' });
    const half = planOf(gas({ side: 'public', located: byPublic }));
    expect(rowOf(half, clear, 'utility', { feature: null }).why).toContain('private locator');
    expect(rowOf(half, clear, 'utility', { feature: null }).why).not.toContain('about gas');
  });
});

describe('the ground', () => {
  it('fits the slope under the basin', () => {
    const row = rowOf(planOf(), disc([3, 4], 2), 'slope', { elevation: ramp(0.08) });
    expect(row.measured_slope).toBeCloseTo(0.08, 4);
    expect(row.result).toBe('pass');
    expect(rowOf(planOf(), disc([3, 4], 2), 'slope', { elevation: ramp(0.13) }).result).toBe(
      'fail',
    );
  });

  it('cannot be judged without elevation', () => {
    expect(rowOf(planOf(), disc([3, 4], 2), 'slope').result).toBe('check');
    expect(rowOf(planOf(), disc([300, 4], 2), 'slope', { elevation: ramp(0.08) }).result).toBe(
      'check',
    );
    expect(rowOf(planOf(house('basement')), disc([20, 4], 2), 'uphill-of-basement').result).toBe(
      'check',
    );
  });

  it('refuses a basin uphill of a basement, not one downhill or beside', () => {
    const plan = planOf(house('basement'));
    const at = (rim: XY[]): string =>
      rowOf(plan, rim, 'uphill-of-basement', { elevation: ramp(0.05) }).result;
    expect(at(disc([20, 4], 2))).toBe('fail');
    expect(at(disc([-10, 4], 2))).toBe('pass');
    expect(at(disc([5, 16], 2))).toBe('pass');
  });

  it('asks more of a basin uphill of a septic field than of one downhill', () => {
    const field: Drawn = {
      id: 'field',
      properties: { kind: 'septic-field' },
      rings: [box(-2, -2, 2, 2)],
    };
    const at = (rim: XY[], elevation?: Grid): SetbackResult =>
      rowOf(planOf(field), rim, 'septic', {
        set: 'western-washington',
        ...(elevation ? { elevation } : {}),
      });
    expect(at(disc([10, 0], 2), ramp(0.05))).toMatchObject({ result: 'fail', required_m: 15.24 });
    expect(at(disc([-10, 0], 2), ramp(0.05))).toMatchObject({ result: 'pass', required_m: 3.048 });
    expect(at(disc([-10, 0], 2)).result).toBe('check');
    // Without elevation the side is not known: both distances are kept, or neither.
    expect(at(disc([-20, 0], 2)).result).toBe('pass');
    expect(at(disc([-5, 0], 2)).result).toBe('fail');
  });

  it('finds steep ground near by', () => {
    const grid = ramp(0);
    const z = grid.z.map((value, i) =>
      i % grid.width > 80 ? value + 0.5 * ((i % grid.width) - 80) * 0.5 : value,
    );
    const steep = { ...grid, z };
    const row = rowOf(planOf(), disc([0, 0], 2), 'steep-ground', {
      set: 'western-washington',
      elevation: steep,
    });
    expect(row).toMatchObject({ result: 'fail', binding: 'advice' });
    // The bank starts at x = 10.5 m; a window five metres wide sees it a little before.
    expect(row.measured_m).toBeGreaterThan(6);
    expect(row.measured_m).toBeLessThan(9);
    expect(
      rowOf(planOf(), disc([0, 0], 2), 'steep-ground', {
        set: 'western-washington',
        elevation: grid,
      }).result,
    ).toBe('pass');
  });

  it('cannot pass for steep ground where the elevation ends within the distance asked for', () => {
    const at = (rim: XY[], set: string): string =>
      rowOf(planOf(), rim, 'steep-ground', { set, elevation: ramp(0) }).result;
    expect(at(disc([0, 0], 2), 'western-washington')).toBe('pass');
    expect(at(disc([12, 0], 2), 'western-washington')).toBe('check');
    // 200 ft on ground known for 100 ft each way
    expect(at(disc([0, 0], 2), 'minnesota')).toBe('check');
  });

  it('asks again where a basin uphill is within the reach only by how well the place is known', () => {
    const plan = planOf({
      id: 'house',
      properties: { kind: 'building', foundation: 'basement', accuracy_m: 1 },
      rings: [box(-29, 0, -19, 8)],
    });
    const at = (awayM: number): string =>
      rowOf(plan, box(awayM - 19, 0, awayM - 15, 4), 'uphill-of-basement', {
        elevation: ramp(0.05),
      }).result;
    // within 100 ft, give or take a metre
    expect([at(29), at(30), at(31), at(32)]).toEqual(['fail', 'check', 'check', 'pass']);
  });
});

describe('the findings', () => {
  it('come least margin first and are counted', () => {
    const plan = planOf(house('slab'), { id: 'w', properties: { kind: 'well' }, point: [60, 0] });
    const { results, summary } = checkSetbacks({
      plan,
      basins: [{ id: 'b', rim: box(11, 1, 14, 4) }],
      ruleSet: ruleSetById('default'),
      today,
    });
    const margins = results.flatMap((row) => row.margin_m ?? []);
    expect(margins).toEqual([...margins].sort((a, b) => a - b));
    expect(results[0].rule).toBe('foundation');
    expect(summary.pass + summary.fail + summary.check).toBe(results.length);
    expect(summary.must_fail).toBe(1);
  });
});
