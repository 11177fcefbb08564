import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { pageSvg } from '../../lib/sheet/write/svg';
import { makeSheet } from '../../lib/sheet/make-sheet';
import { sheetFacts } from '../../lib/sheet/facts/sheet-facts';
import { ruleSetOf } from '../../lib/setback/sets/rule-sets';
import { surveyLot } from '../../lib/drainage/storm/survey-lot';
import { openElevation } from '../../lib/elevation/file/open-elevation';
import { planOutline } from '../../lib/plan/plan-area';
import { readPlan } from '../../lib/plan/read-plan';
import { testFonts } from '../unit/sheet/sheet-fonts';
import { launched, openPage } from './open-page';

const browser = launched();
const fixture = (name: string): string =>
  fileURLToPath(new URL(`../../fixtures/demo/${name}`, import.meta.url));

/** What a press of a button saves, as text. */
async function saved(page: Page, name: string): Promise<string> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name, exact: true }).click();
  return readFile(await (await download).path(), 'utf8');
}

const fold = (page: Page, title: string) => page.getByRole('heading', { name: title, exact: true });

it('hands over orders, dates, steps, plants and files, and keeps with the plan what is said of them', async () => {
  const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
  await page.locator('svg.over').waitFor();
  await page.getByRole('button', { name: 'What do I hand over?' }).click();

  await fold(page, 'Orders').click();
  await page.getByText(/A tenth more garden takes/).waitFor();
  const opens = page.locator('#tools-handover input[type=file]');
  await opens.first().setInputFiles({
    name: 'wrong.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('thing,how much\nsand,3\n'),
  });
  await page
    .getByRole('alert')
    .getByText(/wrong\.csv/)
    .waitFor();
  await opens.first().setInputFiles(fixture('prices.csv'));
  await page.getByText(/It comes to/).waitFor();
  expect(await saved(page, 'Save the order (CSV)')).toMatch(
    /^item,use,.*\r\n[^]*to have ready,sum/,
  );
  await fold(page, 'Orders').click();

  await fold(page, 'Dates').click();
  await page.getByLabel('First day of digging').fill('2037-05-09');
  const notice = page.getByLabel('Notice that the public service asks for');
  await notice.fill('a while');
  await notice.blur();
  await page
    .getByRole('alert')
    .getByText(/'a while' says no number of days/)
    .waitFor();
  await notice.fill('3 business days');
  await notice.blur();
  await page.getByText(/Ask the notice service by Tue 5 May 2037/).waitFor();
  // The demo's own gas line is located for another year.
  await page.getByText(/The locate of Gas service ends on .*: have it renewed/).waitFor();
  expect(await saved(page, 'Save a calendar (.ics)')).toMatch(/DTSTART;VALUE=DATE:20370509\r\n/);
  // One step back takes the notice out again, and forward puts it in.
  await page
    .locator('summary')
    .filter({ has: fold(page, 'Dates') })
    .focus();
  await page.keyboard.press('Control+z');
  await page.getByText(/Say when you dig/).waitFor();
  await page.keyboard.press('Control+Shift+z');
  await page.getByText(/Ask the notice service by/).waitFor();
  await fold(page, 'Dates').click();

  await fold(page, 'Steps of work').click();
  await page.getByText(/hours of one person/).waitFor();
  await page.getByText(/^\d+ Dig/).click();
  await page.getByText(/Within the tolerance zone of a marked line dig by hand/).waitFor();
  await fold(page, 'Steps of work').click();

  await fold(page, 'Plants').click();
  await page.getByLabel('A few plants to begin with').selectOption('upper-midwest');
  await page.getByText(/plants, each in its place/).waitFor();
  await page.getByText(/Check your local native and invasive lists/).waitFor();
  await fold(page, 'Plants').click();

  await fold(page, 'For other programs').click();
  expect(await saved(page, 'GPX, for receivers')).toMatch(/<gpx /);
  expect(await saved(page, 'DXF, for drawing programs')).toMatch(/SECTION/);
  await fold(page, 'For other programs').click();

  const plan = readPlan(await saved(page, 'Plan (GeoJSON)'), 'saved').plan;
  expect(plan.lotfall.job).toMatchObject({
    dig: '2037-05-09',
    notice: '3 business days',
    plant_region: 'upper-midwest',
    price_list: { name: 'prices.csv' },
  });

  // The sheet has all of it, and the page draws it as the command does, mark for mark.
  await fold(page, 'The drawing set').click();
  await page.getByLabel('Of', { exact: true }).fill('2026-12-01');
  await page.getByRole('button', { name: 'Draw the sheet' }).click();
  const choice = page.getByLabel('Page', { exact: true });
  await choice.waitFor();
  const titles = await choice.locator('option').allInnerTexts();
  expect(titles.join(' ')).toMatch(/Plants, each in its place.*orders and cost.*Work and days/);
  expect(await page.locator('.lacking li').count()).toBe(0);
  const site = await saved(page, 'This page as SVG');
  const file = await openElevation({ name: 'lot', path: fixture('lot.elevation.tif') });
  const survey = await surveyLot(file, plan, { area: planOutline(plan) ?? [0, 0, 0, 0] });
  const facts = await sheetFacts({
    ...{ plan: survey.plan, survey, ruleSet: ruleSetOf(plan.lotfall) },
    ...{ date: '2026-12-01', file: 'The plan' },
  });
  const fonts = testFonts();
  const [drawn] = makeSheet(facts, fonts, { paper: 'a3', orientation: 'landscape' }).pages;
  expect(site.replace(/<defs>[^]*?<\/defs>\n/, '')).toBe(pageSvg(drawn, fonts));

  const picture = page.waitForEvent('download');
  await page.getByRole('button', { name: 'This page as PNG' }).click();
  const png = await readFile(await (await picture).path());
  // Its width in the head of a PNG: A3 at 150 dots an inch.
  expect(png.readUInt32BE(16)).toBe(2480);
  expect(faults).toEqual([]);
  await page.close();
});
