import type { Page } from 'playwright-core';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launched, openPage, type OpenPage } from './open-page';

const browser = launched();

/** The page with the demo computed. */
async function demo(size = { width: 1100, height: 760 }): Promise<OpenPage> {
  const opened = await openPage(browser(), size);
  await opened.page.getByText(/in .* = out .*/).waitFor();
  await opened.page.locator('.ledger[aria-busy=false]').waitFor();
  // What is drawn over the map comes when the map listens.
  await opened.page.locator('svg.over').waitFor();
  return opened;
}

/** Opens a question by its title. */
async function ask(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: title }).click();
}

/** The figure that the ledger's list gives for a fate, in its own words. */
async function ledgerFigure(page: Page, fate: string): Promise<string> {
  return page.locator('.ledger .list li', { hasText: fate }).locator('b').first().innerText();
}

/** Screen place of the basin: the drawing is a canvas, fitted to the lot in the same way each time. */
async function basinPlace(page: Page): Promise<{ x: number; y: number }> {
  const canvas = await page.locator('.map canvas').boundingBox();
  if (canvas === null) throw new Error('The page shows no map');
  return { x: canvas.x + canvas.width * 0.69, y: canvas.y + canvas.height * 0.6 };
}

describe('the demo lot', () => {
  it('is on the sheet and computed when the page opens, with its findings in words', async () => {
    const { page, faults } = await demo();
    await expect.poll(() => page.getByText(/water stands by House/).count()).toBe(1);
    expect(await ledgerFigure(page, 'soaked in')).toMatch(/m³/);
    expect(await page.getByText(/run-on|in .* = out/).count()).toBeGreaterThan(0);
    await ask(page, 'Where can it sit?');
    await page.locator('.rules .row', { hasText: 'lines not on the plan' }).click();
    await page
      .getByText(/ask a private locator, on the owner’s side, about every service/)
      .first()
      .waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });

  it('answers a click on the ground with what drains there', async () => {
    const { page, faults } = await demo();
    await page.getByRole('button', { name: 'Ask the ground' }).click();
    const canvas = await page.locator('.map canvas').boundingBox();
    const { x, y, width, height } = canvas ?? { x: 0, y: 0, width: 0, height: 0 };
    await page.mouse.click(x + width * 0.45, y + height * 0.7);
    await page.getByText(/To (this place|the pool here) drain/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });

  it('follows the rain: more rain, more passed on; undo takes it back', async () => {
    const { page } = await demo();
    const before = await ledgerFigure(page, 'passed on to');
    const rain = page.getByRole('slider');
    await rain.fill('80');
    // Each change is followed by the basin's filling, which changes the ledger once more.
    await expect.poll(() => ledgerFigure(page, 'passed on to')).not.toBe(before);
    await page.keyboard.press('Control+z');
    await expect.poll(() => ledgerFigure(page, 'passed on to')).toBe(before);
    await page.close();
  });

  it('finds places that keep every rule, and builds the basin at one', async () => {
    const { page, faults } = await demo();
    await ask(page, 'Where can it sit?');
    await page.getByRole('button', { name: 'Look over the whole lot' }).click();
    await page.getByRole('button', { name: 'Put the basin here' }).first().waitFor();
    const before = await ledgerFigure(page, 'held by the basin');
    await page.getByRole('button', { name: 'Put the basin here' }).nth(1).click();
    await expect.poll(() => ledgerFigure(page, 'held by the basin')).not.toBe(before);
    await page.getByText(/✓ Meets/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('drawing', () => {
  it('draws a building by mouse, which changes the water, and undoes it', async () => {
    const { page, faults } = await demo();
    await ask(page, 'What is here?');
    await page.getByRole('button', { name: 'building', exact: true }).click();
    const canvas = await page.locator('.map canvas').boundingBox();
    const x = (canvas?.x ?? 0) + 560;
    const y = (canvas?.y ?? 0) + 90;
    const corners = [
      [0, 0],
      [60, 0],
      [60, 50],
      [0, 50],
    ];
    for (const [dx, dy] of corners) {
      await page.mouse.move(x + dx, y + dy, { steps: 3 });
      await page.mouse.click(x + dx, y + dy);
      await page.waitForTimeout(350);
    }
    await page.keyboard.press('Enter');
    await page.getByText(/5 buildings/).waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText(/4 buildings/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });

  it('moves the selected basin by mouse and by arrow keys, and its distances follow at once', async () => {
    const { page, faults } = await demo();
    await ask(page, 'Where can it sit?');
    const { x, y } = await basinPlace(page);
    await page.mouse.click(x, y);
    await page.locator('.map canvas').focus();
    const row = page.locator('.rules .row', { hasText: /^.*House(?! at)/ }).first();
    const before = await row.innerText();
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x - 60, y + 10, { steps: 6 });
    // Still held down: nothing has been committed yet.
    await expect.poll(() => row.innerText()).not.toBe(before);
    await page.mouse.up();
    await page.keyboard.press('Control+z');
    await expect.poll(() => row.innerText()).toBe(before);
    for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => row.innerText()).not.toBe(before);
    await page.keyboard.press('Control+z');
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('files', () => {
  it('saves a plan that it can open again', async () => {
    const { page } = await demo();
    await ask(page, 'What is here?');
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save plan' }).click();
    const path = await (await download).path();
    const saved = await readFile(path, 'utf8');
    expect(saved).toBe(await readFile('fixtures/demo/lot.plan.geojson', 'utf8'));
    await page
      .locator('input[type=file]')
      .nth(1)
      .setInputFiles({
        name: 'again.plan.geojson',
        mimeType: 'application/geo+json',
        buffer: Buffer.from(saved),
      });
    await expect.poll(() => page.getByRole('alert').count()).toBe(0);
    await page.close();
  });

  it('says of a file that cannot be used what is wrong, and keeps what is on the sheet', async () => {
    const { page, faults } = await demo();
    const before = await ledgerFigure(page, 'soaked in');
    await ask(page, 'What is here?');
    const cases: [file: string, input: number, sentence: RegExp][] = [
      ['fixtures/broken/not-a-tiff.tif', 0, /not-a-tiff\.tif/],
      ['fixtures/broken/no-georeference.tif', 0, /no-georeference\.tif/],
      ['fixtures/broken/one-giant-strip.tif', 0, /one-giant-strip\.tif/],
      ['fixtures/broken/data-cut.tif', 0, /data-cut\.tif/],
      ['fixtures/plans/bad-crossing-lot-line.geojson', 1, /lot line crosses or touches itself/],
      ['fixtures/plans/bad-json.geojson', 1, /bad-json\.geojson.*line/],
      ['fixtures/plans/bad-roof-reference.geojson', 1, /bad-roof-reference\.geojson/],
    ];
    for (const [file, input, sentence] of cases) {
      await page.locator('input[type=file]').nth(input).setInputFiles(file);
      await page.getByRole('alert').getByText(sentence).waitFor();
      expect(await ledgerFigure(page, 'soaked in')).toBe(before);
      expect(await page.getByText(/4 buildings/).count()).toBe(1);
    }
    expect(faults).toEqual([]);
    await page.close();
  });

  it("opens somebody's own elevation on an empty sheet, and asks for a unit where it must", async () => {
    const { page, faults } = await demo();
    await ask(page, 'What is here?');
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles('fixtures/broken/feet-without-vertical-unit.tif');
    await page.getByText(/in what unit its heights are/).waitFor();
    await page.getByRole('button', { name: 'feet', exact: true }).click();
    await page.getByText(/0 buildings/).waitFor();
    await page.getByText(/heights in feet/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('map tiles', () => {
  let tiles: Server;
  let asked: string[];
  beforeAll(async () => {
    asked = [];
    const tile = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    tiles = createServer((request, answer) => {
      asked.push(request.url ?? '');
      answer.writeHead(200, { 'Content-Type': 'image/png', 'Access-Control-Allow-Origin': '*' });
      answer.end(tile);
    });
    await new Promise<void>((resolve) => {
      tiles.listen(0, '127.0.0.1', resolve);
    });
  });
  afterAll(() => {
    tiles.close();
  });

  it('are asked for only after the user turns them on, with the attribution shown', async () => {
    const { page, faults } = await demo();
    expect(asked).toEqual([]);
    await ask(page, 'What is here?');
    await page.getByText('What lies under the drawing').click();
    await page.getByText('Map tiles under the sheet').click();
    const { port } = tiles.address() as AddressInfo;
    await page.getByLabel('Other tiles').fill(`http://127.0.0.1:${port}/{z}/{x}/{y}.png`);
    await page.getByLabel('Attribution').fill('Test Mapping Office');
    await page.getByRole('button', { name: 'Use these' }).click();
    await expect.poll(() => asked.length).toBeGreaterThan(0);
    expect(asked[0]).toMatch(/^\/\d+\/\d+\/\d+\.png$/);
    await page.getByText('Test Mapping Office').waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('the page', () => {
  it('fits a phone, with the questions pulled up over the sheet', async () => {
    const { page, faults } = await demo({ width: 390, height: 844 });
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - window.innerWidth,
    );
    expect(overflow).toBeLessThanOrEqual(0);
    await page.getByRole('button', { name: 'questions' }).click();
    await ask(page, 'What do I hand over?');
    await page.getByText('Buried lines').waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });

  it('can be gone through by keyboard', async () => {
    const { page } = await demo();
    const reached = () => page.evaluate(() => document.activeElement?.textContent.trim());
    // The head and the walk round the demo come before the questions, which come in order.
    const passed: (string | undefined)[] = [];
    for (let i = 0; i < 9 && passed.at(-1) !== 'Where does the water go?'; i++) {
      await page.keyboard.press('Tab');
      passed.push(await reached());
    }
    expect(passed.slice(-2)).toEqual(['What is here?', 'Where does the water go?']);
    // The next step and the switch between storm and thaw come before the gauge.
    const onGauge = () =>
      page.evaluate(() => document.activeElement?.getAttribute('type') === 'range');
    for (let i = 0; i < 6 && !(await onGauge()); i++) await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    await page.getByText('41 mm').first().waitFor();
    await page.close();
  });

  it('keeps work between visits and offers to go on with it', async () => {
    const { page } = await demo();
    await page.getByRole('slider').fill('77');
    await page.getByText('work kept').waitFor();
    await page.reload();
    await page.getByRole('button', { name: 'go on with it' }).click();
    await page.getByText('77 mm').first().waitFor();
    await page.close();
  });
});
