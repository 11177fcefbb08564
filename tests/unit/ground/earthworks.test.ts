import { describe, expect, it } from 'vitest';
import { cellAt, elevationAt, type Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { ground, type Ground } from '../../../lib/ground/ground';
import { cellsAlong } from '../../../lib/ground/rasterise';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from './plane-lot';

const level = (cellM = 0.1): Grid => groundOf(30, 20, cellM, () => 5);

function editOf(made: Ground, id: string) {
  const found = made.edits.find((edit) => edit.id === id);
  if (found === undefined) throw new Error(`no edit of ${id}`);
  return found;
}

/** What the heights differ by in all, m3. */
function movedM3(made: Ground, before: Grid): { cut: number; fill: number } {
  let cut = 0;
  let fill = 0;
  made.grid.z.forEach((after, cell) => {
    const change = after + made.grid.datumM - before.z[cell] - before.datumM;
    if (change > 0) fill += change;
    else cut -= change;
  });
  return { cut: cut * before.cellM ** 2, fill: fill * before.cellM ** 2 };
}

/** A trench or bank of level top and round ends: prism, and a frustum of a cone for the two ends together. */
function prismM3(lengthM: number, widthM: number, highM: number, sideSlope: number): number {
  const r = widthM / 2;
  const R = r + sideSlope * highM;
  return (
    lengthM * (widthM * highM + sideSlope * highM ** 2) +
    ((Math.PI * highM) / 3) * (r * r + r * R + R * R)
  );
}

const middle: readonly XY[] = [
  [8, 10],
  [22, 10],
];

describe('a swale', () => {
  const swale = (more: object = {}, line: readonly XY[] = middle): PlanFeature =>
    lineOf('s', line, { kind: 'swale', width_m: 2.2, depth_m: 0.3, side_slope: 2, ...more });

  it('takes out a prism with round ends, and says how much', () => {
    const before = level();
    const made = ground(before, planOf([swale()]));
    const edit = editOf(made, 's');
    expect(edit.cutM3).toBeCloseTo(prismM3(14, 1, 0.3, 2), 1);
    expect(edit.fillM3).toBe(0);
    expect(movedM3(made, before).cut).toBeCloseTo(edit.cutM3, 3);
    expect(made.grid.z[cellAt(made.grid, 15.05, 10.05)]).toBeCloseTo(4.7, 5);
  });

  it('takes out the same from ground that falls along it', () => {
    const before = groundOf(30, 20, 0.1, (x) => 8 - 0.02 * x);
    const { cutM3, notes } = editOf(ground(before, planOf([swale()])), 's');
    expect(cutM3 / prismM3(14, 1, 0.3, 2)).toBeCloseTo(1, 1);
    // Dug into the slope, its lower end is closed by the ground beyond it.
    expect(notes.join()).toMatch(/lower end lies \d+ cm below/);
  });

  it('runs out to daylight by depths at its corners', () => {
    // Ground falls 2 %, the bed 1 % from 0.30 m below it: they meet after 0.30 / (0.02 - 0.01) = 30 m.
    const before = groundOf(40, 20, 0.1, (x) => 8 - 0.02 * x);
    const line: readonly XY[] = [
      [5, 10],
      [35, 10],
    ];
    const made = ground(
      before,
      planOf([swale({ bed_below_m: [0.3, 0], least_fall: 0.01, depth_m: 0.1 }, line)]),
    );
    const bedAt = (x: number) => made.grid.z[cellAt(made.grid, x, 10)];
    expect(bedAt(5.05)).toBeCloseTo(8 - 0.1 - 0.3, 2);
    expect(bedAt(20.05)).toBeCloseTo(8 - 0.1 - 0.3 - 0.15, 2);
    expect(bedAt(34.95)).toBeCloseTo(8 - 0.7, 2);
    expect(editOf(made, 's').notes).toEqual([]);
  });

  it('falls by its least fall where its corners do not ask for as much', () => {
    const before = groundOf(40, 20, 0.25, (x) => 8 - 0.005 * x);
    const made = ground(before, planOf([swale({ bed_below_m: [0.1, 0.1], least_fall: 0.02 })]));
    const bed = [...cellsAlong(before, middle)].map((cell) => made.grid.z[cell]);
    // Cells at the ends have the levels of the ends.
    for (let i = 2; i < bed.length - 1; i++) expect(bed[i - 1] - bed[i]).toBeCloseTo(0.005, 4);
    expect(editOf(made, 's').notes.join()).toMatch(/so that its bed falls by 2.0 % at least/);
  });

  it('takes one depth all along where there is not one for each corner', () => {
    const made = ground(level(), planOf([swale({ bed_below_m: [0.3, 0, 0] })]));
    expect(editOf(made, 's').notes.join()).toMatch(/2 corners and 3 depths/);
    expect(editOf(made, 's').cutM3).toBeCloseTo(prismM3(14, 1, 0.3, 2), 1);
  });

  it('is not called closed where it ends in a basin', () => {
    const before = groundOf(30, 20, 0.1, (x) => 8 - 0.02 * x);
    const basin = polygonOf('b', box(21, 8, 27, 12), { kind: 'basin' });
    expect(editOf(ground(before, planOf([swale(), basin])), 's').notes).toEqual([]);
  });

  it('is dammed by a kerb across it, which says so', () => {
    const kerb = lineOf(
      'k',
      [
        [15, 5],
        [15, 15],
      ],
      { kind: 'kerb' },
    );
    expect(editOf(ground(level(), planOf([swale(), kerb])), 'k').notes.join()).toMatch(
      /across the swale s and dams it/,
    );
    const known = swale({ in_elevation: true });
    expect(editOf(ground(level(), planOf([known, kerb])), 'k').notes).toEqual([]);
  });

  it('is not dug twice where the elevation shows it already', () => {
    const once = ground(level(), planOf([swale()]));
    const again = ground(once.grid, planOf([swale()]));
    expect(editOf(again, 's').cutM3).toBeLessThan(0.02 * editOf(once, 's').cutM3);
  });

  it.each([
    ['as drawn', middle],
    ['against the drawing', [...middle].reverse()],
  ])('never rises from its upper end to its lower, %s', (_, line) => {
    // Falls east by 1 %, with a hump across it.
    const hump = (x: number) => (Math.abs(x - 15) < 2 ? 0.2 * (1 - Math.abs(x - 15) / 2) : 0);
    const before = groundOf(30, 20, 0.25, (x) => 8 - 0.01 * x + hump(x));
    const made = ground(before, planOf([swale({}, line)]));
    const bed = [...cellsAlong(before, middle)].map((cell) => made.grid.z[cell]);
    for (let i = 1; i < bed.length; i++) expect(bed[i]).toBeLessThanOrEqual(bed[i - 1] + 1e-6);
    expect(editOf(made, 's').notes.join()).toMatch(/^Dug up to 1[789] cm deeper/);

    const loose = ground(before, planOf([swale({ enforce_fall: false }, line)]));
    const crest = loose.grid.z[cellAt(before, 15.1, 10.1)];
    expect(crest).toBeCloseTo(before.z[cellAt(before, 15.1, 10.1)] - 0.3, 1);
    expect(editOf(loose, 's').notes.join()).toMatch(/Its bed rises: [67]\.\d m from its upper end/);
    expect(editOf(loose, 's').cutM3).toBeLessThan(editOf(made, 's').cutM3);
  });
});

describe('a berm', () => {
  it('heaps up a prism with round ends', () => {
    const before = level();
    const made = ground(
      before,
      planOf([lineOf('b', middle, { kind: 'berm', width_m: 0.8, height_m: 0.4, side_slope: 3 })]),
    );
    expect(editOf(made, 'b').fillM3).toBeCloseTo(prismM3(14, 0.8, 0.4, 3), 1);
    expect(editOf(made, 'b').cutM3).toBe(0);
    expect(movedM3(made, before).fill).toBeCloseTo(editOf(made, 'b').fillM3, 3);
  });

  it('has no gap, however thin and slanting it is', () => {
    const before = level(0.5);
    const line: XY[] = [
      [5.1, 3.3],
      [21.7, 16.9],
    ];
    const made = ground(
      before,
      planOf([lineOf('b', line, { kind: 'berm', width_m: 0.1, height_m: 0.3, side_slope: 0 })]),
    );
    for (const cell of cellsAlong(before, line)) expect(made.grid.z[cell]).toBeCloseTo(5.3, 5);
  });
});

describe('a graded place', () => {
  const place = (more: object): PlanFeature =>
    polygonOf('r', box(10, 6, 20, 14), { kind: 'regrade', ...more });

  it('levels to its elevation, with a bank all round: a frustum with rounded corners', () => {
    const before = level();
    const made = ground(before, planOf([place({ elevation_m: 104.5, side_slope: 2 })]));
    // Steiner: area of the hole at height h above its floor is A + perimeter (2 h) + pi (2 h)^2.
    const h = 0.5;
    const expected = 80 * h + (36 * 2 * h ** 2) / 2 + (Math.PI * 4 * h ** 3) / 3;
    expect(editOf(made, 'r').cutM3).toBeCloseTo(expected, 0);
    expect(editOf(made, 'r').fillM3).toBe(0);
    expect(made.grid.z[cellAt(before, 15, 10)]).toBeCloseTo(4.5, 5);
  });

  it('slopes through its centre to its bearing', () => {
    const made = ground(level(), planOf([place({ slope: 0.02, bearing_deg: 90 })]));
    const at = (x: number, y: number) => made.grid.z[cellAt(made.grid, x, y)];
    expect(at(10.55, 10)).toBeCloseTo(5 + 0.02 * 4.45, 3);
    expect(at(19.45, 7)).toBeCloseTo(5 - 0.02 * 4.45, 3);
    const { cutM3, fillM3 } = editOf(made, 'r');
    expect(cutM3).toBeCloseTo(fillM3, 1);
  });

  it('balances cut and fill inside when no height is given', () => {
    const before = groundOf(30, 20, 0.1, (x, y) => 6 - 0.03 * x + 0.01 * y);
    const made = ground(before, planOf([place({ side_slope: 0 })]));
    const { cutM3, fillM3 } = editOf(made, 'r');
    expect(cutM3).toBeGreaterThan(1);
    expect(cutM3).toBeCloseTo(fillM3, 2);
  });

  it('is left alone when it has a slope and no bearing', () => {
    const before = level();
    const made = ground(before, planOf([place({ slope: 0.02 })]));
    expect(made.grid.z).toEqual(before.z);
    expect(editOf(made, 'r').notes.join()).toMatch(/no bearing/);
  });
});

describe('spot heights', () => {
  const spot = (id: string, at: XY, elevation_m: number, more: object = {}): PlanFeature =>
    pointOf(id, at, { kind: 'spot-height', elevation_m, ...more });

  it('are met exactly at their cells, and change nothing beyond their influence', () => {
    const before = groundOf(30, 20, 0.5, (x, y) => 6 - 0.03 * x + 0.02 * y);
    const spots = [
      spot('a', [10.2, 10.2], 105.9),
      spot('b', [12.8, 9.3], 105.6, { influence_m: 3 }),
    ];
    const made = ground(before, planOf(spots));
    expect(elevationAt(made.grid, cellAt(before, 10.2, 10.2))).toBeCloseTo(105.9, 4);
    expect(elevationAt(made.grid, cellAt(before, 12.8, 9.3))).toBeCloseTo(105.6, 4);
    before.z.forEach((height, cell) => {
      const x = ((cell % before.width) + 0.5) * 0.5;
      const y = 20 - (Math.floor(cell / before.width) + 0.5) * 0.5;
      const near = Math.hypot(x - 10.25, y - 10.25) < 5 || Math.hypot(x - 12.75, y - 9.25) < 3;
      if (!near) expect(made.grid.z[cell]).toBe(height);
    });
    const [a, b] = made.spotResiduals;
    expect(a.beforeM).toBeCloseTo(105.9 - elevationAt(before, cellAt(before, 10.2, 10.2)), 4);
    for (const { afterM } of [a, b]) expect(afterM).toBeCloseTo(0, 4);
    expect(made.edits.every(({ cutM3, fillM3 }) => cutM3 === 0 && fillM3 === 0)).toBe(true);
  });

  it('never correct by more than the greatest residual', () => {
    const before = level(0.5);
    const made = ground(
      before,
      planOf([spot('a', [10, 10], 105.2), spot('b', [11, 10], 104.9), spot('c', [14, 12], 105.1)]),
    );
    made.grid.z.forEach((height, cell) => {
      expect(height - before.z[cell]).toBeLessThanOrEqual(0.2 + 1e-5);
      expect(height - before.z[cell]).toBeGreaterThanOrEqual(-0.1 - 1e-5);
    });
  });

  it('that agree with the elevation say so', () => {
    const made = ground(level(0.5), planOf([spot('a', [10, 10], 105)]));
    expect(editOf(made, 'a').notes).toEqual([
      'It agrees with the elevation data to the centimetre.',
    ]);
  });

  it('of another datum are refused', () => {
    const before = level(0.5);
    const made = ground(before, planOf([spot('a', [10, 10], 0)]));
    expect(made.grid.z).toEqual(before.z);
    expect(editOf(made, 'a').notes.join()).toMatch(/check its unit and vertical datum/);
    expect(made.spotResiduals[0].afterM).toBe(-105);
  });
});

describe('what the elevation shows already', () => {
  it.each(['swale', 'berm', 'wall', 'kerb'] as const)('a %s is not built again', (kind) => {
    const before = level(0.5);
    const made = ground(before, planOf([lineOf('x', middle, { kind, in_elevation: true })]));
    expect(made.grid.z).toEqual(before.z);
    expect(ground(before, planOf([lineOf('x', middle, { kind })])).grid.z).not.toEqual(before.z);
  });
});

describe('all edits', () => {
  const features: readonly PlanFeature[] = [
    pointOf('spot', [4, 4], { kind: 'spot-height', elevation_m: 104.8 }),
    polygonOf('place', box(18, 12, 25, 18), { kind: 'regrade', elevation_m: 105.2 }),
    lineOf('swale', middle, { kind: 'swale' }),
    lineOf(
      'berm',
      [
        [3, 12],
        [8, 15],
      ],
      { kind: 'berm' },
    ),
    polygonOf('basin', box(4, 5, 9, 9), { kind: 'basin' }),
    lineOf(
      'wall',
      [
        [12, 2],
        [20, 5],
      ],
      { kind: 'wall', height_m: 0.5 },
    ),
    lineOf(
      'kerb',
      [
        [2, 1],
        [9, 1],
      ],
      { kind: 'kerb' },
    ),
    polygonOf('house', box(24, 2, 28, 6), { kind: 'building' }),
    pointOf('drain', [26, 10], { kind: 'yard-drain', outlet: 'storm-sewer' }),
    lineOf(
      'pipe',
      [
        [12, 15],
        [28, 15],
      ],
      { kind: 'drain-pipe' },
    ),
  ];
  const sloping = () => groundOf(30, 20, 0.5, (x) => 6 - 0.03 * x);

  it('are told one for each feature, in the order in which they are made', () => {
    const made = ground(sloping(), planOf([...features].reverse()));
    expect(made.edits.map(({ kind }) => kind)).toEqual([
      'spot-height',
      'regrade',
      'swale',
      'berm',
      'basin',
      'wall',
      'kerb',
      'building',
      'yard-drain',
      'drain-pipe',
    ]);
    expect(editOf(made, 'wall')).toMatchObject({ cutM3: 0, fillM3: 0 });
    expect(editOf(made, 'basin').cutM3).toBeGreaterThan(1);
  });

  it.each(features.map((feature) => [feature.id, feature] as const))(
    'go without a trace when %s is left out',
    (id, feature) => {
      const rest = features.filter((other) => other !== feature);
      const before = ground(sloping(), planOf(rest));
      ground(sloping(), planOf(features));
      expect(ground(sloping(), planOf(rest)).grid.z).toEqual(before.grid.z);
      expect(ground(sloping(), planOf([feature])).grid.z).not.toEqual(sloping().z);
      expect(before.edits.some((edit) => edit.id === id)).toBe(false);
    },
  );

  it('lower the datum rather than let heights become negative', () => {
    const made = ground(
      level(0.5),
      planOf([
        polygonOf('pit', box(10, 6, 20, 14), {
          kind: 'regrade',
          elevation_m: 92.5,
          side_slope: 0,
        }),
      ]),
    );
    expect(Math.min(...made.grid.z)).toBeGreaterThan(0);
    expect(elevationAt(made.grid, cellAt(made.grid, 15, 10))).toBeCloseTo(92.5, 4);
    expect(elevationAt(made.grid, cellAt(made.grid, 1, 1))).toBeCloseTo(105, 4);
    expect(made.grid.frame).toBe(frame.spec);
  });
});
