import type { Polygon } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { LngLat, XY } from '../../../lib/frame/frame';
import { ringHandles, withCornerAt, withoutCorner } from '../../../src/app/map/hands/ring-handles';

const outer = [
  [0, 0],
  [30, 0],
  [30, 40],
  [0, 40],
  [0, 0],
];
const hole = [
  [10, 10],
  [10, 12],
  [14, 12],
  [14, 10],
  [10, 10],
];
const lot: Polygon = { type: 'Polygon', coordinates: [outer, hole] };
const toScreen = ([x, y]: LngLat): XY => [10 * x, 10 * y];

describe('handles on an area with holes', () => {
  it('lie on the corners of every ring, and between them where there is room', () => {
    const handles = ringHandles(lot, toScreen);
    const at = (does: string, ring: number): XY[] =>
      handles.filter((h) => h.does === does && h.ring === ring).map((h) => [h.at[0], h.at[1]]);
    expect(at('move-corner', 0)).toHaveLength(4);
    expect(at('move-corner', 1)).toEqual([
      [100, 100],
      [100, 120],
      [140, 120],
      [140, 100],
    ]);
    expect(at('add-corner', 0)).toContainEqual([150, 0]);
    // Of the hole's sides two are 20 pixels long.
    expect(at('add-corner', 1)).toEqual([
      [120, 120],
      [120, 100],
    ]);
  });

  it('are none where the drawing tool has its own', () => {
    expect(ringHandles({ type: 'Polygon', coordinates: [outer] }, toScreen)).toEqual([]);
  });

  it('move a corner of a hole, and the ring stays closed', () => {
    const first = ringHandles(lot, toScreen).find((h) => h.ring === 1 && h.corner === 0)!;
    const moved = withCornerAt(lot, first, [9, 9]);
    expect(moved.coordinates[0]).toEqual(outer);
    expect(moved.coordinates[1]).toEqual([
      [9, 9],
      [10, 12],
      [14, 12],
      [14, 10],
      [9, 9],
    ]);
    expect(lot.coordinates[1]).toBe(hole);
  });

  it('put a corner in after the one it stands behind, at the ring’s end too', () => {
    const [last] = ringHandles(lot, toScreen)
      .filter((h) => h.ring === 0 && h.does === 'add-corner')
      .slice(-1);
    expect(withCornerAt(lot, last, [-5, 20]).coordinates[0]).toEqual([
      [0, 0],
      [30, 0],
      [30, 40],
      [0, 40],
      [-5, 20],
      [0, 0],
    ]);
  });

  it('take a corner out, but never the third last', () => {
    const handle = ringHandles(lot, toScreen).find((h) => h.ring === 1 && h.corner === 1)!;
    const triangle = withoutCorner(lot, handle);
    expect(triangle?.coordinates[1]).toEqual([
      [10, 10],
      [14, 12],
      [14, 10],
      [10, 10],
    ]);
    expect(withoutCorner(triangle!, handle)).toBeNull();
  });
});
