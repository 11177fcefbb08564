import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { ledger } from '../../../lib/drainage/answer/ledger';
import { roofSides } from '../../../lib/drainage/storm/roof-sides';
import { roofWater } from '../../../lib/drainage/storm/roof-water';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { cellAt } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { ground } from '../../../lib/ground/ground';
import type { PlanFeature } from '../../../lib/plan/schema';
import { runOffMm } from '../../../lib/storm/run-off';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** Falls 4 % to the south. */
const plane = () => groundOf(60, 60, 0.5, (_, y) => 3 + 0.04 * y);
const outline = box(20, 20, 32, 28);
const roofM2 = 12 * 8;
const roof = (ridge?: readonly XY[]): PlanFeature =>
  polygonOf('roof', outline, {
    kind: 'roof',
    ...(ridge === undefined ? {} : { ridge: ridge.map((at) => frame.toLngLat(at)) }),
  });
const downspout = (id: string, at: XY, more: object = {}): PlanFeature =>
  pointOf(id, at, { kind: 'downspout', roof: 'roof', ...more });
const lot = (): PlanFeature => polygonOf('own', box(5, 5, 55, 50), { kind: 'lot', own: true });

function areas(features: readonly PlanFeature[]): Record<string, number> {
  const plan = planOf(features);
  const { outlets } = roofWater(ground(plane(), plan), plan);
  return Object.fromEntries(outlets.map((row) => [row.downspout ?? 'eaves', row.areaM2]));
}

describe('the two sides of a roof', () => {
  it('are cut along the ridge led on to the eaves', () => {
    const sides = roofSides(outline, [
      [24, 25],
      [28, 25],
    ]);
    expect(sides?.map(({ areaM2 }) => areaM2)).toEqual([
      expect.closeTo(12 * 3, 6),
      expect.closeTo(12 * 5, 6),
    ]);
    expect(sides?.[0].has([21, 27])).toBe(true);
    expect(sides?.[1].has([21, 27])).toBe(false);
  });

  it('add up to the roof for a slanting ridge over an outline with a re-entrant corner', () => {
    const ell: XY[] = [
      [0, 0],
      [10, 0],
      [10, 4],
      [4, 4],
      [4, 9],
      [0, 9],
    ];
    // Along y = x: below it lie the triangle (0,0) (4,4) (4,0) and the 6 by 4 wing.
    const sides = roofSides(ell, [
      [1, 1],
      [3, 3],
    ]);
    expect(sides?.[1].areaM2).toBeCloseTo(8 + 24, 6);
    expect(sides?.[0].areaM2).toBeCloseTo(60 - 32, 6);
  });

  it('follow a ridge with a bend', () => {
    const sides = roofSides(box(0, 0, 10, 10), [
      [2, 4],
      [5, 4],
      [5, 8],
    ]);
    // Right of a ridge that runs east along y = 4 and north along x = 5: all but the 5 by 6 corner at the north-west.
    expect(sides?.map(({ areaM2 }) => areaM2)).toEqual([
      expect.closeTo(30, 6),
      expect.closeTo(70, 6),
    ]);
    expect([
      sides?.[0].has([2, 9]),
      sides?.[0].has([7, 9]),
      sides?.[0].has([2, 1]),
      sides?.[0].has([9, 0]),
    ]).toEqual([true, false, false, false]);
  });

  it('are none when the ridge lies beside the roof', () => {
    expect(
      roofSides(outline, [
        [0, 0],
        [5, 0],
      ]),
    ).toBeNull();
    expect(
      roofSides(outline, [
        [25, 25],
        [25, 25],
      ]),
    ).toBeNull();
  });
});

