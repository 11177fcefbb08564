import { describe, expect, it } from 'vitest';
import { contributingShare } from '../../lib/drainage/terrain/contributing-share';
import { flowPath } from '../../lib/drainage/terrain/flow-path';
import { makeRouting, type Routing } from '../../lib/drainage/terrain/routing';
import { spreadFlow, specificCatchmentArea } from '../../lib/drainage/terrain/spread-flow';
import { buildTerrain, type Terrain } from '../../lib/drainage/terrain/terrain';
import { levelFor } from '../../lib/drainage/storm/water-surface';

/** Ground from a height for each cell centre, measured from the middle of the grid in cells, eastwards and southwards. */
function groundOf(side: number, heightAt: (x: number, y: number) => number): Terrain {
  const middle = (side - 1) / 2;
  const z = Float32Array.from({ length: side * side }, (_, i) =>
    heightAt((i % side) - middle, Math.floor(i / side) - middle),
  );
  return buildTerrain(z, side, side);
}

const shapes = {
  cone: (part: number) => part,
  paraboloid: (part: number) => part * part,
};

/** A bowl one deep in level ground, with its axis on a corner of cells: bottom at 1, rim at 2. */
function bowl(radius: number, depthAt: (r: number) => number): Terrain {
  return groundOf(2 * radius + 10, (x, y) => {
    const r = Math.hypot(x, y);
    return r < radius ? 2 - depthAt(r) : 2;
  });
}

function rootsOf({ tree }: Terrain): number[] {
  return Array.from({ length: tree.nodes }, (_, node) => node).filter(
    (node) => tree.isRoot[node] === 1,
  );
}

/** The one low spot that holds water. */
function bowlNode(terrain: Terrain): number {
  const [node, ...others] = rootsOf(terrain).filter((root) => terrain.volume[root] > 0);
  expect(others).toEqual([]);
  return node;
}

describe('volume of a bowl', () => {
  const inner = 0.4;
  const bowls = [
    {
      name: 'cone',
      depth: (r: number, R: number) => 1 - r / R,
      exact: (R: number) => (Math.PI * R * R) / 3,
    },
    {
      name: 'paraboloid',
      depth: (r: number, R: number) => 1 - (r / R) ** 2,
      exact: (R: number) => (Math.PI * R * R) / 2,
    },
    {
      name: 'spherical cap',
      depth: (r: number, R: number) => {
        const ball = (R * R + 1) / 2;
        return Math.sqrt(ball * ball - r * r) - (ball - 1);
      },
      exact: (R: number) => (Math.PI / 3) * (3 * ((R * R + 1) / 2) - 1),
    },
    {
      name: 'frustum of a cone',
      depth: (r: number, R: number) => Math.min(1, (1 - r / R) / (1 - inner)),
      exact: (R: number) => ((Math.PI * R * R) / 3) * (1 + inner + inner * inner),
    },
  ];
  it.each(bowls)('$name', ({ depth, exact }) => {
    for (const radius of [40, 80, 160]) {
      const terrain = bowl(radius, (r) => depth(r, radius));
      const node = bowlNode(terrain);
      expect(Math.abs(terrain.volume[node] / exact(radius) - 1)).toBeLessThan(1e-4);
      expect(terrain.tree.spill[node]).toBe(2);
    }
  });
});

describe('level of a partly filled bowl', () => {
  const radius = 160;
  const bowls = [
    {
      name: 'cone',
      shape: shapes.cone,
      held: (h: number) => (Math.PI * radius * radius * h ** 3) / 3,
    },
    {
      name: 'paraboloid',
      shape: shapes.paraboloid,
      held: (h: number) => (Math.PI * radius * radius * h * h) / 2,
    },
  ];
  it.each(bowls)('$name', ({ shape, held }) => {
    const terrain = bowl(radius, (r) => 1 - shape(r / radius));
    const node = bowlNode(terrain);
    for (const h of [0.2, 0.5, 0.9]) {
      expect(Math.abs(levelFor(terrain, node, held(h)) - 1 - h)).toBeLessThan(2e-6);
    }
  });
});

/**
 * Mean and coefficient of variation of computed over exact specific catchment area in a ring of
 * radii. Rain falls within 200 cells of the middle only, so that the corners of the map add nothing.
 */
function areaRatio(
  heightAt: (x: number, y: number) => number,
  exactAt: (x: number, y: number) => number,
): { bias: number; scatter: number } {
  const side = 401;
  const routing = makeRouting(groundOf(side, heightAt));
  const rained = Float64Array.from({ length: side * side }, (_, i) =>
    Math.hypot((i % side) - 200, Math.floor(i / side) - 200) < 200 ? 1 : 0,
  );
  const area = specificCatchmentArea(routing, spreadFlow(routing, rained), 1);
  const ratios: number[] = [];
  for (let i = 0; i < area.length; i++) {
    const x = (i % side) - 200;
    const y = Math.floor(i / side) - 200;
    const r = Math.hypot(x, y);
    if (r < 0.1 * side || r > 0.47 * side) continue;
    ratios.push(area[i] / exactAt(x, y));
  }
  const mean = ratios.reduce((a, b) => a + b) / ratios.length;
  const variance = ratios.reduce((a, b) => a + (b - mean) ** 2, 0) / ratios.length;
  return { bias: mean - 1, scatter: Math.sqrt(variance) / mean };
}

