import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import { kinds, type Kind, type Plan, type PlanFeature } from '../../../lib/plan/schema';
import { drawnAs } from '../../../src/app/map/layers/drawn-as';
import { pick } from '../../../src/app/map/layers/pick';
import { planDrawing, withDraft } from '../../../src/app/map/layers/plan-drawing';
import { draggedTo, satellitesOf } from '../../../src/app/map/hands/satellites';
import { contourFeatures, keepClearFeatures } from '../../../src/app/map/layers/sheet-sources';
import { inkOf } from '../../../src/app/look/ink';
import { sheetLayers, vectorSources, imageSources } from '../../../src/app/map/layers/sheet-style';
import { homeBounds } from '../../../src/app/map/overlay/home-bounds';

const frame = makeFrame(localFrame([-81, 42.28]));
const at = (x: number, y: number): LngLat => frame.toLngLat([x, y]);
const ring = (...points: XY[]): LngLat[] => [...points, points[0]].map(([x, y]) => at(x, y));

function lot(own: boolean): PlanFeature {
  return {
    type: 'Feature',
    id: own ? 'own' : 'next',
    geometry: { type: 'Polygon', coordinates: [ring([0, 0], [30, 0], [30, 40], [0, 40])] },
    properties: { kind: 'lot', own },
  };
}

function basin(): PlanFeature {
  return {
    type: 'Feature',
    id: 'garden',
    geometry: { type: 'Polygon', coordinates: [ring([5, 5], [12, 5], [12, 10], [5, 10])] },
    properties: { kind: 'basin', ponding_depth_m: 0.2, side_slope: 3, overflow: at(12, 7) },
  };
}

function downspout(outlet?: LngLat | 'storm-sewer'): PlanFeature {
  return {
    type: 'Feature',
    id: 'd1',
    geometry: { type: 'Point', coordinates: at(20, 20) },
    properties: { kind: 'downspout', roof: 'r', ...(outlet === undefined ? {} : { outlet }) },
  };
}

function planOf(...features: PlanFeature[]): Plan {
  return Object.freeze<Plan>({
    type: 'FeatureCollection',
    features: Object.freeze(features),
    lotfall: { version: 1 },
  });
}

function roles(plan: Plan): string[] {
  return planDrawing(plan, null, frame, 'metric').features.map(({ properties }) => properties.role);
}

