import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';
import { demoToDraw, savedPlan } from './on-the-map';

const browser = launched();

/** A place on the lawn north of the demo's house, with nothing drawn on it. */
async function lawn(page: Page): Promise<{ x: number; y: number }> {
  const canvas = await page.locator('.map canvas').boundingBox();
  if (canvas === null) throw new Error('The page shows no map');
  return { x: canvas.x + canvas.width * 0.42, y: canvas.y + canvas.height * 0.16 };
}

async function press(page: Page, x: number, y: number): Promise<void> {
  await page.mouse.move(x, y, { steps: 3 });
  await page.mouse.click(x, y);
  await page.waitForTimeout(350);
}

async function settled(page: Page): Promise<void> {
  await page.locator('.ledger[aria-busy=false]').waitFor();
}

const drawing = (page: Page, kind: string) =>
  page.getByRole('button', { name: kind, exact: true }).click();
const edited = (page: Page) => page.locator('.editor header b').innerText();

describe('what has just been drawn', () => {
  it('is selected, a point too, and nothing stays half done when the first corner is pressed again', async () => {
    const { page, faults } = await demoToDraw(browser());
    const { x, y } = await lawn(page);
    await drawing(page, 'building');
    await page.getByText(/Press each corner on the map/).waitFor();
    for (const [dx, dy] of [
      [0, 0],
      [60, 0],
      [60, 50],
      [0, 50],
      [0, 0],
    ]) {
      await press(page, x + dx, y + dy);
    }
    expect(await edited(page)).toBe('building');
    await settled(page);
    expect(await page.locator('svg.over text', { hasText: 'm²' }).count()).toBe(0);

    await drawing(page, 'roof');
    for (const [dx, dy] of [
      [0, 0],
      [60, 0],
      [60, 50],
      [0, 50],
    ]) {
      await press(page, x + dx, y + dy);
    }
    await page.keyboard.press('Enter');
    await drawing(page, 'downspout');
    await press(page, x + 60, y + 50);
    await expect.poll(() => edited(page)).toBe('downspout');
    const { features } = await savedPlan(page);
    const last = (kind: string) =>
      features.filter(({ properties }) => properties['kind'] === kind).at(-1);
    expect(last('roof')?.properties['building']).toBe(last('building')?.id);
    expect(last('downspout')?.properties['roof']).toBe(last('roof')?.id);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('by keyboard', () => {
  // Each ends with the plan as it began.
  let page: Page;
  beforeAll(async () => {
    ({ page } = await demoToDraw(browser()));
  });
  afterAll(async () => {
    await page.close();
  });

  it('a feature is chosen from the list, moved, deleted and brought back', async () => {
    await page.getByLabel('On the sheet').focus();
    // a list forgets what comes too slowly, as on a busy machine: typed again after its pause
    await expect
      .poll(async () => {
        await page.keyboard.type('tree: Red');
        await page.waitForTimeout(1500);
        return edited(page);
      })
      .toBe('tree');
    await page.locator('.map canvas').focus();
    await page.keyboard.press('ArrowRight');
    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    await expect.poll(() => undo.getAttribute('title')).toBe('Undo: move tree');
    await page.keyboard.press('Delete');
    await expect.poll(() => undo.getAttribute('title')).toBe('Undo: delete tree');
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(() => undo.isEnabled()).toBe(false);
  });

  it('what is typed out of range is told and not taken', async () => {
    const list = page.getByLabel('On the sheet');
    const downspout = await list
      .locator('option', { hasText: 'downspout' })
      .first()
      .getAttribute('value');
    await list.selectOption(downspout);
    const share = page.getByLabel(/share of the roof/);
    const before = await share.inputValue();
    await share.fill('3');
    await share.press('Tab');
    await page
      .getByRole('alert')
      .getByText(/from 0 to 1/)
      .waitFor();
    expect(await share.inputValue()).toBe(before);
  });

  it('a new plan knows nothing of the demo’s soil, storm and heights', async () => {
    await page.getByRole('button', { name: 'New plan' }).click();
    await page.getByText(/0 buildings/).waitFor();
    expect((await savedPlan(page)) as unknown).toMatchObject({
      features: [],
      lotfall: { version: 1 },
    });
    expect(await page.getByText('Untitled lot').count()).toBe(1);
    expect(await page.getByText('No elevation yet').count()).toBe(1);
    expect(await page.getByText(/stands by a building/).count()).toBe(0);
    await page.keyboard.press('Control+z');
    await page.getByText(/4 buildings/).waitFor();
  });
});

describe('kept work', () => {
  it('is still offered when the demo is played with before it is taken up', async () => {
    const { page } = await openPage(browser());
    await settled(page);
    await page.getByRole('slider').fill('77');
    await page.getByText('work kept').waitFor();
    await page.reload();
    await page.locator('.kept').waitFor();
    // Earlier work is offered before the demo is on the sheet.
    await settled(page);
    await page.getByRole('slider').fill('15');
    await page.getByText('work kept').waitFor();
    await page.reload();
    await expect.poll(() => page.locator('.kept').count()).toBe(2);
    await page.locator('.kept').nth(1).getByRole('button', { name: 'go on with it' }).click();
    await page.getByText('77 mm').first().waitFor();
    expect(await page.locator('.kept').count()).toBe(1);
    await page.close();
  });
});
