import type { Locator, Page } from 'playwright-core';
import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { launched, openPage } from '../open-page';

const browser = launched();

/** The demo with question 3 open. */
async function demo(): Promise<Page> {
  const { page } = await openPage(browser(), { width: 1100, height: 900 });
  await page.getByText(/in .* = out .*/).waitFor();
  await page.locator('svg.over').waitFor();
  await page.getByRole('button', { name: 'Where can it sit?' }).click();
  return page;
}

/** The table's row about one rule at one feature. */
function rowOf(page: Page, rule: string, feature: string) {
  return page
    .locator('.compliance tbody tr', { hasText: rule })
    .filter({ has: page.getByRole('button', { name: feature, exact: true }) });
}

/** Types into a field and leaves it. */
async function put(field: Locator, text: string): Promise<void> {
  await field.fill(text);
  await field.press('Tab');
}

describe('the table of rules', () => {
  it('is filtered, points at the map, and is handed on as it is filtered', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    const table = page.getByRole('dialog', { name: /^Setbacks, / });
    await table.getByText(/Local code governs/).waitFor();
    const rows = table.locator('tbody tr');
    const all = await rows.count();
    await table.getByLabel('result', { exact: true }).selectOption('check');
    await expect.poll(() => rows.count()).toBeLessThan(all);
    expect(await table.locator('tbody .mark:not(.check)').count()).toBe(0);
    await table.getByLabel('result', { exact: true }).selectOption('');
    await table.getByLabel('kind of feature').selectOption('tree');
    await table.getByText(`4 of ${all} rows`, { exact: true }).waitFor();
    const saved = page.waitForEvent('download');
    await table.getByRole('button', { name: 'These rows (CSV)' }).click();
    const file = await readFile(await (await saved).path(), 'utf8');
    expect(file.trimEnd().split('\r\n')).toHaveLength(1 + 4);
    const before = await page.locator('svg.over').innerHTML();
    await rowOf(page, 'Tree roots', 'Red maple').getByRole('button').click();
    await expect.poll(() => page.locator('svg.over').innerHTML()).not.toBe(before);
    await page.getByText('18.28 m').last().waitFor();
    await page.keyboard.press('Escape');
    await table.waitFor({ state: 'detached' });
    await page.close();
  });

  it('prints alone, with plan, day, set, sources and whose code governs', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    const table = page.locator('.compliance');
    await table.waitFor();
    await page.emulateMedia({ media: 'print' });
    const seen = await page.evaluate(() => document.body.innerText);
    expect(seen).toMatch(/^Setbacks, Marl Hollow 12\s+\d{4}-\d\d-\d\d\. Common handbook setbacks/);
    expect(seen).toMatch(/Local code governs/);
    expect(seen).toMatch(/Sources: .*Minnesota Stormwater Manual/);
    expect(seen).not.toMatch(/What do I dig|These rows/);
    await page.close();
  });
});

describe('the packet of the plan', () => {
  it('is saved as PDF, and beside an earlier submission says what changed', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    const table = page.getByRole('dialog', { name: /^Setbacks, / });
    const demoPlan = new URL('../../../fixtures/demo/lot.plan.geojson', import.meta.url);
    const earlier = JSON.parse(await readFile(demoPlan, 'utf8')) as {
      features: { id: string; geometry: { coordinates: unknown } }[];
    };
    earlier.features = earlier.features.filter(({ id }) => id !== 'well');
    const open = (name: string, text: string): Promise<void> =>
      table
        .getByLabel(/^Earlier submission|^Since /)
        .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
    await open('no-plan.geojson', '{');
    await page
      .getByText(/no-plan\.geojson, line 1/)
      .first()
      .waitFor();
    await open('first.geojson', JSON.stringify(earlier));
    await table.getByRole('heading', { name: 'Since first.geojson' }).waitFor();
    await table.getByText('Well (well) is new.').waitFor();
    await table.getByText(/^Well, Well: not judged before → ✓ meets/).waitFor();
    const saved = page.waitForEvent('download');
    await table.getByRole('button', { name: 'Packet (PDF)' }).click();
    const file = await readFile(await (await saved).path(), 'latin1');
    expect(file).toMatch(/^%PDF-/);
    expect(file.match(/\/FontFile2/g)?.length).toBeGreaterThan(2);
    await page.close();
  });
});

