import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, inject, it } from 'vitest';
import { launched, patienceMs } from './open-page';

const browser = launched();

const questions = [
  'What is here?',
  'Where does the water go?',
  'Where can it sit?',
  'What do I dig?',
  'What do I hand over?',
];

/** What stands in the way of somebody in the page as it is, by the W3C's rules up to WCAG 2.2 AA and good practice. */
async function barriers(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const engine = (window as unknown as { axe: typeof axe }).axe;
    const { violations } = await engine.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, html }) => `${id}: ${target.join(' ')} ${html.slice(0, 90)}`),
    );
  });
}

it.each([
  ['desk', { width: 1280, height: 800 }],
  ['phone', { width: 390, height: 844 }],
])('nothing stands in anybody’s way, whatever is open, at a %s', async (_, viewport) => {
  const context = await browser().newContext({
    viewport,
    colorScheme: 'dark',
    // The engine that looks is put into the page by the test.
    bypassCSP: true,
    serviceWorkers: 'block',
  });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  await page.goto(inject('address'));
  await page.getByText(/in .* = out .*/).waitFor();
  await page.locator('.ledger[aria-busy=false]').waitFor();
  const root = page.locator('html');
  // The system's own wish, until it is turned by hand.
  expect(await root.getAttribute('data-theme')).toBe('dark');
  expect(await barriers(page)).toEqual([]);
  const pull = page.getByRole('button', { name: 'questions' });
  if (await pull.isVisible()) await pull.click();
  await page.getByRole('button', { name: 'light paper' }).click();
  await page.emulateMedia({ colorScheme: 'light' });
  await page.emulateMedia({ colorScheme: 'dark' });
  expect(await root.getAttribute('data-theme')).toBe('paper');
  for (const question of questions) {
    await page.getByRole('button', { name: question }).click();
    // Everything that is folded is looked at as well.
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll('details')) fold.open = true;
    });
    expect(await barriers(page), question).toEqual([]);
  }
  await context.close();
});

it('scrolls rather than crushes on a low screen, as with type twice as large', async () => {
  const context = await browser().newContext({
    viewport: { width: 640, height: 400 },
    serviceWorkers: 'block',
  });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  await page.goto(inject('address'));
  await page.getByText(/in .* = out .*/).waitFor();
  const sheet = await page.getByRole('region', { name: 'Sheet', exact: true }).boundingBox();
  expect(sheet?.height).toBeGreaterThan(260);
  const [wide, whole] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.scrollHeight,
  ]);
  expect(wide).toBeLessThanOrEqual(640);
  await page.getByRole('button', { name: 'What do I hand over?' }).scrollIntoViewIfNeeded();
  expect(whole).toBeGreaterThan(400);
  await context.close();
});
