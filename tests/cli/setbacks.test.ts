import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { SetbackFindings, SetbackResult } from '../../lib/setback/setback-result';
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
} from './run-lotfall';

const at = temporaryFolder();
const call = ['setbacks', demoPlan, '--on', '2026-11-25'];
const withElevation = [...call, '-e', demoElevation];

/** The demo plan with its basin moved east or west, degrees. */
function moved(name: string, degrees: number): string {
  const plan = readDemoPlan();
  const basin = featureOf(plan, 'basin');
  const [ring] = basin.geometry.coordinates as [number, number][][];
  basin.geometry.coordinates = [ring.map(([lng, lat]) => [lng + degrees, lat])];
  delete basin.properties['overflow'];
  return save(at(name), plan);
}

function rowOf({ results }: SetbackFindings, rule: RegExp, feature: string | null): SetbackResult {
  const found = results.find((row) => rule.test(row.title) && row.feature === feature);
  if (found === undefined) throw new Error(`no row for ${rule.source} at ${feature}`);
  return found;
}

describe('lotfall setbacks --json', () => {
  it('is one document with the fields of the contract, in snake case and finite', async () => {
    const run = await lotfall(...withElevation, '--json');
    expect(run.status).toBe(0);
    const found = documentOf(run) as SetbackFindings;
    expect(found.rule_set).toBe('default');
    const { pass, fail, check } = found.summary;
    expect(pass + fail + check).toBe(found.results.length);
    for (const row of found.results) {
      expect(['pass', 'fail', 'check']).toContain(row.result);
      expect(row.source.title).not.toBe('');
      if (row.margin_m !== null)
        expect(row.margin_m).toBeCloseTo((row.measured_m ?? 0) - (row.required_m ?? 0), 9);
      for (const place of row.nearest ?? []) expect(place[1]).toBeCloseTo(42.51, 2);
    }
    const house = rowOf(found, /^Building foundation$/, 'house');
    expect(house).toMatchObject({ basin: 'basin', feature_name: 'House', result: 'pass' });
    expect(house.required_m).toBeCloseTo(3.048, 6);
    expect(house.measured_m).toBeCloseTo(7.6, 1);
    for (const [path, value] of numbersIn(found)) expect(value, path).toSatisfy(Number.isFinite);
    for (const name of namesIn(found)) expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
  });

  it('without elevation the rules that need it answer check, and distances stay the same', async () => {
    const [bare, whole] = (await lotfalls([...call, '--json'], [...withElevation, '--json'])).map(
      (run) => documentOf(run) as SetbackFindings,
    );
    expect(rowOf(bare, /slope/, null)).toMatchObject({ result: 'check', measured_slope: null });
    expect(rowOf(whole, /slope/, null).result).toBe('pass');
    expect(rowOf(bare, /^Not uphill of a basement/, 'house').result).toBe('check');
    expect(rowOf(whole, /^Not uphill of a basement/, 'house').result).toBe('pass');
    for (const feature of ['house', 'garage'])
      expect(rowOf(bare, /^Building foundation$/, feature).measured_m).toBeCloseTo(
        rowOf(whole, /^Building foundation$/, feature).measured_m ?? 0,
        2,
      );
  });

  it('a utility line passes only while its locate is current', async () => {
    const [on, before, after] = (
      await lotfalls(
        [...call, '--json'],
        ['setbacks', demoPlan, '--on', '2026-11-01', '--json'],
        ['setbacks', demoPlan, '--on', '2027-01-10', '--json'],
      )
    ).map((run) => rowOf(documentOf(run) as SetbackFindings, /^Utility/, 'gas'));
    expect(on.result).toBe('pass');
    expect(before).toMatchObject({
      result: 'check',
      why: expect.stringMatching('later') as string,
    });
    expect(after).toMatchObject({
      result: 'check',
      why: expect.stringMatching('run out') as string,
    });
  });

  it('another rule set asks for other distances', async () => {
    const [usual, strictest] = (
      await lotfalls([...call, '--json'], [...call, '--rules', 'strictest', '--json'])
    ).map((run) => documentOf(run) as SetbackFindings);
    expect(strictest.rule_set).toBe('strictest');
    const fromWell = (found: SetbackFindings): SetbackResult => rowOf(found, /^Well$/, 'well');
    expect(fromWell(usual)).toMatchObject({ required_m: 15.24, result: 'pass' });
    expect(fromWell(strictest)).toMatchObject({ required_m: 30.48, result: 'fail' });
  });
});

describe('lotfall setbacks as a check', () => {
  it('ends with 1 when a binding rule fails, in every form', async () => {
    const against = moved('against.geojson', -0.000075);
    const onHouse = moved('on-house.geojson', -0.0002);
    const [words, json, file, over] = await lotfalls(
      ['setbacks', against, '--on', '2026-11-25'],
      ['setbacks', against, '--json'],
      ['setbacks', against, '--out', at('against.csv')],
      ['setbacks', onHouse, '--on', '2026-11-25'],
    );
    for (const run of [words, json, file, over])
      expect(run).toMatchObject({ status: 1, stderr: '' });
    expect(words.stdout).toMatch(/^result .*\n✕ fails /);
    expect(words.stdout).toMatch(/^✕ fails: Building foundation, House\. Nearer than asked for/m);
    expect((documentOf(json) as SetbackFindings).summary.must_fail).toBeGreaterThan(0);
    expect(over.stdout).toMatch(/^✕ fails: Building foundation, House\. The basin lies over it\./m);
  });

  it('for people: every rule with its result in words, the count, the sources', async () => {
    const { stdout, status, stderr } = await lotfall(...withElevation);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(
      /^✓ meets {2}Building foundation +House +7\.60 m +3\.05 m +4\.56 m {2}must$/m,
    );
    expect(stdout).toMatch(/^\? check: Utility tolerance zone, .*no locate is on record/m);
    expect(stdout).toMatch(
      /\(default\), locates as of 2026-11-25: 28 met, 0 failed, 4 cannot be judged\. Local code governs\.$/m,
    );
    expect(stdout).toMatch(/^Sources\n {2}\S/m);
    expect(stdout).not.toMatch(/NaN|undefined|null|Infinity/);
  });

  it('as a table: a row for each, lengths in metres', async () => {
    const run = await lotfall(...withElevation, '--out', at('table.csv'));
    expect(run).toEqual({ status: 0, stdout: '', stderr: '' });
    const lines = readFileSync(at('table.csv'), 'utf8').trimEnd().split('\r\n');
    expect(lines[0].split(',')).toEqual(
      expect.arrayContaining([
        'rule',
        'feature',
        'feature_name',
        'required_m',
        'measured_m',
        'margin_m',
        'result',
      ]),
    );
    expect(lines).toHaveLength(1 + 32);
    expect(
      lines.filter((line) => /,house,House,3\.048,7\.60\d,4\.55\d,,,pass,/.test(line)),
    ).toHaveLength(1);
  });
});
