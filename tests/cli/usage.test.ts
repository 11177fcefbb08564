import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoElevation, demoPlan, tempFolder } from './inputs';
import { expectRefused, lotfall, lotfallProcess, lotfalls } from './run-lotfall';

const at = tempFolder();

describe('help', () => {
  it('lists the commands, and each tells its options', async () => {
    const all = await lotfallProcess('--help');
    const [word, drainage, setbacks, sites] = await lotfalls(
      ['help', 'drainage'],
      ['drainage', '--help'],
      ['setbacks', '-h'],
      ['sites', '--help'],
    );
    for (const run of [all, word, drainage, setbacks, sites]) {
      expect(run).toMatchObject({ status: 0, stderr: '' });
      expect(run.stdout.split('\n').every((line) => line.length <= 120)).toBe(true);
    }
    for (const name of ['drainage', 'setbacks', 'sites'])
      expect(all.stdout).toMatch(new RegExp(`^ {2}${name} +\\w`, 'm'));
    expect(all.stdout).toContain('Exit status');
    expect(word.stdout).toBe(drainage.stdout);
    for (const option of ['--elevation', '--rain', '--vertical-unit', '--json', '--out'])
      expect(drainage.stdout).toContain(`  ${option}`);
    for (const option of ['--rules', '--on', '--elevation', '--vertical-unit', '--json', '--out'])
      expect(setbacks.stdout).toContain(`  ${option}`);
    for (const option of ['--elevation', '--rain', '--on', '--json', '--out'])
      expect(sites.stdout).toContain(`  ${option}`);
  });

  it('a call without a command is told how, on standard error', async () => {
    const run = await lotfallProcess();
    expect(run).toMatchObject({ status: 2, stdout: '' });
    expect(run.stderr).toContain('Usage: lotfall <command>');
  });

  it('is what the package hands to npx', () => {
    const manifest = JSON.parse(
      readFileSync(new URL('../../package.json', import.meta.url), 'utf8'),
    ) as { name: string; bin: Record<string, string> };
    expect(manifest.bin).toEqual({ [manifest.name]: 'src/cli/lotfall.js' });
    const program = readFileSync(new URL('../../src/cli/lotfall.js', import.meta.url), 'utf8');
    expect(program).toMatch(/^#!\/usr\/bin\/env node\n/);
  });
});

describe('a wrong call is refused with a sentence', () => {
  const plan = ['drainage', demoPlan];
  const whole = [...plan, '-e', demoElevation];
  const cases: readonly (readonly [string, readonly string[], readonly (string | RegExp)[]])[] = [
    ['unknown command', ['sights'], ["no command 'sights'", 'drainage, setbacks, sites']],
    ['no plan', ['drainage'], ['no plan is named', 'give the path']],
    ['unknown option', [...whole, '--colour'], ["option '--colour'", 'lotfall drainage --help']],
    ['rain without unit', [...whole, '--rain', '25'], ["'25'", 'no unit', '25mm or 1 in']],
    ['rain beyond any storm', [...whole, '-r', '5m'], ['--rain 5m', 'at most 2000mm']],
    ['unknown unit', [...whole, '--vertical-unit', 'ell'], ["'ell'", 'use m, ft, us-ft']],
    ['unknown rule set', ['setbacks', demoPlan, '--rules', 'x'], ['"x"', 'default, minnesota']],
    ['no such day', ['setbacks', demoPlan, '--on', '2026-02-31'], ["'2026-02-31' is no date"]],
    ['form that is not had', [...whole, '--out', 'x.csv'], ["'x.csv'", '.json, .txt']],
    ['missing plan', ['drainage', 'none.geojson'], ['none.geojson', 'no such file', 'check']],
    ['folder for a plan', ['drainage', at('.')], ['cannot be read', 'it is a folder']],
    ['missing elevation', [...plan, '-e', 'none.tif'], ['none.tif', 'no file', 'check the path']],
    ['folder for elevation', [...plan, '-e', at('.')], ['holds no GeoTIFF', 'elevation files']],
    [
      'no folder to write to',
      ['setbacks', demoPlan, '--out', at('none/x.csv')],
      ['x.csv', 'cannot be written', 'folder that exists'],
    ],
  ];

  it.concurrent.each(cases)('%s', async (_, args, parts) => {
    expectRefused(await lotfall(...args), ...parts);
  });

  it('a file in the way of the folder for rasters, before anything is read', async () => {
    writeFileSync(at('taken.tif'), '');
    const call = ['drainage', 'none.geojson', '--write-rasters'];
    for (const folder of [at('taken.tif'), at('taken.tif/below/it')]) {
      const run = await lotfall(...call, folder);
      expectRefused(run, folder, 'cannot be written there: part of its path is not a folder');
    }
    expectRefused(await lotfall(...call, at('new/folder')), 'none.geojson', 'no such file');
    expect(existsSync(at('new'))).toBe(false);
  });

  it('a folder in the way of the file to be written', async () => {
    mkdirSync(at('taken.csv'));
    expectRefused(
      await lotfall('setbacks', demoPlan, '--out', at('taken.csv')),
      'taken.csv',
      'it is a folder',
    );
  });
});
