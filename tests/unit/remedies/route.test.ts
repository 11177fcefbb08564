import { describe, expect, it } from 'vitest';
import type { DitchGround } from '../../../lib/remedies/route/ditch-ground';
import {
  cheapestRoutes,
  setOut,
  type CellRoute,
  type DitchKind,
} from '../../../lib/remedies/route/route';
import { groundOf } from '../ground/plane-lot';

const kind: DitchKind = {
  leastDepthM: 0.1,
  mostDepthM: 0.6,
  fall: () => 0.02,
  sectionM2: (depthM) => depthM * (0.3 + 3 * depthM),
  runOutM: 0,
  endsIn: ({ to }) => to !== 'daylight',
};

/** A small ground with one end, numbers drawn from a seed. */
function roughGround(seed: number, side: number): DitchGround {
  let state = seed;
  const next = (): number => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
  const grid = groundOf(side / 2, side / 2, 0.5, (x) => 3 - 0.08 * x + 0.15 * next());
  const size = grid.z.length;
  const effort = new Float32Array(size);
  for (let cell = 0; cell < size; cell++) effort[cell] = next() < 0.2 ? 0 : next() < 0.2 ? 3 : 1;
  const endOf = new Int16Array(size).fill(-1);
  const end = Math.floor(side / 2) * side + side - 1;
  const start = Math.floor(side / 2) * side;
  effort[end] = 1;
  effort[start] = 1;
  endOf[end] = 0;
  return {
    grid,
    effort,
    lowM: grid.z.map((z) => z - 0.01),
    wallM: new Float32Array(size).fill(99),
    own: new Uint8Array(size).fill(1),
    apron: new Uint8Array(size),
    endOf,
    ends: [{ to: 'street', leastBedM: 2.72 }],
  };
}

/** The cheapest way by trying every state of cell and level, to the millimetre, that can be reached. */
function exhaustive(ground: DitchGround, from: { cell: number; bedM: number }): number {
  const { grid, effort, lowM, endOf, ends } = ground;
  const { width, height, z, cellM } = grid;
  const best = new Map<string, number>();
  const open: { cell: number; bedM: number; cost: number }[] = [{ ...from, cost: 0 }];
  let found = Infinity;
  while (open.length > 0) {
    open.sort((a, b) => b.cost - a.cost);
    const at = open.pop();
    if (at === undefined || at.cost >= found) break;
    const key = `${at.cell} ${at.bedM.toFixed(3)}`;
    if (best.has(key)) continue;
    best.set(key, at.cost);
    if (endOf[at.cell] === 0) {
      if (at.bedM >= (ends[0].leastBedM ?? z[at.cell])) found = at.cost;
      continue;
    }
    const row = Math.floor(at.cell / width);
    const column = at.cell % width;
    for (let dy = -2; dy <= 2; dy++) {
      for (let dx = -2; dx <= 2; dx++) {
        const far = Math.max(Math.abs(dx), Math.abs(dy));
        if (far === 0 || (far === 2 && Math.abs(dx * dy) !== 2)) continue;
        const c = column + dx;
        const r = row + dy;
        if (c < 0 || r < 0 || c >= width || r >= height) continue;
        const next = r * width + c;
        if (effort[next] === 0) continue;
        if (far === 2) {
          const one = (row + Math.trunc(dy / 2)) * width + column + Math.trunc(dx / 2);
          const other = (row + Math.sign(dy)) * width + column + Math.sign(dx);
          if (effort[one] === 0 || effort[other] === 0) continue;
        }
        const length = Math.hypot(dx, dy) * cellM;
        const fallen = at.bedM - 0.02 * length;
        const bedM = endOf[next] === 0 ? fallen : Math.min(fallen, lowM[next] - kind.leastDepthM);
        const depth = z[next] - bedM;
        // a bed only falls: below the end's least it never gets there
        if (depth > kind.mostDepthM || bedM < (ends[0].leastBedM ?? 0)) continue;
        const earth = kind.sectionM2(Math.max(0, depth)) + 0.1;
        open.push({ cell: next, bedM, cost: at.cost + length * earth * effort[next] });
      }
    }
  }
  return found;
}

const startOf = ({ grid }: DitchGround) => {
  const cell = Math.floor(grid.height / 2) * grid.width;
  return { cell, bedM: grid.z[cell] - 0.02 };
};

