import type { BrowserContext, Page } from 'playwright-core';
import { readFile } from 'node:fs/promises';
import { describe, expect, inject, it } from 'vitest';
import { demoToDraw, savedPlan } from './on-the-map';
import { launched, openPage, patienceMs } from './open-page';

const browser = launched();

const ask = (page: Page, title: string) => page.getByRole('button', { name: title }).click();
const computed = (page: Page) => page.locator('.ledger[aria-busy=false]').waitFor();
const rain = (page: Page, mm: string) => page.getByRole('slider').fill(mm);

/** Another page of a visitor who has been there. */
async function visit(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(inject('address'));
  return page;
}

/** The demo's plan, so many degrees to the east, which names no elevation. */
async function planElsewhere(degrees: number): Promise<string> {
  const plan = JSON.parse(await readFile('fixtures/demo/lot.plan.geojson', 'utf8')) as {
    lotfall: { elevation?: unknown };
  };
  delete plan.lotfall.elevation;
  return JSON.stringify(plan, (_, value: unknown) => {
    const isPlace =
      Array.isArray(value) && value.length === 2 && value.every((part) => typeof part === 'number');
    if (!isPlace) return value;
    const [lng, lat] = value as [number, number];
    return [lng + degrees, lat];
  });
}

async function openPlan(page: Page, name: string, text: string): Promise<void> {
  const input = page.locator('label', { hasText: 'Open plan' }).locator('input');
  await input.setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

/** Distances that the rules measured, by what from. */
async function distances(page: Page): Promise<Map<string, string>> {
  const more = page.getByRole('button', { name: /Show all/ });
  if ((await more.count()) > 0) await more.click();
  const rows = await page.locator('ul.rules button.row').all();
  const found = new Map<string, string>();
  for (const row of rows) {
    const [name, figures = ''] = (await row.locator('> span').allInnerTexts()).map((text) =>
      text.trim(),
    );
    const measured = /^([\d.]+ m)\s+needs/.exec(figures);
    if (measured !== null) found.set(name.replace(/^\W+\s*/, ''), measured[1]);
  }
  return found;
}

describe('a new plan', () => {
  it('has no ground and no verdicts, and undoing brings both back', async () => {
    const { page, faults } = await demoToDraw(browser());
    await page.getByRole('button', { name: 'New plan' }).click();
    await page.getByText('No elevation yet').waitFor();
    expect(await page.getByText('none read').count()).toBe(1);
    expect(await page.getByText(/by a building|stands? on the lot/).count()).toBe(0);
    expect(await page.getByText(/in .* = out .*/).count()).toBe(0);
    expect(await page.getByText(/Meets \d|breaks \d/).count()).toBe(0);
    await page.keyboard.press('Control+z');
    await page.getByText(/in .* = out .*/).waitFor();
    await computed(page);
    await page.getByText(/water stands by House/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('a plan away from the ground on the sheet', () => {
  it('is measured where it lies: a quarter of the globe to the east its distances are the same', async () => {
    const { page, faults } = await demoToDraw(browser());
    await ask(page, 'Where can it sit?');
    const here = await distances(page);
    expect(here.size).toBeGreaterThan(5);
    await ask(page, 'What is here?');
    await openPlan(page, 'east.geojson', await planElsewhere(90));
    await page.getByText(/does not reach the lot of east.geojson/).waitFor();
    await page.getByText('No elevation yet').waitFor();
    expect(await page.getByText(/by a building/).count()).toBe(0);
    await ask(page, 'Where can it sit?');
    const there = await distances(page);
    for (const [name, measured] of there) {
      // In the frame of the demo's zone 16 they would be up to a third too long.
      expect([name, Number.parseFloat(measured)]).toEqual([
        name,
        expect.closeTo(Number.parseFloat(here.get(name) ?? 'NaN'), 1),
      ]);
    }
    expect(there.size).toBeGreaterThan(5);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('delete beside a chosen feature', () => {
  it('deletes it, and it can be brought back', async () => {
    const { page, faults } = await demoToDraw(browser());
    await page.getByLabel('On the sheet').selectOption({ label: 'tree: Red maple' });
    await expect.poll(() => page.locator('.editor header b').innerText()).toBe('tree');
    const trees = async (): Promise<number> =>
      (await savedPlan(page)).features.filter(({ properties }) => properties['kind'] === 'tree')
        .length;
    const before = await trees();
    await page.locator('.editor').getByRole('button', { name: 'delete' }).click();
    await page.locator('.editor').waitFor({ state: 'detached' });
    expect(await trees()).toBe(before - 1);
    await page.keyboard.press('Control+z');
    expect(await trees()).toBe(before);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('work in this browser', () => {
  it('goes on with an outline that was half drawn when the page was loaded again', async () => {
    const { page, faults } = await demoToDraw(browser());
    const canvas = await page.locator('.map canvas').boundingBox();
    if (canvas === null) throw new Error('The page shows no map');
    const [x, y] = [canvas.x + canvas.width * 0.42, canvas.y + canvas.height * 0.16];
    const press = async (dx: number, dy: number): Promise<void> => {
      await page.mouse.move(x + dx, y + dy, { steps: 3 });
      await page.mouse.click(x + dx, y + dy);
      await page.waitForTimeout(350);
    };
    await page.getByRole('button', { name: 'building', exact: true }).click();
    await press(0, 0);
    await press(60, 0);
    await press(60, 50);
    await page.getByText('work kept').waitFor();
    await page.reload();
    await page.locator('.kept').getByRole('button', { name: 'go on with it' }).click();
    await page.getByText(/Press each corner on the map/).waitFor();
    await page.locator('svg.over').waitFor();
    // The corners are drawn when the map is there.
    await page.locator('svg.over text', { hasText: ' m' }).first().waitFor();
    await press(0, 50);
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator('.editor header b').innerText()).toBe('building');
    const drawn = (await savedPlan(page)).features.filter(
      ({ properties }) => properties['kind'] === 'building',
    );
    const ring = drawn.at(-1)?.geometry.coordinates as number[][][];
    expect(ring[0]).toHaveLength(5);
    expect(faults).toEqual([]);
    await page.close();
  });

  it('of two tabs is two works, and what was changed in the last second is there', async () => {
    const { page: one } = await openPage(browser(), { width: 1100, height: 760 });
    const context = one.context();
    await computed(one);
    await rain(one, '77');
    await one.getByText('work kept').waitFor();
    const other = await visit(context);
    await computed(other);
    // The work of the tab that is open is not offered in another.
    expect(await other.locator('.kept').count()).toBe(0);
    await rain(other, '15');
    await other.getByText('work kept').waitFor();
    await rain(one, '88');
    await one.goto('about:blank');
    await other.goto('about:blank');
    const later = await visit(context);
    await expect.poll(() => later.locator('.kept').count()).toBe(2);
    await computed(later);
    await later.locator('.kept').first().getByRole('button', { name: 'go on with it' }).click();
    await later.getByText('88 mm').first().waitFor();
    await computed(later);
    await context.close();
  });

  it('holds what was typed and not left yet when the page was closed', async () => {
    const { page } = await demoToDraw(browser());
    const context = page.context();
    await page.getByLabel('On the sheet').selectOption({ label: 'tree: Red maple' });
    await page.getByLabel('name', { exact: true }).fill('Old oak');
    await page.goto('about:blank');
    const later = await visit(context);
    await later.locator('.kept').getByRole('button', { name: 'go on with it' }).click();
    await ask(later, 'What is here?');
    await later.locator('option', { hasText: 'tree: Old oak' }).waitFor({ state: 'attached' });
    await context.close();
  });

  it('is not hidden by a record that is broken, and one of the first version is still there', async () => {
    const { page } = await openPage(browser(), { width: 1100, height: 760 });
    const context = page.context();
    await computed(page);
    const text = await readFile('fixtures/demo/lot.plan.geojson', 'utf8');
    await page.goto(`${inject('address')}rule-set.schema.json`);
    await page.evaluate(async (plan) => {
      const done = (request: IDBRequest): Promise<unknown> =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => {
            resolve(request.result);
          };
          request.onerror = () => {
            reject(new Error('the store refuses'));
          };
        });
      await done(indexedDB.deleteDatabase('lotfall'));
      const opening = indexedDB.open('lotfall', 1);
      opening.onupgradeneeded = () => {
        opening.result.createObjectStore('kept');
      };
      const database = (await done(opening)) as IDBDatabase;
      const kept = database.transaction('kept', 'readwrite').objectStore('kept');
      const work = { plan, title: 'First work', at: '2026-05-01T10:00:00.000Z', elevation: null };
      await done(kept.put(work, 'work'));
      await done(kept.put([{ ...work, at: 'some day' }, { title: 3 }], 'earlier'));
      database.close();
    }, text);
    const later = await visit(context);
    await later.getByText(/Your work on First work/).waitFor();
    expect(await later.locator('.kept').count()).toBe(1);
    await later.getByText('2 kept works of an earlier visit cannot be read').waitFor();
    await later.locator('.kept').getByRole('button', { name: 'go on with it' }).click();
    await later.getByText(/in .* = out .*/).waitFor();
    await context.close();
  });

  it.each([
    ['has no room', 'IDBObjectStore.prototype.put', 'QuotaExceededError', /no room left/],
    ['is blocked', 'IDBFactory.prototype.open', 'SecurityError', /storage is blocked/],
  ])('is not said to be kept where the store %s', async (_, method, error, sentence) => {
    const context = await browser().newContext({ viewport: { width: 1100, height: 760 } });
    context.setDefaultTimeout(patienceMs);
    await context.addInitScript(
      `${method} = function () { throw new DOMException('no', '${error}'); };`,
    );
    const page = await visit(context);
    await computed(page);
    await rain(page, '77');
    await page.getByText('work not kept').waitFor();
    await page.getByRole('alert').getByText(sentence).waitFor();
    expect(await page.getByText('work kept').count()).toBe(0);
    await context.close();
  });
});

describe('heights that cannot show a yard', () => {
  it.each([
    { width: 1100, height: 760 },
    { width: 390, height: 800 },
  ])('are said to be such before everything else, at %o', async (size) => {
    const { page, faults } = await openPage(browser(), size);
    await computed(page);
    if (size.width < 700) await page.getByRole('button', { name: 'questions' }).click();
    await ask(page, 'What is here?');
    const input = page.locator('label', { hasText: 'Open elevation' }).locator('input');
    await input.setInputFiles('fixtures/broken/cells-of-10-m.tif');
    const said = page.locator('.notes > *').first();
    await expect.poll(() => said.innerText()).toMatch(/cells are 10 m wide/);
    await page.getByText(/these heights cannot show/).waitFor();
    expect(await page.getByText(/none stands by a building/).count()).toBe(0);
    expect(faults).toEqual([]);
    await page.close();
  });
});
