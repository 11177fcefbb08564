import { describe, expect, it } from 'vitest';
import { flowLines } from '../../../lib/drainage/answer/flow-lines';
import { followWater } from '../../../lib/drainage/answer/follow-water';
import { pipeLines } from '../../../lib/drainage/answer/pipe-lines';
import { probePoint } from '../../../lib/drainage/answer/probe-point';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { waterEnd } from '../../../lib/drainage/answer/water-end';
import { cellAt } from '../../../lib/elevation/grid';
import type { LngLat, XY } from '../../../lib/frame/frame';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, frame, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** Ground that falls 2 % to the east with a bowl at x = 20. */
const ground = () =>
  groundOf(60, 30, 0.5, (x, y) => {
    const bowl = Math.max(0, 0.25 * (1 - ((x - 20) ** 2 + (y - 15) ** 2) / 36));
    return 8 - 0.02 * x - bowl;
  });

function run(features: readonly PlanFeature[], rainMm = 40) {
  const plan = planOf([
    polygonOf('own', box(5, 5, 55, 25), { kind: 'lot', own: true }),
    ...features,
  ]);
  const shape = shapeGround(ground(), plan);
  const storm = stormOnGround(shape, plan, rainMm);
  const from = (at: XY) =>
    followWater(shape, storm, plan, cellAt(shape.ground.grid, at[0], at[1])).map((leg) => ({
      ...leg,
      points: leg.points.map((point) => frame.toLocal(point)),
    }));
  return { plan, shape, storm, from };
}

const drain = (more: object): PlanFeature =>
  pointOf('drain', [20.2, 15.2], { kind: 'yard-drain', ...more });
const outlet: LngLat = frame.toLngLat([52.2, 20.2]);
/** Where the drain's inlet comes to stand: the lowest ground within a metre of it. */
const bottom: XY = [21.2, 15.2];
const start: XY = [10.2, 15.2];

function near(at: XY, place: XY): void {
  expect(Math.hypot(at[0] - place[0], at[1] - place[1]), String(at)).toBeLessThan(0.8);
}

describe('the way of water', () => {
  it('runs over the ground to the edge where there is no drain', () => {
    const legs = run([]).from(start);
    expect(legs.map(({ by }) => by)).toEqual(['ground']);
    near(legs[0].points[0], start);
    expect(legs[0].points.at(-1)?.[0]).toBeGreaterThan(59);
  });

  it('goes down a drain that has room, through it, and on from its outlet', () => {
    const legs = run([drain({ outlet, capacity_m3_per_h: 1000 })]).from(start);
    expect(legs.map(({ by, drain }) => [by, drain])).toEqual([
      ['ground', null],
      ['pipe', 'drain'],
      ['ground', null],
    ]);
    near(legs[0].points.at(-1) ?? [0, 0], bottom);
    near(legs[1].points[0], bottom);
    near(legs[1].points[1], [52.2, 20.2]);
    near(legs[2].points[0], [52.2, 20.2]);
    expect(legs[2].points.at(-1)?.[0]).toBeGreaterThan(59);
  });

  it('goes over the ground as well when the drain is full', () => {
    const { from, storm } = run([drain({ outlet, capacity_m3_per_h: 0.5 })], 90);
    expect(storm.conduits[0].volumeM3).toBeCloseTo(0.5, 9);
    const legs = from(start);
    expect(legs.filter(({ by }) => by === 'pipe').length).toBe(1);
    const over = legs.filter(({ by, points }) => by === 'ground' && points[0][0] < 11);
    expect(over.at(-1)?.points.at(-1)?.[0]).toBeGreaterThan(59);
  });

  it('ends at a drain into the storm sewer, and passes one that carries nothing', () => {
    const into = run([drain({ outlet: 'storm-sewer', capacity_m3_per_h: 1000 })]).from(start);
    expect(into.map(({ by }) => by)).toEqual(['ground']);
    near(into[0].points.at(-1) ?? [0, 0], bottom);
    const past = run([drain({ outlet, blocked: true })]).from(start);
    expect(past.map(({ by }) => by)).toEqual(['ground']);
    expect(past[0].points.at(-1)?.[0]).toBeGreaterThan(59);
  });

  it('follows the pipe as drawn, the way that it runs', () => {
    const pipe = lineOf(
      'pipe',
      [
        [52.2, 20.2],
        [30.2, 24.2],
        [20.4, 15.4],
      ],
      { kind: 'drain-pipe' },
    );
    // Drawn uphill, without a slope of its own: it runs the other way.
    const { from } = run([pipe]);
    const legs = from(start);
    expect(legs.map(({ by }) => by)).toEqual(['ground', 'pipe', 'ground']);
    const bend = legs[1].points.findIndex(([x, y]) => Math.hypot(x - 30.2, y - 24.2) < 0.1);
    expect(bend).toBeGreaterThan(0);
    near(legs[1].points.at(-1) ?? [0, 0], [52.2, 20.2]);
  });

  it('is told with the probe of a place', () => {
    const { shape, storm, plan } = run([drain({ outlet, capacity_m3_per_h: 1000 })]);
    const answer = probePoint(shape, storm, plan, frame.toLngLat(start));
    expect(answer?.legs.map(({ by }) => by)).toEqual(['ground', 'pipe', 'ground']);
    // As if there were no drain.
    expect(frame.toLocal(answer?.path.at(-1) ?? [0, 0])[0]).toBeGreaterThan(59);
  });
});

