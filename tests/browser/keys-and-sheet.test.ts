import { expect, inject, it } from 'vitest';
import { demoToDraw, ringsOf, savedPlan } from './on-the-map';
import { launched, patienceMs } from './open-page';

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

it('is pulled up by finger, tap and keys on a phone, and takes in where one stands', async () => {
  const context = await browser().newContext({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
    serviceWorkers: 'block',
    permissions: ['geolocation'],
    geolocation: { longitude: -87.1068, latitude: 42.51012, accuracy: 4 },
  });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  await page.goto(inject('address'));
  await page.locator('.ledger[aria-busy=false]').waitFor();
  await page.locator('svg.over').waitFor();

  // Every target is large enough for a fingertip, but for the ledger's bars, drawn to scale.
  const small = await page.evaluate(() =>
    [
      ...document.querySelectorAll(
        'button, select, summary, input:not([type=checkbox], [type=range])',
      ),
    ]
      .filter((each) => each.checkVisibility() && each.closest('p, .off-screen, .ledger') === null)
      .filter((each) => {
        const { width, height } = each.getBoundingClientRect();
        return width > 1 && height < 43.5;
      })
      .map((each) => each.outerHTML.slice(0, 80)),
  );
  expect(small).toEqual([]);

  // Three heights: dragged, tapped, by keys.
  const grip = page.getByRole('slider', { name: 'Height of the sheet' });
  const height = () => grip.getAttribute('aria-valuetext');
  const tall = async () => (await page.locator('.margin').boundingBox())?.height ?? 0;
  expect(await height()).toBe('low');
  expect(Math.abs((await tall()) - 0.28 * 844)).toBeLessThan(2);
  const { x, y } = (await grip.boundingBox()) ?? { x: 0, y: 0 };
  const touch = await context.newCDPSession(page);
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', atY?: number) =>
    touch.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: atY === undefined ? [] : [{ x: x + 20, y: atY }],
    });
  await send('touchStart', y + 10);
  for (const by of [40, 120, 190]) await send('touchMove', y + 10 - by);
  await expect.poll(tall).toBeGreaterThan(0.45 * 844);
  await send('touchEnd');
  expect(await height()).toBe('middle');
  await expect.poll(async () => Math.abs((await tall()) - 0.5 * 844)).toBeLessThan(2);
  await grip.press('ArrowUp');
  expect(await height()).toBe('high');
  await grip.press('Home');
  expect(await height()).toBe('low');

  // The walk is left, and found again at the next visit where it was left.
  const walk = page.getByRole('region', { name: 'Walk round the demo lot' });
  await walk.getByRole('button', { name: 'Show question 1' }).tap();
  await walk.getByRole('button', { name: 'Walk on' }).tap();
  await walk.getByText('2 of 5').waitFor();
  await walk.getByRole('button', { name: 'leave it' }).tap();
  await expect.poll(() => walk.count()).toBe(0);
  await page.reload();
  await page.locator('svg.over').waitFor();
  await page.getByRole('button', { name: 'walk', exact: true }).tap();
  await walk.getByText('2 of 5').waitFor();

  // Asked for by its button, with its circle; in the plan only when it is taken in.
  expect(await page.locator('svg.over .own').count()).toBe(0);
  await page.getByRole('button', { name: 'Where I am' }).tap();
  await page.locator('svg.over .own').waitFor();
  await page.getByText('Kept nowhere unless you take it in').waitFor();
  await page.getByRole('button', { name: 'Take it in' }).tap();
  // The editor of what is new is in view.
  await page.getByText(/Taken where somebody stood, to 4/).waitFor();
  expect(await height()).toBe('middle');
  await expect(page.locator('.editor header b').innerText()).resolves.toBe('soil test');
  const editor = await page.locator('.editor header').boundingBox();
  expect(editor?.y).toBeLessThan(844 - 20);
  await page.getByRole('button', { name: 'Where I am' }).tap();
  await expect.poll(() => page.locator('svg.over .own').count()).toBe(0);

  // A paper for the sun.
  await page.getByRole('button', { name: 'sun paper' }).tap();
  expect(await page.locator('html').getAttribute('data-theme')).toBe('sun');
  await context.close();
});
