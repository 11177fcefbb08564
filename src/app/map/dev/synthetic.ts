import { contours as d3contours } from 'd3-contour';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../../lib/frame/frame';
import type { Grid } from '../../../../lib/elevation/grid';
import type { Plan } from '../../../../lib/plan/schema';
import { gridCorners } from '../grid-corners';
import { waterImage } from '../water-image';
import { inkOf, channels } from '../ink';
import type { Theme } from '../map-props';

export const spec = localFrame([-83.742, 42.281]);
export const frame = makeFrame(spec);
export const L = (x: number, y: number): LngLat => {
  const p = frame.toLngLat([x, y]);
  return [Math.round(p[0] * 1e9) / 1e9, Math.round(p[1] * 1e9) / 1e9];
};
const W = 280,
  H = 220,
  cell = 0.5,
  west = -70,
  north = 55;
const zf = (x: number, y: number) =>
  101.2 -
  0.018 * (x + 0.35 * y * -1) * 1 +
  0.28 * Math.sin(x / 11) * Math.cos(y / 13) +
  0.12 * Math.sin(x / 4.1 + 1) * Math.sin(y / 5.3) -
  0.45 * Math.exp(-((x - 24) ** 2 + (y + 22) ** 2) / 22) -
  0.35 * Math.exp(-((x - 8) ** 2 + (y + 3) ** 2) / 14) -
  0.3 * Math.exp(-((x + 20) ** 2 + (y + 24) ** 2) / 18);
const z = new Float32Array(W * H);
for (let r = 0; r < H; r++)
  for (let c = 0; c < W; c++)
    z[r * W + c] = zf(west + (c + 0.5) * cell, north - (r + 0.5) * cell) - 90;
export const grid: Grid = {
  width: W,
  height: H,
  cellM: cell,
  westM: west,
  northM: north,
  z,
  datumM: 90,
  frame: spec,
};

