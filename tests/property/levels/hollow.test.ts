import { expect, it } from 'vitest';
import { buildTerrain } from '../../../lib/drainage/terrain/terrain';
import { cellCentre } from '../../../lib/elevation/grid';
import { localFrame, makeFrame, type XY } from '../../../lib/frame/frame';
import { levelsElevation } from '../../../lib/levels/levels-elevation';
import { asFeature } from '../../../lib/plan/as-feature';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';

const frame = makeFrame(localFrame([-87.1, 42.5]));
/**
 * A hollow against a wall that runs along y = 0: half a bowl, 17 cm deep at the wall, with 8.0 m3 up to the lip over which
 * it spills, straight out from the wall; to either side the ground rises on.
 */
const depthM = 0.17;
const volumeM3 = 8;
const radiusM = Math.sqrt((4 * volumeM3) / (Math.PI * depthM));

function heightM([x, y]: XY): number {
  const out = y < radiusM ? (y / radiusM) ** 2 : 1;
  return depthM * ((x / radiusM) ** 2 + out) - 0.03 * Math.max(0, y - radiusM);
}

/** Where somebody reads who looks for the deepest place, the wall, the lip, and the ground between and beyond: twenty places. */
const guided: readonly XY[] = (
  [
    [0, 0],
    [-0.5, 0],
    [0.5, 0],
    [-1, 0],
    [1, 0],
    [-1.4, 0],
    [1.4, 0],
    [0, 0.5],
    [-0.5, 0.5],
    [0.5, 0.5],
    [0, 0.85],
    [0, 1],
    [-0.35, 1],
    [0.35, 1],
    [-0.9, 0.9],
    [0.9, 0.9],
    [0, 1.15],
    [0, 1.5],
    [-1.2, 1.5],
    [1.2, 1.5],
  ] as const
).map(([x, y]): XY => [x * radiusM, y * radiusM]);

/** Numbers spread normally, the same on every run. */
function* normal(seed: number): Generator<number, never> {
  let state = seed;
  const next = (): number => {
    state = (Math.imul(1_664_525, state) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  for (;;) yield Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}

function planOf(readings: readonly { at: XY; heightM: number }[]): Plan {
  const features = readings.map(({ at, heightM: height }, i) =>
    asFeature({
      type: 'Feature',
      id: `spot-height-${i + 1}`,
      geometry: { type: 'Point', coordinates: [...frame.toLngLat(at)] },
      properties: { kind: 'spot-height', drop_m: 2 - height },
    }),
  );
  return {
    type: 'FeatureCollection',
    lotfall: { version: 1 },
    features: features.filter((each): each is PlanFeature => each !== null),
  };
}

/** Depth and volume of what can stand on the ground that the levels make, with the wall along its southern side. */
function hollowOf(plan: Plan): { depthM: number; volumeM3: number } {
  const { grid } = levelsElevation(plan, 'yard').elevation;
  const [, wallM] = makeFrame(grid.frame).toLocal(frame.toLngLat([0, 0]));
  // Nothing runs off through the wall.
  const z = grid.z.map((height, cell) => (cellCentre(grid, cell)[1] < wallM ? 100 : height));
  const { filled } = buildTerrain(z, grid.width, grid.height);
  let most = 0;
  let sum = 0;
  filled.forEach((level, cell) => {
    const deep = level - z[cell];
    if (!(deep > 0)) return;
    most = Math.max(most, deep);
    sum += deep;
  });
  return { depthM: most, volumeM3: sum * grid.cellM ** 2 };
}

it('twenty levels to a centimetre, read where it matters, give a hollow to 3 cm and a quarter of its volume in nine of ten draws', () => {
  const noise = normal(7);
  let good = 0;
  const found: string[] = [];
  for (let draw = 0; draw < 100; draw++) {
    const readings = guided.map((at) => ({ at, heightM: heightM(at) + 0.01 * noise.next().value }));
    const hollow = hollowOf(planOf(readings));
    const isGood =
      Math.abs(hollow.depthM - depthM) <= 0.03 && Math.abs(hollow.volumeM3 / volumeM3 - 1) <= 0.25;
    if (isGood) good++;
    else found.push(`${hollow.depthM.toFixed(3)} m, ${hollow.volumeM3.toFixed(1)} m3`);
  }
  expect(good, found.join('; ')).toBeGreaterThanOrEqual(90);
});

it('without error they give it nearly as it is', () => {
  const hollow = hollowOf(planOf(guided.map((at) => ({ at, heightM: heightM(at) }))));
  expect(Math.abs(hollow.depthM - depthM)).toBeLessThan(0.02);
  expect(Math.abs(hollow.volumeM3 / volumeM3 - 1)).toBeLessThan(0.15);
});
