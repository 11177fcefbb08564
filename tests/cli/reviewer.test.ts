import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { LotFindings } from '../../lib/setback/judge/check-lot';
import type { MadeFrom } from '../../lib/setback/judge/made-from';
import type { SetbackFindings } from '../../lib/setback/judge/setback-result';
import {
  demoElevation,
  demoPlan,
  featureOf,
  oddPlan,
  readDemoPlan,
  save,
  tempFolder,
} from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls } from './run-lotfall';

const at = tempFolder();
const day = ['--on', '2026-11-25'];

interface Judged extends SetbackFindings {
  readonly plan?: string;
  readonly state: string;
  readonly made_from: MadeFrom;
  readonly lot: LotFindings;
}

/** A rule set of one distance from buildings, measured from an edge of the basin. */
function oneRule(name: string, edge: 'rim' | 'berm', m: number): string {
  const set = {
    id: 'one-rule',
    title: 'One rule',
    jurisdiction: 'Our town',
    lot_rules: [
      {
        test: 'keep-open',
        id: 'swale-open',
        title: 'Swales stay open',
        published: 'not blocked',
        binding: 'should',
        source: { title: 'Town code', publisher: 'Our town', year: 2024, mark: 'seen' },
        ways: ['swale'],
        against: ['wall'],
        breach: 'check',
        ask: 'the town',
      },
    ],
    rules: [
      {
        test: 'distance',
        id: 'foundation',
        letter: 'F',
        title: 'Town foundation rule',
        published: '3 m',
        binding: 'must',
        source: {
          title: 'Town code',
          publisher: 'Our town',
          year: 2024,
          section: '12.3(b)',
          mark: 'seen',
        },
        from: [{ kind: 'building' }],
        edge,
        distance: { by: 'constant', m },
      },
    ],
  };
  writeFileSync(at(name), JSON.stringify(set));
  return at(name);
}

const near = oneRule('near.json', 'rim', 3);
const far = oneRule('far.json', 'rim', 300);

/** The demo plan with its house's place known to so many metres only. */
function uncertain(name: string, accuracyM: number): string {
  const plan = readDemoPlan();
  featureOf(plan, 'house').properties['accuracy_m'] = accuracyM;
  return save(at(name), plan);
}

const hasPython = spawnSync('python3', ['-c', 'import csv, json']).status === 0;

/** Rows of a CSV file as Python's own library reads it, where there is one that runs; else `null`. */
function readByLibrary(file: string): Record<string, string>[] | null {
  if (!hasPython) return null;
  const script =
    'import csv,json,sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8"), strict=True))))';
  return JSON.parse(execFileSync('python3', ['-c', script, file], { encoding: 'utf8' })) as Record<
    string,
    string
  >[];
}

describe('exit statuses', () => {
  const open = uncertain('uncertain.geojson', 6);
  const unread = oddPlan('bad-json.geojson');
  const usual: readonly (readonly [string, readonly string[], number, number])[] = [
    ['every binding rule is met', [demoPlan, '--rules', near], 0, 0],
    ['a binding rule fails', [demoPlan, '--rules', far], 1, 1],
    ['something binding could not be judged', [open, '--rules', near], 0, 3],
    ['a plan could not be read', [unread, '--rules', near], 2, 4],
    ['a rule set could not be read', [demoPlan, '--rules', at('none.json')], 2, 4],
    ['a wrong call', [demoPlan, '--rules', near, '--colour'], 2, 2],
    ['several, all met', [demoPlan, demoPlan, '--rules', near], 0, 0],
    ['several, one open', [demoPlan, open, '--rules', near], 0, 3],
    ['several, one unread beside an open one', [unread, open, '--rules', near], 2, 4],
    ['several, one unread before one that fails', [unread, demoPlan, '--rules', far], 1, 1],
  ];

  it.each(usual)('%s', async (_, call, asUsual, asReviewer) => {
    const [plain, reviewer] = await lotfalls(
      ['setbacks', ...call, ...day],
      ['setbacks', ...call, ...day, '--exit', 'reviewer'],
    );
    expect([plain.status, reviewer.status]).toEqual([asUsual, asReviewer]);
    // What is printed does not change with the statuses.
    expect(reviewer.stdout).toBe(plain.stdout);
    expect(reviewer.stderr).toBe(plain.stderr);
    if (call.includes(unread)) expect(plain.stderr).toMatch(/bad-json\.geojson, line \d+/);
  });

  it('others than those there are, and tables by something else, are refused', async () => {
    const [exit, by] = await lotfalls(
      ['setbacks', demoPlan, '--exit', 'strict'],
      ['setbacks', demoPlan, demoPlan, '--by', 'street', '--out', at('x.csv')],
    );
    expectRefused(exit, "no exit statuses 'strict'", 'usual or reviewer');
    expectRefused(by, "no table by 'street'", 'rule or plan');
  });
});

