import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launched, type OpenPage } from './open-page';
import { demoToDraw, drag, findPlaces, measured, ringsOf, savedPlan } from './on-the-map';

const browser = launched();

/** A place in the middle of the lot's southern lawn. */
async function lawn(page: Page): Promise<{ x: number; y: number }> {
  const canvas = await page.locator('.map canvas').boundingBox();
  if (canvas === null) throw new Error('The page shows no map');
  return { x: canvas.x + canvas.width * 0.52, y: canvas.y + canvas.height * 0.72 };
}

async function chooseForm(page: Page, form: string): Promise<void> {
  await page.getByRole('button', { name: 'basin', exact: true }).click();
  await page.getByRole('radio', { name: form }).check();
}

/** How many basins the saved plan has. */
async function basins(page: Page): Promise<string[]> {
  const { features } = await savedPlan(page);
  return features.filter(({ properties }) => properties['kind'] === 'basin').map(({ id }) => id);
}

/** One page for all: each test leaves the plan as it began. */
let opened: OpenPage;
beforeAll(async () => {
  opened = await demoToDraw(browser());
});
afterAll(async () => {
  await opened.page.close();
});

/** Takes back the basin that was drawn. */
async function takeBack(page: Page): Promise<void> {
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => basins(page)).toEqual(['basin']);
}

describe('a basin of one of the usual outlines', () => {
  it('is placed by a press and a drag, with its area in view, and is then an ordinary basin', async () => {
    const { page, faults } = opened;
    await chooseForm(page, 'kidney');
    const centre = await lawn(page);
    await page.mouse.move(centre.x, centre.y);
    await page.mouse.down();
    await page.mouse.move(centre.x + 40, centre.y - 15, { steps: 5 });
    const area = page.locator('svg.over text', { hasText: 'm²' });
    await area.waitFor();
    const small = Number.parseFloat(await area.innerHTML());
    await page.mouse.move(centre.x + 60, centre.y - 22, { steps: 5 });
    await expect.poll(async () => Number.parseFloat(await area.innerHTML())).toBeGreaterThan(small);
    const shown = Number.parseFloat(await area.innerHTML());
    await page.mouse.up();
    await page.locator('.editor', { hasText: 'basin' }).waitFor();
    const drawn = measured(ringsOf(await savedPlan(page), 'basin-1')[0]);
    expect(drawn.areaM2 / shown).toBeGreaterThan(0.99);
    expect(drawn.areaM2 / shown).toBeLessThan(1.01);

    await drag(page, centre, { x: centre.x - 50, y: centre.y });
    await expect
      .poll(async () => measured(ringsOf(await savedPlan(page), 'basin-1')[0]).x)
      .toBeLessThan(drawn.x - 1);
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(() => basins(page)).toEqual(['basin']);
    expect(faults).toEqual([]);
  });

  it('is placed by two presses, and dropped by Escape before the second', async () => {
    const { page, faults } = opened;
    await chooseForm(page, 'teardrop');
    const centre = await lawn(page);
    await page.mouse.click(centre.x, centre.y);
    await page.mouse.move(centre.x + 50, centre.y, { steps: 4 });
    const shape = page.locator('svg.over polygon[points]');
    await shape.waitFor();
    await page.keyboard.press('Escape');
    await shape.waitFor({ state: 'detached' });
    await page.mouse.move(centre.x + 70, centre.y, { steps: 4 });
    expect(await shape.count()).toBe(0);

    await page.mouse.click(centre.x, centre.y);
    await page.mouse.move(centre.x + 45, centre.y + 10, { steps: 4 });
    await page.mouse.click(centre.x + 50, centre.y + 10);
    await expect.poll(() => basins(page)).toEqual(['basin', 'basin-1']);
    // The narrow end is where the second press was: the centre of area lies nearer the wide one.
    const [ring] = ringsOf(await savedPlan(page), 'basin-1');
    const { x } = measured(ring);
    const reach = ring.map((at) => measured([at, at, at, at]).x);
    expect(Math.max(...reach) - x).toBeGreaterThan(1.15 * (x - Math.min(...reach)));
    await takeBack(page);
    expect(faults).toEqual([]);
  });

  it('is placed without a pointer: in the middle, moved, turned and sized by keys and fields', async () => {
    const { page, faults } = opened;
    await page.getByRole('button', { name: 'basin', exact: true }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('radio', { name: 'free' }).focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    expect(await page.getByRole('radio', { name: 'oval' }).isChecked()).toBe(true);
    const length = page.getByLabel('length', { exact: true });
    await length.fill('8 m');
    await length.press('Tab');
    await page.getByLabel('width', { exact: true }).fill('4 m');
    await page.getByLabel(/points to/).fill('0');
    const place = page.getByRole('button', { name: 'place it in the middle' });
    await place.focus();
    await page.keyboard.press('Enter');
    await page.getByText('25.1 m²').first().waitFor();
    const before = await page.locator('svg.over polygon[points]').getAttribute('points');
    for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('r');
    await expect.poll(() => page.getByLabel(/points to/).inputValue()).toBe('5');
    expect(await page.locator('svg.over polygon[points]').getAttribute('points')).not.toBe(before);
    await page.keyboard.press('Enter');
    await expect.poll(() => basins(page)).toEqual(['basin', 'basin-1']);
    expect(measured(ringsOf(await savedPlan(page), 'basin-1')[0]).areaM2).toBeCloseTo(25.1, 0);
    await takeBack(page);
    expect(faults).toEqual([]);
  });

  it('keeps its size when what is typed is none', async () => {
    const { page } = opened;
    await chooseForm(page, 'oval');
    const length = page.getByLabel('length', { exact: true });
    const before = await length.inputValue();
    for (const [typed, sentence] of [
      ['long', /long/],
      ['90 m', /at most 6 times/],
      ['1 m', /no larger/],
    ] as const) {
      await length.fill(typed);
      await length.press('Tab');
      await page.getByRole('alert').getByText(sentence).waitFor();
      expect(await length.inputValue()).toBe(before);
    }
    await page.keyboard.press('Escape');
  });
});

describe('a basin that is there', () => {
  it('is made another form of the same size about the same centre, and back', async () => {
    const { page, faults } = opened;
    const toPage = await findPlaces(page);
    const [ring] = ringsOf(await savedPlan(page), 'basin');
    const before = measured(ring);
    const { x, y } = toPage([-87.10661, 42.51007]);
    await page.mouse.click(x, y);
    await page.getByRole('button', { name: 'Another outline' }).click();
    const offered = page.getByRole('group', { name: 'Outline of the basin' });
    await offered.getByRole('button', { name: 'oval' }).click();
    await expect
      .poll(async () => ringsOf(await savedPlan(page), 'basin')[0].length)
      .not.toBe(ring.length);
    const after = measured(ringsOf(await savedPlan(page), 'basin')[0]);
    expect(after.areaM2).toBeCloseTo(before.areaM2, 1);
    expect(Math.hypot(after.x - before.x, after.y - before.y)).toBeLessThan(0.05);
    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    expect(await undo.getAttribute('title')).toBe('Undo: make the basin an oval');
    await undo.click();
    await expect.poll(async () => ringsOf(await savedPlan(page), 'basin')[0]).toEqual(ring);
    expect(faults).toEqual([]);
  });
});
