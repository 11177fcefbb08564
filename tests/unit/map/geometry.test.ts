import { describe, expect, it } from 'vitest';
import { localFrame, makeFrame, type LngLat, type XY } from '../../../lib/frame/frame';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import { canopyRing } from '../../../src/app/map/layers/canopy-ring';
import { draftMeasures } from '../../../src/app/map/hands/draft-measures';
import { contains, signedAreaM2 } from '../../../lib/frame/shapes';
import { distanceToRing } from '../../../lib/frame/distance-to-ring';
import { insetRing } from '../../../src/app/map/layers/inset-ring';
import { labelPoint } from '../../../src/app/map/layers/label-point';
import { cursorStrides, moveGeometry, nudgeOfKey } from '../../../src/app/map/hands/nudge';
import { clipToBox, neighbourLabels } from '../../../src/app/map/overlay/neighbour-labels';
import { tidyGeometry } from '../../../src/app/state/plan/tidy-geometry';
import { snap } from '../../../src/app/map/hands/snap';

const frame = makeFrame(localFrame([-81, 42.28]));
const square: XY[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
  [0, 0],
];
const kidney = Array.from({ length: 61 }, (_, i): XY => {
  const turn = (i / 60) * 2 * Math.PI;
  const reach = 4 - 1.6 * Math.exp(-((turn - 1.5) ** 2) / 0.3);
  return [reach * 1.4 * Math.cos(turn), reach * Math.sin(turn)];
});

describe('insetRing', () => {
  it('keeps the distance, inside, in whichever direction the ring runs', () => {
    for (const ring of [square, [...square].reverse(), kidney]) {
      const inner = insetRing(ring, 0.8);
      expect(inner.length).toBeGreaterThan(10);
      for (const point of inner) {
        expect(contains([ring], point)).toBe(true);
        expect(distanceToRing(ring, point)).toBeGreaterThan(0.78);
        expect(distanceToRing(ring, point)).toBeLessThan(0.801);
      }
    }
  });

  it('has the area of the smaller square but for its cut corners', () => {
    const area = Math.abs(signedAreaM2(insetRing(square, 2)));
    expect(area).toBeGreaterThan(35);
    expect(area).toBeLessThanOrEqual(36.001);
  });

  it('is empty where nothing lies that deep', () => {
    expect(insetRing(square, 6)).toEqual([]);
  });
});

describe('labelPoint', () => {
  it('lies inside a ring whose middle does not', () => {
    const horseshoe: XY[] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [7, 10],
      [7, 3],
      [3, 3],
      [3, 10],
      [0, 10],
      [0, 0],
    ];
    const at = labelPoint(horseshoe);
    expect(contains([horseshoe], at)).toBe(true);
    expect(distanceToRing(horseshoe, at)).toBeGreaterThan(1.2);
  });
});

describe('labelPoint of an area with a hole', () => {
  it('keeps out of the hole, though that is its middle', () => {
    const hole: XY[] = [
      [2, 2],
      [8, 2],
      [8, 8],
      [2, 8],
      [2, 2],
    ];
    const at = labelPoint(square, [hole]);
    expect(contains([square], at)).toBe(true);
    expect(contains([hole], at)).toBe(false);
  });
});

describe('canopyRing', () => {
  it('is closed and reaches the stated radius and no farther', () => {
    const ring = canopyRing([3, 4], 2.5);
    expect(ring[0]).toEqual(ring.at(-1));
    const reach = ring.map(([x, y]) => Math.hypot(x - 3, y - 4));
    expect(Math.max(...reach)).toBeCloseTo(2.5, 6);
    expect(Math.min(...reach)).toBeGreaterThan(2.2);
  });
});

describe('moveGeometry', () => {
  it('moves every corner by metres on the ground', () => {
    const ring = square.map((at) => [...frame.toLngLat(at)]);
    const moved = moveGeometry({ type: 'Polygon', coordinates: [ring] }, 0.1, -1, frame);
    if (moved.type !== 'Polygon') throw new Error('expected an area');
    moved.coordinates[0].forEach(([lng, lat], i) => {
      const [x, y] = frame.toLocal([lng, lat]);
      expect(x - square[i][0]).toBeCloseTo(0.1, 3);
      expect(y - square[i][1]).toBeCloseTo(-1, 3);
    });
  });

  it('takes a tenth of a metre for an arrow key, a metre with Shift, nothing for others', () => {
    const held = { shiftKey: false, altKey: false };
    expect(nudgeOfKey('ArrowUp', held)).toEqual([0, 0.1]);
    expect(nudgeOfKey('ArrowLeft', { ...held, shiftKey: true })).toEqual([-1, 0]);
    expect(nudgeOfKey('ArrowDown', { ...held, altKey: true })).toEqual([0, -0.01]);
    expect(nudgeOfKey('ArrowDown', held, cursorStrides)).toEqual([0, -1]);
    expect(nudgeOfKey('a', held)).toBeNull();
  });
});

