import { describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

describe('the soil', () => {
  it('takes no percolation time for a rate, but asks for its hole', async () => {
    const { page, faults } = await openPage(browser());
    await page.getByRole('button', { name: 'What is here?' }).click();
    await page.getByRole('button', { name: 'Soil tests, texture and factor' }).click();
    // The demo's hole: what its wall took is taken off.
    await page.getByText(/= 7\.55 mm\/h measured ÷ 2\.5/).waitFor();
    await page.getByText(/hole dug by hand is a screening test/).waitFor();

    const rate = page.getByLabel('infiltration rate for design');
    await rate.fill('20 min/in');
    await rate.press('Enter');
    await page.getByText(/percolation time: it counts what the wall of its hole took/).waitFor();
    for (const [label, value] of [
      ['diameter of the hole', '4 in'],
      ['depth of water in it', '6 in'],
    ]) {
      const field = page.getByLabel(label);
      await field.fill(value);
      await field.press('Enter');
    }
    // 76.2 mm/h through 12.57 of 87.96 in2
    await page.getByText(/The percolation test: ?10\.9 mm\/h/).waitFor();
    expect(faults).toEqual([]);
  });
});
