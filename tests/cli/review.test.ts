import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { readFound } from '../../lib/gather/read-found';
import type { LotWaterRow, ReviewResult } from '../../lib/review/review-result';
import { demoElevation, demoPlan, featureOf, readDemoPlan, save, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();

const sumOf = (row: LotWaterRow): number =>
  row.rain_m3 +
  row.sump_m3 +
  row.from_lots_m3 +
  row.from_elsewhere_m3 -
  row.soaked_m3 -
  row.barrel_m3 -
  row.standing_m3 -
  row.basin_m3 -
  row.sewer_m3 -
  row.off_data_m3 -
  row.to_lots_m3 -
  row.to_elsewhere_m3;

describe('a review of the demo street', () => {
  it('balances each lot, says of the own lot what drainage says, and is written whole', async () => {
    const folder = at('out');
    const run = await lotfall(
      'review',
      demoPlan,
      '-e',
      demoElevation,
      '--folder',
      folder,
      '--json',
    );
    expect(run.status).toBe(0);
    const { lots, lines_after, whole } = documentOf(run) as ReviewResult;
    expect(lots.map(({ reach }) => reach)).toEqual(['whole', 'whole', 'whole']);
    for (const { before, after } of lots) {
      for (const row of [before, after]) {
        if (row === null) throw new Error('all lots are known');
        expect(row.error_m3).toBeCloseTo(0, 9);
        expect(sumOf(row)).toBeCloseTo(0, 9);
      }
    }
    const own = lots.find(({ lot }) => lot === 'lot')?.after;
    const drained = documentOf(
      await lotfall('drainage', demoPlan, '-e', demoElevation, '--json'),
    ) as DrainageResult;
    // to half a litre: the two read windows of their own
    const { ledger } = drained;
    if (own === null || own === undefined || ledger === null) throw new Error('both know the lot');
    expect(own.rain_m3).toBeCloseTo(ledger.rain_m3, 3);
    expect(own.soaked_m3).toBeCloseTo(ledger.soaked_m3, 3);
    expect(own.standing_m3).toBeCloseTo(ledger.standing_m3, 3);
    expect(own.basin_m3).toBeCloseTo(ledger.basin_m3, 3);
    expect(own.sewer_m3).toBeCloseTo(ledger.sewer_m3, 3);
    // gross both ways, but the same net
    const net =
      own.from_lots_m3 +
      own.from_elsewhere_m3 -
      own.to_lots_m3 -
      own.to_elsewhere_m3 -
      own.off_data_m3;
    expect(net).toBeCloseTo(ledger.run_on_m3 - ledger.passed_on_m3, 3);
    // what one lot gives another is what that one gets
    const between = lines_after.filter(({ b }) => b !== null);
    const given = between.reduce((sum, line) => sum + line.a_to_b_m3 + line.b_to_a_m3, 0);
    const got = lots.reduce((sum, { after }) => sum + (after?.from_lots_m3 ?? 0), 0);
    expect(given).toBeCloseTo(got, 9);
    expect(whole.basin_after_m3).toBeGreaterThan(10);

    const manifest = JSON.parse(await readFile(join(folder, 'manifest.json'), 'utf8')) as {
      files: { name: string; bytes: number; sha256: string }[];
    };
    expect(manifest.files.map(({ name }) => name)).toEqual([
      'lots.csv',
      'lines.csv',
      'lots.geojson',
      'lots.gpkg',
      'review.json',
      'review.txt',
      'summary.txt',
    ]);
    const packed = await readFound({
      name: 'lots.gpkg',
      bytes: await readFile(join(folder, 'lots.gpkg')),
    });
    expect(packed.layers[0].shapes.map(({ properties }) => properties['rain_m3_after'])).toEqual(
      lots.map(({ after }) => after?.rain_m3),
    );
    expect(await readFile(join(folder, 'summary.txt'), 'utf8')).toMatch(/No lot is worse off\./);
    for (const { name, bytes, sha256 } of manifest.files) {
      const text = await readFile(join(folder, name));
      expect(text.length).toBe(bytes);
      expect(createHash('sha256').update(text).digest('hex')).toBe(sha256);
    }
  });

  it('says who is worse off, and ends with 1', async () => {
    const plan = readDemoPlan();
    plan.features.push({
      id: 'pump',
      type: 'Feature',
      properties: { kind: 'sump-outlet', name: 'Pump', state: 'proposed', rate_m3_per_h: 2 },
      geometry: featureOf(plan, 'spout-se').geometry,
    });
    const run = await lotfall(
      ...['review', save(at('pumped.plan.geojson'), plan), '-e', demoElevation, '--json'],
    );
    expect(run.status).toBe(1);
    const { lots } = documentOf(run) as ReviewResult;
    const worse = lots.filter((lot) => lot.worse.length > 0);
    expect(worse.map(({ name }) => name)).toEqual(['Marl Hollow 14']);
    expect(worse[0].worse.join('; ')).toMatch(/m³ more comes from other lots/);
    for (const { after } of lots) expect(after?.error_m3).toBeCloseTo(0, 9);
  });

  it('refuses a plan without lots', async () => {
    const plan = readDemoPlan();
    plan.features = plan.features.filter(({ properties }) => properties['kind'] !== 'lot');
    expectRefused(
      await lotfall('review', save(at('bare.plan.geojson'), plan), '-e', demoElevation),
      /bare\.plan\.geojson has no lots; draw the lot lines/,
    );
  });
});
