import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../../lib/elevation/grid';
import type { XY } from '../../../../lib/frame/frame';
import { lengthM } from '../../../../lib/frame/shapes';
import { heightAt } from '../../../../lib/ground/height-at';
import { allServices, type ClearLocate } from '../../../../lib/setback/locate/locates';
import { outlineOf, separation } from '../../../../lib/setback/measure/outline';
import { leadField, wayTo } from '../../../../lib/siting/leading/lead-field';
import { meshCellAt } from '../../../../lib/siting/refused/mesh';
import { SearchedLot } from '../../../../lib/siting/sizing/searched-lot';
import type { LedRoof } from '../../../../lib/siting/leading/led-roof';
import { trenchFindings } from '../../../../lib/siting/leading/trench-findings';
import type { Drawn } from '../../setback/plan-of';
import { box, fallingSouth, inputOf, lotWithHouse } from '../sloping-lot';

const outlet: XY = [20, 29.8];

/** A lot that falls to the south with its house in the north, a downspout at the south wall, and more on the way. */
function lotWith(grid: Grid, ...more: Drawn[]): SearchedLot {
  const plan = lotWithHouse(box(0, 0, 40, 50), box(12, 30, 28, 44), ...more);
  return new SearchedLot(
    inputOf(plan, grid, [{ id: 'south', at: outlet, areaM2: 80 }], { leadM: 25 }),
  );
}

const even = fallingSouth(-10, 60, 60, 70, 0.5, 0.03);
const rim = box(18, 14, 22, 17);

function way(searched: SearchedLot, to: readonly XY[] = rim) {
  return searched.leadIns.to(0, to);
}

describe('the ground of a lead-in', () => {
  const answer = (by: ClearLocate['by'], ring: XY[]): ClearLocate => ({
    services: allServices,
    by,
    on: '2026-05-01',
    until: '2026-05-20',
    reference: undefined,
    area: [{ type: 'polygon', rings: [ring] }],
  });
  const { plan, ruleSet } = lotWith(even).input;
  const unmarked = (today: string, ...locates: ClearLocate[]): string[] => {
    const found = trenchFindings({ plan, ruleSet, today, locates }, [outlet, [20, 17]]);
    if (found === null) throw new Error('there is nothing on the way');
    return found.flatMap(({ what, why }) => (what === 'unmarked' ? [why] : []));
  };
  const day = '2026-05-10';

  it('has to be located by both parties, and says who is to be asked', () => {
    const [why] = unmarked(day);
    expect(why).toMatch(/Ask the public notice service about every service .*private locator/);
    const wide = box(10, 10, 30, 40);
    expect(unmarked(day, answer('public', wide), answer('private', wide))).toEqual([]);
    expect(unmarked('2026-05-21', answer('public', wide), answer('private', wide))).toHaveLength(1);
    expect(unmarked(day, answer('public', wide))[0]).not.toMatch(/public/);
  });

  it('reaches a trench’s half width and room to work to each side of it', () => {
    const by = (sideM: number): number => {
      const ring = box(20 - sideM, 10, 20 + sideM, 40);
      return unmarked(day, answer('public', ring), answer('private', ring)).length;
    };
    expect(by(1.16)).toBe(0);
    expect(by(1.1)).toBe(1);
  });
});

