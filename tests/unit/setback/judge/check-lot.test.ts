import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import { checkLot, type LotFinding } from '../../../../lib/setback/judge/check-lot';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import { box, frame, lineOf, planOf, pointOf, polygonOf } from '../../ground/plane-lot';

const set = ruleSetById('default');
const generic = set.lot_rules ?? [];
const lots: readonly PlanFeature[] = [
  polygonOf('own', box(0, 0, 30, 40), { kind: 'lot', own: true }),
  polygonOf('next', box(30, 0, 60, 40), { kind: 'lot', own: false }),
];
const house = polygonOf('house', box(8, 15, 20, 25), { kind: 'building' });

function rows(...features: readonly PlanFeature[]): readonly LotFinding[] {
  const plan = planOf([...lots, ...features], { storm: { rain_mm: 25 } });
  return checkLot(plan, set, generic).results;
}

const of = (all: readonly LotFinding[], rule: string): readonly LotFinding[] =>
  all.filter((row) => row.rule === rule);

describe('outlets', () => {
  const sump = (at: XY): PlanFeature =>
    pointOf('sump', at, { kind: 'sump-outlet', rate_m3_per_h: 3.6 });

  it('of pumps keep 5 ft from the line of the lot that they lie on, better 10', () => {
    const near = rows(sump([29, 20]));
    expect(of(near, 'sump-to-line')[0]).toMatchObject({ result: 'fail', other: 'own' });
    expect(of(near, 'sump-to-line')[0].measured_m).toBeCloseTo(1, 6);
    expect(of(near, 'sump-to-line')[0].margin_m).toBeCloseTo(1 - 1.524, 6);
    const middling = rows(sump([28, 20]));
    expect(of(middling, 'sump-to-line')[0].result).toBe('pass');
    expect(of(middling, 'sump-far-from-line')[0]).toMatchObject({
      result: 'fail',
      binding: 'advice',
    });
    expect(of(rows(sump([31, 20])), 'sump-to-line')[0].other).toBe('next');
  });

  it('on land that nobody drew are to be asked about', () => {
    expect(of(rows(sump([30, 50])), 'sump-to-line')[0]).toMatchObject({
      result: 'check',
      other: null,
    });
  });

  it('keep off walls; where a downspout does not say where it ends, it is asked', () => {
    const roof = polygonOf('roof', box(8, 15, 20, 25), { kind: 'roof' });
    const spout = (more: object): PlanFeature =>
      pointOf('spout', [20, 20], { kind: 'downspout', roof: 'roof', ...more });
    const at = (x: number): PlanFeature => spout({ outlet: frame.toLngLat([x, 20]) });
    expect(of(rows(house, roof, at(21)), 'outlet-to-wall')[0].result).toBe('fail');
    expect(of(rows(house, roof, at(21.6)), 'outlet-to-wall')[0].result).toBe('pass');
    expect(of(rows(house, roof, spout({})), 'outlet-to-wall')[0].result).toBe('check');
    const sewer = rows(house, roof, spout({ outlet: 'storm-sewer' }));
    expect(of(sewer, 'outlet-to-wall')).toEqual([]);
    const garden = polygonOf('garden', box(21, 18, 27, 22), { kind: 'basin' });
    expect(of(rows(house, roof, garden, at(22)), 'outlet-to-wall')).toEqual([]);
  });

  it('keep 2 m from paving that lies on no lot, not from a drive', () => {
    const walk = polygonOf('walk', box(0, -4, 60, -1), { kind: 'surface', cover: 'paving' });
    const drive = polygonOf('drive', box(20, 1, 24, 14), { kind: 'surface', cover: 'paving' });
    const near = of(rows(walk, drive, sump([15, 0.5])), 'outlet-to-street');
    expect(near).toHaveLength(1);
    expect(near[0]).toMatchObject({ other: 'walk', result: 'check' });
    expect(of(rows(walk, drive, sump([22, 5])), 'outlet-to-street')[0].result).toBe('pass');
    expect(of(rows(drive, sump([22, 5])), 'outlet-to-street')).toEqual([]);
  });
});

