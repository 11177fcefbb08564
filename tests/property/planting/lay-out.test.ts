import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plantingZones } from '../../../lib/basin/form/planting-zones';
import { distanceM, contains } from '../../../lib/frame/shapes';
import { layOut } from '../../../lib/planting/lay-out';
import type { Plant } from '../../../lib/planting/plant';
import { built, oval, turnedBox } from '../../unit/basin/made-basin';

const plantOf = (i: number, zone: Plant['zone'], spreadM: number): Plant => ({
  name: `plant ${i}`,
  common: null,
  zone,
  spreadM,
  heightM: [0.3 * i, 0.3 * i + 0.2],
  bloom: null,
  sun: '',
  nativeTo: '',
  sources: null,
});

const basins = [
  oval([15, 12], 3.2, 2.1, 60),
  turnedBox([15, 12], 6, 3, 0.5),
  turnedBox([15, 12], 3, 3),
].map((rim) => plantingZones(built({ rim, pondingDepthM: 0.2, freeboardM: 0.15 })));

const plants = fc
  .array(
    fc.record({
      zone: fc.constantFrom('deep' as const, 'middle' as const, 'edge' as const),
      spreadM: fc.double({ min: 0.25, max: 1.1, noNaN: true }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((list) => list.map(({ zone, spreadM }, i) => plantOf(i + 1, zone, spreadM)));

const options = fc.record({
  grid: fc.constantFrom('square' as const, 'triangular' as const),
  viewFrom: fc.option(
    fc
      .double({ min: 0, max: 6.28, noNaN: true })
      .map((turn) => [Math.cos(turn), Math.sin(turn)] as const),
    { nil: undefined },
  ),
});

describe('plants that are laid out', () => {
  it('never overlap, and each stands in its zone', () => {
    fc.assert(
      fc.property(fc.constantFrom(...basins), plants, options, (zones, list, asked) => {
        const { viewFrom, grid } = asked;
        const laid = layOut(zones, list, viewFrom === undefined ? { grid } : { grid, viewFrom });
        const all = laid.flatMap(({ groups }) => groups.flatMap(({ set }) => set));
        all.forEach((one, i) => {
          for (const other of all.slice(i + 1)) {
            const apart = (one.plant.spreadM + other.plant.spreadM) / 2;
            expect(distanceM(one.at, other.at)).toBeGreaterThanOrEqual(apart - 1e-6);
          }
        });
        for (const { zone, groups } of laid) {
          for (const { at } of groups.flatMap(({ set }) => set)) {
            expect(zone.polygons.some((rings) => contains(rings, at))).toBe(true);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('are about as many as the area has room for, of one kind in a wide zone', () => {
    const [zones] = [plantingZones(built({ rim: turnedBox([15, 12], 12, 9), freeboardM: 0 }))];
    for (const grid of ['square', 'triangular'] as const) {
      const [{ groups }] = layOut(zones, [plantOf(1, 'deep', 0.4)], { grid });
      const [{ set, byArea }] = groups;
      expect(set.length / byArea).toBeGreaterThan(0.9);
      expect(set.length / byArea).toBeLessThan(1.15);
    }
  });

  it('stand low to tall from the side that they are seen from', () => {
    const list = [plantOf(3, 'deep', 0.5), plantOf(1, 'deep', 0.5)];
    const [{ groups }] = layOut(basins[1], list, { grid: 'square', viewFrom: [0, -1] });
    const middle = groups.map(
      ({ set }) => set.reduce((sum, { at }) => sum + at[1], 0) / set.length,
    );
    expect(groups.map(({ plant }) => plant.name)).toEqual(['plant 1', 'plant 3']);
    expect(middle[0]).toBeLessThan(middle[1]);
  });
});
