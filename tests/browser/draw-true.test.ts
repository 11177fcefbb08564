import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { LngLat, XY } from '../../lib/frame/frame';
import { launched } from './open-page';
import { demoToDraw, frame, ringsOf, savedPlan } from './on-the-map';

const browser = launched();

type OnPage = (place: LngLat) => { x: number; y: number };
/** The demo lot's north-east corner. */
const lotCorner: LngLat = [-87.106484739, 42.510324577];

/** Takes a kind up, and waits until the sheet lies still above the field book. */
async function draw(page: Page, name: string): Promise<void> {
  await page.getByRole('button', { name, exact: true }).click();
  await page.getByRole('region', { name: 'Field book' }).waitFor();
  await page.waitForTimeout(1200);
}

/** Where places lie on the page while something is drawn, found by a line between two places on the screen. */
async function placesWhileDrawing(page: Page): Promise<OnPage> {
  await draw(page, 'swale');
  const canvas = await page.locator('.map canvas').boundingBox();
  if (canvas === null) throw new Error('The page shows no map');
  const seen = [
    [0.2, 0.9],
    [0.9, 0.2],
  ].map(([x, y]) => ({ x: canvas.x + x * canvas.width, y: canvas.y + y * canvas.height }));
  for (const { x, y } of seen) {
    await page.mouse.move(x, y, { steps: 2 });
    await page.mouse.click(x, y);
  }
  await page.getByRole('button', { name: 'End it here' }).click();
  await page.locator('.editor', { hasText: 'swale' }).waitFor();
  const plan = await savedPlan(page);
  const line = plan.features.find(({ id }) => id === 'swale-1')?.geometry.coordinates as LngLat[];
  await page.locator('.map canvas').focus();
  await page.keyboard.press('Control+z');
  const perLng = (seen[1].x - seen[0].x) / (line[1][0] - line[0][0]);
  const perLat = (seen[1].y - seen[0].y) / (line[1][1] - line[0][1]);
  return ([lng, lat]) => ({
    x: seen[0].x + (lng - line[0][0]) * perLng,
    y: seen[0].y + (lat - line[0][1]) * perLat,
  });
}

/** A place so far from another, degrees clockwise from north. */
function away([x, y]: XY, bearingDeg: number, lengthM: number): XY {
  const turn = (bearingDeg * Math.PI) / 180;
  return [x + lengthM * Math.sin(turn), y + lengthM * Math.cos(turn)];
}

function expectNear(found: readonly LngLat[], wanted: readonly XY[]): void {
  expect(found.length).toBe(wanted.length);
  found.forEach((place, i) => {
    const [x, y] = frame.toLocal(place);
    // To the millimetre: degrees are written to a tenth of one.
    expect(Math.hypot(x - wanted[i][0], y - wanted[i][1])).toBeLessThan(0.001);
  });
}

/** Corners of an outline from a given one on, without the one that closes it. */
function from(ring: readonly LngLat[], first: XY): LngLat[] {
  const open = ring.slice(0, -1);
  const off = open.map((place) => {
    const [x, y] = frame.toLocal(place);
    return Math.hypot(x - first[0], y - first[1]);
  });
  const start = off.indexOf(Math.min(...off));
  return [...open.slice(start), ...open.slice(0, start)];
}

describe('drawing by measure', () => {
  it('with pointer and keys gives the plan that is worked out by hand', async () => {
    const { page, faults } = await demoToDraw(browser());
    const toPage = await placesWhileDrawing(page);

    // A house from the lot's corner: 8.35 m to the south-west, right angle, 12.40 m, closed square.
    await draw(page, 'building');
    const begin = toPage(lotCorner);
    await page.mouse.move(begin.x - 3, begin.y + 3, { steps: 3 });
    await page.getByText('at a corner', { exact: true }).first().waitFor();
    await page.mouse.click(begin.x - 3, begin.y + 3);
    await page.keyboard.type('8.35');
    await page.keyboard.type('@225');
    await page.keyboard.press('Enter');
    // A slip, and back.
    await page.keyboard.type('99');
    await page.keyboard.press('Enter');
    await page.getByText('take corner 3 back').waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText('take corner 2 back').waitFor();
    // Laid aside and taken up again.
    await page.keyboard.press('Escape');
    await page.getByText('building, laid aside with 2 corners').waitFor();
    await page.getByRole('button', { name: 'go on', exact: true }).click();
    await page.locator('.map canvas').focus();
    await page.keyboard.type(`12.4`);
    await page.keyboard.type('<90');
    await page.keyboard.press('Enter');
    await page.getByText('take corner 3 back').waitFor();
    await page.getByRole('button', { name: /Close it square/ }).click();
    await page.locator('.editor', { hasText: 'building' }).waitFor();

    const first = frame.toLocal(lotCorner);
    const second = away(first, 225, 8.35);
    const third = away(second, 315, 12.4);
    const fourth = away(third, 45, 8.35);
    const drawn = ringsOf(await savedPlan(page), 'building-1')[0];
    // Rings are written anticlockwise; this house was walked clockwise.
    expectNear(from(drawn, first), [first, fourth, third, second]);

    // A tree by two tapes from its corners.
    await draw(page, 'tree');
    await page.keyboard.press('t');
    for (const corner of [second, third]) {
      const { x, y } = toPage(frame.toLngLat(corner));
      await page.mouse.click(x + 2, y - 1);
    }
    await page.keyboard.type('7');
    await page.keyboard.press('Enter');
    await page.keyboard.type('9');
    await page.keyboard.press('Enter');
    await page.locator('.editor', { hasText: 'tree' }).waitFor();
    const tree = (await savedPlan(page)).features.find(({ id }) => id === 'tree-1');
    const [x, y] = frame.toLocal(tree?.geometry.coordinates as LngLat);
    expect(Math.hypot(x - second[0], y - second[1])).toBeCloseTo(7, 3);
    expect(Math.hypot(x - third[0], y - third[1])).toBeCloseTo(9, 3);

    // A side typed anew, a roof with its eaves, and both moved together by figures.
    await page.locator('label.drawn select').selectOption('building-1');
    await page.getByText('Sides', { exact: true }).click();
    const side = page.getByLabel('length of side 1', { exact: true });
    await side.fill('10 m');
    await side.press('Enter');
    await page.getByText('undo: set a side of building').waitFor();
    await page.getByLabel('eaves').fill('50 cm');
    await page.getByRole('button', { name: 'Roof from these walls' }).click();
    await page.locator('.editor', { hasText: 'roof' }).waitFor();
    const roofed = await savedPlan(page);
    const house = ringsOf(roofed, 'building-1')[0].map((place) => frame.toLocal(place));
    const lengths = house
      .slice(1)
      .map(([ex, ey], i) => Math.hypot(ex - house[i][0], ey - house[i][1]));
    expect(lengths[0]).toBeCloseTo(10, 3);
    const eaves = ringsOf(roofed, 'roof-1')[0].map((place) => frame.toLocal(place));
    const eavesM = eaves
      .slice(1)
      .map(([ex, ey], i) => Math.hypot(ex - eaves[i][0], ey - eaves[i][1]));
    expect(Math.max(...eavesM)).toBeCloseTo(Math.max(...lengths) + 1, 3);

    // All of it undone is the plan as it came.
    await page.locator('.map canvas').focus();
    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    for (let steps = 0; steps < 4; steps++) await undo.click();
    await expect.poll(() => undo.isDisabled()).toBe(true);
    const back = (await savedPlan(page)).features.map(({ id }) => id);
    expect(back).not.toContain('building-1');
    expect(faults).toEqual([]);
    await page.close();
  });
});
