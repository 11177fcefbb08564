import { pathToFileURL } from 'node:url';
import { makeFrame, localFrame, type LngLat, type XY } from '../../lib/frame/frame';
import { toLocal } from '../../lib/plan/local-plan';
import type { Plan, PlanFeature } from '../../lib/plan/schema';
import { checkSetbacks } from '../../lib/setback/judge/check-setbacks';
import { checkedBasins } from '../../lib/setback/rules/checked-basins';
import { ruleSetById } from '../../lib/setback/sets/rule-sets';
import { box, disc } from '../unit/setback/plan-of';

const frame = makeFrame(localFrame([-86.6, 44.9]));
const globe = (at: XY): LngLat => frame.toLngLat(at);
const ring = (corners: readonly XY[]): LngLat[] => [...corners, corners[0]].map(globe);

function feature(id: string, properties: object, geometry: object): PlanFeature {
  return { type: 'Feature', id, properties, geometry } as unknown as PlanFeature;
}

function basinAt(step: number): PlanFeature {
  const rim = disc([(step % 50) * 0.1, 3], 2.5);
  return feature('basin', { kind: 'basin' }, { type: 'Polygon', coordinates: [ring(rim)] });
}

/** A busy lot: trees, buildings of twelve corners, lines of ten, `count` features in all with lot and basin. */
function busyPlan(count: number): Plan {
  const features = Array.from({ length: count - 2 }, (_, i): PlanFeature => {
    const [x, y]: XY = [((i * 37) % 200) - 100, ((i * 61) % 170) - 85];
    const id = `f${i}`;
    if (i % 4 === 0) {
      const coordinates = [ring(disc([x, y], 5, 12))];
      return feature(
        id,
        { kind: 'building', foundation: 'slab' },
        { type: 'Polygon', coordinates },
      );
    }
    if (i % 4 === 1) {
      const points = Array.from({ length: 10 }, (_, k): XY => [x + 3 * k, y + (k % 2)]);
      return feature(
        id,
        { kind: 'utility', service: 'water', side: 'private' },
        { type: 'LineString', coordinates: points.map(globe) },
      );
    }
    return feature(
      id,
      { kind: 'tree', trunk_diameter_m: 0.4, canopy_radius_m: 4 },
      { type: 'Point', coordinates: globe([x, y]) },
    );
  });
  const lot = feature(
    'lot',
    { kind: 'lot', own: true },
    { type: 'Polygon', coordinates: [ring(box(-110, -95, 110, 95))] },
  );
  const all = [lot, ...features, basinAt(0)];
  return { type: 'FeatureCollection', features: all, lotfall: { version: 1 } };
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

/**
 * Prints what one step of dragging a basin takes among 250, 500 and 1000 features, with the plan replaced as the page
 * does it, and beside it one plain pass over as many distances between points.
 */
export function benchSetback(counts: readonly number[] = [250, 500, 1000]): void {
  const ruleSet = ruleSetById('default');
  console.log('Setbacks while a basin of 64 corners is dragged, common rules, milliseconds a step');
  for (const count of counts) {
    let plan = busyPlan(count);
    const steps: number[] = [];
    const plain: number[] = [];
    let rows = 0;
    for (let step = 0; step < 120; step++) {
      const moved = basinAt(step);
      const start = performance.now();
      plan = {
        ...plan,
        features: plan.features.map((each) => (each.id === 'basin' ? moved : each)),
      };
      const local = toLocal(plan, frame);
      const basins = checkedBasins(local);
      rows = checkSetbacks({ plan: local, basins, ruleSet, today: '2026-05-10' }).results.length;
      steps.push(performance.now() - start);
      plain.push(plainPass(count * 64));
    }
    // The first steps are spent on compiling.
    const [taken, base] = [median(steps.slice(30)), median(plain.slice(30))];
    const most = Math.max(...steps.slice(30));
    console.log(
      `  ${String(count).padStart(5)} features, ${rows} rows: ${taken.toFixed(2)} ms (most ${most.toFixed(2)}), ${(taken / base).toFixed(0)} x a pass over ${count * 64} distances`,
    );
  }
}

function plainPass(count: number): number {
  const start = performance.now();
  let sum = 0;
  for (let i = 0; i < count; i++) sum += Math.hypot(i % 97, i % 89);
  const taken = performance.now() - start;
  return sum > 0 ? taken : 0;
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  benchSetback();
}
