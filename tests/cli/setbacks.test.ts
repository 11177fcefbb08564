import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { SetbackFindings, SetbackResult } from '../../lib/setback/judge/setback-result';
import {
  demoElevation,
  demoPlan,
  featureOf,
  oddPlan,
  readDemoPlan,
  save,
  tempFolder,
} from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls, namesIn, numbersIn } from './run-lotfall';

const at = tempFolder();
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

  it('with elevation water stands as long as the design says, and without by depth over rate; it says which', async () => {
    const [bare, whole, designed] = await lotfalls(
      [...call, '--json'],
      [...withElevation, '--json'],
      ['design', demoPlan, '-e', demoElevation, '--json'],
    );
    const [estimated, simulated] = [bare, whole].map(
      (run) => documentOf(run) as SetbackFindings & { notes: string[] },
    );
    const { soil, basins } = documentOf(designed) as {
      basins: {
        drain_down: { judged_h: number; result: string; limit_h: number };
        basin: { ponding_depth_m: number };
      }[];
      soil: { rate_mm_per_h: number };
    };
    const [{ drain_down, basin }] = basins;
    expect(rowOf(simulated, /^Drain-down/, null)).toMatchObject({
      measured_h: drain_down.judged_h,
      required_h: drain_down.limit_h,
      result: drain_down.result,
      why: expect.stringMatching(/by filling and draining it\.$/) as string,
    });
    expect(simulated.notes.join()).toMatch(/by filling and draining the basin/);
    for (const { notes } of [estimated, simulated])
      expect(notes.join()).toContain('screening test');
    const row = rowOf(estimated, /^Drain-down/, null);
    expect(row.measured_h).toBeCloseTo((1000 * basin.ponding_depth_m) / soil.rate_mm_per_h, 9);
    expect(row.measured_h).not.toBeCloseTo(drain_down.judged_h, 3);
    expect(row.why).toMatch(/by the ponding depth over the soil’s rate\.$/);
    expect(estimated.notes.join()).toMatch(/with --elevation the basin is filled/);
  });

  it('a storm that cannot be poured leaves the rest checked, and is told', async () => {
    const plan = readDemoPlan();
    plan.lotfall['storm'] = { rain_mm: 40, duration_h: 24, pattern: 'nested' };
    const run = await lotfall(
      'setbacks',
      save(at('no-table.geojson'), plan),
      '-e',
      demoElevation,
      '--json',
    );
    const found = documentOf(run) as SetbackFindings & { notes: string[] };
    expect(rowOf(found, /^Building foundation$/, 'house').result).toBe('pass');
    expect(rowOf(found, /^Drain-down/, null).why).toMatch(/by the ponding depth/);
    expect(found.notes.join()).toMatch(/could not be filled and drained: .*table/);
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

  it('absent lines pass by the answers of those who looked, in time and for the ground of the dig', async () => {
    const plan = readDemoPlan();
    const answer = {
      found: 'no-lines',
      services: ['electric', 'gas', 'water', 'sewer', 'communications', 'reclaimed-water'],
      on: '2026-11-20',
      until: '2026-12-10',
      area: 'lot',
    };
    plan.lotfall['locates'] = [
      { ...answer, by: 'public', reference: 'T-17' },
      { ...answer, by: 'private' },
    ];
    const clear = save(at('clear.geojson'), plan);
    plan.lotfall['locates'] = [{ ...answer, by: 'public', until: '2026-11-01' }];
    const wrong = save(at('wrong-locate.geojson'), plan);
    const [now, later, request, refused] = await lotfalls(
      ['setbacks', clear, '--on', '2026-11-25', '--json'],
      ['setbacks', clear, '--on', '2026-12-11', '--json'],
      ['setbacks', clear, '--on', '2026-11-25', '--locate-request'],
      ['setbacks', wrong],
    );
    const rowIn = (run: typeof now): SetbackResult =>
      rowOf(documentOf(run) as SetbackFindings, /^Utility/, null);
    expect(rowIn(now)).toMatchObject({
      result: 'pass',
      why: 'Stated clear by the public notice service on 2026-11-20 (T-17): every service; stated clear by a private locator on 2026-11-20: every service.',
    });
    expect(rowIn(later)).toMatchObject({
      result: 'check',
      why: expect.stringMatching(
        /^Unmarked is not absent\. Ask the public notice service about electric, water, sewer, communications and reclaimed water \(the answer of 2026-11-20 \(T-17\) ran out on 2026-12-10\)/,
      ) as string,
    });
    expect(request.stdout).toMatch(/^ {2}stated clear on 2026-11-20 \(T-17\), until 2026-12-10/m);
    expectRefused(refused, /^wrong-locate\.geojson, lotfall\.locates\.0: expected `until` not/);
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
      /^✓ meets {2}F +Building foundation +House +7\.60 m +3\.05 m +4\.56 m {2}must$/m,
    );
    expect(stdout).toMatch(/^\? check: Utility tolerance zone, .*no locate is on record/m);
    expect(stdout).toMatch(
      /\(default\), locates as of 2026-11-25: 29 met, 2 failed \(0 of them binding\), 5 cannot be judged \(3 of them binding\)\. Local code governs\.$/m,
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
    // Of basins, then of the lot's drainage.
    expect(lines.length).toBeGreaterThan(1 + 36);
    expect(lines.filter((line) => line.startsWith('basin,'))).toHaveLength(1 + 36);
    expect(
      lines.filter((line) => /,house,House,3\.048,7\.60\d,4\.55\d,,,pass,/.test(line)),
    ).toHaveLength(1);
  });
});

