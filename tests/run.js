/** All checks and tests, each named, with the time it took. */
import { spawn } from 'node:child_process';
import { findOrInstallBrowser, noBrowser } from './browser/find-browser.js';

const browser = findOrInstallBrowser();
if (browser === null) {
  console.error(noBrowser);
  process.exit(1);
}

/** In the order in which they start. The page is tried in the browser once it is built. */
const steps = [
  ['lint', ['eslint', '.']],
  ['build', ['vite', 'build', '--logLevel', 'error']],
  [
    'types',
    ['svelte-check', '--tsconfig', './tsconfig.json', '--fail-on-warnings', '--output', 'human'],
  ],
  ['format', ['prettier', '--check', '--log-level', 'warn', '.']],
  ['unused code', ['knip']],
  ['unit, property, reference and command tests', ['vitest', 'run', '--project', 'lib']],
  ['browser tests', ['vitest', 'run', '--project', 'browser'], 'build'],
];

/** Two steps at a time, so that the long one that needs a single core leaves no other idle. */
const lanes = 2;

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

/** What is under way or done, by the names of steps: whether it passed. */
const outcomes = new Map();
let failed = false;

/** Takes one step after another until none is left, or one has failed. */
async function work() {
  for (let step = steps.shift(); step !== undefined && !failed; step = steps.shift()) {
    const [name, args, after] = step;
    await outcomes.get(after);
    if (failed) return;
    const outcome = run(name, args);
    outcomes.set(name, outcome);
    if (!(await outcome)) failed = true;
  }
}

await Promise.all(Array.from({ length: lanes }, work));
if (failed) process.exit(1);
