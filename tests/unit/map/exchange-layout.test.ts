import { describe, expect, it } from 'vitest';
import { exchangeLayout } from '../../../src/app/map/overlay/exchange-layout';
import type { ScreenXY } from '../../../src/app/map/layers/screen-xy';

describe('arrows between lots', () => {
  it('keep apart from the one that runs against them, and so do their volumes', () => {
    const ends: [ScreenXY, ScreenXY][] = [
      [
        [100, 100],
        [180, 100],
      ],
      [
        [100, 100],
        [100, 180],
      ],
      [
        [100, 100],
        [160, 150],
      ],
      [
        [100, 100],
        [104, 100],
      ],
    ];
    for (const [from, to] of ends) {
      const there = exchangeLayout(from, to, true);
      const back = exchangeLayout(to, from, true);
      const middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
      // Mirror images about the middle of the line, far enough apart for a line of text each.
      expect(there.text[0] + back.text[0]).toBeCloseTo(2 * middle[0], 6);
      expect(there.text[1] + back.text[1]).toBeCloseTo(2 * middle[1], 6);
      const apart = Math.hypot(there.text[0] - back.text[0], there.text[1] - back.text[1]);
      expect(apart).toBeGreaterThan(40);
    }
  });

  it('write the volume of an upright arrow beside it and not on it', () => {
    for (const to of [
      [100, 20],
      [100, 180],
    ] as const) {
      const { text, anchor } = exchangeLayout([100, 100], to, false);
      expect(text[0]).toBeGreaterThan(108);
      expect(anchor).toBe('start');
    }
  });

  it('write the volume of an arrow alone above it, whichever way it runs', () => {
    for (const [from, to] of [
      [
        [100, 100],
        [180, 110],
      ],
      [
        [180, 110],
        [100, 100],
      ],
    ] as const) {
      const { text, anchor } = exchangeLayout(from, to, false);
      expect(text[1]).toBeLessThan(100);
      expect(anchor).toBe('middle');
    }
  });
});
