import { beforeEach, describe, expect, it } from 'vitest';
import type { LngLat } from '../../../../lib/frame/frame';
import { Underlays } from '../../../../src/app/state/session/underlays.svelte';
import { frame } from '../../ground/plane-lot';

const image = { width: 200, height: 100, data: new Uint8ClampedArray(200 * 100 * 4) };
const at = (x: number, y: number): LngLat => frame.toLngLat([x, y]);

let under: Underlays;
beforeEach(() => {
  under = new Underlays();
  under.begin('plan.png', { image }, at(50, 50), 40, frame.spec);
});

/** Takes up what lies at one place and sets it down at another. */
function set(from: readonly [number, number], to: readonly [number, number]): string | null {
  return under.press(at(...from), at(...from)) ?? under.press(at(...to), at(...to));
}

const corner = (n: number): readonly [number, number] => {
  const [x, y] = frame.toLocal(under.list[0].corners[n]);
  return [Math.round(x * 1000) / 1000 + 0, Math.round(y * 1000) / 1000 + 0];
};

describe('a picture that is laid', () => {
  it('first lies across the lot, and follows its first point', () => {
    expect([corner(0), corner(2)]).toEqual([
      [30, 60],
      [70, 40],
    ]);
    expect(set([30, 60], [10, 20])).toBeNull();
    expect([corner(0), corner(2)]).toEqual([
      [10, 20],
      [50, 0],
    ]);
  });

  it('lies by two points exactly, and by three says how far they miss', () => {
    set([30, 60], [0, 100]);
    set([40, 100], [0, 20]);
    expect(corner(0)).toEqual([0, 100]);
    expect(corner(1)).toEqual([0, 20]);
    expect(under.laying?.laying?.rmsM).toBeNull();
    set(corner(3), [-39, 100]);
    const laying = under.laying?.laying;
    expect(laying?.points).toHaveLength(3);
    expect(laying?.rmsM).toBeGreaterThan(0.1);
    expect(laying?.rmsM).toBeLessThan(1);
    expect(under.shape('skewed')).toBeNull();
    expect(under.laying?.laying?.missesM.every((miss) => miss < 1e-6)).toBe(true);
  });

  it('takes up points of itself only, and gives back what was set', () => {
    expect(under.press(at(0, 0), at(0, 0))).toMatch(/point of the picture first/);
    under.press(at(50, 50), at(50, 50));
    expect(under.takenUp).not.toBeNull();
    under.back();
    expect(under.takenUp).toBeNull();
    set([30, 60], [10, 20]);
    under.back();
    expect(under.laying?.laying?.points).toHaveLength(0);
  });

  it('is told of points in one place, and stays as it lay', () => {
    set([30, 60], [30, 60]);
    const before = under.list[0].corners;
    expect(set([30, 60], [31, 61])).toMatch(/in one place/);
    expect(under.list[0].corners).toEqual(before);
  });

  it('goes when it is taken away, and can be taken up again until then', () => {
    const [{ id }] = under.list;
    under.putDown();
    expect(under.laying).toBeNull();
    under.takeUp(id);
    expect(under.laying?.id).toBe(id);
    under.change(id, { opacity: 0.3, isShown: false });
    expect(under.list[0]).toMatchObject({ opacity: 0.3, isShown: false });
    under.remove(id);
    expect(under.list).toEqual([]);
    expect(under.laying).toBeNull();
  });
});