describe('a lead-in', () => {
  it('runs straight over open ground, and its fall is the ground’s', () => {
    const found = way(lotWith(even));
    expect(found?.route).toHaveLength(2);
    expect(found?.distance_m).toBeCloseTo(Math.hypot(2, 12.8), 6);
    expect(found?.fall_m).toBeCloseTo(0.03 * 12.8, 3);
    expect(found?.fall_ratio).toBeCloseTo((0.03 * 12.8) / Math.hypot(2, 12.8), 3);
    expect(found?.deepest_m).toBeCloseTo(0, 3);
  });

  it('asks for a fall of 1 % on its own length', () => {
    const fallM = 0.01 * Math.hypot(2, 12.8);
    const slope = fallM / 12.8;
    expect(way(lotWith(fallingSouth(-10, 60, 60, 70, 0.5, 1.02 * slope)))).not.toBeNull();
    expect(way(lotWith(fallingSouth(-10, 60, 60, 70, 0.5, 0.98 * slope)))).toBeNull();
    expect(way(lotWith(fallingSouth(-10, 60, 60, 70, 0.5, -0.03)))).toBeNull();
  });

  it('goes around a building, and still falls by 1 % or more', () => {
    const shed = box(15, 21, 25, 25);
    const found = way(
      lotWith(even, { id: 'shed', properties: { kind: 'building' }, rings: [shed] }),
    );
    if (found === null) throw new Error('there is a way around');
    expect(found.route.length).toBeGreaterThan(2);
    const around = separation(
      outlineOf({ type: 'line', points: found.route }),
      outlineOf({ type: 'polygon', rings: [shed] }),
    );
    expect(around.distanceM).toBeGreaterThan(0);
    // Round two corners of the shed, and not much longer than a taut string.
    const tautM = lengthM([outlet, [25, 25], [25, 21], [22, 17]]);
    expect(found.distance_m).toBeGreaterThanOrEqual(tautM - 0.01);
    expect(found.distance_m).toBeLessThan(1.12 * tautM);
    expect(found.distance_m).toBeCloseTo(lengthM(found.route), 9);
    expect(found.fall_ratio).toBeGreaterThanOrEqual(0.01);
    const [from, to] = [found.route[0], found.route[found.route.length - 1]];
    expect(found.fall_m).toBeCloseTo(heightAt(even, from) - heightAt(even, to), 6);
  });

  it('gives up where the way around is too long or none is left', () => {
    const wall = box(0.5, 21, 39.5, 25);
    expect(
      way(lotWith(even, { id: 'hall', properties: { kind: 'building' }, rings: [wall] })),
    ).toBeNull();
    const searched = lotWith(even);
    expect(way(searched, box(2, 1, 5, 4))).toBeNull();
  });

  it('does not lead through a dip, but over a rise with the cover stated', () => {
    const shaped = (depthM: number): Grid => ({
      ...even,
      z: even.z.map((z, i) => {
        const y = even.northM - (Math.floor(i / even.width) + 0.5) * even.cellM;
        return z + (Math.abs(y - 23) < 1.5 ? depthM : 0);
      }),
    });
    expect(way(lotWith(shaped(-0.6)))).toBeNull();
    const over = way(lotWith(shaped(0.4)));
    expect(over?.deepest_m).toBeGreaterThan(0.38);
    expect(over?.deepest_m).toBeLessThan(0.42);
  });

  it('crosses a line in the ground and says so, but does not run along it', () => {
    const across = lotWith(even, {
      id: 'gas',
      properties: { kind: 'utility', service: 'gas', side: 'public' },
      line: [
        [0, 22],
        [40, 22],
      ],
    });
    const found = way(across);
    const crossed = found?.trench.filter(({ what }) => what === 'utility');
    expect(crossed?.map(({ feature }) => feature)).toEqual(['gas']);
    expect(crossed?.[0].why).toContain('no current locate');
    // Straight down it would lie in the zone of the line all the way.
    const along = lotWith(even, {
      id: 'gas',
      properties: { kind: 'utility', service: 'gas', side: 'public' },
      line: [
        [19.6, 29.5],
        [18.6, 12],
      ],
    });
    const beside = way(along, box(17, 14, 19, 17));
    const isAlong = (lead: Pick<LedRoof, 'trench'> | null): boolean =>
      (lead?.trench ?? []).some(({ what, length_m }) => what === 'utility' && length_m > 8);
    expect(isAlong(beside)).toBe(false);
  });

  it('says what it cuts through: roots, paving, easements', () => {
    const found = way(
      lotWith(
        even,
        {
          id: 'oak',
          properties: { kind: 'tree', trunk_diameter_m: 0.3, canopy_radius_m: 4 },
          point: [22.5, 24],
        },
        {
          id: 'walk',
          properties: { kind: 'surface', cover: 'paving' },
          rings: [box(0, 26, 40, 27)],
        },
        { id: 'ease', properties: { kind: 'easement' }, rings: [box(0, 18, 40, 19)] },
      ),
    );
    const by = new Map(found?.trench.map(({ what, length_m }) => [what, length_m]));
    expect(by.get('roots')).toBeGreaterThan(1);
    expect(by.get('paving')).toBeGreaterThan(0.9);
    expect(by.get('easement')).toBeLessThan(1.3);
  });
});

describe('leadField', () => {
  const mesh = { cellM: 0.5, westM: 0, northM: 20, columns: 40, rows: 40 };

  it('measures ways over open ground to 8 %, never shorter than straight', () => {
    const field = leadField(mesh, new Uint8Array(1600).fill(1), [10.25, 10.25], 30);
    for (const to of [
      [18.25, 10.25],
      [15.25, 12.25],
      [3.75, 3.75],
      [9.25, 17.75],
    ] as const) {
      const straightM = Math.hypot(to[0] - 10.25, to[1] - 10.25);
      const lengthOf = field?.lengthM[meshCellAt(mesh, to[0], to[1])] ?? 0;
      // Corners are taken as 1.4 cells.
      expect(lengthOf).toBeGreaterThan(0.989 * straightM);
      expect(lengthOf).toBeLessThan(1.09 * straightM);
    }
  });

  it('finds the gap in a wall, and does not slip between corners', () => {
    const effort = new Uint8Array(1600).fill(1);
    // A wall from corner to corner, closed but for one cell in the south-east.
    for (let i = 0; i < 39; i++) effort[i * 40 + i] = 0;
    const field = leadField(mesh, effort, [2, 2], 100);
    if (field === null) throw new Error('the start is open');
    const end = meshCellAt(mesh, 18, 18);
    const cells = wayTo(mesh, field, end).map(([x, y]) => meshCellAt(mesh, x, y));
    expect(cells[0]).toBe(meshCellAt(mesh, 2, 2));
    expect(cells.at(-1)).toBe(end);
    expect(cells).toContain(39 * 40 + 39);
    expect(cells.every((cell) => effort[cell] > 0)).toBe(true);
    expect(leadField(mesh, effort, [2, 2], 10)?.effortM[end]).toBe(Infinity);
    expect(leadField(mesh, new Uint8Array(1600), [2, 2], 10)).toBeNull();
  });

  it('goes around ground that costs three times as much, where that is less than three times as far', () => {
    const effort = new Uint8Array(1600).fill(1);
    for (let row = 10; row < 40; row++) effort[row * 40 + 20] = 3;
    const field = leadField(mesh, effort, [5, 5], 100);
    if (field === null) throw new Error('the start is open');
    // One cell thick: crossing it is no more than a metre's worth.
    expect(field.effortM[meshCellAt(mesh, 15, 5)]).toBeCloseTo(10 + 1, 1);
  });
});
