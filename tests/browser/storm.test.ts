import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { launched, openPage, type OpenPage } from './open-page';

const browser = launched();

/** The demo computed, with what makes the storm unfolded. */
async function demo(size = { width: 1100, height: 900 }): Promise<OpenPage> {
  const opened = await openPage(browser(), size);
  await opened.page.getByText(/in .* = out .*/).waitFor();
  await opened.page.locator('svg.over').waitFor();
  if (size.width < 600) await opened.page.getByRole('button', { name: 'questions' }).click();
  await opened.page.getByText('Duration, pattern, tables').click();
  await opened.page.getByText('The storm over time').waitFor();
  return opened;
}

/** What the ledger says comes in and goes out. */
const ledgerSum = (page: Page): Promise<string> => page.locator('.ledger .sum').innerText();

/** Waits until the worker has done all that a change asks of it: the water, then the basins, then both agreed. */
async function settled(page: Page): Promise<void> {
  await expect.poll(() => page.locator('.ledger').getAttribute('aria-busy')).toBe('false');
  await page.locator('.busy').waitFor({ state: 'hidden' });
}

/** Where the drive lies on the map of the demo, as shares of its width and height. */
const driveAt = { x: 0.12, y: 0.75 };

/** What the chart says at the time that is read. */
const reading = (page: Page): Promise<string> => page.locator('.reading').innerText();

const csv = (name: string, text: string) => ({
  name,
  mimeType: 'text/csv',
  buffer: Buffer.from(text),
});