describe('planDrawing', () => {
  it('draws every kind at least once', () => {
    for (const kind of Object.keys(kinds) as Kind[]) {
      const square = ring([0, 0], [4, 0], [4, 4], [0, 4]);
      const geometry = {
        polygon: { type: 'Polygon', coordinates: [square] },
        line: { type: 'LineString', coordinates: square.slice(0, 3) },
        point: { type: 'Point', coordinates: square[0] },
      }[drawnAs[kind]];
      const feature = {
        type: 'Feature',
        id: 'x',
        geometry,
        properties: { kind, own: true, cover: 'lawn', service: 'gas', elevation_m: 100 },
      } as unknown as PlanFeature;
      expect(roles(planOf(feature)), kind).toContain(kind);
    }
  });

  it('draws the same kinds as the schema lets be drawn', () => {
    expect(Object.keys(drawnAs).sort()).toEqual(Object.keys(kinds).sort());
  });

  it('gives a basin its depth lines and its overflow', () => {
    expect(roles(planOf(basin()))).toEqual(['basin', 'basin-step', 'basin-step', 'overflow']);
  });

  it('takes a hole off an area, and marks its corners on the lot line', () => {
    const hole = ring([10, 10], [10, 20], [20, 20], [20, 10]);
    const own = lot(true);
    const holed = {
      ...own,
      geometry: { type: 'Polygon', coordinates: [own.geometry.coordinates[0], hole] },
    } as PlanFeature;
    const [area, marks] = planDrawing(planOf(holed), null, frame, 'metric').features;
    expect(area.properties.areaM2).toBeCloseTo(1200 - 100, 3);
    expect(marks.geometry).toMatchObject({ type: 'MultiPoint' });
    expect('coordinates' in marks.geometry && marks.geometry.coordinates).toHaveLength(8);
  });

  it('gives a downspout a leader only where its water reaches the ground', () => {
    expect(roles(planOf(downspout(at(22, 12))))).toEqual(['leader', 'outlet', 'downspout']);
    expect(roles(planOf(downspout('storm-sewer')))).toEqual(['downspout']);
    expect(roles(planOf(downspout()))).toEqual(['downspout']);
    const piped = downspout(at(22, 12));
    const withPipe = { ...piped, properties: { ...piped.properties, pipe: 'p1' } } as PlanFeature;
    expect(roles(planOf(withPipe))).toEqual(['downspout']);
    expect(satellitesOf(withPipe, ([lng, lat]) => [lng, lat])).toEqual([]);
  });

  it('marks a utility without a locate by more than its colour', () => {
    const gas = (located: boolean): PlanFeature => ({
      type: 'Feature',
      id: 'g',
      geometry: { type: 'LineString', coordinates: [at(0, 0), at(9, 9)] },
      properties: {
        kind: 'utility',
        service: 'gas',
        ...(located ? { located: { by: 'public', on: '2026-04-01', until: '2026-04-15' } } : {}),
      },
    });
    const letter = (plan: Plan): unknown =>
      planDrawing(plan, null, frame, 'metric').features[0].properties.letter;
    expect(letter(planOf(gas(true)))).toBe('G');
    expect(letter(planOf(gas(false)))).toBe('G ?');
  });

  it('draws a draft in place of what it changes and leaves the plan as it was', () => {
    const plan = planOf(lot(true), downspout(at(22, 12)));
    const before = JSON.stringify(plan);
    const outlet = [...at(25, 9)];
    const drawn = planDrawing(
      plan,
      { id: 'd1', part: 'outlet', geometry: { type: 'Point', coordinates: outlet } },
      frame,
      'metric',
    );
    const leader = drawn.features.find(({ properties }) => properties.role === 'leader');
    expect(leader?.geometry).toMatchObject({ coordinates: [[...at(20, 20)], outlet] });
    expect(JSON.stringify(plan)).toBe(before);
  });

  it('leaves a feature alone that the draft is not about', () => {
    const feature = basin();
    const other = {
      id: 'd1',
      part: 'geometry',
      geometry: { type: 'Point', coordinates: [0, 0] },
    } as const;
    expect(withDraft(feature, { ...other, geometry: { type: 'Point', coordinates: [0, 0] } })).toBe(
      feature,
    );
  });
});

describe('pick', () => {
  const area = (source: string, id: string, areaM2?: number) => ({
    source,
    id,
    geometryType: 'Polygon',
    ...(areaM2 === undefined ? {} : { areaM2 }),
  });

  it('takes a point before a line before an area', () => {
    const line = { source: 'plan', geometryType: 'Line', id: 'gas' };
    const point = { source: 'plan', geometryType: 'Point', id: 'd1' };
    expect(pick([area('plan', 'house', 100), line, point])).toEqual({ kind: 'feature', id: 'd1' });
    expect(pick([area('plan', 'house', 100), line])).toEqual({ kind: 'feature', id: 'gas' });
  });

  it('takes the smaller of two areas, and the plan before what was worked out', () => {
    expect(pick([area('plan', 'lot', 1200), area('plan', 'deck', 20)])?.id).toBe('deck');
    expect(pick([area('keep-clear', 'well'), area('plan', 'lot', 9e5)])?.id).toBe('lot');
    expect(pick([area('keep-clear', 'well'), area('low-spots', 'l1')])).toEqual({
      kind: 'low-spot',
      id: 'l1',
    });
  });

  it('is null for bare ground', () => {
    expect(pick([])).toBeNull();
  });
});

