import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { preview } from 'vite';
import { findBrowser, noBrowser } from '../browser/find-browser.js';

/** Rounds that the page is opened in. */
const rounds = 5;

/** Opens the built page a few times in headless Chromium with software rendering and prints when the demo is computed. */
export async function benchPage(): Promise<void> {
  const executablePath = findBrowser();
  if (executablePath === null || !existsSync('dist/app/index.html')) {
    console.log(
      `\nThe page was left out: ${executablePath === null ? noBrowser : 'run npm run build first.'}`,
    );
    return;
  }
  const server = await preview({ preview: { port: 0 }, logLevel: 'error' });
  const address = server.resolvedUrls?.local[0] ?? '';
  const browser = await chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--disable-gpu'],
  });
  const computed: number[] = [];
  const blocked: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
    await page.addInitScript(() => {
      const longest = { ms: 0 };
      Object.assign(window, { longest });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) longest.ms = Math.max(longest.ms, entry.duration);
      }).observe({ type: 'longtask', buffered: true });
    });
    const start = performance.now();
    await page.goto(address);
    await page.getByText(/in .* = out .*/).waitFor();
    computed.push(performance.now() - start);
    blocked.push(
      await page.evaluate(() => (window as unknown as { longest: { ms: number } }).longest.ms),
    );
    await page.close();
  }
  await browser.close();
  await server.close();
  const middle = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1];
  console.log(
    `\nPage, ${rounds} openings with software rendering (the map's own drawing included)`,
  );
  console.log(`  demo on the sheet and computed   ${(middle(computed) / 1000).toFixed(1)} s`);
  console.log(`  longest task of the main thread  ${middle(blocked).toFixed(0)} ms`);
  console.log(`  script for the first screen      ${firstScreenKB().toFixed(0)} kB compressed`);
}

/** Compressed size of the scripts that the page itself names; all others are loaded on demand. */
function firstScreenKB(): number {
  const html = readFileSync('dist/app/index.html', 'utf8');
  return readdirSync('dist/app/assets')
    .filter((name) => name.endsWith('.js') && html.includes(name))
    .reduce(
      (sum, name) => sum + gzipSync(readFileSync(`dist/app/assets/${name}`)).length / 1000,
      0,
    );
}