describe('what has to stay open', () => {
  const swale = lineOf(
    'swale',
    [
      [2, 2],
      [28, 2],
    ],
    { kind: 'swale', width_m: 2 },
  );

  it('is not filled or crossed by a wall, counted with its width', () => {
    const fill = (south: number): PlanFeature =>
      polygonOf('fill', box(10, south, 14, 8), { kind: 'regrade' });
    expect(of(rows(swale, fill(2.9)), 'swale-open')[0]).toMatchObject({
      result: 'fail',
      feature: 'fill',
      other: 'swale',
    });
    expect(of(rows(swale, fill(3.1)), 'swale-open')[0]).toMatchObject({ result: 'pass' });
  });

  it('may be crossed by a fence with a gap, if those allow it who have to', () => {
    const fence = (more: object): PlanFeature =>
      lineOf(
        'fence',
        [
          [10, 0],
          [10, 6],
        ],
        { kind: 'fence', ...more },
      );
    expect(of(rows(swale, fence({})), 'fence-across')[0]).toMatchObject({ result: 'check' });
    expect(of(rows(swale, fence({ gap_m: 0 })), 'fence-across')[0].why).toMatch(/like a wall/);
    expect(of(rows(swale, fence({ gap_m: 0.1 })), 'fence-across')[0].why).toMatch(/gap below it/);
  });

  it('lets the holder of an easement decide', () => {
    const easement = polygonOf('strip', box(0, 30, 30, 33), { kind: 'easement' });
    const wall = lineOf(
      'wall',
      [
        [15, 28],
        [15, 36],
      ],
      { kind: 'wall' },
    );
    expect(of(rows(easement, wall), 'easement-open')[0]).toMatchObject({ result: 'check' });
  });
});

describe('gathered water over a line', () => {
  const roof = polygonOf('roof', box(10, 15, 20, 25), { kind: 'roof' });
  const spout = pointOf('spout', [20, 20], { kind: 'downspout', roof: 'roof', pipe: 'pipe' });
  const pipe = (end: XY): PlanFeature =>
    lineOf('pipe', [[21, 20], end], { kind: 'drain-pipe', diameter_m: 0.1 });

  it('is told with whose land, how much and how wide', () => {
    const [row] = of(rows(roof, spout, pipe([31, 20])), 'gathered-over-line');
    expect(row).toMatchObject({ result: 'check', feature: 'pipe', other: 'next' });
    // 100 m2 under 25 mm, and at 100 mm in an hour.
    expect(row.gathered?.volume_m3).toBeCloseTo(2.5, 3);
    expect(row.gathered?.l_per_s).toBeCloseTo(100 / 36, 3);
    expect(row.gathered?.width_m).toBe(0.1);
  });

  it('is asked about close to the line, and passes in an easement or well inside', () => {
    expect(of(rows(roof, spout, pipe([29, 20])), 'gathered-over-line')[0].result).toBe('check');
    expect(of(rows(roof, spout, pipe([26, 20])), 'gathered-over-line')[0]).toMatchObject({
      result: 'pass',
      feature: null,
    });
    const strip = polygonOf('strip', box(28, 0, 32, 40), { kind: 'easement' });
    expect(of(rows(roof, spout, strip, pipe([31, 20])), 'gathered-over-line')[0].result).toBe(
      'pass',
    );
  });
});

describe('a set without rules of its own for the lot', () => {
  it('takes the generic ones and says so; a plan without any of it has no row', () => {
    const other = ruleSetById('minnesota');
    const plan = planOf([...lots, pointOf('sump', [29, 20], { kind: 'sump-outlet' })]);
    const found = checkLot(plan, other, generic);
    expect(found.results.length).toBeGreaterThan(1);
    expect(found.notes.join()).toMatch(/generic ones are taken/);
    expect(checkLot(planOf(lots), other, generic)).toMatchObject({ results: [], notes: [] });
  });

  it('has a source and somebody to ask in every row', () => {
    for (const rule of generic) {
      expect(rule.ask).not.toBe('');
      expect(rule.source.mark).toMatch(/seen|common practice/);
    }
  });
});

describe('soakaways', () => {
  const pit = (id: string, at: readonly [number, number, number, number]): PlanFeature =>
    polygonOf(id, box(...at), { kind: 'soakaway' });

  it('keep 5 m from walls and lot line, 10 m from each other, measured from their edges', () => {
    const all = rows(house, pit('pit', [22, 16, 24, 18]), pit('other', [22, 30, 24, 32]));
    const [toHouse, farther] = of(all, 'soakaway-to-building');
    expect(toHouse).toMatchObject({ feature: 'pit', other: 'house', result: 'check' });
    expect(toHouse.measured_m).toBeCloseTo(2, 6);
    expect(farther.measured_m).toBeCloseTo(Math.hypot(2, 5), 6);
    expect(farther.result).toBe('pass');
    expect(of(all, 'soakaway-to-line').map(({ measured_m }) => measured_m)).toEqual([
      expect.closeTo(6, 6),
      expect.closeTo(6, 6),
    ]);
    const between = of(all, 'soakaway-to-soakaway');
    expect(between).toHaveLength(1);
    expect(between[0].measured_m).toBeCloseTo(12, 6);
  });

  it('fail where the standard is chosen that asks for it, one under the house at no distance', () => {
    const england = ruleSetById('england');
    const plan = planOf([...lots, house, pit('pit', [18, 16, 24, 18])], {});
    const found = checkLot(plan, england, generic).results;
    expect(of(found, 'soakaway-to-building')[0]).toMatchObject({ result: 'fail', measured_m: 0 });
    expect(found.some(({ rule }) => rule === 'swale-open')).toBe(false);
  });
});
