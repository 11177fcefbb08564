import { execFile } from 'node:child_process';
import { mkdirSync, readFileSync, renameSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { broken, demoElevation, demoPlan, tempFolder } from './inputs';
import { lotfall } from './run-lotfall';

const run = promisify(execFile);
const at = tempFolder();
const day = '2026-11-20';

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
}

/** What of the page, of building and of testing no program that uses the library needs. */
const pageOnly =
  /svelte|vite|maplibre|terra-draw|uplot|comlink|^idb$|fontsource|tsx|playwright|eslint|rollup/;

/** An empty folder with the package unpacked in it, and beside it what the package says it needs, and nothing else. */
beforeAll(async () => {
  // Built afresh, so that it is not that of older sources.
  await run('npm', ['run', '--silent', 'prepare']);
  const modules = at('app/node_modules');
  mkdirSync(modules, { recursive: true });
  const { stdout } = await run('npm', [
    ...['pack', '--silent', '--ignore-scripts', '--pack-destination', at('.')],
  ]);
  await run('tar', ['-xzf', at(stdout.trim()), '-C', modules]);
  renameSync(join(modules, 'package'), join(modules, 'lotfall'));
  const { dependencies } = JSON.parse(
    readFileSync(join(modules, 'lotfall/package.json'), 'utf8'),
  ) as Manifest;
  // The program's own, beside the library's.
  for (const name of [...Object.keys(dependencies), '@types/node']) {
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(resolve('node_modules', name), join(modules, name));
  }
});

describe('the package', () => {
  it('holds what is built, the fonts of the sheet, the command and the readme, and nothing of tests, fixtures or page', async () => {
    const { stdout } = await run('npm', ['pack', '--dry-run', '--json', '--ignore-scripts']);
    const [{ files }] = JSON.parse(stdout) as [{ files: { path: string }[] }];
    const paths = files.map(({ path }) => path);
    expect(paths).toEqual(expect.arrayContaining(['dist/lib/index.js', 'dist/lib/index.d.ts']));
    for (const path of paths) {
      expect(path).toMatch(
        /^(dist\/lib\/.+\.(js|d\.ts)|lib\/sheet\/fonts\/[^/]+\.(ttf|txt|md)|src\/cli\/lotfall\.js|package\.json|README\.md)$/,
      );
    }
  });

  it('asks for nothing that only the page needs', () => {
    const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as Manifest;
    expect(Object.keys(dependencies).filter((name) => pageOnly.test(name))).toEqual([]);
  });

  it('has a command that says what it says in a checkout, byte for byte', async () => {
    const call = ['setbacks', demoPlan, '-e', demoElevation, '--on', day, '--json'];
    const [packed, here] = await Promise.all([
      run('node', [at('app/node_modules/lotfall/src/cli/lotfall.js'), ...call], { cwd: at('app') }),
      lotfall(...call),
    ]);
    expect(packed.stdout).toBe(here.stdout);
  });

  it("runs the README's example as it stands there", async () => {
    const example = /```js\n([\s\S]*?)```/.exec(readFileSync('README.md', 'utf8'))?.[1] ?? '';
    expect(example).toContain("from 'lotfall'");
    writeFileSync(
      at('app/example.mjs'),
      example.replace('fixtures/demo/', dirname(demoPlan) + '/'),
    );
    const { stdout } = await run('node', [at('app/example.mjs')]);
    const lines = stdout.trim().split('\n');
    expect(lines.length).toBeGreaterThan(3);
    for (const line of lines) expect(line).toMatch(/^\d+\.\d m3, \d+ cm deep$/);
  });
});

describe('a strict program with the library', () => {
  beforeAll(async () => {
    const program = readFileSync('tests/cli/program/verdicts.ts', 'utf8');
    writeFileSync(at('app/verdicts.mts'), program.replace("'../../../lib/index'", "'lotfall'"));
    const compilerOptions = {
      ...{ module: 'nodenext', target: 'es2022', lib: ['es2023'], types: ['node'] },
      ...{ strict: true, exactOptionalPropertyTypes: true, noUncheckedIndexedAccess: true },
      ...{ skipLibCheck: false, verbatimModuleSyntax: true },
    };
    writeFileSync(at('app/tsconfig.json'), JSON.stringify({ compilerOptions }));
    try {
      await run('node', [resolve('node_modules/typescript/bin/tsc'), '-p', at('app')]);
    } catch (error) {
      throw new Error((error as { stdout: string }).stdout, { cause: error });
    }
  });

  const verdicts = (plan: string, elevation: string) =>
    run('node', [at('app/verdicts.mjs'), plan, elevation, day], { maxBuffer: 1e9 });

  it('compiles, and comes to the verdicts of the commands', async () => {
    const call = [demoPlan, '-e', demoElevation];
    const [program, ...commands] = await Promise.all([
      verdicts(demoPlan, demoElevation),
      lotfall('setbacks', ...call, '--on', day, '--json'),
      lotfall('design', ...call, '--series', '--json'),
      lotfall('drainage', ...call, '--json'),
      lotfall('sites', ...call, '--on', day, '--json'),
    ]);
    const found = JSON.parse(program.stdout) as Record<string, Record<string, unknown>>;
    const [setbacks, design, drainage, sites] = commands.map(
      ({ stdout }) => JSON.parse(stdout) as Record<string, unknown>,
    );
    const rows = (of: unknown) =>
      (of as { nearest: unknown }[]).map((row) => ({ ...row, nearest: null }));
    expect(rows(found.setbacks.results)).toEqual(rows(setbacks.results));
    expect(found.setbacks.summary).toEqual(setbacks.summary);
    expect(found.design.basins).toEqual(design.basins);
    expect({ ...found.drainage, notes: null }).toEqual({ ...drainage, notes: null });
    const ranked = (of: unknown) =>
      (of as Record<string, unknown>[]).map(({ score, area_m2, captured_m3 }) => ({
        ...{ score, area_m2, captured_m3 },
      }));
    expect(ranked(found.sites.sites)).toEqual(ranked(sites.sites));
    expect(ranked(found.sites.sites).length).toBeGreaterThan(0);
  });

  it('is told in the same sentence what cannot be used', async () => {
    const raster = broken('no-system.tif');
    const [program, command] = await Promise.all([
      verdicts(demoPlan, raster).catch(
        (error: unknown) => error as { stderr: string; code: number },
      ),
      lotfall('drainage', demoPlan, '-e', raster),
    ]);
    expect(program).toMatchObject({ code: 2, stderr: command.stderr });
  });
});
