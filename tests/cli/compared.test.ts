import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import type { Difference } from '../../lib/drainage/answer/what-changed';
import { demoElevation, featureOf, readDemoPlan, save, tempFolder } from './inputs';
import { drops, yard } from './levelled-yard';
import { documentOf, expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();

interface Compared {
  readonly before: DrainageResult;
  readonly after: DrainageResult;
  readonly differences: readonly Difference[];
}

const states = ['--before', 'existing', '--after', 'proposed'];

/** The demo with its garden only proposed. */
function proposed(): string {
  const plan = readDemoPlan();
  featureOf(plan, 'basin').properties['state'] = 'proposed';
  return save(at('proposed.plan.geojson'), plan);
}

describe('two states of one plan', () => {
  it('differ by what a proposed garden does, and by nothing else', async () => {
    const run = await lotfall('drainage', proposed(), '-e', demoElevation, ...states, '--json');
    const { before, after, differences } = documentOf(run) as Compared;
    const without = readDemoPlan();
    without.features = without.features.filter(({ id }) => id !== 'basin');
    const bare = save(at('bare.plan.geojson'), without);
    const alone = documentOf(
      await lotfall('drainage', bare, '-e', demoElevation, '--json'),
    ) as DrainageResult;
    expect(before.ledger).toEqual(alone.ledger);
    // Water is neither made nor lost between the two: what leaves the lot less stands or soaks on it.
    const [was, is] = [before.ledger, after.ledger];
    if (was === null || is === null) throw new Error('both have a ledger');
    expect(is.passed_on_m3).toBeLessThan(was.passed_on_m3);
    const kept = (l: typeof was) =>
      l.soaked_m3 + l.standing_m3 + l.basin_m3 + l.barrel_m3 + l.sewer_m3 - l.run_on_m3;
    expect(kept(is) - kept(was)).toBeCloseTo(was.passed_on_m3 - is.passed_on_m3, 9);
    expect(differences.some(({ about }) => about === 'basin')).toBe(true);
    expect(differences.some(({ about }) => about === 'passed-on')).toBe(true);
  });

  it('are told in words, levels twice where a height is to change', async () => {
    const plan = yard(drops);
    // Fill in the hollow: today's levels go, others come.
    for (const feature of [...plan.features]) {
      const drop = feature.properties['drop_m'];
      if (feature.properties['kind'] !== 'spot-height' || typeof drop !== 'number') continue;
      if (Number(feature.id.split('-')[2]) < 21) continue;
      feature.properties['state'] = 'gone';
      plan.features.push({
        ...feature,
        id: `${feature.id}-new`,
        properties: { kind: 'spot-height', drop_m: drop - 0.25, state: 'proposed' },
      });
    }
    const run = await lotfall('drainage', save(at('fill.plan.geojson'), plan), ...states);
    expect(run.stdout).toMatch(/existing against proposed, 30 mm of rain/);
    expect(run.stdout).toMatch(/depth by house +\d+ cm +\d cm +less/);
  });

  it('are asked for both, in words that there are', async () => {
    const plan = proposed();
    const call = ['drainage', plan, '-e', demoElevation];
    expectRefused(await lotfall(...call, '--before', 'existing'), /--after is not given/);
    expectRefused(
      await lotfall(...call, '--before', 'past', '--after', 'proposed'),
      /--before past is no state/,
    );
    expectRefused(
      await lotfall(...call, ...states, '--write-rasters', at('rasters')),
      /rasters are of one state/,
    );
  });
});
