import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { save, tempFolder } from './inputs';
import { drops, yard } from './levelled-yard';
import { documentOf, expectRefused, lotfall, lotfallBoth } from './run-lotfall';

const at = tempFolder();
describe('a plan with levels and no elevation', () => {
  const plan = save(at('yard.plan.geojson'), yard(drops));

  it('is drained on its levels, and says what that bears', async () => {
    const run = await lotfall('drainage', plan, '--json');
    expect(run.status).toBe(0);
    const result = documentOf(run) as DrainageResult;
    const [house] = result.buildings;
    expect(house.depth_m).toBeGreaterThan(0.05);
    expect(house.depth_m).toBeLessThan(0.25);
    expect(result.notes.join(' ')).toMatch(/made from 26 levels.*Duchon 1977/);
    expect(result.notes.join(' ')).toMatch(/Nothing is known beyond the outermost levels/);
    const words = await lotfall('drainage', plan);
    expect(words.stdout).toMatch(/Water stands by house/);
    expect(words.stdout).toMatch(/Measure here next\n {2}[\d.]+ c?m from .* and .*: (how|which) /);
  });

  it('has what was seen set beside what is reckoned', async () => {
    const yardSeen = yard(drops);
    yardSeen.features.push({
      type: 'Feature',
      id: 'wet-corner',
      geometry: { type: 'Point', coordinates: [-87.0998, 42.5101] },
      properties: { kind: 'observation', depth_m: 0.1, gone_after_h: 30, on: '2099-01-01' },
    });
    const file = save(at('seen.plan.geojson'), yardSeen);
    const { words, json } = await lotfallBoth(at('seen.txt'), 'drainage', file);
    const document = JSON.parse(json.stdout) as { observed: { feature: string }[] };
    expect(document.observed.map(({ feature }) => feature)).toEqual(['wet-corner']);
    expect(words.stdout).toMatch(/water seen +on +rain +seen +reckoned +the ground took/);
    expect(words.stdout).toMatch(/wet corner is dated 2099-01-01, which has not come yet/);
  });

  it('is judged, sited and designed on them', async () => {
    const setbacks = await lotfall('setbacks', plan, '--json');
    expect(setbacks.stdout).toMatch(/made from 26 levels/);
    const design = await lotfall('design', plan);
    expect(design.stdout).toMatch(/garden/);
    const sites = await lotfall('sites', plan);
    expect([0, 1]).toContain(sites.status);
    expect(sites.stdout).toMatch(/made from 26 levels/);
  });

  it('gives the same from heights as from drops below a string', async () => {
    const heights = save(
      at('heights.plan.geojson'),
      yard((height) => ({ elevation_m: Math.round(100 * height) / 100 })),
    );
    const [a, b] = await Promise.all(
      [plan, heights].map(
        async (each) => documentOf(await lotfall('drainage', each, '--json')) as DrainageResult,
      ),
    );
    expect(b.buildings[0].depth_m).toBeCloseTo(a.buildings[0].depth_m, 4);
    expect(b.ledger?.standing_m3).toBeCloseTo(a.ledger?.standing_m3 ?? Number.NaN, 4);
  });

  it('is refused in a sentence where they make no ground', async () => {
    const few = save(
      at('few.plan.geojson'),
      yard((height, i) => (i < 2 ? drops(height) : null)),
    );
    expectRefused(await lotfall('drainage', few), /no elevation is named.*three and more levels/);
    const zeros = save(
      at('zeros.plan.geojson'),
      yard((height, i) => (i < 9 ? drops(height) : { elevation_m: height })),
    );
    expectRefused(await lotfall('drainage', zeros), /zeros\.plan\.geojson: .*two zeros/);
  });
});