describe('a roof with a ridge', () => {
  const ridge: XY[] = [
    [22, 25],
    [30, 25],
  ];

  it('drains each side to the downspouts on it', () => {
    const found = areas([
      roof(ridge),
      downspout('n', [20, 28]),
      downspout('sw', [20, 20]),
      downspout('se', [32, 20]),
    ]);
    expect(found.n).toBeCloseTo(36, 4);
    expect(found.sw).toBeCloseTo(30, 0);
    expect(found.sw + found.se).toBeCloseTo(60, 4);
  });

  it('drips off the eaves of a side without downspouts', () => {
    const features = [roof(ridge), downspout('n', [20, 28])];
    expect(areas(features)).toEqual({
      n: expect.closeTo(36, 4) as number,
      eaves: expect.closeTo(60, 4) as number,
    });
    const plan = planOf(features);
    const made = ground(plane(), plan);
    const eaves = roofWater(made, plan).outlets.find((row) => row.downspout === null);
    const wet = new Set(eaves?.cells);
    expect(wet.has(cellAt(made.grid, 26, 20.1))).toBe(true);
    expect(wet.has(cellAt(made.grid, 26, 28.1))).toBe(false);
  });

  it('takes given shares as of the whole roof, within their side', () => {
    const found = areas([
      roof(ridge),
      downspout('n', [20, 28], { share: 0.375 }),
      downspout('sw', [20, 20], { share: 0.25 }),
      downspout('se', [32, 20]),
    ]);
    expect(found.sw).toBeCloseTo(0.25 * roofM2, 4);
    expect(found.se).toBeCloseTo(60 - 0.25 * roofM2, 4);
  });

  it('is taken as a whole when the ridge does not divide it, and says so', () => {
    const plan = planOf([
      roof([
        [0, 0],
        [4, 0],
      ]),
      downspout('n', [20, 28]),
    ]);
    const found = roofWater(ground(plane(), plan), plan);
    expect(found.outlets[0].areaM2).toBeCloseTo(roofM2, 4);
    expect(found.notes.join()).toMatch(/ridge of roof does not divide/);
    expect(found.notes.filter((note) => note.includes('none overflows'))).toHaveLength(1);
  });
});

