import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LngLat } from '../../lib/frame/frame';
import { launched } from './open-page';
import { demoToDraw, drag, findPlaces, frame, savedPlan } from './on-the-map';

const browser = launched();

/** A place on the western eave of the demo's house. */
const eave: LngLat = [-87.1069408, 42.510095];

async function ridge(page: Page): Promise<LngLat[] | undefined> {
  const { features } = await savedPlan(page);
  const roof = features.find(({ id }) => id === 'house-roof');
  return roof?.properties['ridge'] as LngLat[] | undefined;
}

/** The middle of each handle of the ridge, on the page. */
async function handles(page: Page): Promise<{ x: number; y: number }[]> {
  const boxes = await page.locator('svg.over .satellite rect').all();
  return Promise.all(
    boxes.map(async (handle) => {
      const { x, y, width, height } = (await handle.boundingBox())!;
      return { x: x + width / 2, y: y + height / 2 };
    }),
  );
}

describe('the ridge of a roof', () => {
  it('is dragged end by end, followed by the sheet, dropped by Escape and undone', async () => {
    const { page, faults } = await demoToDraw(browser());
    const toPage = await findPlaces(page);
    const at = toPage(eave);
    await page.mouse.click(at.x, at.y);
    await page.locator('.editor', { hasText: 'roof' }).waitFor();
    const [first, second] = await handles(page);
    expect(await page.locator('svg.over .satellite.waiting').count()).toBe(2);
    expect(await ridge(page)).toBeUndefined();

    const wanted = { x: first.x + 14, y: first.y - 18 };
    await page.mouse.move(first.x, first.y);
    await page.mouse.down();
    await page.mouse.move(wanted.x + 30, wanted.y, { steps: 4 });
    await expect.poll(async () => (await handles(page))[0].x).toBeCloseTo(wanted.x + 30, 0);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect(await ridge(page)).toBeUndefined();

    await drag(page, first, wanted);
    await expect.poll(async () => (await ridge(page))?.length).toBe(2);
    const [start, end] = (await ridge(page))!.map((place) => toPage(place));
    expect(Math.hypot(start.x - wanted.x, start.y - wanted.y)).toBeLessThan(3);
    expect(Math.hypot(end.x - second.x, end.y - second.y)).toBeLessThan(3);
    expect(await page.locator('svg.over .satellite.waiting').count()).toBe(0);

    const before = (await ridge(page))!;
    await drag(page, second, { x: second.x - 40, y: second.y });
    await expect.poll(async () => (await ridge(page))![1][0]).not.toBe(before[1][0]);
    const after = (await ridge(page))!;
    expect(after[0]).toEqual(before[0]);
    const [east] = frame.toLocal(after[1]);
    expect(east).toBeLessThan(frame.toLocal(before[1])[0] - 1);

    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    await undo.click();
    await expect.poll(() => ridge(page)).toEqual(before);
    await undo.click();
    await expect.poll(() => ridge(page)).toBeUndefined();
    expect(faults).toEqual([]);
    await page.close();
  });
});
