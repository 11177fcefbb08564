import { createServer, type Server } from 'node:http';
import { readFile } from 'node:fs/promises';
import { extname } from 'node:path';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import { launched, patienceMs } from './open-page';

const browser = launched();

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
};

/** Serves the built page without any header of its own, and a later build of it once there is one. */
class PlainHost {
  isNewer = false;
  address = '';
  readonly #server: Server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://host').pathname.replace('/yard/', '');
    const file = path === '' ? 'index.html' : path;
    readFile(`dist/app/${file}`).then(
      (bytes) => {
        response.setHeader('Content-Type', types[extname(file)] ?? 'application/octet-stream');
        const isWorker = file === 'offline.js' && this.isNewer;
        response.end(isWorker ? bytes.toString().replace(/(version\\":\\")/, '$1newer-') : bytes);
      },
      () => {
        response.statusCode = 404;
        response.end();
      },
    );
  });

  async open(): Promise<void> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve));
    const at = this.#server.address();
    if (at === null || typeof at === 'string') throw new Error('The host has no port');
    this.address = `http://127.0.0.1:${at.port}/yard/`;
  }

  close(): Promise<void> {
    this.#server.closeAllConnections();
    return new Promise((resolve) => {
      this.#server.close(() => {
        resolve();
      });
    });
  }
}

const host = new PlainHost();
beforeAll(() => host.open());
afterAll(() => host.close());

it('opens and works without a network after the first visit, wherever it is put, and takes a newer version when told to', async () => {
  const context = await browser().newContext({ viewport: { width: 1100, height: 760 } });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  await page.goto(host.address);
  const worked = () => page.getByText(/in .* = out .*/).waitFor();
  await worked();
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);

  host.isNewer = true;
  await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
  await page.getByText('A newer version of Lotfall is here').waitFor();
  const reloaded = page.waitForEvent('load');
  await page.getByRole('button', { name: 'open it' }).click();
  await reloaded;
  await worked();
  expect(await page.evaluate(() => caches.keys())).toHaveLength(2);

  await host.close();
  await page.reload();
  await worked();
  // A part that is fetched only when it is wanted.
  await page.getByRole('button', { name: 'What is here?' }).click();
  await page.getByRole('button', { name: 'basin', exact: true }).click();
  await page
    .getByText(/corner|round|outline/i)
    .first()
    .waitFor();
  expect(faults).toEqual([]);
  await context.close();
});

it('is served so that what has changed is asked for, and what is missing is missed', async () => {
  const address = inject('address');
  const get = (path: string) => fetch(new URL(path, address));
  const home = await get('./');
  const html = await home.text();
  const script = /src="(\.\/assets\/[^"]+)"/.exec(html)?.[1] ?? '';
  expect(home.headers.get('cache-control')).toBe('no-cache');
  expect((await get('offline.js')).headers.get('cache-control')).toBe('no-cache');
  expect((await get(script)).headers.get('cache-control')).toMatch(/immutable/);
  for (const missing of ['assets/none.js', 'none', 'none.html']) {
    expect((await get(missing)).status, missing).toBe(404);
  }
  const policy = home.headers.get('content-security-policy') ?? '';
  expect(policy).toContain("default-src 'none'");
  expect(html.replaceAll('&#39;', "'")).toContain(policy);
});
