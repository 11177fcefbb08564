import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launched, openPage } from './open-page';

const browser = launched();

describe('an empty sheet', () => {
  let page: Page;
  let faults: string[];
  beforeAll(async () => {
    ({ page, faults } = await openPage(browser(), { width: 1100, height: 760 }));
    await page.getByText(/in .* = out .*/).waitFor();
    await page.getByRole('button', { name: 'What is here?' }).click();
  });
  afterAll(async () => {
    await page.close();
  });
  const beginning = () => page.getByRole('region', { name: 'Beginning' });

  it('asks what there is, and says nothing of water', async () => {
    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    await page.getByRole('button', { name: 'What is here?' }).click();
    await page.getByRole('button', { name: 'New plan' }).click();
    await beginning().getByRole('heading', { name: 'What do you have?' }).waitFor();
    expect(await page.getByText(/stands by a building|No low spot/).count()).toBe(0);
    await page.getByText(/a height file of bare earth, or levels/).waitFor();
    expect(await page.getByText('fills in once there are heights').count()).toBe(1);
    // The map under it is out of reach of keys.
    expect(
      await page.locator('.map canvas').evaluate((map) => map.closest('[inert]') !== null),
    ).toBe(true);
  });

  it('leads on from each answer, by keys, and back', async () => {
    await page.locator('body').press('a');
    await beginning().getByRole('heading', { name: 'A height file' }).waitFor();
    await beginning()
      .getByText(/10 m or 30 m file/)
      .waitFor();
    await beginning().getByText('When was it flown?').waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('c');
    await beginning()
      .getByText(/on the lip/)
      .waitFor();
    await page.keyboard.press('Escape');
    // Focus is where it was left, so that Tab goes on from there.
    const focused = () => page.evaluate(() => document.activeElement?.textContent ?? '');
    await expect.poll(focused).toContain('String and stakes');
  });

  it('makes way for drawing, comes back when nothing was drawn, and goes with undoing', async () => {
    await page.keyboard.press('d');
    await beginning().getByRole('button', { name: 'Draw the lot line' }).click();
    await page.getByText(/Press each corner on the map/).waitFor();
    expect(await beginning().count()).toBe(0);
    await page.locator('.map canvas').press('Escape');
    await beginning().waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText(/4 buildings/).waitFor();
    expect(await beginning().count()).toBe(0);
    expect(faults).toEqual([]);
  });
});

describe('age and words', () => {
  it('marks ground that is older than what stands there, and lists what to level again', async () => {
    const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
    await page.getByText(/in .* = out .*/).waitFor();
    await page.getByRole('button', { name: 'What is here?' }).click();
    const age = page.getByRole('region', { name: 'Age of the heights' });
    const measured = age.getByLabel('heights measured in');
    await measured.fill('2999');
    await measured.press('Enter');
    await page
      .getByRole('alert')
      .getByText(/lies in the future/)
      .waitFor();
    expect(await measured.inputValue()).toBe('');
    await measured.fill('2019');
    await measured.press('Enter');
    await age.getByText('Built since 2019?').click();
    const house = age.getByLabel('House, built in', { exact: true });
    await house.fill('2021');
    await house.press('Enter');
    await age.getByText(/Level again: .* readings/).waitFor();
    await page.getByText(/the heights are older than 1 thing/).waitFor();
    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    await page.getByText(/older than House/).waitFor();

    // By other people's words, and with what makes it that.
    await page.getByRole('button', { name: 'What is here?' }).click();
    await page.locator('body').press('/');
    await page.keyboard.type('patio');
    await page.getByRole('search').getByRole('button', { name: 'Draw it' }).first().click();
    await page.getByText(/Press each corner on the map/).waitFor();
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('what is to come and to go', () => {
  it('is said by keys and by pressing, and told beside what stands today', async () => {
    const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
    await page.getByText(/in .* = out .*/).waitFor();
    await page.getByRole('button', { name: 'What is here?' }).click();
    const list = page.locator('.drawn select');
    await list.selectOption({ label: 'basin: Rain garden' });
    await page.getByRole('button', { name: 'to come', exact: true }).click();
    await list.selectOption({ label: 'building: Garage' });
    await page.locator('.map canvas').press('g');
    const toGo = page.getByRole('button', { name: 'to go', exact: true });
    await expect.poll(() => toGo.getAttribute('aria-pressed')).toBe('true');

    await page.getByRole('button', { name: 'Where does the water go?' }).click();
    const states = page.getByRole('region', { name: 'Today and to come' });
    const today = states.getByRole('button', { name: 'Show the sheet as it stands today' });
    await today.waitFor();
    await page.getByText(/against today/).waitFor();
    await page.locator('.ledger').getByText('today', { exact: true }).waitFor();
    await states.getByText(/held by basins/).waitFor();
    // At the wall of a garage that will be gone nothing is told.
    expect(await states.getByText('wall of Garage').count()).toBe(0);
    await today.click();
    await page.getByText('Marl Hollow 12, as it stands today').waitFor();
    await today.click();

    await states.getByRole('button', { name: 'How sure are the changes?' }).click();
    await states
      .getByText(/nine in ten: /)
      .first()
      .waitFor();
    // Another plan has no answer of this one beside it.
    await page.keyboard.press('Control+z');
    await expect.poll(() => states.getByText(/nine in ten: /).count()).toBe(0);
    await page.keyboard.press('Control+z');
    await expect.poll(() => states.count()).toBe(0);
    expect(faults).toEqual([]);
    await page.close();
  });
});
