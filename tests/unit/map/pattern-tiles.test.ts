import { describe, expect, it } from 'vitest';
import { hatchTile, strokeTile, tileRatio } from '../../../src/app/map/images/pattern-tiles';
import {
  keepClearLooks,
  keepClearPattern,
  sheetPatterns,
} from '../../../src/app/map/images/sheet-patterns';
import { inkOf } from '../../../src/app/look/ink';
import type { RasterImage } from '../../../src/app/worker/sheet-image';

const pen = { colour: '#102030', opacity: 1, widthPx: 1 };

function opacityAt({ width, height, data }: RasterImage, x: number, y: number): number {
  const column = ((x % width) + width) % width;
  const row = ((y % height) + height) % height;
  return data[(row * width + column) * 4 + 3];
}

/** The largest step in opacity between neighbours inside the tile, and across its edges. */
function steps(tile: RasterImage): { inside: number; across: number } {
  let inside = 0;
  let across = 0;
  for (let i = 0; i < tile.width; i++) {
    across = Math.max(across, Math.abs(opacityAt(tile, 0, i) - opacityAt(tile, -1, i)));
    across = Math.max(across, Math.abs(opacityAt(tile, i, 0) - opacityAt(tile, i, -1)));
    for (let j = 1; j < tile.width; j++) {
      inside = Math.max(inside, Math.abs(opacityAt(tile, j, i) - opacityAt(tile, j - 1, i)));
      inside = Math.max(inside, Math.abs(opacityAt(tile, i, j) - opacityAt(tile, i, j - 1)));
    }
  }
  return { inside, across };
}

describe('hatchTile', () => {
  it.each([
    [1, 1],
    [2, -1],
    [3, 1],
    [1, -3],
    [1, 0],
    [0, 1],
  ])('meets itself at the edges for a slope of %i across, %i up', (run, rise) => {
    const { inside, across } = steps(hatchTile(run, rise, 8, pen));
    expect(inside).toBeGreaterThan(60);
    expect(across).toBeLessThanOrEqual(inside + 1);
  });

  it('covers the share of the paper that width over spacing says', () => {
    const tile = hatchTile(2, 1, 8, pen);
    let sum = 0;
    for (let i = 3; i < tile.data.length; i += 4) sum += tile.data[i];
    expect(sum / 255 / (tile.width * tile.height)).toBeCloseTo(1 / 8, 1);
  });

  it('leans the way it is asked to', () => {
    const rising = hatchTile(1, 1, 8, pen);
    const size = rising.width;
    // Up and to the right is up in rows from the north: one column on, one row back.
    for (let i = 0; i < size; i++) {
      expect(opacityAt(rising, i, 0)).toBe(opacityAt(rising, i + 1, -1));
    }
  });
});

describe('strokeTile', () => {
  it('brings a stroke that leaves on one side back on the other', () => {
    const tile = strokeTile(10, [[9.5, 5, 11.5, 5]], pen);
    expect(opacityAt(tile, 0, 5 * tileRatio)).toBeGreaterThan(200);
    expect(opacityAt(tile, 5 * tileRatio, 5 * tileRatio)).toBe(0);
    const down = strokeTile(10, [[5, 8.5, 5, 12]], pen);
    expect(opacityAt(down, 5 * tileRatio, tileRatio)).toBeGreaterThan(200);
    expect(opacityAt(down, 5 * tileRatio, 5 * tileRatio)).toBe(0);
  });
});

describe('sheetPatterns', () => {
  it('has one look for each keep-clear rule until they come round again', () => {
    const names = sheetPatterns(inkOf('paper'));
    const seen = new Set<string>();
    for (let order = 0; order < keepClearLooks; order++) {
      const tile = names.get(keepClearPattern(order));
      seen.add(tile === undefined ? 'missing' : tile.data.join());
    }
    expect(seen.has('missing')).toBe(false);
    expect(seen.size).toBe(keepClearLooks);
    expect(keepClearPattern(keepClearLooks)).toBe(keepClearPattern(0));
  });
});
