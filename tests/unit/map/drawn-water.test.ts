import type { MultiPolygon } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { lowSpotFeatures } from '../../../src/app/sheet/drawn-water';

/** A low spot of two parts that meet at a corner. */
const outline: MultiPolygon = {
  type: 'MultiPolygon',
  coordinates: [0, 1].map((at) => [
    [
      [at, at],
      [at + 1, at],
      [at + 1, at + 1],
      [at, at],
    ],
  ]),
};

function result(volumeM3: number): DrainageResult {
  return {
    low_spots: [{ id: 'low', number: 3, outline, deepest: [0.5, 0.25] }],
    standing: [{ id: 'low', volume_m3: volumeM3 }],
  } as unknown as DrainageResult;
}

describe('low spots on the sheet', () => {
  it('say their number and what they hold once, at the deepest place, however many parts they have', () => {
    const { features } = lowSpotFeatures(result(1.2), 'metric');
    const labelled = features.filter(({ properties }) => properties.label !== '');
    expect(labelled).toHaveLength(1);
    expect(labelled[0].properties).toEqual({ id: 'low', label: '3: 1.2 m³' });
    expect(labelled[0].geometry).toEqual({ type: 'Point', coordinates: [0.5, 0.25] });
    expect(features).toHaveLength(2);
  });

  it('say nothing while they are dry', () => {
    const { features } = lowSpotFeatures(result(0), 'metric');
    expect(features.map(({ geometry }) => geometry.type)).toEqual(['MultiPolygon']);
  });
});

it('holds back what may be no more than the error of the heights, until all are to be shown', () => {
  const row = { number: 3, outline, deepest: [0.5, 0.25], area_m2: 40 };
  const mixed = {
    grid: { cell_m: 0.5 },
    low_spots: [
      { ...row, id: 'sure', doubtful: false },
      { ...row, id: 'shallow', doubtful: true },
    ],
    standing: ['sure', 'shallow'].map((id) => ({ id, volume_m3: 2 })),
  } as unknown as DrainageResult;
  const held = lowSpotFeatures(mixed, 'metric', false).features;
  expect(held.filter(({ properties }) => properties.faint).map((f) => f.properties.id)).toEqual([
    'shallow',
  ]);
  expect(held.filter(({ geometry }) => geometry.type === 'Point')).toHaveLength(1);
  const all = lowSpotFeatures(mixed, 'metric', true).features;
  expect(all.some(({ properties }) => properties.faint)).toBe(false);
  expect(all.filter(({ geometry }) => geometry.type === 'Point')).toHaveLength(2);
});
