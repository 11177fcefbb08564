import { describe, expect, it } from 'vitest';
import { readFound } from '../../../lib/gather/read-found';
import { applyChange } from '../../../lib/plan/change';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { writePlan } from '../../../lib/plan/write-plan';
import { emptyPlan, gatherAs, geoJson, given, smallPlan, square } from './given';

const polygon = (...rings: unknown[]): object => ({ type: 'Polygon', coordinates: rings });
const read = (...features: Parameters<typeof geoJson>[0][number][]) =>
  readFound(given('things.geojson', geoJson(features)));

/** The plan with what came in, having gone through its file. */
function after(plan: Plan, { change }: Awaited<ReturnType<typeof gatherAs>>): Plan {
  if (change === null) throw new Error('nothing came in');
  return readPlan(writePlan(applyChange(plan, change).plan), 'the plan').plan;
}

describe('bringing layers into a plan', () => {
  it('adds by one change that undoes itself and replaces nothing', async () => {
    const found = await read([polygon(square(1e-4, 1e-4, 1e-4)), { NAME: 'Barn' }]);
    const { change } = await gatherAs(smallPlan, found, 'building');
    const { plan, inverse } = applyChange(smallPlan, change!);
    expect(plan.features[0]).toBe(smallPlan.features[0]);
    expect(plan.features[1]).toMatchObject({
      id: 'building-1',
      properties: { kind: 'building', name: 'Barn', gathered_from: 'things.geojson, things' },
    });
    expect(applyChange(plan, inverse).plan.features).toEqual(smallPlan.features);
  });

  it('gives ids that the plan has not, and leaves out what the plan has', async () => {
    const found = await read([polygon(square(1e-4, 1e-4, 1e-4))], [polygon(square(0, 0, 1e-4))]);
    const first = after(smallPlan, await gatherAs(smallPlan, found, 'building'));
    const second = await gatherAs(first, found, 'building');
    expect(second.change).toBeNull();
    expect(second.layers[0].left).toEqual([{ why: 'in the plan already', count: 2 }]);
    const more = await gatherAs(first, await read([polygon(square(0, 0, 2e-4))]), 'building');
    expect(more.layers[0].ids).toEqual(['building-3']);
  });

  it('takes only what lies near the lot, and asks about the system where nothing does', async () => {
    const near = polygon(square(4e-4, 0, 1e-4));
    const found = await read([near], [polygon(square(0.1, 0, 1e-4))]);
    // The near one is 1e-4 degrees of longitude away: 8.2 m.
    const eight = await gatherAs(smallPlan, found, 'building', { nearM: 8 });
    const nine = await gatherAs(smallPlan, found, 'building', { nearM: 9 });
    expect([eight.layers[0].ids.length, nine.layers[0].ids.length]).toEqual([0, 1]);
    expect(eight.layers[0].notes.join()).toMatch(
      /nearest of it is 8 m away: is its coordinate system right\?/,
    );
    expect(nine.layers[0].notes).toEqual([]);
  });

  it('measures to the lot itself, not to the box around it', async () => {
    const [, , corner] = square(0, 0, 3e-4);
    const ends = [square(3e-4, 6e-4, 0)[0], square(6e-4, 3e-4, 0)[0]];
    // A slant of 24.6 by 33.3 m across from the lot's corner: 19.8 m away, by its height on the long side.
    expect(corner).toEqual(square(3e-4, 3e-4, 0)[0]);
    const found = await read([{ type: 'LineString', coordinates: ends }]);
    const cameIn = async (nearM: number) =>
      (await gatherAs(smallPlan, found, 'wall', { nearM })).layers[0].ids.length;
    expect([await cameIn(19), await cameIn(21)]).toEqual([0, 1]);
  });

  it('makes a feature of each part and keeps holes', async () => {
    const hole = square(1e-4, 1e-4, 5e-5);
    const found = await read([
      {
        type: 'MultiPolygon',
        coordinates: [[square(0, 0, 3e-4), hole], [square(5e-4, 0, 1e-4)]],
      },
    ]);
    const gathered = await gatherAs(smallPlan, found, 'wetland');
    const { features } = after(smallPlan, gathered);
    expect(features.slice(1).map(({ geometry }) => geometry.coordinates.length)).toEqual([2, 1]);
    expect(gathered.layers[0].notes.join()).toMatch(/several parts, 1 of them/);
  });

  it('mends an outline that crosses itself into the pieces it surrounds', async () => {
    const [a, b, c, d] = square(0, 0, 2e-4);
    const found = await read([polygon([a, c, b, d, a])]);
    const gathered = await gatherAs(smallPlan, found, 'building');
    expect(gathered.layers[0].ids).toHaveLength(2);
    expect(gathered.layers[0].notes.join()).toMatch(/crossed or touched itself.*182\.\d m² in 2/);
    after(smallPlan, gathered);
  });

  it('mends a hole that touches its outline, to a millimetre', async () => {
    const found = await read([polygon(square(0, 0, 3e-4), square(0, 1e-4, 1e-4))]);
    const gathered = await gatherAs(emptyPlan, found, 'wetland');
    // Eight of nine squares of 8.2 by 11.1 m.
    expect(gathered.layers[0].notes.join()).toMatch(/was mended: 730\.\d m²/);
    after(emptyPlan, gathered);
  });

  it('draws in by a millimetre what touches itself in one place', async () => {
    const [a, b, c] = [square(1e-4, 0, 0)[0], square(2e-4, 1e-4, 0)[0], square(1e-4, 1e-4, 0)[0]];
    const found = await read([polygon(square(0, 0, 3e-4), [a, b, c, a])]);
    const gathered = await gatherAs(emptyPlan, found, 'wetland');
    // Nine squares of 91.3 m2 less half a one, less a millimetre along 116 m and 32 m of edges.
    expect(gathered.layers[0].notes.join()).toMatch(/was mended: 77[56]\.\d m²/);
    expect(gathered.layers[0].ids).toHaveLength(1);
    after(emptyPlan, gathered);
  });

  it('says of what does not fit why it stays out', async () => {
    const [a, b] = square(0, 0, 1e-4);
    const found = await read(
      [{ type: 'Point', coordinates: a }],
      [{ type: 'LineString', coordinates: [a, b] }],
      [polygon([a, b, a])],
      [null],
    );
    const { layers, change } = await gatherAs(smallPlan, found, 'building');
    expect(change).toBeNull();
    expect(layers[0].left.map(({ why }) => why)).toEqual([
      'points, and a building is an outline',
      'open lines, and a building is an outline',
      'not an outline: it has fewer than 3 corners',
      'without a shape',
    ]);
  });

  it('closes lines only when asked', async () => {
    const line = { type: 'LineString', coordinates: square(0, 0, 1e-4) };
    const found = await read([line]);
    const left = (await gatherAs(smallPlan, found, 'building')).layers[0].left;
    expect(left[0].why).toMatch(/^closed lines, which become outlines only when/);
    const asked = await gatherAs(smallPlan, found, 'building', { closeM: 0.05 });
    expect(asked.layers[0].ids).toEqual(['building-1']);
  });

  it('puts a tree drawn as an outline in its middle, with its trunk in metres', async () => {
    const found = await read([polygon(square(0, 0, 2e-4)), { dbh_in: 10 }]);
    const [, tree] = after(smallPlan, await gatherAs(smallPlan, found, 'tree')).features;
    expect(tree.properties).toMatchObject({ trunk_diameter_m: 0.254 });
    const [lng, lat] = tree.geometry.coordinates.flat(2);
    expect(lng).toBeCloseTo(-87.1069, 8);
    expect(lat).toBeCloseTo(42.5101, 8);
  });

  it('leaves out lengths whose unit nobody says, and says so', async () => {
    const found = await read([{ type: 'Point', coordinates: [-87.1069, 42.5101] }, { dbh: 10 }]);
    const unsaid = await gatherAs(smallPlan, found, 'tree');
    expect(unsaid.layers[0].notes.join()).toMatch(/nothing says their unit/);
    expect(unsaid.change?.puts?.[0].properties).not.toHaveProperty('trunk_diameter_m');
    const said = await gatherAs(smallPlan, found, 'tree', { unitM: 0.01 });
    expect(said.change?.puts?.[0].properties).toMatchObject({ trunk_diameter_m: 0.1 });
  });

  it('takes the only lot of an empty plan for the own one, and never one beside the own lot', async () => {
    const found = await read([polygon(square(1e-3, 0, 1e-4))]);
    const fresh = await gatherAs(emptyPlan, found, 'lot');
    expect(fresh.change?.puts?.[0].properties).toMatchObject({ own: true });
    const beside = await gatherAs(smallPlan, found, 'lot');
    expect(beside.change?.puts?.[0].properties).toMatchObject({ own: false });
  });

  it('refuses what no plan can hold', async () => {
    const apart = await read([polygon(square(0, 0, 1e-4))], [polygon(square(2, 0, 1e-4))]);
    const { change, refusal, layers } = await gatherAs(emptyPlan, apart, 'building');
    expect(change).toBeNull();
    expect(refusal?.message).toMatch(/^[^\n]*50 km[^\n]*\.$/);
    expect(layers[0].ids).toHaveLength(2);
  });
});