describe('a rule set of one’s own', () => {
  const town = {
    id: 'our-town',
    title: 'Our town',
    jurisdiction: 'Our town',
    rules: [
      {
        test: 'distance',
        id: 'foundation',
        letter: 'F',
        title: 'Town foundation rule',
        published: '40 ft',
        binding: 'must',
        source: { title: 'Town code', publisher: 'Our town', year: 2024, mark: 'seen' },
        from: [{ kind: 'building' }],
        distance: { by: 'constant', m: 12.192 },
      },
    ],
  };
  const file = (name: string, set: object): string => {
    writeFileSync(at(name), JSON.stringify(set));
    return at(name);
  };

  it('is read from a file', async () => {
    const run = await lotfall(...call, '--rules', file('town.json', town), '--json');
    const found = documentOf(run) as SetbackFindings;
    expect(run.status).toBe(1);
    expect(found.rule_set).toBe('our-town');
    expect(rowOf(found, /^Town foundation rule$/, 'house')).toMatchObject({
      required_m: 12.192,
      result: 'fail',
    });
    expect(new Set(found.results.map((row) => row.rule))).toEqual(new Set(['foundation']));
  });

  it('is found in the plan, by the plan’s choice and by its id', async () => {
    const plan = readDemoPlan();
    plan.lotfall['rule_sets'] = [town];
    const unchosen = save(at('unchosen.geojson'), plan);
    plan.lotfall['rule_set'] = 'our-town';
    const chosen = save(at('chosen.geojson'), plan);
    const [first, second, third] = (
      await lotfalls(
        ['setbacks', chosen, '--json'],
        ['setbacks', unchosen, '--rules', 'our-town', '--json'],
        ['setbacks', unchosen, '--json'],
      )
    ).map((run) => (documentOf(run) as SetbackFindings).rule_set);
    expect([first, second, third]).toEqual(['our-town', 'our-town', 'default']);
  });

  it('is refused in a sentence when it is wrong, and no other is taken in its stead', async () => {
    const [rule] = town.rules;
    const wrong = { ...town, rules: [{ ...rule, distance: { by: 'constant', m: -1 } }] };
    const plan = readDemoPlan();
    plan.lotfall['rule_sets'] = [wrong];
    plan.lotfall['rule_set'] = 'our-town';
    const [fromFile, fromPlan, missing, text, unknown] = await lotfalls(
      [...call, '--rules', file('wrong.json', wrong)],
      ['setbacks', save(at('wrong.geojson'), plan)],
      [...call, '--rules', at('nowhere.json')],
      [...call, '--rules', file('text.json', [])],
      [...call, '--rules', 'atlantis'],
    );
    expectRefused(fromFile, /^wrong\.json, rules\.0\.distance\.m: .*at least 0, but it is -1/);
    expectRefused(fromPlan, /^wrong\.geojson: its rule set cannot be used .*distance\.m/);
    expectRefused(missing, /nowhere\.json: the rule set cannot be read/);
    expectRefused(text, /^text\.json: expected an object/);
    expectRefused(unknown, /no rule set "atlantis"/, /default, minnesota/);
  });
});

