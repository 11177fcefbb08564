import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { LngLat } from '../../lib/frame/frame';
import type { CandidateSite, SitingResult } from '../../lib/siting/siting-input';
import { readPlan } from '../../lib/plan/read-plan';
import {
  demoElevation,
  demoPlan,
  documentOf,
  featureOf,
  lotfall,
  lotfalls,
  namesIn,
  numbersIn,
  readDemoPlan,
  save,
  temporaryFolder,
  type PlanJson,
} from './run-lotfall';

const at = temporaryFolder();
const call = ['sites', demoPlan, '-e', demoElevation, '--on', '2026-11-25'];

type Document = Omit<SitingResult, 'sites' | 'notes'> & {
  readonly rain_mm: number;
  readonly sites: readonly (Omit<CandidateSite, 'at' | 'rim'> & {
    readonly at: LngLat;
    readonly rim: readonly LngLat[];
  })[];
  readonly notes: readonly string[];
};

describe('lotfall sites', () => {
  it('as JSON: ranked sites that keep every binding rule, with the parts of their score', async () => {
    const run = await lotfall(...call, '--json');
    expect(run.status).toBe(0);
    const { sites, refused, lot_m2, rain_mm, ...rest } = documentOf(run) as Document;
    expect(sites.map((site) => site.rank)).toEqual(sites.map((_, i) => i + 1));
    expect(sites.length).toBeGreaterThan(2);
    sites.forEach((site, i) => {
      expect(site.score).toBeLessThanOrEqual(i === 0 ? 1 : sites[i - 1].score);
      expect(site.at[0]).toBeCloseTo(-87.107, 2);
      expect(site.at[1]).toBeCloseTo(42.51, 2);
      expect(site.rim.at(-1)).toEqual(site.rim[0]);
      expect(site.captured_fraction).toBeGreaterThan(0);
      expect(site.captured_fraction).toBeLessThanOrEqual(1);
      expect(site.catches_m2).toBeGreaterThan(site.area_m2);
      expect(site.setbacks.summary.must_fail).toBe(0);
      for (const part of Object.values(site.parts)) {
        if (part === null) continue;
        expect(part).toBeGreaterThanOrEqual(0);
        expect(part).toBeLessThanOrEqual(1);
      }
    });
    expect(lot_m2).toBeCloseTo(2340, -1);
    expect(rain_mm).toBe(40);
    for (const { rule, area_m2 } of refused)
      expect([rule, area_m2 <= lot_m2]).toEqual([rule, true]);
    for (const [path, value] of numbersIn({ sites, refused, ...rest }))
      expect(value, path).toSatisfy(Number.isFinite);
    for (const name of namesIn({ sites, refused, ...rest }))
      expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
  });

  it('as GeoJSON: outlines that a plan can take over as basins and that then meet the rules', async () => {
    const run = await lotfall(...call, '--out', at('sites.geojson'));
    expect(run).toEqual({ status: 0, stdout: '', stderr: '' });
    const outlines = JSON.parse(readFileSync(at('sites.geojson'), 'utf8')) as PlanJson;
    const plan = readDemoPlan();
    plan.features = plan.features
      .filter(({ id }) => id !== 'basin')
      .concat(featureOf(outlines, 'site-1'));
    expect(readPlan(JSON.stringify(plan), 'taken.geojson').plan.features.at(-1)?.id).toBe('site-1');
    const taken = save(at('taken.geojson'), plan);
    const check = await lotfall('setbacks', taken, '-e', demoElevation, '--on', '2026-11-25');
    expect(check).toMatchObject({ status: 0, stderr: '' });
    expect(check.stdout).toContain(' 0 failed');
  });

  it('for people: a line for each site, the parts, and what rules out the rest', async () => {
    const heavy = [...call, '--rain', '60mm'];
    const [words, more] = await lotfalls(call, heavy);
    expect(words).toMatchObject({ status: 0, stderr: '' });
    expect(words.stdout).toMatch(/^Marl Hollow 12: places for a basin, 40 mm of rain\n/);
    expect(words.stdout).toMatch(
      /^ {3}1 {2}-87\.10\d{4}, 42\.5\d{5} +\w+ .* \d+ % +0\.\d\d {2}\d cannot/m,
    );
    expect(words.stdout).toMatch(/^ +rank +caught +margin/m);
    expect(words.stdout).toMatch(/^Septic tank and field +\d+ m² +\d+ m²$/m);
    expect(words.stdout).toMatch(/^Of the lot's 2,340 m², binding rules leave \d+ m²/m);
    expect(words.stdout).not.toMatch(/NaN|undefined|null|Infinity/);
    expect(more.stdout).toContain('60 mm of rain');
  });

  it('says why there is no place where rules leave none', async () => {
    const plan = readDemoPlan();
    plan.features.push({
      id: 'pond',
      type: 'Feature',
      properties: { kind: 'wetland', name: 'Pond' },
      geometry: featureOf(plan, 'lot').geometry,
    });
    const wet = save(at('wet.geojson'), plan);
    const [words, json] = await lotfalls(
      ['sites', wet, '-e', demoElevation],
      ['sites', wet, '-e', demoElevation, '--json'],
    );
    expect(words).toMatchObject({ status: 0, stderr: '' });
    expect(words.stdout).toContain('No place on this lot is proposed; the first note says why.');
    expect(words.stdout).toMatch(
      /^Note: Nowhere on this lot complies\. What binds most: .*wetland/m,
    );
    const found = documentOf(json) as Document;
    expect(found.sites).toEqual([]);
    expect(found.refused.find(({ title }) => title.includes('wetland'))?.area_m2).toBeCloseTo(
      found.lot_m2,
      6,
    );
  });
});
