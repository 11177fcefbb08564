import { readFileSync } from 'node:fs';
import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { frameAround } from '../../../lib/frame/frame-around';
import type { LngLat } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import { planArea } from '../../../lib/plan/plan-area';
import { planDifference, type FeatureDifference } from '../../../lib/plan/plan-difference';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';

interface Feature {
  id: string;
  properties: Record<string, unknown>;
  geometry: { type: string; coordinates: unknown };
}
interface Document {
  lotfall: Record<string, unknown>;
  features: Feature[];
}

const url = new URL('../../../fixtures/demo/lot.plan.geojson', import.meta.url);
const text = readFileSync(url, 'utf8');
const demo = readPlan(text, 'demo').plan;

/** The demo plan after something was done to its document. */
function changed(change: (document: Document) => void): Plan {
  const document = JSON.parse(text) as Document;
  change(document);
  return readPlan(JSON.stringify(document), 'changed').plan;
}

function featureIn({ features }: Document, id: string): Feature {
  const found = features.find((feature) => feature.id === id);
  if (found === undefined) throw new Error(`no feature ${id}`);
  return found;
}

function differenceOf(later: Plan, earlier = demo) {
  const area = planArea(later);
  if (area === null) throw new Error('an empty plan');
  return planDifference(earlier, toLocal(later, frameAround(area)));
}

function only(later: Plan): FeatureDifference {
  const { features } = differenceOf(later);
  expect(features).toHaveLength(1);
  return features[0];
}

/** Every place of some coordinates, moved over the ellipsoid. */
function carried(coordinates: unknown, bearingDeg: number, byM: number): unknown {
  if (!Array.isArray(coordinates)) return coordinates;
  if (typeof coordinates[0] === 'number') {
    const [lng, lat] = coordinates as unknown as LngLat;
    const { lon2 = NaN, lat2 = NaN } = Geodesic.WGS84.Direct(lat, lng, bearingDeg, byM);
    return [lon2, lat2];
  }
  return coordinates.map((part) => carried(part, bearingDeg, byM));
}

describe('planDifference', () => {
  it('finds nothing between a plan and itself, nor where only the order of corners differs', () => {
    expect(differenceOf(demo)).toEqual({ features: [], settings: [] });
    const turned = changed((document) => {
      const { geometry } = featureIn(document, 'house');
      const [ring] = geometry.coordinates as LngLat[][];
      const open = ring.slice(0, -1);
      const from2nd = [...open.slice(1), open[0], open[1]];
      geometry.coordinates = [from2nd];
    });
    expect(differenceOf(turned).features).toEqual([]);
  });

  it.each([
    ['basin', 37, 3.21],
    ['well', 200, 0.05],
    ['gas', 301, 12.5],
  ])('%s moved towards %d degrees by %d m is found so, to 1 mm', (id, bearingDeg, byM) => {
    const moved = changed((document) => {
      const { geometry, properties } = featureIn(document, id);
      geometry.coordinates = carried(geometry.coordinates, bearingDeg, byM);
      // A place of its own that stays where it is.
      delete properties['overflow'];
    });
    const earlier = changed((document) => {
      delete featureIn(document, id).properties['overflow'];
    });
    const { features } = differenceOf(moved, earlier);
    expect(features).toHaveLength(1);
    const [found] = features;
    expect(found).toMatchObject({ feature: id, change: 'changed', kept_shape: true });
    expect(Math.abs((found.moved_m ?? 0) - byM)).toBeLessThan(0.001);
    const off = Math.abs((found.bearing_deg ?? 0) - bearingDeg);
    expect(Math.min(off, 360 - off)).toBeLessThan(2);
    expect(found.properties).toEqual([]);
  });

  it('tells a shape that grew from one that moved, and by how much', () => {
    const grown = only(
      changed((document) => {
        const { geometry } = featureIn(document, 'house');
        const [ring] = geometry.coordinates as LngLat[][];
        // One corner 2 m out.
        const [out] = carried([ring[1]], 45, 2) as LngLat[];
        geometry.coordinates = [ring.map((place, i) => (i === 1 ? out : place))];
      }),
    );
    expect(grown).toMatchObject({ feature: 'house', kept_shape: false, size: { unit: 'm2' } });
    expect(grown.farthest_m).toBeGreaterThan(0.5);
    expect(grown.farthest_m).toBeLessThan(2.001);
    expect(grown.size?.to).not.toBeCloseTo(grown.size?.from ?? 0, 1);
  });

  it('tells what came, what is gone or is to go, what is said otherwise, and which settings differ', () => {
    const later = changed((document) => {
      document.features = document.features.filter(({ id }) => id !== 'well');
      document.features.push({
        ...structuredClone(featureIn(document, 'garage')),
        id: 'shed',
      });
      featureIn(document, 'garage').properties['state'] = 'gone';
      featureIn(document, 'basin').properties['ponding_depth_m'] = 0.123;
      document.lotfall['name'] = 'Another name';
      document.lotfall['soil'] = {};
    });
    const { features, settings } = differenceOf(later);
    const of = (id: string) => features.find(({ feature }) => feature === id);
    expect(of('well')?.change).toBe('gone');
    expect(of('garage')?.change).toBe('gone');
    expect(of('shed')).toMatchObject({ change: 'added', kind: 'building', moved_m: null });
    expect(of('basin')).toMatchObject({ change: 'changed', moved_m: 0, farthest_m: 0 });
    expect(of('basin')?.properties).toEqual([
      { property: 'ponding_depth_m', from: expect.anything() as unknown, to: 0.123 },
    ]);
    expect(settings).toEqual(['soil']);
  });
});
