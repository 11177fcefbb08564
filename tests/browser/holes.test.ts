import type { Page } from 'playwright-core';
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import type { LngLat, XY } from '../../lib/frame/frame';
import { launched } from './open-page';
import { demoToDraw, drag, findPlaces, frame, ringsOf, savedPlan } from './on-the-map';

const browser = launched();

/** A square about a place on the demo's southern lawn, half a side from it, closed. */
function square(half: number): LngLat[] {
  const [x0, y0] = frame.toLocal([-87.10664, 42.50997]);
  const corners: XY[] = [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
    [-half, -half],
  ];
  return corners.map(([x, y]) => frame.toLngLat([x0 + x, y0 + y]));
}

/** The demo with a bed around a square of lawn. */
async function withBed(page: Page): Promise<void> {
  const plan = JSON.parse(await readFile('fixtures/demo/lot.plan.geojson', 'utf8')) as {
    features: unknown[];
  };
  plan.features.push({
    type: 'Feature',
    id: 'bed',
    geometry: { type: 'Polygon', coordinates: [square(6), square(3).reverse()] },
    properties: { kind: 'surface', cover: 'bed' },
  });
  await page
    .locator('input[type=file]')
    .nth(1)
    .setInputFiles({
      name: 'bed.plan.geojson',
      mimeType: 'application/geo+json',
      buffer: Buffer.from(JSON.stringify(plan)),
    });
  // The plan comes on the sheet with its ground.
  await page.locator('option', { hasText: 'surface: bed' }).waitFor({ state: 'attached' });
}

async function bed(page: Page): Promise<LngLat[][]> {
  return ringsOf(await savedPlan(page), 'bed');
}

describe('an area with a hole', () => {
  it('is reshaped at the corners of each ring, moved as a whole, and kept from crossing itself', async () => {
    const { page, faults } = await demoToDraw(browser());
    await withBed(page);
    const toPage = await findPlaces(page);
    const before = await bed(page);
    const inside = toPage(frame.toLngLat(add(frame.toLocal(before[0][0]), [1.5, 7.5])));
    await page.mouse.click(inside.x, inside.y);
    await page.locator('.editor', { hasText: 'surface' }).waitFor();
    await expect.poll(() => page.locator('svg.over circle.move-corner').count()).toBe(8);

    // A corner of the hole.
    const corner = toPage(before[1][0]);
    await drag(page, corner, { x: corner.x - 14, y: corner.y + 12 });
    await expect.poll(async () => (await bed(page))[1][0]).not.toEqual(before[1][0]);
    const reshaped = await bed(page);
    expect(reshaped[0]).toEqual(before[0]);
    expect(reshaped[1].slice(1, -1)).toEqual(before[1].slice(1, -1));
    const there = toPage(reshaped[1][0]);
    expect(Math.hypot(there.x - corner.x + 14, there.y - corner.y - 12)).toBeLessThan(3);

    // A corner is put into a side of the hole, and taken out again.
    const [a, b] = [toPage(before[1][1]), toPage(before[1][2])];
    const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    await drag(page, middle, { x: middle.x - 9, y: middle.y });
    await expect.poll(async () => (await bed(page))[1].length).toBe(6);
    await page.mouse.click(middle.x - 9, middle.y, { button: 'right' });
    await expect.poll(async () => (await bed(page))[1].length).toBe(5);

    // Across the outer ring: told, and left as it was.
    const now = await bed(page);
    await drag(page, toPage(now[1][0]), { x: corner.x - 90, y: corner.y });
    await page
      .getByRole('alert')
      .getByText(/crosses or touches itself/)
      .waitFor();
    expect(await bed(page)).toEqual(now);

    // The whole of it, by what is not the hole.
    await drag(page, inside, { x: inside.x - 20, y: inside.y });
    await expect.poll(async () => (await bed(page))[0][0]).not.toEqual(now[0][0]);
    const moved = await bed(page);
    const byM = frame.toLocal(moved[0][0])[0] - frame.toLocal(now[0][0])[0];
    expect(byM).toBeLessThan(-0.5);
    moved.forEach((ring, r) => {
      ring.forEach((place, i) => {
        expect(frame.toLocal(place)[0] - frame.toLocal(now[r][i])[0]).toBeCloseTo(byM, 2);
      });
    });
    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    for (let i = 0; i < 4; i++) await undo.click();
    await expect.poll(() => bed(page)).toEqual(before);
    expect(faults).toEqual([]);
    await page.close();
  });
});

function add([x, y]: XY, [dx, dy]: XY): XY {
  return [x + dx, y + dy];
}
