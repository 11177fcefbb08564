import { describe, expect, it } from 'vitest';
import { pondingAt, readyForRain } from '../../../lib/drainage/storm/ponding';
import { outlinedFromM, pondingOutlines } from '../../../lib/drainage/answer/ponding-outlines';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { areaM2 } from '../../../lib/frame/shapes';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { fractalGround } from '../../bench/fractal-ground';
import { box, groundOf, lineOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

/** Rough ground with all that puts water down or takes it away: roofs, barrel, sump, pipe, yard drain, basin, three covers. */
function roughLot(settings: Partial<LocalPlan['plan']['lotfall']> = {}) {
  const side = 120;
  const z = fractalGround(side, 5, 0.02);
  const elevation = groundOf(60, 60, 0.5, (x, y) => {
    const column = Math.min(side - 1, Math.floor(x / 0.5));
    const row = Math.min(side - 1, Math.floor((60 - y) / 0.5));
    return z[row * side + column];
  });
  const plan = planOf(
    [
      polygonOf('own', box(8, 8, 50, 50), { kind: 'lot', own: true }),
      polygonOf('house', box(20, 20, 30, 32), { kind: 'building' }),
      polygonOf('roof', box(19.5, 19.5, 30.5, 32.5), { kind: 'roof', building: 'house' }),
      pointOf('spout', [19.6, 19.6], { kind: 'downspout', roof: 'roof', barrel_m3: 0.3 }),
      pointOf('piped', [30.4, 32.4], { kind: 'downspout', roof: 'roof', pipe: 'pipe' }),
      lineOf(
        'pipe',
        [
          [31, 33],
          [44, 44],
        ],
        { kind: 'drain-pipe', slope: 0.02 },
      ),
      pointOf('drain', [40, 20], { kind: 'yard-drain', outlet: 'storm-sewer' }),
      pointOf('sump', [18, 28], { kind: 'sump-outlet', rate_m3_per_h: 0.5 }),
      polygonOf('basin', box(34, 12, 39, 16), { kind: 'basin' }),
      polygonOf('drive', box(10, 34, 20, 50), { kind: 'surface', cover: 'paving' }),
      polygonOf('bed', box(32, 30, 40, 40), { kind: 'surface', cover: 'bed' }),
    ],
    settings,
  );
  return { shape: shapeGround(elevation, plan), plan };
}

describe('another depth of rain', () => {
  const storms: readonly [string, Parameters<typeof planOf>[1]][] = [
    ['a storm', {}],
    ['a long storm on wet ground', { storm: { rain_mm: 20, duration_h: 6, antecedent: 'wet' } }],
    [
      'a thaw',
      {
        event: 'thaw',
        thaw: { snow_water_mm: 60, days: [{ mean_c: 6 }, { mean_c: 9 }], ground: 'wet' },
      },
    ],
  ];
  it.each(storms)(
    'leaves the water that computing the whole of it again finds: %s',
    (_, settings) => {
      const { shape, plan } = roughLot(settings);
      const ready = readyForRain(shape, plan);
      for (const rainMm of [0, 2, 11, 25, 50, 100, 200]) {
        const quick = pondingAt(ready, plan, rainMm);
        const whole = stormOnGround(shape, plan, rainMm);
        expect(quick.rainMm).toBe(rainMm);
        expect([...quick.stormPools.node]).toEqual([...whole.stormPools.node]);
        expect([...quick.stormPools.full]).toEqual([...whole.stormPools.full]);
        expect(quick.stormPools.outflow).toBeCloseTo(whole.stormPools.outflow, 9);
        let most = 0;
        let wet = 0;
        for (let cell = 0; cell < quick.depthM.length; cell++) {
          most = Math.max(most, Math.abs(quick.depthM[cell] - whole.depthM[cell]));
          if (whole.depthM[cell] > 0) wet++;
        }
        // Float32 depths below a metre.
        expect(most).toBeLessThan(1e-7);
        if (rainMm > 20) expect(wet).toBeGreaterThan(100);
      }
    },
  );

  it('follows what the plan says of the storm, with the ground made ready once', () => {
    const { shape, plan } = roughLot();
    const ready = readyForRain(shape, plan);
    const { plan: document } = plan;
    const wetter: LocalPlan = {
      ...plan,
      plan: {
        ...document,
        lotfall: { ...document.lotfall, storm: { rain_mm: 30, antecedent: 'wet', duration_h: 3 } },
      },
    };
    const quick = pondingAt(ready, wetter, 30);
    const whole = stormOnGround(shape, wetter, 30);
    expect(quick.stormPools.outflow).toBeCloseTo(whole.stormPools.outflow, 9);
    expect(quick.stormPools.outflow).toBeGreaterThan(
      pondingAt(ready, plan, 30).stormPools.outflow * 1.2,
    );
  });

  it('writes into the raster it is given, and leaves nothing of the storm before', () => {
    const { shape, plan } = roughLot();
    const ready = readyForRain(shape, plan);
    const raster = new Float32Array(shape.terrain.z.length);
    expect(pondingAt(ready, plan, 200, raster).depthM).toBe(raster);
    pondingAt(ready, plan, 10, raster);
    expect(raster).toEqual(pondingAt(ready, plan, 10).depthM);
  });

  it('is outlined with the area of its wet cells, crumbs left out', () => {
    const { shape, plan } = roughLot();
    const { depthM } = pondingAt(readyForRain(shape, plan), plan, 80);
    const patches = pondingOutlines(shape, depthM);
    const outlinedM2 = patches.reduce((sum, rings) => sum + areaM2(rings), 0);
    const cells = patchesOfCells(depthM, shape.ground.grid.width).filter((count) => count >= 4);
    expect(patches.length).toBe(cells.length);
    expect(cells.length).toBeGreaterThan(3);
    const wetM2 = cells.reduce((sum, count) => sum + count * shape.cellM2, 0);
    expect(outlinedM2).toBeGreaterThanOrEqual(wetM2 - 1e-6);
    // Dry islands of less than a square metre are filled in.
    expect(outlinedM2).toBeLessThan(wetM2 + patches.length);
  });
});

/** Cells of each connected stretch of water. */
function patchesOfCells(depthM: Float32Array, width: number): number[] {
  const left = new Set([...depthM.keys()].filter((cell) => depthM[cell] > outlinedFromM));
  const sizes: number[] = [];
  for (const start of left) {
    const patch = [start];
    left.delete(start);
    for (const cell of patch) {
      for (const next of [cell - 1, cell + 1, cell - width, cell + width]) {
        if (left.delete(next)) patch.push(next);
      }
    }
    sizes.push(patch.length);
  }
  return sizes;
}
