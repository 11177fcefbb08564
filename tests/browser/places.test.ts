import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

/** The demo with question 3 open and the whole lot looked over. */
async function searched(basins = '1'): Promise<{ page: Page; faults: string[] }> {
  const { page, faults } = await openPage(browser(), { width: 1100, height: 900 });
  await page.getByText(/in .* = out .*/).waitFor();
  await page.getByRole('button', { name: 'Where can it sit?' }).click();
  await page.locator('.look select').selectOption(basins);
  await page.getByRole('button', { name: 'Look over the whole lot' }).click();
  // Said when the search is done.
  await page.locator('.sites summary', { hasText: /of lot, .* is open/ }).waitFor();
  return { page, faults };
}

/** What the ranked places catch, the first first: by that they can be told apart. */
async function ranking(page: Page): Promise<string[]> {
  const places = await page.locator('.sites > ol > li').allInnerTexts();
  return places.map((text) => /catches\s+([\d.,]+ m²)/.exec(text)?.[1] ?? text);
}

/** One page for what ends as it began. */
let shared: { page: Page; faults: string[] };
beforeAll(async () => {
  shared = await searched();
});
afterAll(async () => {
  await shared.page.close();
});

describe('places found', () => {
  it('are ranked anew while a weight is moved, and as before when that is undone', async () => {
    const { page, faults } = shared;
    const before = await ranking(page);
    expect(before.length).toBeGreaterThan(3);
    await page.getByText('What counts how much').click();
    await page.getByLabel('water caught').fill('0');
    await page.getByLabel('near a downspout').fill('10');
    await expect.poll(() => ranking(page)).not.toEqual(before);
    const after = await ranking(page);
    expect(after[0]).not.toBe(before[0]);
    await page.getByText('What counts how much').click();
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await expect.poll(() => ranking(page)).toEqual(before);
    expect(faults).toEqual([]);
  });

  it('stand in the plan when taken, and go when that is undone', async () => {
    const { page } = shared;
    // which rows show changes with the place: those that are kept by far are folded
    const rows = async (): Promise<string> =>
      (await page.locator('#tools-place .row').allInnerTexts()).join('\n');
    const measured = await rows();
    await page.getByRole('button', { name: 'Put the basin here' }).first().click();
    await expect.poll(rows).not.toBe(measured);
    await page.keyboard.press('Control+z');
    await expect.poll(rows).toBe(measured);
  });
});

describe('asking at a place', () => {
  it('names the rules that forbid a basin there, and the nearest place that would do', async () => {
    const { page, faults } = shared;
    const field = page.getByLabel('or longitude, latitude');
    await field.fill('-87.1071, 42.5101');
    await field.press('Enter');
    const answer = page.locator('.asked');
    await answer.getByRole('heading', { name: 'Why not here?' }).waitFor();
    await answer.getByText(/^✕ House/).waitFor();
    const rules = await answer.locator('li').allInnerTexts();
    expect(rules.length).toBeGreaterThan(1);
    for (const rule of rules) expect(rule).toMatch(/^[✕?] .* short by [\d.,]+ c?m \(.+\)$/);
    expect(await answer.innerText()).toMatch(
      /The nearest that would do .*: [\d.,]+ m to the east, [\d.,]+ m²\./,
    );
    await field.fill('-87.10664, 42.510152');
    await field.press('Enter');
    await answer.getByRole('heading', { name: 'Why here?' }).waitFor();
    expect(await answer.innerText()).toMatch(/catches\s+[\d,]+ m²/);
    await field.fill('somewhere');
    await field.press('Enter');
    await page.getByText(/That is no place: write longitude and latitude/).waitFor();
    expect(faults).toEqual([]);
  });
});

describe('two basins that share the water', () => {
  it('are found together, say what each gets, and go into the plan as one change', async () => {
    const { page, faults } = await searched('2');
    const joint = page.locator('.joint');
    await joint.getByRole('heading', { name: '2 basins that share the water' }).waitFor();
    const text = await joint.innerText();
    const [, whole, single] =
      /hold ([\d.]+) m³ .*the most that a single place holds is\s+([\d.]+) m³/s.exec(text) ?? [];
    expect(Number(whole)).toBeGreaterThan(Number(single));
    const shares = [...text.matchAll(/(\d+) % of the water/g)].map(([, share]) => Number(share));
    expect(shares).toHaveLength(2);
    expect(shares[0] + shares[1]).toBeGreaterThan(98);
    expect(shares[0] + shares[1]).toBeLessThan(102);
    await joint.getByRole('button', { name: 'Put both into the plan' }).click();
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    const basins = page.locator('.compliance').getByLabel('basin', { exact: true });
    await basins.waitFor();
    expect(await basins.locator('option').allInnerTexts()).toEqual(['all', 'Basin A', 'Basin B']);
    await page.keyboard.press('Escape');
    await page.keyboard.press('Control+z');
    await page.getByRole('button', { name: 'All rules as a table' }).click();
    await page.locator('.compliance tbody tr').first().waitFor();
    await expect.poll(() => basins.count()).toBe(0);
    expect(faults).toEqual([]);
    await page.close();
  });
});
