import { describe, expect, it } from 'vitest';
import type { LinesOnPaper } from '../../lib/paper/lines-on-paper';
import type { OnPaper } from '../../lib/paper/on-paper';
import type { LotFindings } from '../../lib/setback/judge/check-lot';
import { save, tempFolder } from './inputs';
import { drops, yard } from './levelled-yard';
import { documentOf, expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();

describe('a plan without elevation and without a ground of levels', () => {
  const plan = save(
    at('two.plan.geojson'),
    yard((height, i) => (i < 2 ? drops(height) : null)),
  );

  it('is answered as far as that goes, by design and by sites alike', async () => {
    const [design, sites] = await Promise.all([
      lotfall('design', plan, '--json'),
      lotfall('sites', plan, '--json'),
    ]);
    expect(design.status).toBe(0);
    const answer = documentOf(design) as OnPaper;
    expect(documentOf(sites)).toEqual(answer);
    expect(answer.elevation).toBeNull();
    expect(answer.bowls[0].holds_m3).toBeGreaterThan(0);
    expect(answer.walls[0].if_level_m3).toBeGreaterThan(5);
    expect(answer.cannot_say.length).toBeGreaterThan(2);
    const words = await lotfall('design', plan, '--capture', '80%');
    expect(words.stdout).toMatch(/Cannot be said without heights/);
    expect(words.stdout).toMatch(/earth for a 5 % fall/);
    expect(words.stdout).toMatch(/Not used without heights: --capture/);
  });

  it('is checked for its drainage where it has no garden, but has nothing to be dug', async () => {
    const bare = yard((height, i) => (i < 2 ? drops(height) : null));
    bare.features = bare.features.filter(({ id }) => id !== 'garden');
    bare.features.push({
      type: 'Feature',
      id: 'hose',
      geometry: { type: 'Point', coordinates: [-87.1, 42.51] },
      properties: { kind: 'sump-outlet' },
    });
    const file = save(at('bare.plan.geojson'), bare);
    const run = await lotfall('setbacks', file, '--json');
    expect(run.status).toBe(0);
    const found = documentOf(run) as { results: unknown[]; lot: LotFindings };
    expect(found.results).toEqual([]);
    expect(found.lot.results.map(({ rule }) => rule)).toContain('sump-to-line');
    const words = await lotfall('setbacks', file);
    expect(words.stdout).toMatch(/Ask the town’s engineer/);
    expect(words.stdout).toMatch(/no basin.*only the rules about outlets/);
    expect(words.stdout).toMatch(/differs by state/);
    expectRefused(await lotfall('setbacks', file, '--locate-request'), /nothing is to be dug/);
  });

  it('writes no form that needs heights', async () => {
    expectRefused(await lotfall('design', plan, '--out', at('x.csv')), /x\.csv.*heights/);
  });

  it('has its fall told along a line, and refuses what is no level', async () => {
    const run = await lotfall('fall', plan, '--json');
    const { lines } = documentOf(run) as LinesOnPaper;
    expect(lines).toHaveLength(1);
    expect(lines[0].lower_end).toBe('last');
    expectRefused(await lotfall('fall', plan, '--to', 'gate'), /no level called 'gate'/);
    expectRefused(await lotfall('fall', plan, '--intensity', 'much'), /no intensity of rain/);
  });
});