function expectFalling({ bedM, cells }: CellRoute, { grid }: DitchGround): void {
  for (let i = 1; i < cells.length; i++) {
    const dx = (cells[i] % grid.width) - (cells[i - 1] % grid.width);
    const dy = Math.floor(cells[i] / grid.width) - Math.floor(cells[i - 1] / grid.width);
    const length = Math.hypot(dx, dy) * grid.cellM;
    expect(bedM[i - 1] - bedM[i]).toBeGreaterThan(0.02 * length - 1e-6);
  }
}

describe('the cheapest way over cell and level', () => {
  const seeds = Array.from({ length: 16 }, (_, i) => i + 1);

  it.each(seeds)('is that of an exhaustive search, ground %d', (seed) => {
    const ground = roughGround(seed, 7);
    const from = startOf(ground);
    const [route] = cheapestRoutes(ground, kind, from, () => null);
    const least = exhaustive(ground, from);
    if (least === Infinity) {
      expect(route).toBeUndefined();
      return;
    }
    // Beds closer than a centimetre count as one: by so much it may be dearer.
    expect(route.cost).toBeGreaterThan(least * 0.995);
    expect(route.cost).toBeLessThan(least * 1.03);
    expectFalling(route, ground);
  });

  it('is found on most of these grounds and not on all', () => {
    const reached = seeds.filter((seed) => {
      const ground = roughGround(seed, 7);
      return cheapestRoutes(ground, kind, startOf(ground), () => null).length > 0;
    });
    expect(reached.length).toBeGreaterThan(5);
    expect(reached.length).toBeLessThan(seeds.length);
  });

  it('keeps its fall, its depth and its ground where corners are cut', () => {
    for (const seed of seeds) {
      const ground = roughGround(seed, 15);
      const [route] = cheapestRoutes(ground, kind, startOf(ground), () => null);
      if (route === undefined) continue;
      const { points, bedM } = setOut(ground, kind, route);
      for (let i = 1; i < points.length; i++) {
        const length = Math.hypot(points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]);
        expect((bedM[i - 1] - bedM[i]) / length).toBeGreaterThan(0.02 - 1e-6);
      }
      expect(points.length).toBeLessThanOrEqual(route.cells.length);
    }
  });

  it('comes out on falling ground where its bed meets it', () => {
    // Ground falls 4 %, the bed 2 %, from 0.2 m below the lowest beside it.
    const grid = groundOf(30, 5, 0.5, (x) => 5 - 0.04 * x);
    const size = grid.z.length;
    const ground: DitchGround = {
      grid,
      effort: new Float32Array(size).fill(1),
      lowM: grid.z.slice(),
      wallM: new Float32Array(size).fill(99),
      own: new Uint8Array(size).fill(1),
      apron: new Uint8Array(size),
      endOf: new Int16Array(size).fill(-1),
      ends: [],
    };
    const cell = 5 * grid.width + 2;
    const routes = cheapestRoutes(
      ground,
      { ...kind, runOutM: 8, endsIn: () => true },
      { cell, bedM: grid.z[cell] - 0.2 },
      () => 'lawn',
    );
    expect(routes).toHaveLength(1);
    const [{ cells, bedM, runOut }] = routes;
    const last = cells[cells.length - 1];
    expect(runOut).toBeGreaterThan(0);
    expect(bedM[bedM.length - 1]).toBeCloseTo(grid.z[last], 6);
    // 0.2 m at a difference of 2 % is 10 m.
    expect((last % grid.width) - 2).toBeGreaterThanOrEqual(19);
    expect((last % grid.width) - 2).toBeLessThanOrEqual(22);
  });
});

it('goes round ground that is not known, and comes to an end', () => {
  const plane = groundOf(8, 8, 0.5, (x) => 3 - 0.03 * x);
  const size = plane.z.length;
  const endOf = new Int16Array(size).fill(-1);
  endOf[8 * 16 + 15] = 0;
  const ground: DitchGround = {
    ...roughGround(3, 16),
    grid: plane,
    effort: new Float32Array(size).fill(1),
    lowM: plane.z.slice(),
    endOf,
    ends: [{ to: 'street', leastBedM: 0 }],
  };
  const from = { cell: 8 * 16, bedM: plane.z[8 * 16] - 0.1 };
  const [known] = cheapestRoutes(ground, kind, from, () => null);
  const across = known.cells[Math.floor(known.cells.length / 2)];
  const lowM = ground.lowM.slice();
  lowM[across] = NaN;
  const [around] = cheapestRoutes({ ...ground, lowM }, kind, from, () => null);
  expect(around.cells).not.toContain(across);
  expect(around.bedM.every(Number.isFinite)).toBe(true);
});