describe('satellitesOf', () => {
  const toScreen = ([lng, lat]: LngLat): XY => {
    const [x, y] = frame.toLocal([lng, lat]);
    return [x * 10, -y * 10];
  };

  it('stands on the outlet, or waits beside the downspout that has none', () => {
    const [there] = satellitesOf(downspout(at(22, 12)), toScreen);
    expect(there.waiting).toBe(false);
    expect(there.at[0]).toBeCloseTo(220, 3);
    const [waiting] = satellitesOf(downspout(), toScreen);
    expect(waiting.waiting).toBe(true);
    expect(Math.hypot(waiting.at[0] - 200, waiting.at[1] + 200)).toBeGreaterThan(20);
  });

  it('stands on the ends of a ridge, or waits along the middle of a roof that has none', () => {
    const roof = {
      type: 'Feature',
      id: 'roof',
      geometry: { type: 'Polygon', coordinates: [ring([10, 5], [22, 5], [22, 11], [10, 11])] },
      properties: { kind: 'roof' },
    } as unknown as PlanFeature;
    const waiting = satellitesOf(roof, toScreen);
    expect(waiting.map(({ part, index, waiting }) => [part, index, waiting])).toEqual([
      ['ridge', 0, true],
      ['ridge', 1, true],
    ]);
    // Along the longer side, half way across it.
    for (const { at: place } of waiting) expect(place[1]).toBeCloseTo(-80, 1);
    expect(Math.abs(waiting[1].at[0] - waiting[0].at[0])).toBeGreaterThan(60);

    const dragged = draggedTo(roof, waiting[1], at(21, 9));
    expect(dragged?.type).toBe('LineString');
    const drawn = { ...roof, properties: { kind: 'roof', ridge: dragged?.coordinates } };
    const there = satellitesOf(drawn as unknown as PlanFeature, toScreen);
    expect(there.map(({ waiting }) => waiting)).toEqual([false, false]);
    expect(there[0].at[0]).toBeCloseTo(waiting[0].at[0], 6);
    expect(there[1].at[0]).toBeCloseTo(210, 3);
  });

  it('has none for water that goes to the sewer, and none for other kinds', () => {
    expect(satellitesOf(downspout('storm-sewer'), toScreen)).toEqual([]);
    expect(satellitesOf(lot(true), toScreen)).toEqual([]);
    expect(satellitesOf(null, toScreen)).toEqual([]);
  });
});

describe('homeBounds', () => {
  it('is the planned lot, not its neighbour', () => {
    const far = {
      ...lot(false),
      geometry: { type: 'Polygon', coordinates: [ring([900, 0], [930, 0], [930, 9])] },
    } as PlanFeature;
    expect(homeBounds(planOf(far, lot(true)), null)).toEqual([
      at(0, 0)[0],
      at(30, 0)[1],
      at(30, 40)[0],
      at(0, 40)[1],
    ]);
  });

  it('falls back on features, then on data, then on nothing', () => {
    const data = [at(0, 9), at(9, 9), at(9, 0), at(0, 0)] as const;
    expect(homeBounds(planOf(downspout()), data)?.[0]).toBeCloseTo(at(20, 20)[0], 9);
    expect(homeBounds(planOf(), data)?.[2]).toBeCloseTo(at(9, 0)[0], 9);
    expect(homeBounds(planOf(), null)).toBeNull();
  });
});

describe('sheet sources', () => {
  it('gives zones of one rule one look and different rules different looks', () => {
    const zone = (rule: string) =>
      ({
        type: 'Feature',
        geometry: { type: 'Polygon', coordinates: [[]] },
        properties: { rule, letter: rule },
      }) as const;
    const features = keepClearFeatures(
      {
        type: 'FeatureCollection',
        features: ['a', 'b', 'a']
          .map(zone)
          .map((z) => ({ ...z, geometry: { type: 'Polygon' as const, coordinates: [[]] } })),
      },
      inkOf('paper'),
    ).features.map(({ properties }) => properties?.['pattern'] as string);
    expect(features[0]).toBe(features[2]);
    expect(features[0]).not.toBe(features[1]);
  });

  it('writes contour heights with the decimals of their interval', () => {
    const contour = (elevationM: number) => ({ elevationM, index: true, lines: [] });
    const labels = (heights: number[], units: 'us' | 'metric') =>
      contourFeatures(heights.map(contour), units).features.map(
        (f) => f.properties?.['label'] as string,
      );
    expect(labels([100, 100.5, 101], 'metric')).toEqual(['100.0', '100.5', '101.0']);
    expect(labels([100, 101], 'metric')).toEqual(['100', '101']);
    expect(labels([30.48, 33.528], 'us')).toEqual(['100', '110']);
    // Half metres are no round number of feet: whole feet would be off by a quarter of the interval.
    expect(labels([100, 100.5], 'us')).toEqual(['328.1', '329.7']);
  });
});

describe('sheetLayers', () => {
  it('draws only from sources that exist, in both inks, with the same layers', () => {
    const sources = new Set<string>([...vectorSources, ...imageSources]);
    const [paper, dark] = (['paper', 'dark'] as const).map((theme) => sheetLayers(inkOf(theme)));
    for (const layer of paper) {
      if ('source' in layer && typeof layer.source === 'string')
        expect(sources).toContain(layer.source);
    }
    expect(new Set(paper.map(({ id }) => id)).size).toBe(paper.length);
    expect(dark.map(({ id }) => id)).toEqual(paper.map(({ id }) => id));
  });
});
