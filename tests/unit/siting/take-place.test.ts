import { describe, expect, it } from 'vitest';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { cellsInside } from '../../../lib/ground/rasterise';
import { asFeature } from '../../../lib/plan/as-feature';
import { toLocal, type LocalPlan } from '../../../lib/plan/local-plan';
import type { Plan, PlanFeature } from '../../../lib/plan/schema';
import { findSites } from '../../../lib/siting/answer/find-sites';
import { takeJoint, takePlace } from '../../../src/app/questions/place/take-place';
import { placesPicture, type PlacesPicture } from '../../../src/app/worker/places-picture';
import { box, elevationOf, frame, groundOf, planOf, pointOf, polygonOf } from '../ground/plane-lot';

const grid = groundOf(60, 60, 0.5, (x, y) => 10 + 0.03 * y + 0.002 * x);
const house = box(20, 38, 32, 46);
const local = planOf(
  [
    polygonOf('lot', box(8, 8, 50, 52), { kind: 'lot', own: true }),
    polygonOf('house', house, { kind: 'building', foundation: 'slab' }),
    polygonOf('roof', house, { kind: 'roof', building: 'house' }),
    pointOf('west', [19.7, 37.7], { kind: 'downspout', roof: 'roof', share: 0.5 }),
    pointOf('east', [32.3, 37.7], { kind: 'downspout', roof: 'roof', share: 0.5 }),
  ],
  { storm: { rain_mm: 40 } },
);
const elevation = elevationOf(grid);

async function found(basins: number): Promise<PlacesPicture> {
  const shape = shapeGround(grid, local);
  const storm = stormOnGround(shape, local, 40);
  const answer = await findSites({
    elevation,
    plan: local,
    shape,
    storm,
    today: '2026-05-10',
    basins,
  });
  return placesPicture(answer, frame);
}

function withTaken(taken: readonly PlanFeature[]): LocalPlan {
  const ids = new Set(taken.map(({ id }) => id));
  const kept = local.plan.features.filter(({ id }) => !ids.has(id));
  const plan: Plan = { ...local.plan, features: [...kept, ...taken] };
  return toLocal(plan, frame);
}

/** Ids of the basins whose cells a downspout's water lands in, all of it. */
function landsIn(plan: LocalPlan, downspout: string): string[] {
  const storm = stormOnGround(shapeGround(grid, plan), plan, 40);
  const flow = storm.roofFlows.find(({ outlet }) => outlet.downspout === downspout);
  const cells = flow?.landings.flatMap((landing) => [...landing.cells]) ?? [];
  expect(cells.length).toBeGreaterThan(0);
  return plan.of.basin
    .filter((basin) => {
      const inside = new Set(cellsInside(grid, basin.shape.rings));
      return cells.every((cell) => inside.has(cell));
    })
    .map(({ id }) => id);
}

describe('a place taken into the plan', () => {
  it('is its basin alone, or with pipes through which the roofs’ water lands in it', async () => {
    const { candidates } = await found(1);
    const place = candidates.find(({ site }) => site.led.length === 2);
    if (place === undefined) throw new Error('no place to which both roofs are led');
    expect(takePlace(local.plan, place, false).map(({ properties }) => properties.kind)).toEqual([
      'basin',
    ]);
    const taken = takePlace(local.plan, place, true);
    for (const feature of taken) expect(asFeature(feature)).not.toBeNull();
    const plan = withTaken(taken);
    expect(plan.of['drain-pipe']).toHaveLength(2);
    for (const id of ['west', 'east']) expect(landsIn(plan, id)).toEqual([taken[0].id]);
  });

  it('as several: each a basin of its own, each roof led to one of them', async () => {
    const { joint } = await found(2);
    if (joint === null) throw new Error('no two places');
    const { puts, deletes } = takeJoint(local.plan, joint);
    expect(deletes).toEqual([]);
    expect(new Set(puts.map(({ id }) => id)).size).toBe(puts.length);
    const plan = withTaken(puts);
    expect(plan.of.basin.map(({ id }) => id)).toEqual(['basin-1', 'basin-2']);
    joint.basins.forEach(({ site }, i) => {
      for (const { roof } of site.led) expect(landsIn(plan, roof)).toEqual([`basin-${i + 1}`]);
    });
    // A basin of the plan that none of them replaces goes.
    const old = polygonOf('pond', box(40, 12, 44, 16), { kind: 'basin' });
    const before: Plan = { ...local.plan, features: [...local.plan.features, old] };
    expect(takeJoint(before, joint).deletes).toEqual(['pond']);
  });
});
