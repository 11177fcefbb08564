import { describe, expect, it } from 'vitest';
import { drainLot } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import type { PlanFeature } from '../../../lib/plan/schema';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

const lots = [
  polygonOf('own', box(0, 0, 30, 30), { kind: 'lot', own: true, name: 'Lot 1' }),
  polygonOf('next', box(30, 0, 70, 30), { kind: 'lot', own: false, name: 'Lot 2' }),
  polygonOf('far', box(80, 0, 110, 30), { kind: 'lot', own: false, name: 'Lot 9' }),
  polygonOf('house', box(8, 8, 16, 14), { kind: 'building', name: 'House' }),
  polygonOf('barn', box(85, 8, 95, 14), { kind: 'building', name: 'Barn' }),
];

/** The answer on ground of 60 m x 30 m that falls 3 % to the east, without heights in a place. */
function drained(
  features: readonly PlanFeature[] = lots,
  hole: (x: number, y: number) => boolean = () => false,
): DrainageResult {
  const plan = planOf([...features]);
  const elevation = groundOf(60, 30, 1, (x, y) => (hole(x, y) ? Number.NaN : 8 - 0.03 * x));
  const shape = shapeGround(elevation, plan);
  return drainLot(shape, stormOnGround(shape, plan, 40), plan, { crs: 'made' });
}

describe('lots and buildings outside the elevation that was read', () => {
  it('are reported as not judged, and have no rows that say nothing stands there', () => {
    const result = drained();
    expect(result.not_judged).toEqual([
      { feature: 'next', kind: 'lot', name: 'Lot 2', whole: false },
      { feature: 'far', kind: 'lot', name: 'Lot 9', whole: true },
      { feature: 'barn', kind: 'building', name: 'Barn', whole: true },
    ]);
    expect(result.buildings.map(({ building }) => building)).toEqual(['house']);
    expect(result.notes.join(' ')).toMatch(/Not judged, .*: Lot 9, Barn\. .*not known/);
    expect(result.notes.join(' ')).toMatch(/only as far as .*: Lot 2\./);
  });

  it('are so on holes in the data too, and are none where all is read', () => {
    const inside = [lots[0], lots[3]];
    expect(drained(inside).not_judged).toEqual([]);
    const isHouse = (x: number, y: number): boolean => x > 7 && x < 17 && y > 7 && y < 15;
    expect(drained(inside, isHouse).not_judged).toEqual([
      { feature: 'own', kind: 'lot', name: 'Lot 1', whole: false },
      { feature: 'house', kind: 'building', name: 'House', whole: true },
    ]);
  });
});

describe('whose lot it is', () => {
  it('is asked where two are marked as one’s own', () => {
    const both = lots.map((lot) =>
      lot.id === 'next'
        ? { ...lot, properties: { ...lot.properties, own: true } as typeof lot.properties }
        : lot,
    ) as PlanFeature[];
    expect(drained(both).notes.join(' ')).toMatch(/2 lots are marked as your own \(Lot 1, Lot 2\)/);
    expect(drained().notes.join(' ')).not.toContain('marked as your own');
  });

  it('does not count as a neighbour’s for a basin that lies on it', () => {
    const basin = (west: number): PlanFeature =>
      polygonOf('basin', box(west, 12, west + 6, 16), { kind: 'basin' });
    expect(drained([...lots, basin(35)]).basins[0].overflow_reaches).toBeNull();
    expect(drained([...lots, basin(20)]).basins[0].overflow_reaches).toBe('next');
  });
});