describe('the storm', () => {
  it('takes its pattern, and its depth from a pasted table', async () => {
    const { page, faults } = await demo();
    const pattern = page.getByLabel('pattern');
    await pattern.selectOption('uniform');
    const even = await reading(page);
    await pattern.selectOption('nrcs-type-2');
    await expect.poll(() => reading(page)).not.toBe(even);
    // the steepest tenth hours of the curve lie just before noon
    expect(await reading(page)).toMatch(/After 1[12] h/);

    await page.getByText('A table of depths by duration').click();
    const box = page.getByLabel('Paste a table');
    await box.fill('no table, at all\nin, it');
    await page.getByRole('button', { name: 'Read what is pasted' }).click();
    await page
      .getByRole('alert')
      .getByText(/heading/)
      .waitFor();
    expect(await box.inputValue()).toMatch(/no table/);

    await box.fill('duration, 2-yr, 10-yr\n60-min, 1, 2\n24-hr, 3, 5');
    await page.getByRole('button', { name: 'Read what is pasted' }).click();
    await page.getByRole('button', { name: 'inches' }).click();
    await page.getByRole('combobox', { name: 'once in' }).selectOption('10');
    await page.getByRole('button', { name: 'Take 127 mm in 24 h' }).click();
    await page.getByText("It is the storm's depth").waitFor();
    const depth = page.getByLabel('depth', { exact: true });
    expect(await depth.inputValue()).toBe('127 mm');

    // A pattern from the table does not let the storm outlast it.
    await pattern.selectOption('nested');
    const duration = page.getByLabel('duration', { exact: true });
    await duration.fill('3 days');
    await duration.press('Tab');
    await page
      .getByRole('alert')
      .getByText(/ends at 24 h/)
      .waitFor();
    expect(await duration.inputValue()).toBe('24 h');

    // Without its table the pattern goes too, and one undoing brings both back.
    await page.getByRole('button', { name: 'Remove the table' }).click();
    expect(await pattern.inputValue()).toBe('uniform');
    await page.getByRole('heading', { name: 'Where does the water go?' }).click();
    await page.keyboard.press('Control+z');
    await expect.poll(() => pattern.inputValue()).toBe('nested');
    expect(faults).toEqual([]);
    await page.close();
  });

  it('takes a percentile of a record and a measured storm, on a phone too', async () => {
    const { page, faults } = await demo({ width: 390, height: 844 });
    const days = Array.from({ length: 40 }, (_, day) => {
      const date = new Date(Date.UTC(2023, 0, 1 + day)).toISOString().slice(0, 10);
      return `${date},${day % 2 === 0 ? day + 4 : 0}`;
    });
    await page.getByText('A percentile of a long record').click();
    await page
      .getByLabel('Open a record by the hour or day (CSV)')
      .setInputFiles(csv('days.csv', `date,rain_mm\n${days.join('\n')}\n`));
    await page.getByText('of 20 days; 0 below 2.5 mm').waitFor();
    await page.getByRole('button', { name: 'Use this depth' }).click();
    // the 18th of twenty
    expect(await page.getByLabel('depth', { exact: true }).inputValue()).toBe('38 mm');

    await page.getByText('A measured storm').click();
    await page
      .getByLabel('Paste times and depths')
      .fill('time,rain_mm\n2024-05-01 14:00,2\n2024-05-01 14:10,9\n2024-05-01 14:20,1');
    await page.getByRole('button', { name: 'Read what is pasted' }).last().click();
    await page.getByText('30 min, as measured').waitFor();
    expect(await page.getByLabel('depth', { exact: true }).inputValue()).toBe('12 mm');

    const time = page.getByRole('slider', { name: 'Time' });
    await time.focus();
    await time.press('End');
    expect(await reading(page)).toMatch(/After 30 min.*12 mm has come by then/);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('what runs off', () => {
  it('stands surface by surface, with what averaging would lose and what a drive over lawn is credited', async () => {
    const { page, faults } = await demo();
    const note = page
      .locator('details')
      .filter({ has: page.getByText('What runs off, surface by surface', { exact: true }) });
    await note.locator('summary').first().click();
    const row = (name: string): Promise<string> =>
      note.getByRole('row', { name }).first().innerText();
    expect(await row('roofs')).toMatch(/232 m²\s98\s34 mm\s8\.0 m³/);
    expect(await note.innerText()).toMatch(/averaging would lose 4\.\d m³, 16 %/);
    const before = await row('the lot');

    await page.getByRole('button', { name: 'What is here?' }).click();
    const canvas = await page.locator('.map canvas').boundingBox();
    if (canvas === null) throw new Error('The page shows no map');
    await page.mouse.click(
      canvas.x + canvas.width * driveAt.x,
      canvas.y + canvas.height * driveAt.y,
    );
    const mark = page.getByLabel('paving: its water spreads over lawn');
    await mark.check();
    await settled(page);
    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    await note.locator('summary').first().click();
    await expect.poll(() => row('paving, unconnected')).toMatch(/98\s27 mm/);
    expect(await row('the lot')).not.toBe(before);
    expect(await note.innerText()).toMatch(/0\.5\d m³ less runs off the unconnected paving/);
    await page.keyboard.press('Control+z');
    await expect.poll(() => row('the lot')).toBe(before);

    // in a thaw there is no curve number to average
    await page.getByRole('button', { name: 'Thaw' }).click();
    await note.getByText('In a thaw there are no curve numbers').waitFor();
    expect(await note.getByRole('columnheader').allInnerTexts()).not.toContain('CN');
    expect(await note.innerText()).not.toMatch(/averaging/);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('the thaw', () => {
  it('takes the place of the storm in the ledger, follows its days, and is undone', async () => {
    const { page, faults } = await demo();
    await settled(page);
    const before = await ledgerSum(page);
    await page.getByRole('button', { name: 'Thaw' }).click();
    await expect.poll(() => ledgerSum(page)).not.toBe(before);
    await settled(page);
    const thawed = await ledgerSum(page);
    await page
      .getByText(/keep a safe path for thaw water/)
      .first()
      .waitFor();

    const warmth = page.getByLabel('mean temperature of day 1');
    await warmth.fill('warm');
    await warmth.press('Tab');
    await page
      .getByRole('alert')
      .getByText(/'warm'/)
      .waitFor();
    expect(await warmth.inputValue()).toBe('3');
    await page.getByLabel('rain on day 1').fill('20 mm');
    await page.getByLabel('rain on day 1').press('Tab');
    await expect.poll(() => ledgerSum(page)).not.toBe(thawed);

    await settled(page);
    await page.getByRole('heading', { name: 'Where does the water go?' }).click();
    await page.keyboard.press('Control+z');
    await expect.poll(() => ledgerSum(page)).toBe(thawed);
    await settled(page);
    await page.keyboard.press('Control+z');
    await expect.poll(() => ledgerSum(page)).toBe(before);
    expect(
      await page.getByRole('button', { name: 'Storm', exact: true }).getAttribute('aria-pressed'),
    ).toBe('true');

    // Too warm for snow: which unit it was in is asked, never guessed.
    await page.getByRole('button', { name: 'Thaw', exact: true }).click();
    await warmth.fill('41');
    await warmth.press('Tab');
    await page.getByRole('button', { name: 'It was 41 °F' }).click();
    await expect.poll(() => warmth.inputValue()).toBe('5');
    expect(faults).toEqual([]);
    await page.close();
  });
});
