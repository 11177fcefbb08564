import { describe, expect, it } from 'vitest';
import { lowSpots } from '../../../lib/drainage/answer/low-spots';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';

/** A trough one cell wide: two deep low spots with a shallow dent in one, and a small one apart. */
const heights = [9, 4, 7, 3, 3.05, 3, 8, 9, 6, 6.5];
const wall = heights.map(() => 9);
const terrain = buildTerrain(Float32Array.from([...wall, ...heights, ...wall]), heights.length, 3);
const cellAreaM2 = 0.25;

describe('low spots', () => {
  it('are the outermost ones, largest first, measured at the brim', () => {
    const [large, small, ...others] = lowSpots(terrain, { cellAreaM2 });
    expect(others).toEqual([]);
    expect(large.areaM2).toBe(6 * cellAreaM2);
    expect(large.depthM).toBe(6);
    expect(large.volumeM3).toBeCloseTo((5 + 2 + 6 + 5.95 + 6 + 1) * cellAreaM2, 6);
    expect(large.spillLevel).toBe(9);
    expect([...large.cells].toSorted((a, b) => a - b)).toEqual([11, 12, 13, 14, 15, 16]);
    expect([13, 15]).toContain(large.pitCell);
    expect([small.areaM2, small.depthM, small.pitCell, small.spillCell]).toEqual([
      cellAreaM2,
      0.5,
      18,
      19,
    ]);
  });

  it('leave out what is too shallow or too small', () => {
    expect(lowSpots(terrain, { cellAreaM2, minDepthM: 1 })).toHaveLength(1);
    expect(lowSpots(terrain, { cellAreaM2, minAreaM2: 0.3 })).toHaveLength(1);
    expect(lowSpots(terrain, { cellAreaM2, minDepthM: 7 })).toEqual([]);
  });

  it('have those inside as children when both matter', () => {
    const all = lowSpots(terrain, { cellAreaM2, minDepthM: 0.2, nested: true });
    const [large] = all;
    expect(large.children).toHaveLength(2);
    const inside = all.filter((spot) => large.children.includes(spot.id));
    expect(inside.map((spot) => [spot.spillLevel, spot.depthM])).toEqual([
      [7, 4],
      [7, 3],
    ]);
    // the dent of 5 cm is not worth telling apart
    expect(inside.map((spot) => spot.children)).toEqual([[], []]);
  });

  it('name the dent as well when nothing is too shallow', () => {
    const all = lowSpots(terrain, { cellAreaM2, nested: true });
    expect(all).toHaveLength(6);
    const parent = all.find((spot) => spot.spillLevel === 7 && spot.depthM === 4);
    expect(parent?.children).toHaveLength(2);
  });

  it('are the same one with less in it when what they merge with does not matter', () => {
    const lopsided = [9, 3, 6, 5.9, 9];
    const rim = lopsided.map(() => 9);
    const z = Float32Array.from([...rim, ...lopsided, ...rim]);
    const all = lowSpots(buildTerrain(z, 5, 3), { cellAreaM2, minDepthM: 0.2, nested: true });
    expect(all.map((spot) => [spot.depthM, spot.children])).toEqual([[6, []]]);
  });
});
