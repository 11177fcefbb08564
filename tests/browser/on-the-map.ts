import type { Browser, Page } from 'playwright-core';
import { readFile } from 'node:fs/promises';
import { localFrame, makeFrame, type LngLat } from '../../lib/frame/frame';
import { areaM2, centroid } from '../../lib/frame/shapes';
import { openPage, type OpenPage } from './open-page';

interface SavedPlan {
  readonly features: readonly SavedFeature[];
}

interface SavedFeature {
  readonly id: string;
  readonly properties: Readonly<Record<string, unknown>>;
  readonly geometry: { readonly type: string; readonly coordinates: unknown };
}

/** The page with the demo computed and question 1 open. */
export async function demoToDraw(browser: Browser): Promise<OpenPage> {
  const opened = await openPage(browser, { width: 1100, height: 760 });
  const { page } = opened;
  await page.getByText(/in .* = out .*/).waitFor();
  await page.locator('.ledger[aria-busy=false]').waitFor();
  await page.locator('svg.over').waitFor();
  await page.getByRole('button', { name: 'What is here?' }).click();
  return opened;
}

/** The plan as the page saves it. Question 1 must be open. */
export async function savedPlan(page: Page): Promise<SavedPlan> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save plan' }).click();
  const path = await (await download).path();
  return JSON.parse(await readFile(path, 'utf8')) as SavedPlan;
}

/** Rings of a feature of a saved plan, degrees. */
export function ringsOf(plan: SavedPlan, id: string): LngLat[][] {
  const feature = plan.features.find((each) => each.id === id);
  if (feature?.geometry.type !== 'Polygon') throw new Error(`The saved plan has no area ${id}`);
  return feature.geometry.coordinates as LngLat[][];
}

/** Frame in which the tests measure: that of the demo lot. */
export const frame = makeFrame(localFrame([-87.1068, 42.51012]));

/** Area and centre of a ring in metres. */
export function measured(ring: readonly LngLat[]): { areaM2: number; x: number; y: number } {
  const local = ring.slice(0, -1).map((at) => frame.toLocal(at));
  const [x, y] = centroid([local]);
  return { areaM2: areaM2([local]), x, y };
}

/**
 * Where places lie on the page: found by letting a round basin be drawn in the middle, whose corners are known on the
 * screen and, once it is kept, on the globe. The basin is taken back.
 */
export async function findPlaces(page: Page): Promise<(place: LngLat) => { x: number; y: number }> {
  const canvas = await page.locator('.map canvas').boundingBox();
  if (canvas === null) throw new Error('The page shows no map');
  await page.getByRole('button', { name: 'basin', exact: true }).click();
  await page.getByRole('radio', { name: 'round' }).check();
  await page.getByRole('button', { name: 'place it in the middle' }).click();
  const points = (await page.locator('svg.over polygon[points]').getAttribute('points')) ?? '';
  const seen = points.split(' ').map((pair) => pair.split(',').map(Number));
  await page.getByRole('button', { name: 'Keep it here' }).click();
  const [ring] = ringsOf(await savedPlan(page), 'basin-1');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  const half = (ring.length - 1) / 2;
  const [[x0, y0], [x1]] = [seen[0], seen[half]];
  const [[lng0, lat0], [lng1]] = [ring[0], ring[half]];
  const perDegree = (x1 - x0) / (lng1 - lng0);
  // Mercator: a degree of latitude is longer on the screen by the same factor as on the ground.
  const perLatitude = perDegree / Math.cos((lat0 * Math.PI) / 180);
  return ([lng, lat]) => ({
    x: canvas.x + x0 + (lng - lng0) * perDegree,
    y: canvas.y + y0 - (lat - lat0) * perLatitude,
  });
}

/** Drags the pointer from one place on the page to another and lets go. */
export async function drag(
  page: Page,
  from: { x: number; y: number },
  to: { x: number; y: number },
): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 6 });
  await page.mouse.up();
}

/** Opens everything that is folded. */
export async function unfold(page: Page): Promise<void> {
  const isFolded = page.locator('details:not([open])');
  while ((await isFolded.count()) > 0) {
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll('details')) fold.open = true;
    });
    await page.waitForTimeout(100);
  }
}