describe('several plans', () => {
  const folder = (name: string): string => {
    mkdirSync(dirname(at(name)), { recursive: true });
    return at(name);
  };

  it('are checked each, by a list or by a pattern in quotes, and one that fails is told in all', async () => {
    copyFileSync(demoPlan, folder('street/a.geojson'));
    copyFileSync(moved('street/b.geojson', -0.000075), folder('street/deeper/c.geojson'));
    const [pattern, deep, list, csv] = await lotfalls(
      ['setbacks', at('street/*.geojson'), '--on', '2026-11-25', '--json'],
      ['setbacks', at('street/**/*.geo{json,xml}'), '--on', '2026-11-25'],
      ['setbacks', at('street/a.geojson'), demoPlan, '--on', '2026-11-25', '--json'],
      ['setbacks', at('street/*.geojson'), '--on', '2026-11-25', '--out', at('street.csv')],
    );
    const found = documentOf(pattern) as (SetbackFindings & { plan: string })[];
    expect(found.map(({ plan }) => plan)).toEqual([at('street/a.geojson'), at('street/b.geojson')]);
    expect(found.map(({ summary }) => summary.must_fail > 0)).toEqual([false, true]);
    expect([pattern, deep, list, csv].map(({ status }) => status)).toEqual([1, 1, 0, 1]);
    expect((documentOf(list) as unknown[]).length).toBe(2);
    expect(deep.stdout).toMatch(
      /3 plans: 2 break a binding rule, 1 have something binding that could not be judged\. Local code governs\.$/m,
    );
    const lines = readFileSync(at('street.csv'), 'utf8').trimEnd().split('\r\n');
    expect(lines[0]).toMatch(/^plan,basin,rule,/);
    expect(lines.filter((line) => line.startsWith(at('street/b.geojson'))).length).toBeGreaterThan(
      9,
    );
  });

  it('a broken one does not keep the others from it, and ends the run with 2 and a sentence', async () => {
    const [run, words] = await lotfalls(
      ['setbacks', oddPlan('bad-json.geojson'), demoPlan, '--on', '2026-11-25', '--json'],
      ['setbacks', oddPlan('bad-json.geojson'), demoPlan, '--on', '2026-11-25'],
    );
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(
      /^[^\n]*bad-json\.geojson, line \d+, column \d+: [^\n]+; [^\n]+\.\n$/,
    );
    const [broken, whole] = JSON.parse(run.stdout) as [
      { plan: string; error: { code: string } },
      SetbackFindings,
    ];
    expect(broken).toMatchObject({
      plan: oddPlan('bad-json.geojson'),
      error: { code: 'plan-not-json' },
    });
    expect(whole.summary.must_fail).toBe(0);
    expect(words.stdout).toMatch(/bad-json\.geojson +✕ not checked$/m);
    expect(words.stdout).toMatch(/1 could not be checked/);
  });

  it('a pattern that fits nothing is refused', async () => {
    expectRefused(await lotfall('setbacks', at('none/*.geojson')), /no file fits/);
  });
});

describe('a lot where degrees end', () => {
  it.each(['bad-antimeridian.geojson', 'bad-pole.geojson', 'bad-far-apart.geojson'])(
    '%s is refused in one sentence',
    async (name) => {
      expectRefused(await lotfall('setbacks', oddPlan(name)), name);
    },
  );
});

describe('--locate-request', () => {
  it('says what to ask of whom, and where, instead of the check', async () => {
    const [words, json, csv] = await lotfalls(
      [...call, '--locate-request'],
      [...call, '--locate-request', '--json'],
      [...call, '--locate-request', '--out', at('request.csv')],
    );
    expect(words).toMatchObject({ status: 0, stderr: '' });
    expect(words.stdout).toMatch(/^Locate request for Marl Hollow 12, 2026-11-25\n/);
    expect(words.stdout).toMatch(/^Ask a private locator/m);
    expect(words.stdout).toMatch(
      /Electric line to the garage \(electric, red, E, .*not located yet/,
    );
    expect(words.stdout).not.toMatch(/NaN|undefined|null|Infinity/);
    const document = documentOf(json);
    for (const [path, value] of numbersIn(document)) expect(value, path).toSatisfy(Number.isFinite);
    for (const name of namesIn(document)) expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
    expectRefused(csv, /is no table/);
  });
});
