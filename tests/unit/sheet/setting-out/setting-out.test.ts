import { describe, expect, it } from 'vitest';
import { distanceM, type Ring } from '../../../../lib/frame/shapes';
import { roundParts, stakesAlong } from '../../../../lib/sheet/setting-out/stakes';
import { goodAngleDeg } from '../../../../lib/sheet/setting-out/trilateration';
import { settingOutOf } from '../../../../lib/sheet/pages/setting-out-page';
import { drawnBasins } from '../../../../lib/sheet/views/basin-drawing';
import { demoFacts } from '../demo-facts';

const circle = (radiusM: number, corners: number): Ring =>
  Array.from({ length: corners }, (_, i) => {
    const turn = (2 * Math.PI * i) / corners;
    return [5 + radiusM * Math.cos(turn), 3 + radiusM * Math.sin(turn)] as const;
  });

describe('stakes along an outline', () => {
  it('stand at its corners where they are few', () => {
    const square: Ring = [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ];
    expect(stakesAlong(square)).toEqual(square);
  });

  it('stand evenly along a curved one, 18 at most', () => {
    const stakes = stakesAlong(circle(3, 90));
    expect(stakes.length).toBeGreaterThanOrEqual(8);
    expect(stakes.length).toBeLessThanOrEqual(18);
    const apart = stakes.map((at, i) => distanceM(at, stakes[(i + 1) % stakes.length]));
    expect(Math.max(...apart) - Math.min(...apart)).toBeLessThan(0.05);
  });
});

describe('round parts', () => {
  it('of a circle are swung about its middle', () => {
    const [part] = roundParts(circle(2.5, 60));
    expect(part.radiusM).toBeCloseTo(2.5, 3);
    expect(distanceM(part.centre, [5, 3])).toBeLessThan(0.01);
  });

  it('a square has none', () => {
    expect(
      roundParts([
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ]),
    ).toEqual([]);
  });
});

describe('the demo’s garden', () => {
  it('is set out from two corners of the own house, all tapes crossing well', async () => {
    const facts = await demoFacts();
    const [basin] = drawnBasins(facts);
    const { pair, stakes, stringOverRimM, benchmark } = settingOutOf(facts, basin);
    expect([pair?.a.name, pair?.b.name].join()).toMatch(/House,.*House$/);
    expect(pair?.hidden).toBe(0);
    for (const { taped } of stakes) {
      expect(taped?.crossingDeg).toBeGreaterThanOrEqual(goodAngleDeg.from);
      expect(taped?.crossingDeg).toBeLessThanOrEqual(goodAngleDeg.to);
      expect(taped?.errorM).toBeLessThan(0.03);
    }
    expect(benchmark).not.toBeNull();
    const form = facts.built.get('basin')?.finished.form;
    expect(form).toBeDefined();
    for (const { on, down } of stakes) {
      // The string clears the ground everywhere, and the floor lies as far under the rim as it was designed.
      expect(down?.groundNowM).toBeGreaterThan(0.09);
      const under = (down?.finishedM ?? 0) - (stringOverRimM ?? 0);
      const wanted = { rim: 0, floor: 0.2, notch: 0.05 }[on];
      expect(under).toBeCloseTo(wanted, 6);
    }
  });
});
