import { describe, expect, it } from 'vitest';
import { plantingZones, type PlantingZone } from '../../../../lib/basin/form/planting-zones';
import { areaAt, stageStorage } from '../../../../lib/basin/form/stage-storage';
import { centroid, contains } from '../../../../lib/frame/shapes';
import { basinOutline, rimAt } from '../../../../lib/siting/sizing/basin-outline';
import { built, falling, oval, turnedBox } from '../made-basin';

const sum = (zones: readonly PlantingZone[]): number =>
  zones.reduce((total, { areaM2 }) => total + areaM2, 0);

describe('planting zones', () => {
  it('fill the outline, with the areas that the table of storage has', () => {
    for (const rim of [
      oval([15, 12], 4, 2.5),
      turnedBox([15, 12], 6, 4, 0.4),
      rimAt(basinOutline('kidney', 2, 1), [15, 12], 25),
    ]) {
      const made = built({ rim, pondingDepthM: 0.2, freeboardM: 0.08 }, falling(0.03));
      const zones = plantingZones(made);
      const table = stageStorage(made);
      expect(zones.map(({ zone }) => zone)).toEqual(['edge', 'middle', 'deep']);
      expect(sum(zones)).toBeCloseTo(made.rimAreaM2, 9);
      const [edge, middle, deep] = zones;
      expect(edge.areaM2 / (made.rimAreaM2 - areaAt(table, 0.2))).toBeCloseTo(1, 1);
      expect(middle.areaM2 + deep.areaM2).toBeCloseTo(areaAt(table, 0.2), 1);
      expect(deep.areaM2).toBeCloseTo(areaAt(table, 0.1), 1);
    }
  });

  it('lie one in another: a place belongs to one of them', () => {
    const zones = plantingZones(built({ rim: oval([15, 12], 4, 2.5) }));
    for (let x = 11.03; x < 19; x += 0.37) {
      for (let y = 9.51; y < 14.5; y += 0.31) {
        const inRim = contains([oval([15, 12], 4, 2.5)], [x, y]);
        const holding = zones.filter(({ polygons }) =>
          polygons.some((rings) => contains(rings, [x, y])),
        );
        expect(holding).toHaveLength(inRim ? 1 : 0);
      }
    }
  });

  it('lie about the middle of an even outline', () => {
    const zones = plantingZones(built({ rim: oval([15, 12], 4, 2.5) }));
    for (const { polygons } of zones) {
      const [x, y] = centroid(polygons[0]);
      expect(x).toBeCloseTo(15, 2);
      expect(y).toBeCloseTo(12, 2);
    }
  });

  it('can be two deep ones, where a kidney is narrow in its middle', () => {
    const waist = [
      [10, 10],
      [13, 10],
      [13, 11.6],
      [15, 11.6],
      [15, 10],
      [18, 10],
      [18, 13],
      [15, 13],
      [15, 12.4],
      [13, 12.4],
      [13, 13],
      [10, 13],
    ] as const;
    const zones = plantingZones(built({ rim: waist, pondingDepthM: 0.3 }));
    expect(zones[zones.length - 1].polygons).toHaveLength(2);
    expect(sum(zones)).toBeCloseTo(built({ rim: waist }).rimAreaM2, 9);
  });

  it('have no edge without freeboard, and no deep zone without ponding', () => {
    expect(plantingZones(built({ freeboardM: 0 })).map(({ zone }) => zone)).toEqual([
      'middle',
      'deep',
    ]);
    const dry = plantingZones(built({ pondingDepthM: 0, freeboardM: 0.1 }));
    expect(dry.map(({ zone }) => zone)).toEqual(['edge', 'middle']);
    expect(sum(dry)).toBeCloseTo(24, 9);
  });
});
