import { expect, it } from 'vitest';
import { demoToDraw, ringsOf, savedPlan } from './on-the-map';
import { launched } from './open-page';

const browser = launched();

it('is all done by keys: walked, spoken, moved, pressed at, drawn', async () => {
  const { page, faults } = await demoToDraw(browser());
  const spoken = page.locator('[data-spoken]');
  const says = () => spoken.innerText();
  const undo = page.getByRole('button', { name: 'Undo', exact: true });
  const map = page.locator('.map canvas');

  // Walked in order and back, each with its name, kind, size, state, place and turn.
  await map.focus();
  await page.keyboard.press('n');
  await expect.poll(says).toMatch(/^Marl Hollow 12.*m², the lot being planned, .*, 1 of \d+$/);
  await page.keyboard.press('Shift+N');
  await expect.poll(says).toMatch(/^Rain garden.*rules met, .* not, .* judged, .*, (\d+) of \1$/);
  const first = await says();

  // Arrow presses in a row are one step to undo, coarse and fine ones alike.
  const before = ringsOf(await savedPlan(page), 'basin');
  await map.focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  await page.keyboard.press('Alt+ArrowLeft');
  await expect.poll(says).not.toBe(first);
  await expect.poll(() => undo.isEnabled()).toBe(true);
  await page.keyboard.press('Control+z');
  await expect.poll(() => undo.isEnabled()).toBe(false);
  expect(ringsOf(await savedPlan(page), 'basin')).toEqual(before);
  await expect.poll(says).toBe(first);

  // With nothing in hand the keys lead a cursor, and Enter presses there.
  await map.focus();
  await page.keyboard.press('Escape');
  await page.keyboard.press('ArrowLeft');
  await expect.poll(says).toMatch(/^Cursor on .*, ground [\d.]+ m, /);
  const at = await says();
  await page.keyboard.press('Shift+ArrowLeft');
  await expect.poll(says).not.toBe(at);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await expect.poll(says).not.toContain('Cursor');

  // An area is drawn with Enter at each corner.
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'surface', exact: true }).press('Enter');
  await map.focus();
  for (const key of ['ArrowRight', 'Shift+ArrowRight', 'Shift+ArrowUp', 'Shift+ArrowLeft']) {
    await page.keyboard.press(key);
    await page.keyboard.press(key);
    await page.keyboard.press('Enter');
  }
  await page.keyboard.press('Enter');
  await expect.poll(says).toMatch(/^surface 1, 4\.0 m², paving/);
  await page.keyboard.press('Control+z');
  await expect.poll(() => undo.isEnabled()).toBe(false);
  expect(faults).toEqual([]);
  await page.close();
});
