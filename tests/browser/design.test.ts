import { describe, expect, it } from 'vitest';
import { unfold } from './on-the-map';
import { launched, openPage } from './open-page';

const browser = launched();

/** Days of rain, each an inch, with dry ones between. */
const record = `date,rain_mm\n${Array.from({ length: 60 }, (_, day) => {
  const date = new Date(Date.UTC(2024, 3, 1 + day)).toISOString().slice(0, 10);
  return `${date},${day % 6 === 0 ? 25.4 : 0}`;
}).join('\n')}\n`;

describe('what to dig', () => {
  it('shows the basin filled, drawn, sized and ordered, and follows a change of its layers', async () => {
    const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
    await page.getByRole('button', { name: 'What do I dig?' }).click();
    const answer = page.locator('section', { hasText: 'What do I dig?' }).locator('.answer');
    await expect.poll(() => answer.innerText()).toMatch(/captures \d+ %/);
    const capturedAtFirst = await answer.innerText();
    // the demo's notch sends water onto the lot below it
    expect(capturedAtFirst).toContain('✕ overflow, when full, runs onto a neighbour');
    expect(capturedAtFirst).toMatch(/holds 3\.4 m³/);

    await page.getByText('Empty after the rain ends').waitFor();
    await page.getByText(/Lengthways/).waitFor();
    await page.getByText('How large it ought to be').waitFor();
    await page.getByText('To dig, move and order').waitFor();
    await unfold(page);
    // The ledger counts what the basin takes in beside what stands in it.
    await page
      .locator('.ledger .list li', { hasText: 'held by the basin' })
      .getByText(/m³/)
      .first()
      .waitFor();

    // What comes, how late, by which source; the books and the steps.
    const inflow = page.locator('section', { hasText: 'What comes to it' }).last();
    await inflow.getByText(/\d+ min in the mean, \d+ min at most/).waitFor();
    await inflow
      .getByText(/Technical Release 55/)
      .first()
      .waitFor();
    await page.getByText(/What comes in is all found again.* steps half as long/s).waitFor();

    // The section's water follows the time read off the chart: deepest at first, none at the end.
    const time = page.getByRole('slider', { name: 'Time' });
    const standing = page
      .locator('figure li')
      .filter({ hasText: /water \d+(\.\d+)? cm deep after [\d.]+ (h|min)/ });
    expect(await standing.count()).toBe(1);
    const deepest = await standing.innerText();
    await time.focus();
    await time.press('PageUp');
    await expect.poll(() => standing.innerText()).not.toBe(deepest);
    await time.press('End');
    await expect.poll(() => standing.count()).toBe(0);
    await page.getByRole('button', { name: 'Deepest' }).click();
    await expect.poll(() => standing.innerText()).toBe(deepest);
    // and the pointer in the plots
    const plots = page.locator('figure', { hasText: 'Filling and draining' }).locator('.u-over');
    await plots.last().scrollIntoViewIfNeeded();
    const box = await plots.last().boundingBox();
    await page.mouse.move((box?.x ?? 0) + (box?.width ?? 0) * 0.5, (box?.y ?? 0) + 20);
    await expect.poll(() => standing.innerText()).not.toBe(deepest);
    await page.mouse.move(2, 2);

    // A rarer storm for the notch is more than it passes; undone, it is open again.
    const rarer = page.getByRole('textbox', { name: 'rarer storm to make it for' });
    const notch = page.getByRole('listitem').filter({ has: rarer });
    const says = () => notch.innerText();
    await expect.poll(says).toContain('Made for 40 mm, the storm above');
    await rarer.fill('110 mm');
    await rarer.press('Enter');
    await expect.poll(says).toContain('Made for 110 mm;');
    expect(await says()).toContain('over the rim: widen the notch');
    await rarer.blur();
    await page.keyboard.press('Control+z');
    await expect.poll(says).toContain('Made for 40 mm, the storm above');

    // Less room below the floor captures less.
    const thickness = page.getByRole('textbox', { name: 'Thickness of layer 2' });
    await thickness.fill('2 cm');
    await thickness.press('Enter');
    await expect.poll(() => answer.innerText()).not.toBe(capturedAtFirst);
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
    const { page, faults } = await openPage(browser(), { width: 390, height: 800 });
    await page.getByText(/in .* = out .*/).waitFor();
    await page.getByRole('button', { name: 'questions' }).click();
    await page.getByRole('button', { name: 'What do I dig?' }).click();
    await page.getByText('Over the years').click();
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
    await page.getByRole('columnheader', { name: 'overflows' }).waitFor();
    const year = page
      .getByRole('row')
      .filter({ has: page.getByRole('rowheader', { name: '2024' }) });
    // ten days of an inch, each a storm of its own
    expect(await year.innerText()).toMatch(/254 mm.*\d+ of 10/s);

    // What cannot be is told, and what was there stays.
    const drying = page.getByRole('spinbutton', { name: /Plants and air dry/ });
    await drying.fill('3');
    await drying.press('Enter');
    await drying.fill('90');
    await drying.press('Enter');
    await page
      .getByRole('alert')
      .getByText(/90 mm a day is outside 0 to 20/)
      .waitFor();
    expect(await drying.inputValue()).toBe('3');
    await page.getByRole('button', { name: 'close' }).first().click();

    await file.setInputFiles(csv('words.csv', 'nothing,here\nat,all\n'));
    await page
      .getByRole('alert')
      .getByText(/words\.csv/)
      .waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});
