import { describe, expect, it } from 'vitest';
import { basinAsBuilt, type BasinAsBuilt } from '../../../../lib/basin/form/as-built';
import type { Settings } from '../../../../lib/plan/schema';
import { box, planOf, pointOf, polygonOf } from '../../ground/plane-lot';
import { falling } from '../made-basin';

function designed(
  properties: object,
  settings: Partial<Settings> = {},
  more: Parameters<typeof planOf>[0] = [],
): BasinAsBuilt {
  const basin = polygonOf('b', box(12, 10, 18, 14), { kind: 'basin', ...properties });
  const made = basinAsBuilt(falling(0.03), planOf([basin, ...more], settings), 'b');
  if ('notDug' in made) throw new Error(made.notDug);
  return made;
}

describe('a basin of the plan as built', () => {
  it('has one area through all its parts', () => {
    const made = designed({ ponding_depth_m: 0.12, dig_depth_m: 0.45 });
    const { storage, zones, finished, layerVolumes } = made;
    expect(finished.rimAreaM2).toBeCloseTo(24, 4);
    expect(storage.areasM2[storage.areasM2.length - 1]).toBeCloseTo(24, 4);
    expect(zones.reduce((sum, zone) => sum + zone.areaM2, 0)).toBeCloseTo(24, 4);
    expect(layerVolumes[0].volumeM3).toBeCloseTo(24 * 0.15, 4);
    expect(made.ponding).toMatchObject({ result: 'pass', depthClass: 'shallow' });
    expect(made.bowlM3).toBeGreaterThan(1.5);
    expect(made.poresM3).toBeCloseTo(24 * 0.15 * (0.26 + 0.31 + 0.4), 3);
  });

  it('takes freeboard and notch from its properties', () => {
    const { form } = designed({ freeboard_m: 0.12, overflow_width_m: 0.6 }).finished;
    expect(form).toMatchObject({ freeboardM: 0.12, overflowWidthM: 0.6 });
  });

  it('is warned when the dig comes near the water table or the rock', () => {
    const { bottomDepthM, separations } = designed(
      { ponding_depth_m: 0.15, dig_depth_m: 0.6 },
      { soil: { group: 'C', water_table_m: 0.7 } },
      [pointOf('t', [14, 12], { kind: 'soil-test', rock_m: 1.2 })],
    );
    // bowl below the high side of the ground, and the dig
    expect(bottomDepthM).toBeGreaterThan(0.8);
    expect(bottomDepthM).toBeLessThan(0.9);
    expect(separations.map(({ result }) => result)).toEqual(['fail', 'fail']);
    expect(separations[0].why).toMatch(/into the seasonal high water: make it shallower/);
  });

  it('says where its notch is when the point for it lies off the rim', () => {
    const at = (overflow?: [number, number]) => designed({ overflow }).notes.join(' ');
    expect(at()).not.toContain('overflow point');
    expect(at([-87, 43])).toMatch(/overflow point lies \d+ m from the rim: the notch is at/);
  });

  it('says why there is none', () => {
    const plan = planOf([polygonOf('b', box(100, 100, 104, 104), { kind: 'basin' })]);
    expect(basinAsBuilt(falling(0.03), plan, 'b')).toMatchObject({
      notDug: expect.stringContaining('leaves the elevation data') as string,
    });
    expect(basinAsBuilt(falling(0.03), plan, 'pond')).toMatchObject({
      notDug: expect.stringContaining("no basin 'pond'") as string,
    });
  });

  it('leaves the elevation as it was', () => {
    const elevation = falling(0.03);
    const before = elevation.z.slice();
    const plan = planOf([polygonOf('b', box(12, 10, 18, 14), { kind: 'basin' })]);
    basinAsBuilt(elevation, plan, 'b');
    expect(elevation.z).toEqual(before);
  });
});
