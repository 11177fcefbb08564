import { describe, expect, it } from 'vitest';
import type { CertainDrainage } from '../../lib/drainage/certainty/with-certainty';
import { demoElevation, demoPlan } from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls } from './run-lotfall';

const call = ['drainage', demoPlan, '-e', demoElevation];

describe('lotfall drainage --certainty', () => {
  it('says how sure low spots, basins and buildings are, and the same each time', async () => {
    const asked = [...call, '--certainty', '--surfaces', '20', '--json'];
    const [run, again] = await lotfalls(asked, asked);
    expect(run.stdout).toBe(again.stdout);
    const result = documentOf(run) as CertainDrainage;
    expect(result.certainty).toMatchObject({ surfaces: 20, errors: { rmse_m: 0.07 } });
    for (const row of [...result.low_spots, ...result.basins, ...result.buildings]) {
      expect(row.probability).toBeGreaterThanOrEqual(0);
      expect(row.probability).toBeLessThanOrEqual(1);
      expect(row.words).toMatch(/likely|not \(\d+ %\)/);
    }
    for (const { area_m2, area_m2_5, area_m2_95 } of result.low_spots) {
      if (typeof area_m2_5 !== 'number' || typeof area_m2_95 !== 'number') continue;
      expect(area_m2_5).toBeLessThanOrEqual(area_m2_95);
      expect(area_m2).toBeGreaterThan(0);
    }
  });

  it('is left out where it is not asked for', async () => {
    const result = documentOf(await lotfall(...call, '--json')) as Partial<CertainDrainage>;
    expect(result.certainty).toBeUndefined();
    expect(result.low_spots?.[0]).not.toHaveProperty('probability');
  });

  it('is told in words', async () => {
    const { stdout } = await lotfall(...call, '--certainty', '--surfaces', '10');
    expect(stdout).toMatch(/How sure is that\? 10 equally likely surfaces.*7 cm/);
    expect(stdout).toMatch(/water stands at the wall of House +(very )?(un)?likely \(/);
    expect(stdout).toMatch(/^low spot 2 is there/m);
    expect(stdout).not.toMatch(/low-\d/);
  });

  it('refuses numbers of surfaces that are none', async () => {
    const [none, word, alone] = await lotfalls(
      [...call, '--certainty', '--surfaces', '0'],
      [...call, '--certainty', '--surfaces', 'many'],
      [...call, '--surfaces', '50'],
    );
    expectRefused(none, '--surfaces 0', 'from 1 to 4000');
    expectRefused(word, '--surfaces many');
    expectRefused(alone, 'without --certainty');
  });
});
