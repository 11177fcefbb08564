/** All checks and tests, each named, with the time it took. Checks that need one core run side by side. */
import { spawn } from 'node:child_process';
import { findOrInstallBrowser, noBrowser } from './browser/find-browser.js';

const browser = findOrInstallBrowser();
if (browser === null) {
  console.error(noBrowser);
  process.exit(1);
}

/** Groups run one after another; the steps of a group side by side. */
const groups = [
  [
    ['lint', ['eslint', '.']],
    [
      'types',
      ['svelte-check', '--tsconfig', './tsconfig.json', '--fail-on-warnings', '--output', 'human'],
    ],
    ['unused code', ['knip']],
    ['format', ['prettier', '--check', '--log-level', 'warn', '.']],
  ],
  [['unit, property, reference and command tests', ['vitest', 'run', '--project', 'lib']]],
  [['build', ['vite', 'build', '--logLevel', 'error']]],
  [['browser tests', ['vitest', 'run', '--project', 'browser']]],
];

/**
 * Runs one step and prints all it said once it is over.
 *
 * @param {string} name
 * @param {string[]} args
 * @returns {Promise<boolean>} whether it passed.
 */
function run(name, args) {
  const started = Date.now();
  return new Promise((resolve) => {
    const child = spawn('npx', args, {
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: process.platform === 'win32',
      env: { ...process.env, LOTFALL_BROWSER: browser },
    });
    let said = '';
    child.stdout.on('data', (data) => (said += data));
    child.stderr.on('data', (data) => (said += data));
    child.on('close', (status) => {
      const seconds = ((Date.now() - started) / 1000).toFixed(1);
      console.log(`\n--- ${name}: ${status === 0 ? 'passed' : 'FAILED'}, ${seconds} s`);
      if (said.trim() !== '') console.log(said.trimEnd());
      resolve(status === 0);
    });
  });
}

for (const group of groups) {
  const passed = await Promise.all(group.map(([name, args]) => run(name, args)));
  if (passed.includes(false)) process.exit(1);
}
