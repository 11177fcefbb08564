import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, inject } from 'vitest';
import { findBrowser, noBrowser } from './find-browser.js';

/** Software rendering, and nothing that looks for a network. */
const args = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** How long a test waits for what the page is to say, ms: a cap for what hangs, not for what is slow. */
export const patienceMs = 300_000;

/** One browser for all tests of a file; to be asked for inside a test. */
export function launched(): () => Browser {
  let browser: Browser;
  beforeAll(async () => {
    const executablePath = findBrowser();
    if (executablePath === null) throw new Error(noBrowser);
    browser = await chromium.launch({ executablePath, args });
  });
  afterAll(async () => {
    await browser.close();
  });
  return () => browser;
}

/** A page of the built app, and what went wrong in it so far. */
export interface OpenPage {
  readonly page: Page;
  /** Console errors, page errors and violations of the content security policy. */
  readonly faults: string[];
}

export async function openPage(
  browser: Browser,
  size = { width: 1400, height: 900 },
): Promise<OpenPage> {
  const context = await browser.newContext({
    viewport: size,
    acceptDownloads: true,
    // What a test opens is what has just been built; the copy for later has a test of its own.
    serviceWorkers: 'block',
  });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(error.message));
  await page.goto(inject('address'));
  return { page, faults };
}
