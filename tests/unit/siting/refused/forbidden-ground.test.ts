import { describe, expect, it } from 'vitest';
import type { XY } from '../../../../lib/frame/frame';
import { checkSetbacks } from '../../../../lib/setback/judge/check-setbacks';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import {
  forbiddenGround,
  type ForbiddenGround,
} from '../../../../lib/siting/refused/forbidden-ground';
import { whyNotHere } from '../../../../lib/siting/answer/why-not-here';
import { planOf, type Drawn } from '../../setback/plan-of';
import { box, fallingSouth, lotWithHouse, today } from '../sloping-lot';

const ruleSet = ruleSetById('default');

function areaOf(ground: ForbiddenGround, rule: string): { area: number; alone: number } {
  const row = ground.refused.find((each) => each.rule === rule);
  return { area: row?.area_m2 ?? NaN, alone: row?.alone_m2 ?? NaN };
}

describe('forbiddenGround', () => {
  it('refuses the band along the lot line and what lies round a well', () => {
    const plan = planOf(
      { id: 'lot', properties: { kind: 'lot', own: true }, rings: [box(0, 0, 60, 50)] },
      { id: 'well', properties: { kind: 'well' }, point: [30, 25] },
    );
    const elevation = fallingSouth(-10, 60, 80, 70, 0.25, 0.02);
    const ground = forbiddenGround({ plan, ruleSet, elevation });
    const band = 3000 - (60 - 6.096) * (50 - 6.096);
    expect(ground.lotM2).toBeCloseTo(3000, 6);
    // Cells are counted by their centres: a strip one cell wide along the edge may be off.
    expect(Math.abs(areaOf(ground, 'lot-line').area - band)).toBeLessThan(220 * 0.125);
    expect(areaOf(ground, 'well').area).toBeCloseTo(Math.PI * 15.24 ** 2, -1);
    expect(areaOf(ground, 'well').alone).toBe(areaOf(ground, 'well').area);
    expect(ground.allowedM2).toBeCloseTo(
      ground.lotM2 - areaOf(ground, 'well').area - areaOf(ground, 'lot-line').area,
      6,
    );
  });

  it('counts as alone only what no other binding rule refuses', () => {
    const twin = (id: string, kind: 'well' | 'septic-tank'): Drawn => ({
      id,
      properties: { kind },
      point: [30, 25],
    });
    const lot: Drawn = {
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0, 0, 60, 50)],
    };
    const elevation = fallingSouth(-10, 60, 80, 70, 0.5, 0.02);
    const ground = forbiddenGround({
      plan: planOf(lot, twin('w', 'well'), twin('s', 'septic-tank')),
      ruleSet,
      elevation,
    });
    expect(areaOf(ground, 'well').area).toBeGreaterThan(700);
    expect(areaOf(ground, 'well').alone).toBe(0);
  });

  it('refuses a cell exactly when a rim there would fail a binding rule', () => {
    const plan = lotWithHouse(
      box(0, 0, 30, 36),
      box(8, 20, 20, 30),
      {
        id: 'oak',
        properties: { kind: 'tree', trunk_diameter_m: 0.3, canopy_radius_m: 3 },
        point: [22, 8],
      },
      {
        id: 'gas',
        properties: { kind: 'utility', service: 'gas', accuracy_m: 0.3 },
        line: [
          [2, 0],
          [6, 36],
        ],
      },
      {
        id: 'drive',
        properties: { kind: 'surface', cover: 'paving' },
        rings: [box(24, 15, 28, 36)],
      },
    );
    const elevation = fallingSouth(-10, 50, 60, 70, 0.5, 0.03);
    const ground = forbiddenGround({ plan, ruleSet, elevation });
    for (let i = 0; i < ground.inLot.length; i += 7) {
      const row = Math.floor(i / ground.mesh.columns);
      const at: XY = [
        ground.mesh.westM + (i - row * ground.mesh.columns + 0.5) * ground.mesh.cellM,
        ground.mesh.northM - (row + 0.5) * ground.mesh.cellM,
      ];
      const { results } = checkSetbacks({
        plan,
        basins: [{ id: 'p', rim: [at] }],
        ruleSet,
        elevation,
        today,
      });
      const failing = results.filter((each) => each.result === 'fail').map((each) => each.rule);
      const refusing = ruleSet.rules.filter((_, bit) => (ground.refusedBy[i] & (1 << bit)) !== 0);
      // The map marks the cells a line runs through; a single point touches none.
      expect(new Set(refusing.map((each) => each.id)), at.join()).toEqual(new Set(failing));
      const margins = results.filter(
        (each) =>
          each.binding === 'must' && each.margin_m !== null && each.rule !== 'uphill-of-basement',
      );
      const least = Math.min(...margins.map((each) => each.margin_m ?? 0));
      if (least > 0 && least < 4) expect(ground.marginM[i]).toBeCloseTo(least, 3);
    }
  });

  it('splits coarse cells, so that a lot is not judged in blocks of five metres', () => {
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0, 0, 60, 50)],
    });
    const ground = forbiddenGround({
      plan,
      ruleSet,
      elevation: fallingSouth(-10, 60, 80, 70, 5, 0.02),
    });
    expect(ground.mesh.cellM).toBe(1);
    expect(ground.allowedM2).toBeCloseTo(54 * 44, 6);
  });
});

describe('whyNotHere', () => {
  const plan = lotWithHouse(box(0, 0, 30, 36), box(8, 20, 20, 30));
  const input = { plan, ruleSet, elevation: fallingSouth(-10, 50, 60, 70, 0.5, 0.03), today };

  it('names the rules that forbid a place, and by how much', () => {
    const [first] = whyNotHere(input, [14, 18.5]);
    expect(first.row.rule).toBe('foundation');
    expect(first.shortByM).toBeCloseTo(3.048 - 1.5, 6);
  });

  it('says uphill of the house on its north side', () => {
    expect(whyNotHere(input, [14, 33.5]).map((each) => each.row.rule)).toEqual(
      expect.arrayContaining(['lot-line', 'uphill-of-basement']),
    );
    // Beyond the distances, the side still counts.
    const south = whyNotHere(input, [14, 10]);
    expect(south).toEqual([]);
  });

  it('asks for a whole basin when given a radius', () => {
    expect(whyNotHere(input, [14, 16], 2).map((each) => each.row.rule)).toEqual(['foundation']);
    expect(whyNotHere(input, [14, 16])).toEqual([]);
  });
});
