/** All checks and tests, one after another, each named, with the time it took. Stops at the first that fails. */
import { spawnSync } from 'node:child_process';
import { findOrInstallBrowser, noBrowser } from './browser/find-browser.js';

const browser = findOrInstallBrowser();
if (browser === null) {
  console.error(noBrowser);
  process.exit(1);
}

const steps = [
  ['lint', 'npx', ['eslint', '.']],
  ['format', 'npx', ['prettier', '--check', '--log-level', 'warn', '.']],
  [
    'types',
    'npx',
    ['svelte-check', '--tsconfig', './tsconfig.json', '--fail-on-warnings', '--output', 'human'],
  ],
  ['unused code', 'npx', ['knip']],
  ['unit, property, reference and command tests', 'npx', ['vitest', 'run', '--project', 'lib']],
  ['build', 'npx', ['vite', 'build', '--logLevel', 'warn']],
  ['browser tests', 'npx', ['vitest', 'run', '--project', 'browser']],
];

for (const [name, command, args] of steps) {
  const started = Date.now();
  console.log(`\n--- ${name}`);
  const { status } = spawnSync(command, args, {
    stdio: 'inherit',
    shell: process.platform === 'win32',
    env: { ...process.env, LOTFALL_BROWSER: browser },
  });
  if (status !== 0) {
    console.error(`--- ${name} failed`);
    process.exit(status ?? 1);
  }
  console.log(`--- ${name}: ${((Date.now() - started) / 1000).toFixed(1)} s`);
}
