import { describe, expect, it } from 'vitest';
import cases from '../../fixtures/reference/laid-picture.json';
import type { XY } from '../../lib/frame/frame';
import { layPicture, pixelAt, placeOf, type PictureForm } from '../../lib/frame/lay-picture';

describe('a picture laid by control points', () => {
  it.each(cases)('lies as independent least squares have it: $form, $pixels.length', (given) => {
    const points = given.pixels.map((pixel, i) => ({
      pixel: pixel as unknown as XY,
      at: given.places[i] as unknown as XY,
    }));
    const { laid, missesM } = layPicture(points, given.form as PictureForm);
    const corners: XY[] = [
      [0, 0],
      [2000, 0],
      [2000, 1500],
      [0, 1500],
    ];
    for (const corner of corners) {
      const [x, y] = placeOf(laid, corner);
      const [rx, ry] = placeOf(given.laid, corner);
      expect(Math.hypot(x - rx, y - ry)).toBeLessThan(1e-6);
      const [column, row] = pixelAt(laid, [x, y]);
      expect(column).toBeCloseTo(corner[0], 6);
      expect(row).toBeCloseTo(corner[1], 6);
    }
    missesM.forEach((miss, i) => {
      expect(miss).toBeCloseTo(given.missesM[i], 6);
    });
  });
});
