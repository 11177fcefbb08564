import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launch, openPage } from './open-page';

let browser: Browser;
beforeAll(async () => {
  browser = await launch();
});
afterAll(async () => {
  await browser.close();
});

/** Days of rain, each an inch, with dry ones between. */
const record = `date,rain_mm\n${Array.from({ length: 60 }, (_, day) => {
  const date = new Date(Date.UTC(2024, 3, 1 + day)).toISOString().slice(0, 10);
  return `${date},${day % 6 === 0 ? 25.4 : 0}`;
}).join('\n')}\n`;

describe('what to dig', () => {
  it('shows the basin filled, drawn, sized and ordered, and follows a change of its layers', async () => {
    const { page, faults } = await openPage(browser, { width: 1100, height: 760 });
    await page.getByRole('button', { name: 'What do I dig?' }).click();
    const answer = page.locator('section', { hasText: 'What do I dig?' }).locator('.answer');
    await expect.poll(() => answer.innerText(), { timeout: 20_000 }).toMatch(/captures \d+ %/);
    const capturedAtFirst = await answer.innerText();

    await page.getByText('Empty after the rain ends').waitFor();
    await page.getByText(/Lengthways/).waitFor();
    await page.getByText('How large it ought to be').waitFor();
    await page.getByText('To dig, move and order').waitFor();
    // The ledger counts what the basin takes in beside what stands in it.
    await page
      .locator('.ledger .list li', { hasText: 'held by the basin' })
      .getByText(/m³/)
      .first()
      .waitFor();

    // The section's water follows the time read off the chart.
    const time = page.getByRole('slider', { name: 'Time' });
    await time.focus();
    await time.press('End');
    await expect.poll(() => page.getByText(/water \d+(\.\d+)? cm deep after 1 h/).count()).toBe(0);

    // Less room below the floor captures less.
    const thickness = page.getByRole('textbox', { name: 'Thickness of layer 2' });
    await thickness.fill('2 cm');
    await thickness.press('Enter');
    await expect.poll(() => answer.innerText(), { timeout: 20_000 }).not.toBe(capturedAtFirst);
    await page.keyboard.press('Escape');

    // What cannot be read is told, and the layer stays.
    await thickness.fill('thick');
    await thickness.press('Enter');
    await page
      .getByRole('alert')
      .getByText(/cannot be read/)
      .waitFor();
    expect(await thickness.inputValue()).toBe('2 cm');
    expect(faults).toEqual([]);
    await page.close();
  });

  it('sends a record of rain through it, and asks what the file leaves open', async () => {
    const { page, faults } = await openPage(browser, { width: 390, height: 800 });
    await page.getByText(/in .* = out .*/).waitFor();
    await page.getByRole('button', { name: 'questions' }).click();
    await page.getByRole('button', { name: 'What do I dig?' }).click();
    await page.getByText('Over the years').waitFor({ timeout: 20_000 });
    const file = page.locator('input[type=file][accept*=csv]').last();
    const csv = (name: string, text: string) => ({
      name,
      mimeType: 'text/csv',
      buffer: Buffer.from(text),
    });
    await file.setInputFiles(csv('days.csv', record.replace('rain_mm', 'rain')));
    await page
      .getByRole('button', { name: /millimetres|mm/ })
      .first()
      .click();
    await page.getByRole('columnheader', { name: 'overflows' }).waitFor({ timeout: 20_000 });
    expect(await page.getByRole('rowheader', { name: '2024' }).count()).toBe(1);

    await file.setInputFiles(csv('words.csv', 'nothing,here\nat,all\n'));
    await page
      .getByRole('alert')
      .getByText(/words\.csv/)
      .waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});
