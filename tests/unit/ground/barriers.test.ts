import { describe, expect, it } from 'vitest';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { cellAt } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import { groundOf, lineOf, planOf, polygonOf, box } from './plane-lot';

/** A channel between steep banks that falls 1 % to the east, all paving, so that nearly all rain runs off. */
const channel = () =>
  groundOf(40, 12, 0.5, (x, y) => 6 - 0.01 * x + (Math.abs(y - 6) > 4 ? 3 + Math.abs(y - 6) : 0));
const paving = polygonOf('paving', box(-1, -1, 41, 13), { kind: 'surface', cover: 'paving' });
/** Slanting, so that its cells are joined by edges only where the raster makes it so. */
const across: XY[] = [
  [24.3, -0.5],
  [27.1, 12.5],
];

describe.each(['wall', 'kerb'] as const)('a %s across a channel', (kind) => {
  const storm = (rainMm: number, heightM: number) => {
    const plan = planOf([paving, lineOf('barrier', across, { kind, height_m: heightM })]);
    const shape = shapeGround(channel(), plan);
    return { shape, storm: stormOnGround(shape, plan, rainMm) };
  };
  const above = cellAt(channel(), 23.2, 6);
  const below = cellAt(channel(), 30.2, 6);

  it('holds water up to its height and no drop slips through', () => {
    const { storm: after, shape } = storm(10, 0.3);
    expect(after.depthM[above]).toBeGreaterThan(0.02);
    expect(after.depthM[below]).toBe(0);
    // Nothing spills: all that fell above the barrier stands above it.
    expect(Math.max(...after.stormPools.spilled)).toBe(0);
    expect(shape.terrain.catchment[above]).toBeGreaterThan(0);
  });

  it('is overtopped by more, and then stands just full', () => {
    const { storm: after, shape } = storm(400, 0.1);
    const full = storm(800, 0.1).storm;
    expect(Math.max(...after.stormPools.spilled) * shape.cellM2).toBeGreaterThan(1);
    expect(full.depthM[above]).toBeCloseTo(after.depthM[above], 6);
    const level = shape.terrain.z[above] + after.depthM[above];
    // The lowest place of its top within the channel is where it overflows.
    const plain = channel().z;
    const lowestTop = Math.min(
      ...[...shape.terrain.z.keys()]
        .filter((cell) => shape.terrain.z[cell] !== plain[cell])
        .map((cell) => shape.terrain.z[cell]),
    );
    expect(level).toBeGreaterThanOrEqual(lowestTop - 1e-6);
    // A slanting line is two cells thick in places, and the second may be a little higher.
    expect(level).toBeLessThan(lowestTop + 0.011);
  });
});