describe('where a downspout sends its water', () => {
  const runOffM3 = (roofM2 * runOffMm(40, 98)) / 1000;
  function run(features: readonly PlanFeature[], more: object = {}) {
    const plan = planOf([lot(), roof(), ...features], { storm: { rain_mm: 40, ...more } });
    const shape = shapeGround(plane(), plan);
    const storm = stormOnGround(shape, plan, 40);
    const { ledger, notes } = drainLot(shape, storm, plan, { crs: 'test', rmseM: 0.05 });
    expect(Math.abs(ledger?.error_m3 ?? 1)).toBeLessThan(1e-9);
    return { shape, storm, ledger, notes: notes.join('\n') };
  }
  const pipe = (more: object = {}): PlanFeature =>
    lineOf(
      'pipe',
      [
        [20.2, 20.2],
        [20.2, 10.2],
      ],
      { kind: 'drain-pipe', ...more },
    );

  it('fills a barrel first', () => {
    const { ledger } = run([downspout('d', [20.2, 20.2], { barrel_m3: 0.5 })]);
    expect(ledger?.barrel_m3).toBeCloseTo(0.5, 9);
    const all = run([downspout('d', [20.2, 20.2], { barrel_m3: 100, outlet: 'storm-sewer' })]);
    expect(all.ledger?.barrel_m3).toBeCloseTo(runOffM3, 9);
    expect(all.ledger?.sewer_m3).toBe(0);
  });

  it('goes down a pipe to its lower end', () => {
    const { storm, shape } = run([pipe(), downspout('d', [20.2, 20.2], { pipe: 'pipe' })]);
    const [flow] = storm.roofFlows;
    expect([...flow.landings[0].cells]).toEqual([cellAt(shape.ground.grid, 20.2, 10.2)]);
    expect(flow.landings[0].volumeM3).toBeCloseTo(runOffM3, 9);
    expect(storm.conduits).toHaveLength(0);
  });

  it('runs over at the downspout when the pipe cannot carry it', () => {
    const narrow = pipe({ diameter_m: 0.02 });
    const { storm, shape, notes } = run([narrow, downspout('d', [20.2, 20.2], { pipe: 'pipe' })]);
    const [flow] = storm.roofFlows;
    const limit = (shape.ground.pipes.get('pipe')?.capacityM3PerS ?? NaN) * 3600;
    expect(flow.landings.map(({ volumeM3 }) => volumeM3)).toEqual([
      expect.closeTo(limit, 9),
      expect.closeTo(runOffM3 - limit, 9),
    ]);
    expect(notes).toMatch(/cannot carry all that d sends/);
    expect(notes).toMatch(/not given: drains and sumps are taken to run for 1 h/);
    // Twice the time, twice the volume.
    const longer = run([narrow, downspout('d', [20.2, 20.2], { pipe: 'pipe' })], { duration_h: 2 });
    expect(longer.storm.roofFlows[0].landings[0].volumeM3).toBeCloseTo(2 * limit, 9);
    expect(longer.notes).not.toMatch(/not given: drains/);
  });

  it('goes down a pipe into the storm sewer', () => {
    const { ledger } = run([
      pipe({ outlet: 'storm-sewer' }),
      downspout('d', [20.2, 20.2], { pipe: 'pipe' }),
    ]);
    expect(ledger?.sewer_m3).toBeCloseTo(runOffM3, 9);
  });

  it('stays where it is when the pipe is blocked or not there', () => {
    for (const extra of [[pipe({ blocked: true })], []]) {
      const { storm, shape } = run([...extra, downspout('d', [20.2, 20.2], { pipe: 'pipe' })]);
      expect([...storm.roofFlows[0].landings[0].cells]).toEqual([
        cellAt(shape.ground.grid, 20.2, 20.2),
      ]);
    }
  });

  it('is passed on when its outlet lies outside the elevation', () => {
    const { ledger, notes } = run([
      downspout('d', [20.2, 20.2], { outlet: frame.toLngLat([-50, 20]) }),
    ]);
    expect(ledger?.sewer_m3).toBe(0);
    expect(notes).toMatch(/outside the elevation data/);
    const without = run([downspout('d', [20.2, 20.2], { outlet: 'storm-sewer' })]);
    expect((ledger?.passed_on_m3 ?? 0) - (without.ledger?.passed_on_m3 ?? 0)).toBeCloseTo(
      runOffM3,
      6,
    );
  });

  it('has a sump add water of its own', () => {
    const sump = pointOf('sump', [25, 15], { kind: 'sump-outlet', rate_m3_per_h: 1.5 });
    const { ledger } = run([sump], { duration_h: 4 });
    expect(ledger?.sump_m3).toBe(6);
    const without = run([]);
    expect((ledger?.passed_on_m3 ?? 0) - (without.ledger?.passed_on_m3 ?? 0)).toBeCloseTo(6, 6);
    const silent = run([pointOf('sump', [25, 15], { kind: 'sump-outlet' })]);
    expect(silent.ledger?.sump_m3).toBe(0);
    expect(silent.notes).toMatch(/sump has no rate/);
  });
});

describe('a building and a roof that does not say whose it is', () => {
  const house = box(21, 21, 31, 27);
  const rainOn = (features: readonly PlanFeature[]): number => {
    const plan = planOf([lot(), ...features]);
    const shape = shapeGround(plane(), plan);
    return ledger(shape, stormOnGround(shape, plan, 50), plan, 0).rain_m3;
  };
  const bareM2 = (features: readonly PlanFeature[]): number | undefined => {
    const plan = planOf(features);
    const { outlets } = roofWater(ground(plane(), plan), plan);
    return outlets.find((row) => row.roof === 'house')?.areaM2;
  };
  const building = (ring = house): PlanFeature => polygonOf('house', ring, { kind: 'building' });

  it('catch the rain once', () => {
    const lotM3 = 50 * 45 * 0.05;
    expect(rainOn([])).toBeCloseTo(lotM3, 6);
    expect(rainOn([building()])).toBeCloseTo(lotM3, 6);
    expect(rainOn([building(), roof()])).toBeCloseTo(lotM3, 6);
  });

  it('leave to the building what of it the roof leaves bare', () => {
    // The eastern 6 by 6 m of the house reach out from under the roof.
    const long = building(box(21, 21, 38, 27));
    expect(bareM2([long, roof()])).toBeCloseTo(36, 6);
    expect(rainOn([long, roof()])).toBeCloseTo(50 * 45 * 0.05, 6);
  });
});
