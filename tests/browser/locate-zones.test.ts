import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

/** The white pixels of the map, which nothing but the outline of the dig is drawn in: how many, and where on average. */
async function white(page: Page): Promise<{ count: number; x: number }> {
  const picture = await page.locator('.map').screenshot({ type: 'png' });
  return page.evaluate(async (base64) => {
    const image = new Image();
    image.src = `data:image/png;base64,${base64}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const pen = canvas.getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const { data } = pen.getImageData(0, 0, image.width, image.height);
    let count = 0;
    let sum = 0;
    for (let i = 0; i < data.length; i += 4) {
      if (data[i] < 252 || data[i + 1] < 252 || data[i + 2] < 252) continue;
      count++;
      sum += (i / 4) % image.width;
    }
    return { count, x: count === 0 ? 0 : sum / count };
  }, picture.toString('base64'));
}

const isDrawn = (page: Page) => async (): Promise<boolean> => (await white(page)).count > 60;

describe('the ground to be dug', () => {
  it('is outlined in white beside the locate request, and by the selected basin, and goes with it', async () => {
    const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
    await page.getByText(/in .* = out .*/).waitFor();
    await page.locator('.ledger[aria-busy=false]').waitFor();
    await page.locator('svg.over').waitFor();
    await page.getByRole('button', { name: 'Where can it sit?' }).click();
    await page.waitForTimeout(800);
    expect((await white(page)).count).toBeLessThan(10);
    const request = page.getByRole('button', { name: 'Locate request', exact: true });
    await request.click();
    await expect.poll(isDrawn(page)).toBe(true);
    const layer = page.getByLabel('ground to be dug, hand-tool zones').first();
    await layer.uncheck();
    await expect.poll(isDrawn(page)).toBe(false);
    await layer.check();
    await expect.poll(isDrawn(page)).toBe(true);
    await request.click();
    await expect.poll(isDrawn(page)).toBe(false);

    // The basin is looked at.
    const canvas = (await page.locator('.map canvas').boundingBox())!;
    await page.mouse.click(canvas.x + canvas.width * 0.69, canvas.y + canvas.height * 0.6);
    await expect.poll(isDrawn(page)).toBe(true);
    const before = await white(page);
    await page.locator('.map canvas').focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(async () => (await white(page)).x).toBeLessThan(before.x - 8);
    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    await expect.poll(isDrawn(page)).toBe(false);
    expect(faults).toEqual([]);
    await page.close();
  });
});
