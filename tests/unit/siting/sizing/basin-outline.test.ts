import { describe, expect, it } from 'vitest';
import {
  areaM2,
  centroid,
  perimeterM,
  segmentCrossing,
  signedAreaM2,
} from '../../../../lib/frame/shapes';
import { outlineOf } from '../../../../lib/setback/measure/outline';
import { bowlStorage, insetAreas } from '../../../../lib/basin/form/bowl-storage';
import { volumeAt } from '../../../../lib/basin/form/stage-storage';
import { freeboardM } from '../../../../lib/ground/basin-form';
import {
  basinOutline,
  bowlVolumeM3,
  heldToSillM3,
  rimAt,
  usualOutlines,
} from '../../../../lib/siting/sizing/basin-outline';
import { levelCutM3 } from '../../../../lib/siting/sizing/level-cut';
import { cellsInside } from '../../../../lib/ground/rasterise';
import { fallingSouth } from '../sloping-lot';

const footM = 0.3048;

describe('basin outlines', () => {
  it('have the area asked for, about the place asked for, and do not cross themselves', () => {
    for (const outline of usualOutlines()) {
      const rim = rimAt(outline, [30, -12], 18);
      expect(rim.length).toBeGreaterThanOrEqual(48);
      expect(areaM2([rim])).toBeCloseTo(18, 9);
      expect(signedAreaM2(rim)).toBeGreaterThan(0);
      expect(centroid([rim])[0]).toBeCloseTo(30, 9);
      expect(centroid([rim])[1]).toBeCloseTo(-12, 9);
      for (let i = 0; i < rim.length; i++) {
        for (let j = i + 2; j < rim.length; j++) {
          if (i === 0 && j === rim.length - 1) continue;
          const crosses = segmentCrossing(rim[i], rim[i + 1], rim[j], rim[(j + 1) % rim.length]);
          expect(crosses, outline.form).toBeUndefined();
        }
      }
    }
  });

  it('lie along their turn', () => {
    const rim = rimAt(basinOutline('oval', 2, Math.PI / 2), [0, 0], 10);
    const high = Math.max(...rim.map(([, y]) => y));
    const wide = Math.max(...rim.map(([x]) => x));
    expect(high / wide).toBeCloseTo(2, 9);
  });
});

describe('what a place holds', () => {
  it('is what its rim holds as it is built, within 3 %', () => {
    for (const outline of usualOutlines().filter(({ turnRad }) => turnRad === 0)) {
      for (const wholeM2 of [8, 15, 30]) {
        for (const pondingDepthM of [0.1, 0.15, 0.2]) {
          const rim = rimAt(outline, [0, 0], wholeM2);
          const bowl = { areaM2: wholeM2, pondingDepthM, freeboardM, sideSlope: 3 };
          const storage = bowlStorage(insetAreas(rim), bowl);
          const built = volumeAt(storage, storage.overflowDepthM);
          const held = heldToSillM3(wholeM2, perimeterM(rim), pondingDepthM, 3);
          expect(
            Math.abs(held / built - 1),
            `${outline.form} ${wholeM2} ${pondingDepthM}`,
          ).toBeLessThan(0.03);
        }
      }
    }
  });
});

describe('bowlVolumeM3', () => {
  it('is the frustum of a cone for a round bowl', () => {
    const radius = 2.5;
    const floor = radius - 3 * 0.2;
    const frustum = ((Math.PI * 0.2) / 3) * (radius ** 2 + radius * floor + floor ** 2);
    expect(bowlVolumeM3(Math.PI * radius ** 2, 2 * Math.PI * radius, 0.2, 3)).toBeCloseTo(
      frustum,
      9,
    );
  });

  it('is a cone where the sides meet before the depth', () => {
    const cone = (Math.PI * 0.3 ** 2 * 0.1) / 3;
    expect(bowlVolumeM3(Math.PI * 0.3 ** 2, 2 * Math.PI * 0.3, 0.2, 3)).toBeCloseTo(cone, 9);
  });

  it('is a prism with upright sides', () => {
    expect(bowlVolumeM3(12, 14, 0.25, 0)).toBe(3);
  });

  it('is near the prismoid of the handbooks for a rectangle of 20 by 10 ft, 6 in deep, 3:1: 79.0 ft3', () => {
    const volume = bowlVolumeM3(200 * footM ** 2, 60 * footM, 0.5 * footM, 3) / footM ** 3;
    expect(Math.abs(volume - 79)).toBeLessThan(0.4);
  });
});

describe('levelCutM3', () => {
  it('is the bowl itself on level ground', () => {
    const grid = fallingSouth(-10, 10, 20, 20, 0.1, 0);
    const rim = rimAt(basinOutline('round', 1, 0), [0, 0], 20);
    const cut = levelCutM3(
      grid,
      outlineOf({ type: 'polygon', rings: [rim] }),
      cellsInside(grid, [rim]),
      0.15,
      3,
    );
    expect(cut).toBeCloseTo(bowlVolumeM3(20, perimeterM(rim), 0.15, 3), 1);
  });

  it('adds on a slope the ground above the lower rim: 12 in at the upper edge for 10 ft on 10 %', () => {
    const grid = fallingSouth(-10, 10, 20, 20, 0.1, 0.1);
    const side = 10 * footM;
    const half = side / 2;
    const rim = [
      [-half, -half],
      [half, -half],
      [half, half],
      [-half, half],
    ] as const;
    const cells = cellsInside(grid, [rim]);
    const cut = levelCutM3(grid, outlineOf({ type: 'polygon', rings: [rim] }), cells, 0, 0);
    // Half of 12 in over the square.
    expect(cut / (cells.length * 0.01)).toBeCloseTo(0.5 * footM, 2);
  });
});
