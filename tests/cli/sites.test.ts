import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { LngLat } from '../../lib/frame/frame';
import type { CandidateSite, SitingResult } from '../../lib/siting/sizing/siting-result';
import { scorePartNames } from '../../lib/siting/sizing/score';
import { readPlan } from '../../lib/plan/read-plan';
import {
  demoElevation,
  demoPlan,
  featureOf,
  readDemoPlan,
  save,
  tempFolder,
  type PlanJson,
} from './inputs';
import {
  documentOf,
  expectRefused,
  lotfall,
  lotfallBoth,
  lotfalls,
  namesIn,
  numbersIn,
  type Run,
} from './run-lotfall';

const at = tempFolder();
const call = ['sites', demoPlan, '-e', demoElevation, '--on', '2026-11-25'];

type Document = Omit<SitingResult, 'sites' | 'notes'> & {
  readonly rain_mm: number;
  readonly sites: readonly (Omit<CandidateSite, 'at' | 'rim'> & {
    readonly at: LngLat;
    readonly rim: readonly LngLat[];
  })[];
  readonly notes: readonly string[];
  readonly weights_source: { readonly mark: string } | null;
};

type Findings = Pick<CandidateSite['setbacks'], 'results'>;

/** The rules that are not kept, with what breaks them. */
function failing({ results }: Findings): string[] {
  return results
    .filter(({ result }) => result === 'fail')
    .map(({ rule, feature }) => `${rule} ${feature}`)
    .sort();
}

function cornerOfHouse(): LngLat {
  const { features } = readPlan(JSON.stringify(readDemoPlan()), 'demo').plan;
  const house = features.find(({ properties }) => properties.kind === 'building');
  return (house?.geometry as { coordinates: LngLat[][] }).coordinates[0][0];
}

