import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { readPlan } from '../../lib/plan/read-plan';
import type { RemediesResult } from '../../lib/remedies/remedies-result';
import type { WhyNotAnswer } from '../../lib/remedies/why-not';
import { demoElevation, demoPlan, readDemoPlan, save, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall, type Run } from './run-lotfall';

const at = tempFolder();
const call = ['remedies', demoPlan, '-e', demoElevation, '--on', '2026-11-25'];

describe('remedies on the demo lot', () => {
  let run: Run;
  let found: RemediesResult & { readonly taken: string; readonly why_not: WhyNotAnswer };
  const dry = at('dry.plan.geojson');
  const why = ['--why-not', 'swale', '--to', 'street'];
  beforeAll(async () => {
    run = await lotfall(...call, '--take', '1', '--out', dry, '--json', ...why);
    found = documentOf(run) as typeof found;
  });

  it('finds a lawful way that leaves both walls dry and sends the lot below no more in any storm', () => {
    expect(run.status).toBe(0);
    const [best] = found.proposals;
    expect(best.mark).toBe('dries');
    expect(best.lawful).not.toBe('fail');
    const walls = found.findings.filter(({ doubtful }) => !doubtful).map(({ id }) => id);
    expect(walls).toHaveLength(2);
    expect(best.cures).toEqual(expect.arrayContaining(walls));
    const storms = best.storms.filter(({ kind }) => kind === 'storm');
    expect(storms.map(({ rain_mm }) => rain_mm).sort((a, b) => a - b)).toEqual([
      10, 25, 40, 60, 100,
    ]);
    for (const { buildings, sent } of storms) {
      for (const { wall_m } of buildings) expect(wall_m.after).toBe(0);
      const below = sent.find(({ to }) => to === 'lot-downhill');
      expect(below?.volume_m3.after).toBeLessThanOrEqual((below?.volume_m3.before ?? 0) + 0.02);
    }
    // At least 2.25 m3 less than now in 40 mm.
    const below = best.storms[0].sent.find(({ to }) => to === 'lot-downhill')?.volume_m3;
    expect((below?.before ?? 0) - (below?.after ?? 0)).toBeGreaterThan(2.25);
  });

  it('writes the plan with it, of which the water is what was said', async () => {
    const { plan } = readPlan(readFileSync(dry, 'utf8'), 'dry');
    expect(plan.features.filter(({ id }) => id.startsWith('remedy-')).length).toBeGreaterThan(0);
    const drained = await lotfall('drainage', dry, '-e', demoElevation, '--json');
    const { buildings, ledger } = documentOf(drained) as DrainageResult;
    const [storm] = found.proposals[0].storms;
    for (const row of storm.buildings) {
      const is = buildings.find(({ building }) => building === row.building);
      expect(row.volume_m3.after).toBeCloseTo(is?.volume_m3 ?? NaN, 3);
    }
    const share = ledger?.passed_on_to.find(({ lot }) => lot === 'lot-downhill');
    const said = storm.sent.find(({ to }) => to === 'lot-downhill');
    expect(said?.volume_m3.after).toBeCloseTo(share?.volume_m3 ?? NaN, 2);
  });

  it('says why not a swale to the street, and what downspouts do in small rain', () => {
    const because = (key: string) => found.refused.find((row) => row.key === key)?.because;
    expect(because('swale-to-street')).toMatch(/^(No way|Too deep)/);
    expect(found.why_not.found).toBe('refused');
    expect(found.why_not.binds[0].why).toBe(because('swale-to-street'));
    expect(found.why_not.would_change[0]).toMatch(/locate|pump|lower/);
    expect(because('move-downspouts')).toMatch(/No help in 40 mm.*in 10 mm of rain \d+ % less/);
  });
});

describe('a call that cannot be answered', () => {
  it('is refused in a sentence', async () => {
    expectRefused(await lotfall('remedies', demoPlan), /no elevation is named/);
    expectRefused(await lotfall(...call, '--for', 'barn'), /no building 'barn'.*house/);
    expectRefused(await lotfall(...call, '--storms', '10,wet'), /storms|wet/);
    expectRefused(await lotfall(...call, '--out', at('x.geojson')), /add --take/);
    expectRefused(
      await lotfall(...call, '--why-not', 'pump'),
      /'?pump'? is no remedy; name one of/,
    );
    expectRefused(await lotfall(...call, '--to', 'street'), /add --why-not/);
    const plan = readDemoPlan();
    const bare = {
      ...plan,
      features: plan.features.filter(
        ({ properties }) => !['building', 'roof', 'downspout'].includes(String(properties['kind'])),
      ),
    };
    const file = save(at('bare.plan.geojson'), bare);
    expectRefused(
      await lotfall('remedies', file, '-e', demoElevation),
      /no building stands on the lot/,
    );
  });
});