describe('tidyGeometry', () => {
  it('turns rings as GeoJSON has them and rounds to nine decimals', () => {
    const clockwise = [
      [0.1234567891234, 0],
      [0, 0.001],
      [0.2, 0.001],
      [0.1234567891234, 0],
    ];
    const tidy = tidyGeometry({ type: 'Polygon', coordinates: [clockwise] });
    expect(tidy.coordinates).toEqual([
      [
        [0.123456789, 0],
        [0.2, 0.001],
        [0, 0.001],
        [0.123456789, 0],
      ],
    ]);
  });
});

describe('snap', () => {
  const lines = [
    [
      [0, 0],
      [100, 0],
      [100, 100],
    ],
    [[50, 6]],
  ] as const;
  const same = ([x, y]: XY): XY => [x, y];

  it('prefers a corner to the edge beside it', () => {
    expect(snap([94, 2], lines, same)).toEqual([100, 0]);
  });

  it('takes the nearest place on an edge when no corner is near', () => {
    expect(snap([30, -5], lines, same)).toEqual([30, 0]);
  });

  it('takes the nearer of two corners', () => {
    expect(snap([50, 5], lines, same)).toEqual([50, 6]);
  });

  it('is null out of reach', () => {
    expect(snap([30, 40], lines, same)).toBeNull();
    expect(snap([-20, 0], lines, same)).toBeNull();
  });
});

describe('clipToBox', () => {
  it('keeps what lies in the box', () => {
    const clipped = clipToBox(
      [
        [-50, -50],
        [50, -50],
        [50, 50],
        [-50, 50],
        [-50, -50],
      ],
      100,
      40,
    );
    expect(Math.abs(signedAreaM2(clipped))).toBeCloseTo(50 * 40, 6);
  });

  it('is empty for a ring outside', () => {
    expect(
      clipToBox(
        [
          [-5, -5],
          [-1, -5],
          [-1, -1],
          [-5, -5],
        ],
        100,
        40,
      ),
    ).toEqual([]);
  });
});

describe('neighbourLabels', () => {
  const toScreen = ([lng, lat]: readonly [number, number]): XY => [lng * 1000, 400 - lat * 1000];
  const box = (west: number, east: number): LngLat[] => [
    [west, 0],
    [east, 0],
    [east, 0.4],
    [west, 0.4],
    [west, 0],
  ];
  const lot = (own: boolean, west: number, east: number): PlanFeature => ({
    type: 'Feature',
    id: `lot ${west}`,
    geometry: { type: 'Polygon', coordinates: [box(west, east)] },
    properties: { kind: 'lot', own, name: 'Mill 4' },
  });
  const house: PlanFeature = {
    type: 'Feature',
    id: 'house',
    geometry: { type: 'Polygon', coordinates: [box(0.42, 0.62)] },
    properties: { kind: 'building' },
  };
  const planOf = (...features: PlanFeature[]): Plan => ({
    type: 'FeatureCollection',
    features,
    lotfall: { version: 1 },
  });

  it('names neighbours only, in the part of their lot that is seen and not built on', () => {
    const labels = neighbourLabels(
      planOf(lot(true, 0, 0.4), lot(false, 0.4, 2), house),
      toScreen,
      800,
      400,
    );
    expect(labels.map(({ text }) => text)).toEqual(['MILL 4']);
    const [x] = labels[0].at;
    expect(x - 31).toBeGreaterThan(620);
    expect(x + 31).toBeLessThan(800);
  });

  it('leaves a lot unnamed of which too little is seen', () => {
    expect(neighbourLabels(planOf(lot(false, 0.76, 2)), toScreen, 800, 400)).toEqual([]);
  });
});

describe('draftMeasures', () => {
  it('gives each side and the area in the units shown', () => {
    const ring = square.map((at) => [...frame.toLngLat(at)]);
    const metric = draftMeasures({ type: 'Polygon', coordinates: [ring] }, frame, 'metric');
    expect(metric.sides.map(({ text }) => text)).toEqual(Array(4).fill('10.00 m'));
    expect(metric.area?.text).toBe('100 m²');
    const hole = square.map(([x, y]) => [...frame.toLngLat([4 + x / 5, 4 + y / 5])]).reverse();
    const holed = draftMeasures({ type: 'Polygon', coordinates: [ring, hole] }, frame, 'metric');
    expect(holed.sides.map(({ text }) => text)).toEqual([
      ...Array<string>(4).fill('10.00 m'),
      ...Array<string>(4).fill('2.00 m'),
    ]);
    expect(holed.area?.text).toBe('96 m²');
    const us = draftMeasures({ type: 'LineString', coordinates: ring.slice(0, 2) }, frame, 'us');
    expect(us).toMatchObject({ sides: [{ text: '32.8 ft' }], area: null });
  });
});
