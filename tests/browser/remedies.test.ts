import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

const answer = (page: Page) => page.locator('#question-water ~ .answer');

it('finds what dries the walls of the demo lot, shows it, and takes it into the plan as one change', async () => {
  const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
  await page.getByText(/water stands by House and Garage/).waitFor();
  await page.locator('svg.over').waitFor();
  const remedies = page.getByRole('region', { name: 'What would dry it?' });
  await remedies.getByRole('button', { name: 'Try the trade’s remedies' }).click();
  await remedies.getByText('Why not …?').click();
  await remedies.getByText(/A swale to the street\./).waitFor();
  const first = remedies.locator('ol button[aria-expanded]').first();
  expect(await first.innerText()).toMatch(/dries/);
  await first.click();

  // What the sheet shows is the water with it as long as the button is held, by key and by pointer.
  const hold = remedies.getByRole('button', { name: 'Hold: the water with it' });
  await expect.poll(() => hold.isEnabled(), { timeout: 200_000 }).toBe(true);
  const held = page.getByText('With the proposal, not in the plan');
  await hold.focus();
  await page.keyboard.down('Space');
  await held.waitFor();
  await page.keyboard.up('Space');
  await held.waitFor({ state: 'detached' });
  await hold.hover();
  await page.mouse.down();
  await held.waitFor();
  await page.mouse.up();
  await held.waitFor({ state: 'detached' });

  await remedies.getByRole('button', { name: 'Take it into the plan' }).click();
  await remedies.getByText(/one change that can be undone/).waitFor();
  // What was tried in the plan before is not shown beside this one.
  expect(await remedies.locator('ol').count()).toBe(0);
  await expect
    .poll(() => answer(page).innerText(), { timeout: 200_000 })
    .not.toMatch(/water stands by House and Garage/);

  await page.keyboard.press('Control+z');
  await expect
    .poll(() => answer(page).innerText(), { timeout: 200_000 })
    .toMatch(/water stands by House and Garage/);
  expect(await remedies.locator('ol > li').count()).toBeGreaterThan(3);
  expect(faults).toEqual([]);
  await page.close();
});
