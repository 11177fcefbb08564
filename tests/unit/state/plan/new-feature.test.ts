import { describe, expect, it } from 'vitest';
import type { LngLat } from '../../../../lib/frame/frame';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import type { PlanGeometry } from '../../../../src/app/state/plan/plan-geometry';
import { newFeature } from '../../../../src/app/state/plan/new-feature';

const plan: Plan = { type: 'FeatureCollection', features: [], lotfall: { version: 1 } };
const outline = (...corners: [number, number][]) =>
  newFeature(plan, 'basin', {
    type: 'Polygon',
    coordinates: [[...corners, corners[0]].map(([x, y]) => [x * 1e-5, y * 1e-5])],
  });

describe('newFeature', () => {
  it('takes an outline', () => {
    expect(outline([0, 0], [5, 0], [5, 5])).toMatchObject({ id: 'basin-1' });
  });

  it('refuses an outline that no plan could be opened with again, in a sentence', () => {
    expect(outline([0, 0], [5, 5], [5, 0], [0, 5])).toMatch(/crosses or touches itself/);
    expect(outline([0, 0], [5, 0], [10, 0])).toMatch(/encloses nothing/);
  });
});

describe('what a new feature refers to', () => {
  const ring = (west: number, south: number, size: number): LngLat[] =>
    [
      [west, south],
      [west + size, south],
      [west + size, south + size],
      [west, south + size],
      [west, south],
    ].map(([x, y]): LngLat => [x * 1e-5, y * 1e-5]);
  const area = (id: string, kind: 'building' | 'roof', outline: LngLat[]) =>
    ({
      type: 'Feature',
      id,
      geometry: { type: 'Polygon', coordinates: [outline] },
      properties: { kind },
    }) as PlanFeature;
  const street: Plan = {
    ...plan,
    features: [
      area('shed', 'building', ring(30, 0, 3)),
      area('house', 'building', ring(0, 0, 10)),
      area('far', 'roof', ring(29, -1, 5)),
      area('near', 'roof', ring(-1, -1, 12)),
    ],
  };

  it('is a name of its own for each neighbour, none for the lot being planned', () => {
    const outline = {
      type: 'Polygon',
      coordinates: [ring(0, 0, 10).map(([x, y]) => [x, y])],
    } satisfies PlanGeometry;
    let lots = plan;
    const names = [0, 1, 2].map(() => {
      const lot = newFeature(lots, 'lot', outline);
      if (typeof lot === 'string') throw new Error(lot);
      lots = { ...lots, features: [...lots.features, lot] };
      return lot.properties.name;
    });
    expect(names).toEqual([undefined, 'Neighbour 1', 'Neighbour 2']);
  });

  it('is the building under a roof, or none', () => {
    const roof = (outline: LngLat[]) =>
      newFeature(street, 'roof', {
        type: 'Polygon',
        coordinates: [outline.map(([x, y]) => [x, y])],
      });
    expect(roof(ring(-1, -1, 12))).toMatchObject({ properties: { building: 'house' } });
    // A porch over a part of the house that lies far from its middle.
    expect(roof(ring(7, 7, 2))).toMatchObject({ properties: { building: 'house' } });
    expect(roof(ring(60, 60, 5))).toMatchObject({ properties: { kind: 'roof' } });
    expect(roof(ring(60, 60, 5))).not.toHaveProperty('properties.building');
  });

  it('is the roof nearest to a downspout', () => {
    const downspout = (x: number, y: number) =>
      newFeature(street, 'downspout', { type: 'Point', coordinates: [x * 1e-5, y * 1e-5] });
    expect(downspout(12, 5)).toMatchObject({ properties: { roof: 'near' } });
    expect(downspout(28, 2)).toMatchObject({ properties: { roof: 'far' } });
    expect(newFeature(plan, 'downspout', { type: 'Point', coordinates: [0, 0] })).toMatch(
      /Draw the roof first/,
    );
  });

  it('is the ground for a spot height, which moves nothing until a height is typed', () => {
    const at: PlanGeometry = { type: 'Point', coordinates: [0, 0] };
    const spot = newFeature(plan, 'spot-height', at, () => 20.846);
    expect(spot).toMatchObject({ properties: { elevation_m: 20.85 } });
    // Without any ground it waits for what was read: levels make ground of their own.
    const alone = newFeature(plan, 'spot-height', at);
    expect(typeof alone === 'string' ? alone : alone.properties).toEqual({ kind: 'spot-height' });
  });
});