export function relief(theme: Theme) {
  const data = new Uint8ClampedArray(W * H * 4);
  const [r0, g0, b0] = theme === 'paper' ? [74, 85, 96] : [210, 220, 230];
  for (let r = 0; r < H; r++)
    for (let c = 0; c < W; c++) {
      const g = (rr: number, cc: number) =>
        z[Math.min(H - 1, Math.max(0, rr)) * W + Math.min(W - 1, Math.max(0, cc))];
      const dx = (g(r, c + 1) - g(r, c - 1)) * 4,
        dy = (g(r + 1, c) - g(r - 1, c)) * 4;
      const s = (dx + dy) * 0.9;
      const a = Math.max(0, Math.min(0.5, 0.16 + (theme === 'paper' ? s : -s) * 1.2));
      const i = (r * W + c) * 4;
      data[i] = r0;
      data[i + 1] = g0;
      data[i + 2] = b0;
      data[i + 3] = a * 255;
    }
  return { image: { width: W, height: H, data }, corners: gridCorners(grid) };
}
export const contourLines = (() => {
  const levels: number[] = [];
  for (let v = 98; v < 104; v += 0.1) levels.push(Math.round(v * 10) / 10);
  return d3contours()
    .size([W, H])
    .thresholds(levels.map((l) => l - 90))(Array.from(z))
    .map((m) => ({
      elevationM: Math.round((m.value + 90) * 10) / 10,
      index: Math.round((m.value + 90) * 10) % 5 === 0,
      lines: m.coordinates.flatMap((poly) =>
        poly.flatMap((ring) => {
          const segs: LngLat[][] = [];
          let cur: LngLat[] = [];
          for (const [x, y] of ring) {
            if (x <= 0.6 || y <= 0.6 || x >= W - 0.6 || y >= H - 0.6) {
              if (cur.length > 1) segs.push(cur);
              cur = [];
            } else cur.push(frame.toLngLat([west + x * cell, north - y * cell]));
          }
          if (cur.length > 1) segs.push(cur);
          return segs;
        }),
      ),
    }))
    .filter((c) => c.lines.length);
})();
export function water(theme: Theme) {
  const d = new Float32Array(W * H);
  const pools: [number, number, number, number][] = [
    [24, -22, 4.2, 0.34],
    [8, -3, 3.2, 0.18],
    [-20, -24, 3.6, 0.12],
  ];
  for (let r = 0; r < H; r++)
    for (let c = 0; c < W; c++) {
      const x = west + (c + 0.5) * cell,
        y = north - (r + 0.5) * cell;
      for (const [px, py, rad, dep] of pools) {
        const q =
          1 -
          ((x - px) ** 2 + ((y - py) * 1.4) ** 2) / rad ** 2 +
          0.06 * Math.sin(x * 0.7 + y * 0.5);
        if (q > 0) d[r * W + c] = Math.max(d[r * W + c], dep * q);
      }
    }
  const t = performance.now();
  const w = waterImage(d, W, H, { theme })!;
  console.log('water ms', performance.now() - t, w.image.width, w.image.height);
  return { image: w.image, corners: gridCorners(grid, w.window) };
}
function trace(x: number, y: number): XY[] {
  const p: XY[] = [[x, y]];
  for (let i = 0; i < 400; i++) {
    const e = 0.4,
      gx = (zf(x + e, y) - zf(x - e, y)) / 0.8,
      gy = (zf(x, y + e) - zf(x, y - e)) / 0.8,
      n = Math.hypot(gx, gy);
    if (n < 0.004) break;
    x -= (gx / n) * 0.4;
    y -= (gy / n) * 0.4;
    if (x < west + 1 || x > 69 || y < -54 || y > 54) break;
    if (p.length > 6 && Math.hypot(p[p.length - 5][0] - x, p[p.length - 5][1] - y) < 0.7) break;
    p.push([x, y]);
  }
  return p;
}
export const flowLines = {
  type: 'FeatureCollection' as const,
  features: (
    [
      [-45, 40],
      [-20, 38],
      [-60, 10],
      [-40, -10],
      [-5, 30],
      [20, 35],
      [40, 20],
      [5, -30],
      [-30, -40],
      [45, -5],
      [30, 8],
    ] as XY[]
  ).flatMap(([x, y], k) => {
    const p = trace(x, y);
    const cut = Math.floor(p.length / 2);
    return [
      [p.slice(0, cut + 1), 60 + 40 * k],
      [p.slice(cut), 400 + 300 * k],
    ]
      .filter(([q]) => (q as XY[]).length > 1)
      .map(([q, a]) => ({
        type: 'Feature' as const,
        geometry: {
          type: 'LineString' as const,
          coordinates: (q as XY[]).map((m) => [...frame.toLngLat(m)]),
        },
        properties: { area_m2: a as number },
      }));
  }),
};
const poly = (...p: XY[]) => ({
  type: 'Polygon' as const,
  coordinates: [[...p, p[0]].map(([x, y]) => L(x, y))],
});
const line = (...p: XY[]) => ({
  type: 'LineString' as const,
  coordinates: p.map(([x, y]) => L(x, y)),
});
const pt = (x: number, y: number) => ({ type: 'Point' as const, coordinates: L(x, y) });
const kidney: XY[] = Array.from({ length: 44 }, (_, i) => {
  const t = (i / 44) * 2 * Math.PI;
  const r = 3.2 + 0.9 * Math.cos(t) - 0.8 * Math.exp(-((t - 1.2) ** 2) / 0.25);
  return [19 + r * 1.25 * Math.cos(t), -13 + r * 0.8 * Math.sin(t)];
});
const f = (id: string, geometry: unknown, properties: unknown) => ({
  type: 'Feature',
  id,
  geometry,
  properties,
});
export const plan = {
  type: 'FeatureCollection',
  lotfall: { version: 1, name: 'Quarry End 7', units: 'metric' },
  features: [
    f('lot', poly([-27, 25], [27, 21], [25, -31], [-29, -27]), {
      kind: 'lot',
      own: true,
      name: 'Quarry End 7',
    }),
    f('lot-w', poly([-66, 27], [-27, 25], [-29, -27], [-66, -24]), {
      kind: 'lot',
      own: false,
      name: 'uphill lot',
    }),
    f('lot-e', poly([27, 21], [66, 18], [64, -34], [25, -31]), {
      kind: 'lot',
      own: false,
      name: 'downhill lot',
    }),
    f('house', poly([-5, 9], [12, 9], [12, -1], [-5, -1]), {
      kind: 'building',
      name: 'Bungalow',
      foundation: 'crawl-space',
    }),
    f('garage', poly([-20, 19], [-13, 18.6], [-13.3, 12.4], [-20.3, 12.8]), {
      kind: 'building',
      name: 'garage',
    }),
    f('roof-s', poly([-5.5, 4], [12.5, 4], [12.5, -1.5], [-5.5, -1.5]), {
      kind: 'roof',
      building: 'house',
    }),
    f('roof-n', poly([-5.5, 9.5], [12.5, 9.5], [12.5, 4], [-5.5, 4]), {
      kind: 'roof',
      building: 'house',
    }),
    f('d1', pt(-5, -1), { kind: 'downspout', roof: 'roof-s', name: 'd1' }),
    f('d2', pt(12, -1), { kind: 'downspout', roof: 'roof-s', name: 'd2', outlet: L(16, -9) }),
    f('d3', pt(12, 9), { kind: 'downspout', roof: 'roof-n', name: 'd3', outlet: 'storm-sewer' }),
    f('d4', pt(-5, 9), { kind: 'downspout', roof: 'roof-n', name: 'd4' }),
    f('drive', poly([-13, 18], [-7, 18.5], [-3, 35], [-8, 35], [-10, 20], [-13, 16]), {
      kind: 'surface',
      cover: 'paving',
      name: 'drive',
    }),
    f('terrace', poly([0, -1], [7, -1], [7, -5], [0, -5]), {
      kind: 'surface',
      cover: 'deck',
      name: 'deck',
    }),
    f('bed', poly([-12, 2], [-7, 3], [-7, -6], [-11, -7]), { kind: 'surface', cover: 'bed' }),
    f('lawn', poly([-24, 9], [-13, 9], [-13, -8], [-25, -8]), { kind: 'surface', cover: 'lawn' }),
    f('gravel', poly([13, 20], [17, 19.5], [16, 12], [13, 12]), {
      kind: 'surface',
      cover: 'gravel',
    }),
    f('woods', poly([18, 20], [26, 20], [25.5, 10], [20, 11]), { kind: 'surface', cover: 'woods' }),
    f('septic', poly([-23, -16.5], [-11, -17], [-11.4, -24.5], [-23.4, -24]), {
      kind: 'septic-field',
    }),
    f('tank', pt(-9, -12), { kind: 'septic-tank' }),
    f('gas', line([27, 10], [17, 8], [12, 3]), {
      kind: 'utility',
      service: 'gas',
      located: { by: 'public', on: '2026-04-01', until: '2026-04-21' },
    }),
    f('elec', line([-5, 6], [-9, 11], [-13, 15]), {
      kind: 'utility',
      service: 'electric',
      side: 'private',
    }),
    f('water', line([-2, 36], [3, 20], [3, 9]), {
      kind: 'utility',
      service: 'water',
      located: { by: 'public', on: '2026-04-01', until: '2026-04-21' },
    }),
    f('sewer', line([2, 36], [7, 20], [7, 9]), {
      kind: 'utility',
      service: 'sewer',
      located: { by: 'public', on: '2026-04-01', until: '2026-04-21' },
    }),
    f('comm', line([27, 14], [20, 12], [12, 6.5]), {
      kind: 'utility',
      service: 'communications',
      located: { by: 'public', on: '2026-04-01', until: '2026-04-21' },
    }),
    f('well', pt(20, 16), { kind: 'well' }),
    f('drain', pt(-8, -3), { kind: 'yard-drain' }),
    f('sump', pt(-6.5, 6), { kind: 'sump-outlet' }),
    f('oak', pt(-20, 2), {
      kind: 'tree',
      trunk_diameter_m: 0.5,
      canopy_radius_m: 4.2,
      name: 'oak',
    }),
    f('maple', pt(0, -22), { kind: 'tree', canopy_radius_m: 3 }),
    f('wall', line([-28, -10], [-14, -11], [-13, -14]), { kind: 'wall', height_m: 0.6 }),
    f('kerb', line([-30, 36], [30, 32]), { kind: 'kerb' }),
    f('swale', line([-26, -29], [-5, -28.5], [10, -29.5]), { kind: 'swale', name: 'swale' }),
    f('pipe', line([-8, -3], [-2, -12], [6, -20]), { kind: 'drain-pipe' }),
    f('sh', pt(4, 15), { kind: 'spot-height', elevation_m: 101.342 }),
    f('st', pt(14, -18), { kind: 'soil-test', name: 'T1' }),
    f(
      'basin',
      { type: 'Polygon', coordinates: [[...kidney, kidney[0]].map(([x, y]) => L(x, y))] },
      { kind: 'basin', ponding_depth_m: 0.2, side_slope: 4, overflow: L(22.4, -14.5) },
    ),
  ],
} as unknown as Plan;
const buf = (p: XY[], d: number) => {
  const out: XY[] = [];
  const cx = p.reduce((s, q) => s + q[0], 0) / p.length,
    cy = p.reduce((s, q) => s + q[1], 0) / p.length;
  for (const [x, y] of p) {
    const sx = Math.sign(x - cx),
      sy = Math.sign(y - cy),
      a0 = Math.atan2(sy, sx);
    for (let k = -4; k <= 4; k++) {
      const a = a0 + (k * Math.PI) / 16;
      out.push([x + d * Math.cos(a), y + d * Math.sin(a)]);
    }
  }
  return out;
};
export const keepClear = {
  type: 'FeatureCollection' as const,
  features: [
    {
      type: 'Feature' as const,
      geometry: poly(
        ...buf(
          [
            [12, 9],
            [-5, 9],
            [-5, -1],
            [12, -1],
          ],
          3.05,
        ),
      ),
      properties: { rule: 'foundation', letter: 'F' },
    },
    {
      type: 'Feature' as const,
      geometry: poly(
        ...buf(
          [
            [-11, -17],
            [-23, -16.5],
            [-23.4, -24],
            [-11.4, -24.5],
          ],
          3,
        ),
      ),
      properties: { rule: 'septic', letter: 'S' },
    },
    {
      type: 'Feature' as const,
      geometry: poly(
        ...Array.from(
          { length: 40 },
          (_, i) =>
            [20 + 5 * Math.cos((i / 40) * 6.283), 16 + 5 * Math.sin((i / 40) * 6.283)] as XY,
        ),
      ),
      properties: { rule: 'well', letter: 'W' },
    },
  ],
};
export const margins = [
  {
    id: 'm1',
    from: L(16.3, -10.7),
    to: L(12, -1),
    measured: '11.2 m',
    required: 'needs 3.05',
    result: 'pass' as const,
  },
  {
    id: 'm2',
    from: L(23.9, -12.8),
    to: L(25.7, -12.7),
    measured: '1.8 m',
    required: 'needs 3.05',
    result: 'fail' as const,
  },
  { id: 'm3', from: L(14.9, -13), to: L(6.8, -15.6), measured: '8.6 m', result: 'check' as const },
  {
    id: 'm4',
    from: L(19.4, -10),
    to: L(20, 16),
    measured: '28.4 m',
    required: 'needs 15.2',
    result: 'pass' as const,
  },
];
export const sites = [
  { rank: 1, at: L(19.5, -13.2), ring: [] as LngLat[] },
  {
    rank: 2,
    at: L(-8, -16),
    ring: Array.from({ length: 30 }, (_, i) =>
      L(-4 + 3 * Math.cos((i / 30) * 6.283), -15.5 + 2.2 * Math.sin((i / 30) * 6.283)),
    ),
  },
  {
    rank: 3,
    at: L(16, -22),
    ring: Array.from({ length: 30 }, (_, i) =>
      L(12 + 2.4 * Math.cos((i / 30) * 6.283), -24 + 2 * Math.sin((i / 30) * 6.283)),
    ),
    result: 'check' as const,
  },
]
  .map((s) =>
    s.rank === 1 ? s : { ...s, at: L(s.rank === 2 ? -4 : 12, s.rank === 2 ? -15.5 : -24) },
  )
  .filter((s) => s.ring.length);
export const lowSpots = {
  type: 'FeatureCollection' as const,
  features: [
    {
      type: 'Feature' as const,
      geometry: poly(
        ...Array.from(
          { length: 30 },
          (_, i) =>
            [24 + 4 * Math.cos((i / 30) * 6.283), -22 + 3 * Math.sin((i / 30) * 6.283)] as XY,
        ),
      ),
      properties: { id: 'ls1', label: '2.4 m³' },
    },
    {
      type: 'Feature' as const,
      geometry: poly(
        ...Array.from(
          { length: 30 },
          (_, i) =>
            [8 + 3 * Math.cos((i / 30) * 6.283), -3 + 2.2 * Math.sin((i / 30) * 6.283)] as XY,
        ),
      ),
      properties: { id: 'ls2', label: '0.9 m³' },
    },
  ],
};
export const probe = {
  at: L(-10, 3),
  path: trace(-10, 3).map(([x, y]) => frame.toLngLat([x, y])),
  area: poly([-24, 22], [0, 20], [6, 14], [2, -2], [-10, 2], [-18, 10]),
};
export const overflowPath = trace(22.4, -14.5).map(([x, y]) => frame.toLngLat([x, y]));
export { channels, inkOf };