describe('lotfall sites', () => {
  let plain: Run;
  /** Two basins asked for, and a place in the house asked about. */
  let asking: { readonly json: Run; readonly words: Run };
  const corner = cornerOfHouse();
  beforeAll(async () => {
    plain = await lotfall(...call, '--json', '--out', at('sites.geojson'));
    const more = ['--basins', '2', '--at', corner.join(',')];
    asking = await lotfallBoth(at('asking.txt'), ...call, ...more);
  });

  it('as JSON: ranked sites that keep every binding rule, with the parts of their score', () => {
    expect(plain.status).toBe(0);
    const { sites, refused, lot_m2, rain_mm, ...rest } = documentOf(plain) as Document;
    expect(rest.notes.join()).toContain('screening test');
    expect(rest.weights_source?.mark).toBe('our choice, no source');
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
    const outlines = JSON.parse(readFileSync(at('sites.geojson'), 'utf8')) as PlanJson;
    const plan = readDemoPlan();
    plan.features = plan.features
      .filter(({ id }) => id !== 'basin')
      .concat(featureOf(outlines, 'site-1'));
    expect(readPlan(JSON.stringify(plan), 'taken.geojson').plan.features.at(-1)?.id).toBe('site-1');
    const taken = save(at('taken.geojson'), plan);
    const against = ['-e', demoElevation, '--on', '2026-11-25', '--json'];
    const check = await lotfall('setbacks', taken, ...against);
    expect(check).toMatchObject({ status: 0, stderr: '' });
    // What the search says of the rules is what the check says of the basin built there.
    const [site] = (documentOf(plain) as Document).sites;
    expect(failing(documentOf(check) as Findings)).toEqual(failing(site.setbacks));
  });

  it('as GeoJSON: the ways of roofs’ water to each place, as pipes', () => {
    const { features } = JSON.parse(readFileSync(at('sites.geojson'), 'utf8')) as PlanJson;
    const pipes = features.filter(({ properties }) => properties.kind === 'drain-pipe');
    expect(pipes.length).toBeGreaterThan(0);
    for (const { id, geometry, properties } of pipes) {
      expect(id).toMatch(/^site-\d-from-spout-/);
      expect(geometry.type).toBe('LineString');
      expect((geometry.coordinates as LngLat[]).length).toBeGreaterThan(1);
      expect(properties.slope).toBeGreaterThanOrEqual(0.01);
    }
  });

  it('ranks by the weights that are asked for, and says so', async () => {
    const near = scorePartNames.flatMap((part) => [
      '--weight',
      `${part}=${part === 'downspout' ? 2 : 0}`,
    ]);
    const { json, words } = await lotfallBoth(at('near.txt'), ...call, ...near);
    const { sites } = documentOf(json) as Document;
    expect(sites.length).toBeGreaterThan(1);
    for (const { score, parts } of sites) expect(score).toBeCloseTo(parts.downspout ?? -1, 9);
    expect(words.stdout).toContain('and your weights');
    expect(words.stdout).toMatch(/^ *weight +0 +0 +0 +0 +2 +0 +0$/m);
    const [odd, heavy] = await lotfalls(
      [...call, '--weight', 'beauty=2'],
      [...call, '--weight', 'caught=20'],
    );
    expectRefused(odd, "--weight 'beauty=2'", 'caught');
    expectRefused(heavy, "--weight 'caught=20'", 'from 0 to 10');
  });

  it('splits the water between two basins, each drop counted once', async () => {
    const { json, words } = asking;
    const odd = await lotfall(...call, '--basins', '2.5');
    const { joint } = documentOf(json) as Document;
    expect(joint?.basins).toHaveLength(2);
    const led = joint?.basins.flatMap((basin) => basin.led.map(({ roof }) => roof)) ?? [];
    expect(new Set(led).size).toBe(led.length);
    const sum = (values: readonly number[]): number => values.reduce((all, each) => all + each, 0);
    expect(sum(joint?.basins.map(({ share }) => share) ?? [])).toBeCloseTo(1, 9);
    for (const basin of joint?.basins ?? []) {
      expect(basin.captured_m3 + basin.overflow_m3).toBeCloseTo(
        basin.inflow_m3 + basin.from_overflow_m3,
        9,
      );
    }
    expect(words.stdout).toMatch(/^2 basins that share the water: [\d.]+ m³ held \(\d+ %/m);
    expectRefused(odd, "--basins '2.5'", 'whole number');
  });

  it('tells why a basin can lie at a place, or why not and where the nearest would', async () => {
    const { json, words } = asking;
    const [lng, lat] = corner;
    const [odd, far, swapped] = await lotfalls(
      [...call, '--at', '91'],
      [...call, '--at', '0,0'],
      [...call, '--at', `${lat},${lng}`],
    );
    const { asked } = documentOf(json) as { asked: Record<string, unknown> };
    expect(asked).toMatchObject({
      at: [expect.closeTo(lng, 6), expect.closeTo(lat, 6)],
      here: null,
    });
    expect(asked.forbidding).not.toEqual([]);
    expect(asked.nearest).toMatchObject({ distance_m: expect.any(Number) as number });
    expect(words.stdout).toMatch(/^No basin can have its middle at -87\./m);
    expect(words.stdout).toMatch(/: short by [\d.]+ (m|cm)$/m);
    expect(words.stdout).toMatch(/^The nearest that would do: -87\..* to the [a-z-]+ \(\d+°\)/m);
    expectRefused(odd, "--at '91'", 'longitude and latitude');

    expectRefused(far, 'place asked about: 0, 0 lies about', 'km from the lot');
    expectRefused(swapped, 'in that order');

    const [site] = (documentOf(plain) as Document).sites;
    const here = await lotfall(...call, '--rain', '60mm', '--at', site.at.join(','));
    expect(here.stdout).toContain('60 mm of rain');
    expect(here.stdout).toMatch(/^A basin can lie at -87\..*; score 0\.\d\d \(caught/m);
  });

  it('for people: a line for each site, the parts, and what rules out the rest', async () => {
    const words = await lotfall(...call);
    expect(words).toMatchObject({ status: 0, stderr: '' });
    expect(words.stdout).toMatch(/^Marl Hollow 12: places for a basin, 40 mm of rain\n/);
    expect(words.stdout).toMatch(
      /^ {3}1 {2}-87\.10\d{4}, 42\.5\d{5} +\w+ .* \d+ % +0\.\d\d {2}1 advised against, \d cannot/m,
    );
    expect(words.stdout).toMatch(/^ +rank +caught +margin/m);
    expect(words.stdout).toMatch(/as good as the first within the error of the heights/);
    expect(words.stdout).toMatch(/^Septic tank and field +\d+ m² +\d+ m²$/m);
    expect(words.stdout).toMatch(/^Of the lot's 2,340 m², binding rules leave \d+ m²/m);
    expect(words.stdout).not.toMatch(/NaN|undefined|null|Infinity/);
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
    const { json, words } = await lotfallBoth(at('wet.txt'), 'sites', wet, '-e', demoElevation);
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
