import { describe, expect, it } from 'vitest';
import { distanceM } from '../../../../lib/frame/shapes';
import { hatchDots, hatchLines } from '../../../../lib/sheet/drawing/hatch';
import { rectRun, type Run } from '../../../../lib/sheet/drawing/mark';

const square = rectRun({ x: 0.5, y: 0.5, width: 10, height: 10 });
const length = (lines: readonly Run[]): number =>
  lines.reduce((sum, [from, to]) => sum + distanceM(from, to), 0);

describe('hatchLines', () => {
  it('fills an area with lines as long as it is large over the pitch', () => {
    for (const angleDeg of [0, 30, 45, 90, -70]) {
      expect(length(hatchLines([[square]], { angleDeg, pitchMm: 0.1 }))).toBeCloseTo(1000, -1);
    }
  });

  it('leaves holes free, and what lies outside a second area', () => {
    const hole = rectRun({ x: 3, y: 3, width: 4, height: 4 });
    const half = rectRun({ x: 0, y: 0, width: 5.5, height: 20 });
    const hatch = { angleDeg: 45, pitchMm: 0.1 };
    expect(length(hatchLines([[square, hole]], hatch))).toBeCloseTo(840, -1);
    expect(length(hatchLines([[square], [half]], hatch))).toBeCloseTo(500, -1);
  });

  it('draws the ends alone of lines that are longer than a band', () => {
    const lines = hatchLines([[square]], { angleDeg: 0, pitchMm: 1, bandMm: 2 });
    expect(lines).toHaveLength(20);
    for (const [from, to] of lines) expect(distanceM(from, to)).toBeCloseTo(2, 6);
  });

  it('lets hatches of one kind coincide where areas overlap', () => {
    const hatch = { angleDeg: 0, pitchMm: 1.3 };
    const [low] = hatchLines([[square]], hatch);
    const shifted = rectRun({ x: 2, y: 0.7, width: 10, height: 10 });
    expect(hatchLines([[shifted]], hatch).map(([[, y]]) => y)).toContain(low[0][1]);
  });

  it('puts dots inside alone', () => {
    const dots = hatchDots([rectRun({ x: 0.3, y: 0.5, width: 10, height: 10 })], 1);
    expect(dots).toHaveLength(100);
  });
});
