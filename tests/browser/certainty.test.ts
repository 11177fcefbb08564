import { describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

describe('how sure the answer is', () => {
  it('can be asked, cancelled, asked again and drawn, and is marked once the plan has changed', async () => {
    const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
    await page.getByText(/in .* = out .*/).waitFor();
    const note = page.locator('.certainty');
    const ask = note.getByRole('button', { name: 'Try equally likely surfaces' });
    await ask.click();
    await note.getByRole('button', { name: 'cancel' }).click();
    await ask.waitFor();
    expect(await note.locator('dd').count()).toBe(0);

    await ask.click();
    await note.getByRole('button', { name: 'Try again' }).waitFor();
    const words = await note.locator('dl').innerText();
    expect(words).toMatch(/wall of House\s+(very )?(un)?likely \(/);
    expect(words).toMatch(/Low spot 1 is there\s+very likely \(/);
    expect(await note.getByText('has changed since').count()).toBe(0);

    const sheet = page.locator('.map canvas').first();
    let before = await sheet.screenshot();
    for (const view of ['how likely water stands', 'how likely water reaches Rain garden']) {
      await note.getByLabel(view).click();
      await expect.poll(async () => (await sheet.screenshot()).equals(before)).toBe(false);
      before = await sheet.screenshot();
    }
    expect(await note.innerText()).toMatch(
      /Water reaches Rain garden:\s+very likely from [\d,]+ m²/,
    );

    await page.locator('.gauge input').focus();
    await page.keyboard.press('ArrowRight');
    await note.getByText('has changed since').waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});