describe('what was measured', () => {
  it('is said of each row, with the assumed berm as assumed, and what settles an open one', async () => {
    const berm = oneRule('berm.json', 'berm', 3);
    const [fromRim, fromBerm, words, usual] = await lotfalls(
      ['setbacks', demoPlan, '--rules', near, ...day, '--json'],
      ['setbacks', demoPlan, '--rules', berm, ...day, '--json'],
      ['setbacks', demoPlan, '--rules', berm, ...day],
      ['setbacks', demoPlan, ...day, '--json'],
    );
    const house = (run: typeof words) =>
      (documentOf(run) as Judged).results.find(({ feature }) => feature === 'house');
    const [rim, foot] = [house(fromRim), house(fromBerm)];
    expect(rim).toMatchObject({
      measured_from: 'the rim of the basin',
      measured_to: 'the outline drawn',
      edge_offset_m: 0,
      assumed: [],
      before_issue: null,
      source: { section: '12.3(b)' },
    });
    expect(foot?.measured_from).toBe('the outer foot of the assumed berm');
    expect(foot?.assumed.join()).toMatch(/berm is not drawn: it is assumed/);
    // By so much as the berm is assumed to be wide, less is measured.
    expect((rim?.measured_m ?? 0) - (foot?.measured_m ?? 0)).toBeCloseTo(
      foot?.edge_offset_m ?? 0,
      9,
    );
    expect(words.stdout).toMatch(
      /^ {2}F {3}Town foundation rule: from the outer foot of the assumed berm, 90 cm outside the rim to the outline drawn\. Asked for: 3 m; 12\.3\(b\)\. The berm is not drawn/m,
    );
    const { results } = documentOf(usual) as Judged;
    for (const row of results) {
      expect(row.before_issue === null).toBe(row.result !== 'check');
      expect(row.before_issue ?? '').not.toMatch(/[.]$|^[A-Z]/);
    }
    const electric = results.find(({ feature }) => feature === 'electric');
    expect(electric?.before_issue).toMatch(
      /^have the line located by the party for its side of the meter/,
    );
  });

  it('names what it was made from: version, plan, raster and rule set by checksum', async () => {
    const [bare, whole, other, far2] = (
      await lotfalls(
        ['setbacks', demoPlan, ...day, '--json'],
        ['setbacks', demoPlan, '-e', demoElevation, ...day, '--json'],
        ['setbacks', demoPlan, '--rules', near, ...day, '--json'],
        ['setbacks', demoPlan, '--rules', far, ...day, '--json'],
      )
    ).map((run) => (JSON.parse(run.stdout) as Judged).made_from);
    const manifest = JSON.parse(
      readFileSync(new URL('../../package.json', import.meta.url), 'utf8'),
    ) as { version: string };
    const sum = createHash('sha256').update(readFileSync(demoPlan)).digest('hex');
    const planned = readDemoPlan().lotfall['elevation'] as { crc32: string; size_bytes: number };
    expect(bare).toMatchObject({
      program: 'lotfall',
      version: manifest.version,
      plan: { file: 'lot.plan.geojson', sha256: sum },
      elevation: null,
      rule_set: { id: 'default', title: 'Common handbook setbacks' },
    });
    expect(whole.elevation).toMatchObject({ file: 'lot.elevation.tif', crc32: planned.crc32 });
    const sums = [bare, whole, other, far2].map(({ rule_set }) => rule_set.sha256);
    expect(sums[0]).toMatch(/^[0-9a-f]{64}$/);
    expect(sums[1]).toBe(sums[0]);
    expect(new Set(sums).size).toBe(3);
  });
});