describe('rules of one’s own', () => {
  it('are copied, changed and undone, and what cannot be used is told and left as it was', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'Rules of your own' }).click();
    await page.getByRole('button', { name: 'Copy this set to change it' }).click();
    const rule = page.locator('.own details').first();
    await rule.locator('summary').click();
    const figure = rule.getByLabel('distance', { exact: true });
    expect(await figure.inputValue()).toBe('3.048 m');
    await figure.fill('40 ft');
    await figure.press('Tab');
    await page.getByText(/breaks 1 binding rule/).waitFor();
    await figure.fill('-3');
    await figure.press('Tab');
    await page
      .getByRole('alert')
      .getByText(/below zero/)
      .waitFor();
    expect(await figure.inputValue()).toBe('12.192 m');
    await page.getByRole('heading', { name: 'Where can it sit?' }).click();
    await page.keyboard.press('Control+z');
    await expect.poll(() => figure.inputValue()).toBe('3.048 m');
    await page.close();
  });

  it('say by fields which features they are about, and are added, turned and taken out', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'Rules of your own' }).click();
    await page.getByRole('button', { name: 'Copy this set to change it' }).click();
    const rule = page.locator('.own details', { hasText: 'Building foundation' }).first();
    await rule.locator('summary').click();
    await put(rule.getByLabel('distance', { exact: true }), '40 ft');
    await page.getByText(/breaks 1 binding rule/).waitFor();
    // The house has a crawl space: a rule about basements alone is none of its.
    const foundation = rule.getByRole('group', { name: 'foundation' });
    for (const other of ['crawl space', 'slab']) await foundation.getByLabel(other).uncheck();
    await page.getByText(/breaks 1 binding rule/).waitFor({ state: 'detached' });
    await foundation.getByLabel('basement').click();
    await rule.getByRole('alert').getByText('At least one has to stay.').waitFor();
    expect(await foundation.getByLabel('basement').isChecked()).toBe(true);

    await page.getByLabel('kind of feature for a new rule').selectOption('tree');
    await page.getByRole('button', { name: 'Add a rule about it' }).click();
    const added = page.locator('.own details', { hasText: 'Distance from tree' });
    await put(added.getByLabel('distance', { exact: true }), '60 m');
    await page.getByText(/breaks 4 binding rules/).waitFor();
    await added.getByLabel('but only those by').selectOption('trunk_diameter_m');
    await put(added.getByLabel('trunk diameter at least'), '40 cm');
    await page.getByText(/breaks 2 binding rules/).waitFor();
    await put(added.getByLabel('trunk diameter at most'), 'thick');
    await added.getByRole('alert').waitFor();
    expect(await added.getByLabel('trunk diameter at most').inputValue()).toBe('');
    await added.getByLabel('it asks for').selectOption('drain-down');
    await page.getByText(/breaks 2 binding rules/).waitFor({ state: 'detached' });
    expect(await added.getByLabel('hours at most').inputValue()).toBe('48');
    await added.getByRole('button', { name: 'take this rule out' }).click();
    await added.waitFor({ state: 'detached' });
    await page.getByRole('heading', { name: 'Where can it sit?' }).click();
    await page.keyboard.press('Control+z');
    await added.waitFor();
    await page.close();
  });

  it('are opened from a file, and a bad file is told in a sentence', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'Rules of your own' }).click();
    const source = { title: 'Town code', publisher: 'Town', year: 2024, mark: 'seen' };
    const rule = {
      test: 'inside-lot',
      id: 'line',
      letter: 'L',
      title: 'Town lot line',
      published: '12 m',
      binding: 'must',
      source,
      m: 12,
    };
    const open = async (rules: object[]): Promise<void> => {
      const set = { id: 'town', title: 'Town rules', jurisdiction: 'Town', rules };
      await page.getByLabel('Open a set').setInputFiles({
        name: 'town.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(set)),
      });
    };
    await open([{ ...rule, source: undefined }]);
    await page.getByText(/town\.json, rules\.0\.source: .*missing/).waitFor();
    await open([rule]);
    await page.getByText(/breaks 1 binding rule/).waitFor();
    expect(await page.locator('#tools-place > label select').inputValue()).toBe('town');
    await page.close();
  });
});

describe('the locate request', () => {
  it('says where is to be dug and whom to ask', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'Locate request' }).click();
    const text = page.locator('.request');
    await text.getByText(/Locate request for Marl Hollow 12/).waitFor();
    expect(await text.innerText()).toMatch(/Ask a private locator/);
    await page.close();
  });

  it('takes the answers of locators who found nothing, and then no absent line is open', async () => {
    const page = await demo();
    await page.getByRole('button', { name: 'Locate request' }).click();
    await page.getByText('A locator came and found no line').click();
    const form = page.locator('.answers form');
    const record = form.getByRole('button', { name: 'Put it on record' });
    await record.click();
    await form
      .getByRole('alert')
      .getByText(/Say who answered/)
      .waitFor();
    const day = (ahead: number): string =>
      new Date(Date.now() + ahead * 86_400_000).toISOString().slice(0, 10);
    await page.locator('.rules .row', { hasText: 'lines not on the plan' }).click();
    const open = page.getByText(/Unmarked is not absent/).first();
    for (const by of ['public', 'private']) {
      await form.getByLabel('answered by').selectOption(by);
      await form.getByRole('button', { name: 'all of them' }).click();
      await form.getByLabel('on', { exact: true }).fill(day(-2));
      await form.getByLabel('good until').fill(day(-3));
      await record.click();
      await form
        .getByRole('alert')
        .getByText(/lies before the day/)
        .waitFor();
      await form.getByLabel('good until').fill(day(9));
      await form.getByLabel('number, if it has one').fill(`T-${by}`);
      await open.waitFor();
      await record.click();
    }
    await open.waitFor({ state: 'detached' });
    expect(await page.getByText('✓ It counts for the ground to be dug today.').count()).toBe(2);
    await page
      .locator('.request')
      .getByText(/stated clear on .* \(T-public\)/)
      .waitFor();
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    await page
      .locator('.compliance')
      .getByText(/Stated clear by the public notice service on .* \(T-public\)/)
      .waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Where can it sit?' }).click();
    await page.keyboard.press('Control+z');
    await open.waitFor();
    await page.close();
  });
});
