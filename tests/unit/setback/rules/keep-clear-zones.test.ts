import { describe, expect, it } from 'vitest';
import { areaM2, contains, nearest } from '../../../../lib/frame/shapes';
import { keepClearZones } from '../../../../lib/setback/rules/keep-clear-zones';
import { ruleSetById } from '../../../../lib/setback/sets/rule-sets';
import { box, planOf } from '../plan-of';

const defaults = ruleSetById('default');

describe('keepClearZones', () => {
  it('grows an L-shaped house by 10 ft: every corner of the zone is that far away, to a centimetre', async () => {
    const house = [box(0, 0, 10, 4)[0], [10, 0], [10, 4], [5, 4], [5, 9], [0, 9]] as const;
    const plan = planOf({
      id: 'house',
      properties: { kind: 'building', foundation: 'basement' },
      rings: [house],
    });
    const zone = (await keepClearZones(plan, defaults)).find((each) => each.rule === 'foundation');
    expect(zone?.polygons).toHaveLength(1);
    const [ring] = zone!.polygons[0];
    for (const at of ring) {
      const { distanceM } = nearest({ type: 'point', at }, plan.of.building[0].shape);
      expect(Math.abs(distanceM - 3.048)).toBeLessThan(0.001);
    }
    for (let i = 0; i < ring.length; i++) {
      const next = ring[(i + 1) % ring.length];
      const at = [(ring[i][0] + next[0]) / 2, (ring[i][1] + next[1]) / 2] as const;
      const { distanceM } = nearest({ type: 'point', at }, plan.of.building[0].shape);
      expect(distanceM).toBeGreaterThan(3.048 - 0.01);
    }
  });

  it('draws the lot line as a band inside the lot', async () => {
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0, 0, 30, 20)],
    });
    const [zone] = await keepClearZones(plan, defaults);
    expect(zone.rule).toBe('lot-line');
    const area = zone.polygons.reduce((sum, rings) => sum + areaM2(rings), 0);
    expect(area).toBeCloseTo(600 - (30 - 2 * 3.048) * (20 - 2 * 3.048), 2);
    expect(contains(zone.polygons[0], [15, 10])).toBe(false);
    expect(contains(zone.polygons[0], [1, 10])).toBe(true);
  });

  it('fills a lot too narrow for the rule with its band', async () => {
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [box(0, 0, 30, 6)],
    });
    const [zone] = await keepClearZones(plan, defaults);
    expect(zone.polygons.reduce((sum, rings) => sum + areaM2(rings), 0)).toBeCloseTo(180, 3);
  });

  it('fills a lot whose sides are nearer to its middle than the rule asks for', async () => {
    const plan = planOf({
      id: 'lot',
      properties: { kind: 'lot', own: true },
      rings: [
        [
          [4, 0],
          [0, 4],
          [-4, 0],
          [0, -4],
        ],
      ],
    });
    const [zone] = await keepClearZones(plan, defaults);
    expect(zone.polygons.reduce((sum, rings) => sum + areaM2(rings), 0)).toBeCloseTo(32, 3);
  });

  it('circles a tree by the larger of its root circle and canopy', async () => {
    const plan = planOf(
      {
        id: 'oak',
        properties: { kind: 'tree', trunk_diameter_m: 0.3048, canopy_radius_m: 2 },
        point: [0, 0],
      },
      {
        id: 'elm',
        properties: { kind: 'tree', trunk_diameter_m: 0.1, canopy_radius_m: 5 },
        point: [50, 0],
      },
    );
    const zones = await keepClearZones(plan, defaults);
    expect(zones.map((zone) => zone.requiredM)).toEqual([expect.closeTo(3.6576, 9), 5]);
    expect(areaM2(zones[1].polygons[0])).toBeCloseTo(Math.PI * 25, 0);
  });

  it('draws a line in the ground with its tolerance zone, its accuracy and half its width', async () => {
    const plan = planOf({
      id: 'gas',
      properties: { kind: 'utility', service: 'gas', accuracy_m: 0.3, diameter_m: 0.1 },
      line: [
        [0, 0],
        [20, 0],
      ],
    });
    const [zone] = await keepClearZones(plan, defaults);
    const reach = 0.4572 + 0.3 + 0.05;
    expect(areaM2(zone.polygons[0])).toBeCloseTo(2 * reach * 20 + Math.PI * reach ** 2, 1);
  });
});