describe('tables of several plans', () => {
  const open = uncertain('open.geojson', 6);
  const unread = oddPlan('bad-json.geojson');
  const onHouse = (() => {
    const plan = readDemoPlan();
    plan.lotfall['name'] = 'A, "B"\nand =C';
    const basin = featureOf(plan, 'basin');
    basin.properties['name'] = '=1+1, "two"';
    const [ring] = basin.geometry.coordinates as [number, number][][];
    basin.geometry.coordinates = [ring.map(([lng, lat]) => [lng - 0.0002, lat])];
    delete basin.properties['overflow'];
    return save(at('on, "house".geojson'), plan);
  })();
  const plans = [demoPlan, unread, open, onHouse];

  it('have one row for each plan, the worst first, as a library reads them', async () => {
    const file = at('plans.csv');
    const run = await lotfall(
      ...['setbacks', ...plans, '--rules', near, ...day, '--by', 'plan', '--out', file],
    );
    expect(run.status).toBe(1);
    const rows = readByLibrary(file);
    if (rows === null) {
      console.log('without python3 the tables are not read back');
      return;
    }
    expect(rows.map(({ plan, state }) => [plan, state])).toEqual([
      [onHouse, 'fails'],
      [unread, 'not-read'],
      [open, 'unjudged'],
      [demoPlan, 'meets'],
    ]);
    expect(rows.map((row) => [row['must_fail'], row['must_check']])).toEqual([
      ['1', '0'],
      ['', ''],
      ['0', '1'],
      ['0', '0'],
    ]);
    expect(rows[0]['worst']).toBe('Town foundation rule, House');
    expect(rows[1]['worst']).toMatch(/line \d+, column \d+/);
    expect(rows[3]).toMatchObject({ on: '2026-11-25', rule_set_title: 'One rule' });
  });

  it('have one row for each rule and plan, every row with what it was made from', async () => {
    const file = at('rules.csv');
    const calls = [...plans, '--rules', near, ...day];
    const [run, json] = await lotfalls(
      ['setbacks', ...calls, '--out', file],
      ['setbacks', ...calls, '--json'],
    );
    expect(run.status).toBe(1);
    const rows = readByLibrary(file);
    if (rows === null) return;
    expect([...new Set(rows.map(({ plan }) => plan))]).toEqual([onHouse, unread, open, demoPlan]);
    const judged = (JSON.parse(json.stdout) as Judged[]).filter(({ plan }) => plan !== unread);
    for (const each of judged) {
      const its = rows.filter(({ plan }) => plan === each.plan);
      expect(its).toHaveLength(each.results.length + each.lot.results.length);
      for (const result of each.results) {
        const row = its.find(
          ({ rule, feature }) => rule === result.rule && feature === result.feature,
        );
        expect(row).toMatchObject({ result: result.result, why: result.why, section: '12.3(b)' });
        expect(Number(row?.['measured_m'])).toBeCloseTo(result.measured_m ?? 0, 3);
        expect(row?.['plan_sha256']).toBe(each.made_from.plan.sha256);
      }
    }
    expect(rows.find(({ plan }) => plan === unread)).toMatchObject({ result: 'not-read' });
    expect(rows[0]).toMatchObject({ result: 'fail', binding: 'must' });
  });
});
