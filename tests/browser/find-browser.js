import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

/** Where Chrome, Chromium and Edge usually lie, by platform. */
const usual = {
  linux: [
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/usr/bin/google-chrome-stable',
    '/usr/bin/microsoft-edge',
    '/snap/bin/chromium',
  ],
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
};

/**
 * The browser to test in: the one that LOTFALL_BROWSER names, else an installed one, else one that
 * playwright has downloaded.
 *
 * @returns {string | null} path of the program, or null when there is none.
 */
export function findBrowser() {
  const named = process.env.LOTFALL_BROWSER;
  if (named !== undefined && named !== '') return existsSync(named) ? named : null;
  const installed = (usual[process.platform] ?? []).find((path) => existsSync(path));
  if (installed !== undefined) return installed;
  const downloaded = chromium.executablePath();
  return existsSync(downloaded) ? downloaded : null;
}

/**
 * Like {@link findBrowser}, and installs Chromium where none is found: from Debian's packages as root, else as
 * playwright's own download.
 *
 * @returns {string | null}
 */
export function findOrInstallBrowser() {
  const found = findBrowser();
  if (found !== null || process.env.LOTFALL_BROWSER) return found;
  console.log('No Chrome, Chromium or Edge found; installing Chromium.');
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore' });
    spawnSync('apt-get', ['install', '-y', '-qq', 'chromium'], {
      stdio: 'ignore',
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
    const installed = findBrowser();
    if (installed !== null) return installed;
  }
  spawnSync('npx', ['playwright-core', 'install', 'chromium'], {
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  return findBrowser();
}

/** What to tell a person where no browser could be had. */
export const noBrowser =
  'No browser for the tests: install Chrome, Chromium (Debian: apt-get install chromium) or Edge, or name one in LOTFALL_BROWSER.';