describe('specific catchment area', () => {
  const radius = 200;
  const outwards = (x: number, y: number): number => Math.hypot(x, y) / 2;
  const inwards = (x: number, y: number): number => {
    const r = Math.hypot(x, y);
    return (radius * radius - r * r) / (2 * r);
  };
  // a hole in the data drains the middle
  const drained =
    (heightAt: (r: number) => number) =>
    (x: number, y: number): number => {
      const r = Math.hypot(x, y);
      return r < 2 ? Number.NaN : heightAt(r);
    };
  const surfaces = [
    {
      name: 'cone, outwards',
      heightAt: (x: number, y: number) => 300 - Math.hypot(x, y),
      exact: outwards,
    },
    {
      name: 'dome',
      heightAt: (x: number, y: number) => 300 - (x * x + y * y) / 400,
      exact: outwards,
    },
    { name: 'cone, inwards', heightAt: drained((r) => 101 + r), exact: inwards },
    { name: 'bowl', heightAt: drained((r) => 101 + (r * r) / 400), exact: inwards },
  ];
  it.each(surfaces)('$name', ({ heightAt, exact }) => {
    const { bias, scatter } = areaRatio(heightAt, exact);
    expect(Math.abs(bias)).toBeLessThan(0.015);
    expect(scatter).toBeLessThan(0.01);
  });

  it.each([0, 10, 20, 22.5, 30, 45])('plane that falls %d degrees off the rows', (degrees) => {
    const cos = Math.cos((degrees * Math.PI) / 180);
    const sin = Math.sin((degrees * Math.PI) / 180);
    // the length of the slope above a point, up to the map's edge; away from lines that corners disturb
    const lengthAbove = (x: number, y: number): number =>
      Math.min(cos > 0 ? (x + 200) / cos : Infinity, sin > 1e-9 ? (y + 200) / sin : Infinity);
    const { bias, scatter } = planeRatio(cos, sin, lengthAbove);
    expect(Math.abs(bias)).toBeLessThan(0.01);
    expect(scatter).toBeLessThan(0.01);
  });
});

/** As for {@link areaRatio}, on a plane, where neither sideways mixing nor the upper edge matter. */
function planeRatio(
  cos: number,
  sin: number,
  lengthAbove: (x: number, y: number) => number,
): { bias: number; scatter: number } {
  const side = 401;
  const routing = makeRouting(groundOf(side, (x, y) => 400 - 0.5 * (x * cos + y * sin)));
  const area = specificCatchmentArea(routing, spreadFlow(routing), 1);
  const ratios: number[] = [];
  for (let i = 0; i < area.length; i++) {
    const x = (i % side) - 200;
    const y = Math.floor(i / side) - 200;
    const column = (x + 200) / Math.max(cos, 1e-9);
    const row = (y + 200) / Math.max(sin, 1e-9);
    const length = lengthAbove(x, y);
    if (length < 100 || length > 350 || Math.abs(column - row) < 100) continue;
    if (x > 180 || y > 180 || (sin < 1e-9 && Math.abs(y) > 150)) continue;
    ratios.push(area[i] / length);
  }
  expect(ratios.length).toBeGreaterThan(5000);
  const mean = ratios.reduce((a, b) => a + b) / ratios.length;
  const variance = ratios.reduce((a, b) => a + (b - mean) ** 2, 0) / ratios.length;
  return { bias: mean - 1, scatter: Math.sqrt(variance) / mean };
}

describe('direction on a plane', () => {
  const side = 441;
  function plane(degrees: number): Routing {
    const cos = Math.cos((degrees * Math.PI) / 180);
    const sin = Math.sin((degrees * Math.PI) / 180);
    return makeRouting(groundOf(side, (x, y) => 400 - 0.5 * (x * cos + y * sin)));
  }
  const source = 110 * side + 110;

  it.each([0, 5, 10, 22.5, 30, 37, 45])('a plume does not drift at %d degrees', (degrees) => {
    const angle = (degrees * Math.PI) / 180;
    const weights = new Float64Array(side * side);
    weights[source] = 1;
    const water = spreadFlow(plane(degrees), weights);
    let passing = 0;
    let aside = 0;
    for (let i = 0; i < water.length; i++) {
      const x = (i % side) - 110;
      const y = Math.floor(i / side) - 110;
      const ahead = x * Math.cos(angle) + y * Math.sin(angle);
      if (Math.abs(ahead - 200) > 5) continue;
      passing += water[i];
      aside += water[i] * (y * Math.cos(angle) - x * Math.sin(angle));
    }
    const drift = (Math.atan(aside / passing / 200) * 180) / Math.PI;
    expect(Math.abs(drift)).toBeLessThan(0.1);
  });

  it.each([0, 5, 10, 22.5, 30, 37, 45])('a flow path runs straight at %d degrees', (degrees) => {
    const angle = (degrees * Math.PI) / 180;
    const { points } = flowPath(plane(degrees), source);
    expect(points.length).toBeGreaterThan(400);
    for (let at = 0; at < points.length; at += 2) {
      const x = points[at] - 110.5;
      const y = points[at + 1] - 110.5;
      expect(Math.abs(y * Math.cos(angle) - x * Math.sin(angle))).toBeLessThan(0.05);
    }
  });
});

describe('contributing share of a cell on a cone', () => {
  it('sums to the area of the sector above it', () => {
    const side = 201;
    const routing = makeRouting(groundOf(side, (x, y) => 300 - Math.hypot(x, y)));
    // a quarter of a ring of cells, two thick so that no diagonal step slips through
    const target = new Uint8Array(side * side);
    let innermost = 0;
    for (let i = 0; i < target.length; i++) {
      const x = (i % side) - 100;
      const y = Math.floor(i / side) - 100;
      const r = Math.hypot(x, y);
      if (r < 70 || r > 72 || x < 0 || y < 0) continue;
      target[i] = 1;
      innermost++;
    }
    const { cells, cutByEdge } = contributingShare(routing, target);
    const exact = (Math.PI / 4) * 70 * 70;
    expect(Math.abs((cells - innermost) / exact - 1)).toBeLessThan(0.02);
    expect(cutByEdge).toBe(false);
  });
});