describe('what runs below the ground', () => {
  it('is drawn for drains, and from downspouts into pipes, with what they carry', () => {
    const { storm, shape, plan } = run([
      drain({ outlet, capacity_m3_per_h: 1000 }),
      polygonOf('house', box(30, 6, 38, 12), { kind: 'building' }),
      pointOf('spout', [38.2, 9.2], { kind: 'downspout', roof: 'house', pipe: 'roof-pipe' }),
      lineOf(
        'roof-pipe',
        [
          [39, 9],
          [50, 9],
        ],
        { kind: 'drain-pipe', slope: 0.02, diameter_m: 0.3 },
      ),
    ]);
    const lines = pipeLines(shape, storm, plan);
    expect(lines.map(({ drain }) => drain)).toEqual(['drain', 'spout']);
    expect(lines[0].volume_m3).toBeCloseTo(storm.conduits[0].volumeM3, 12);
    const [roof] = storm.roofFlows;
    expect(lines[1].volume_m3).toBeCloseTo(roof.volumeM3, 9);
    expect(lines[1].points.length).toBeGreaterThanOrEqual(3);
    expect(pipeLines(shape, { ...storm, conduits: [], roofFlows: [] }, plan)).toEqual([]);
  });
});

describe('water that passes a cell', () => {
  it('adds up to all that leaves the map, what low spots spill included', () => {
    const { shape, storm } = run([], 90);
    const through = storm.flow.arrivesM3;
    const { receiver } = shape.terrain;
    let leaves = 0;
    for (let cell = 0; cell < through.length; cell++)
      if (receiver[cell] === 9) leaves += through[cell];
    expect(storm.stormPools.spilled.some((volume) => volume > 0)).toBe(true);
    expect(leaves).toBeCloseTo(storm.stormPools.outflow * shape.cellM2, 9);
  });

  it('stands with each flow line, less where a hollow holds it back', () => {
    const { shape, storm, plan } = run([], 25);
    const lines = flowLines(shape, storm, plan.frame, 20);
    expect(lines.length).toBeGreaterThan(3);
    const below = lines.filter(({ points }) => {
      const [x, y] = frame.toLocal(points.at(-1) ?? [0, 0]);
      return x > 58 && Math.abs(y - 15) < 4;
    });
    const most = below.reduce((a, b) => (b.area_m2 > a.area_m2 ? b : a));
    // The hollow above holds all that comes: only what falls below it passes.
    expect(most.area_m2).toBeGreaterThan(100);
    const runOffM = storm.classRunOffMm[0] / 1000;
    expect(most.volume_m3).toBeLessThan(0.6 * most.area_m2 * runOffM);
  });
});

describe('the end of water', () => {
  const next = polygonOf('next', box(55, 5, 59, 25), { kind: 'lot', own: false });
  const endOf = (features: readonly PlanFeature[], rainMm: number) => {
    const { plan, shape, storm } = run([...features, next], rainMm);
    const cell = cellAt(shape.ground.grid, ...start);
    return waterEnd(shape, storm, plan, followWater(shape, storm, plan, cell));
  };

  it('is a low spot that is not full, and does not go over the lots beyond', () => {
    expect(endOf([], 30)).toEqual({ ends: 'stands', basin: null, lots: ['own'], fullPools: 0 });
  });

  it('is off the data, over the lots on the way, once the low spot is full', () => {
    expect(endOf([], 300)).toEqual({
      ends: 'edge-of-data',
      basin: null,
      lots: ['own', 'next'],
      fullPools: 1,
    });
  });

  it('is where a drain lets it out', () => {
    const piped = drain({ outlet, capacity_m3_per_h: 1000 });
    expect(endOf([piped], 30)).toMatchObject({ ends: 'edge-of-data', lots: ['own', 'next'] });
    const sewer = drain({ outlet: 'storm-sewer', capacity_m3_per_h: 1000 });
    expect(endOf([sewer], 30)).toMatchObject({ ends: 'storm-sewer', lots: ['own'] });
  });

  it('is nowhere where all soaks in', () => {
    expect(endOf([], 1).ends).toBe('nothing-runs');
  });

  it('is the basin that holds it', () => {
    const basin = polygonOf('garden', box(16, 11, 24, 19), {
      kind: 'basin',
      ponding_depth_m: 0.3,
    });
    expect(endOf([basin], 30)).toMatchObject({ ends: 'stands', basin: 'garden' });
  });
});
