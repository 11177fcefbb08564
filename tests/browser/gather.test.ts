import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoToDraw, savedPlan } from './on-the-map';
import { launched } from './open-page';

const browser = launched();
const fixture = (name: string): string => `fixtures/gather/${name}`;

async function bringIn(page: Page, ...names: string[]): Promise<void> {
  await page.getByLabel('Bring in files').setInputFiles(names.map(fixture));
}

describe('files that are brought in', () => {
  it('are listed, get a kind, come in by one step and go by one', async () => {
    const { page, faults } = await demoToDraw(browser());
    const before = await savedPlan(page);
    const wells = page.getByLabel('On the sheet').locator('option', { hasText: 'well:' });
    const wellsBefore = await wells.count();
    await bringIn(page, 'all.gpkg');
    const trees = page.getByRole('group', { name: 'trees', exact: true });
    await trees.getByText('2 come in').waitFor();
    await page.getByRole('button', { name: 'Add 11 features to the plan' }).waitFor();
    await trees.getByLabel('comes in as').selectOption({ label: 'well' });
    const gas = page.getByRole('group', { name: 'gas_mains', exact: true });
    await gas.getByLabel('comes in as').selectOption({ label: 'leave out' });
    await page.getByRole('button', { name: 'Add 8 features to the plan' }).click();
    await page.getByRole('heading', { name: 'Brought in: 8 features' }).waitFor();
    await trees.getByText('2 came in as well').waitFor();
    expect(await wells.count()).toBe(wellsBefore + 2);

    const undo = page.getByRole('button', { name: 'Undo', exact: true });
    expect(await undo.getAttribute('title')).toBe('Undo: bring in 8 features');
    await undo.click();
    await page.getByRole('button', { name: 'Add 8 features to the plan' }).waitFor();
    expect((await savedPlan(page)).features).toEqual(before.features);
    await page.getByRole('button', { name: 'Leave it', exact: true }).click();
    expect(await page.getByText('Found:').count()).toBe(0);
    expect(faults).toEqual([]);
    await page.close();
  });

  it('tell their one sentence where they cannot be read, and the plan stays', async () => {
    const { page, faults } = await demoToDraw(browser());
    const before = await savedPlan(page);
    await bringIn(page, 'README.md');
    await page
      .getByRole('alert')
      .getByText(/^✕ README\.md: .*; .*\.$/)
      .waitFor();
    expect((await savedPlan(page)).features).toEqual(before.features);
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    expect(await page.getByRole('alert').count()).toBe(0);
    expect(faults).toEqual([]);
    await page.close();
  });

  it('may be dropped on the sheet, or pasted as text, from wherever the page stands', async () => {
    const { page, faults } = await demoToDraw(browser());
    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    const text = await readFile(fixture('buildings-utm.geojson'), 'utf8');
    const given = await page.evaluateHandle((held) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([held], 'buildings.geojson'));
      return transfer;
    }, text);
    await page.locator('.map canvas').dispatchEvent('drop', { dataTransfer: given });
    await page.getByRole('heading', { name: 'Found: 1 layer' }).waitFor();
    await page.getByRole('button', { name: 'Leave it', exact: true }).click();
    await page.getByRole('button', { name: 'or paste' }).click();
    await page.getByLabel('GeoJSON text').fill(text);
    await page.getByRole('button', { name: 'Read', exact: true }).click();
    await page.getByRole('heading', { name: 'Found: 1 layer' }).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });

  it('without a system wait for its code, on a phone and by keyboard', async () => {
    const { page, faults } = await demoToDraw(browser());
    await page.setViewportSize({ width: 390, height: 844 });
    await bringIn(page, 'trees.csv');
    const add = page.getByRole('button', { name: 'Add to the plan' });
    await add.waitFor();
    expect(await add.isDisabled()).toBe(true);
    await page.getByLabel('coordinate system').focus();
    await page.keyboard.type('26916');
    await page.keyboard.press('Tab');
    await page.getByRole('button', { name: 'Add 2 features to the plan' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Brought in: 2 features' }).waitFor();
    const small = await page
      .locator('.gather')
      .evaluate((gather) =>
        [...gather.querySelectorAll('button, select, input')]
          .map((each) => (each.closest('label') ?? each).getBoundingClientRect())
          .filter(({ width, height }) => Math.min(width, height) < 24),
      );
    expect(small).toEqual([]);
    expect(faults).toEqual([]);
    await page.close();
  });
});
