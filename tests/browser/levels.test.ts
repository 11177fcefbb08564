import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { drops, yard } from '../cli/levelled-yard';
import { launched, openPage } from './open-page';

const browser = launched();

/** The yard before there is a garden: its place is paved, and a pump lets out at a corner of the house. */
function paved(): object {
  const plan = yard(drops);
  const house = plan.features.find(({ id }) => id === 'house')?.geometry
    .coordinates as number[][][];
  return {
    ...plan,
    features: [
      ...plan.features.map((feature) =>
        feature.id === 'garden'
          ? {
              ...feature,
              id: 'patio',
              properties: { kind: 'surface', cover: 'paving', name: 'Patio' },
            }
          : feature,
      ),
      {
        type: 'Feature',
        id: 'pump',
        geometry: { type: 'Point', coordinates: house[0][0] },
        properties: { kind: 'sump-outlet', name: 'Pump' },
      },
    ],
  };
}

it('makes the ground from the levels of a plan, says when they have changed, and finds it again with the plan', async () => {
  const { page, faults } = await openPage(browser(), { width: 1100, height: 760 });
  await page.getByText(/in .* = out .*/).waitFor();
  await page.getByRole('button', { name: 'What is here?' }).click();
  const openPlan = page.locator('input[accept*="geojson"]').first();
  const file = (plan: object) => ({
    name: 'yard.plan.geojson',
    mimeType: 'application/geo+json',
    buffer: Buffer.from(JSON.stringify(plan)),
  });
  // Before there is any ground, and any basin, each question tells what needs none.
  await openPlan.setInputFiles(file(paved()));
  const question = (name: string) => page.getByRole('button', { name }).click();
  await question('Where does the water go?');
  const water = page.getByRole('region', { name: 'Water without heights' });
  await water.getByText(/house: .* if the ground is level now/).waitFor();
  await water.getByText(/, falls .* %/).waitFor();
  await question('Where can it sit?');
  const rules = page.getByRole('region', { name: 'Drainage on the lot' });
  await rules.getByText('Outlet to a building’s wall').first().click();
  await rules
    .getByText(/Ask the/)
    .first()
    .waitFor();
  await question('What do I dig?');
  const sizes = page.getByRole('region', { name: 'Sizes without heights' });
  await sizes.getByRole('rowheader', { name: /^Patio/ }).waitFor();
  await question('What is here?');

  await openPlan.setInputFiles(file(yard(drops)));
  const levels = page.getByRole('region', { name: 'Ground from levels' });
  await levels.getByText('No height file?').waitFor();
  await levels.getByRole('button', { name: 'Make the ground', exact: true }).click();
  await levels.getByText('The ground is made from 26 levels').waitFor();
  await page.getByText(/in .* = out .*/).waitFor();
  await page.locator('.ledger[aria-busy=false]').waitFor();
  await page.getByText(/water stands by house/).waitFor();

  // Where one more level would settle most, numbered alike in the list and on the sheet.
  const next = page.getByRole('region', { name: 'Measure here next' });
  await next
    .getByText(/from spot height .*where it spills/)
    .first()
    .waitFor();
  const asked = await next.getByRole('button', { name: /^Set a level at place/ }).count();
  expect(asked).toBeGreaterThan(1);
  const marks = page.locator('.over .reading');
  expect(await marks.count()).toBe(asked);
  await next.getByRole('button', { name: 'Set a level at place 2' }).focus();
  await page.locator('.over .reading.lit', { hasText: '2' }).waitFor();
  await next.getByRole('button', { name: 'Set a level at place 2' }).press('Enter');
  await levels.getByText('1 of 27 has no reading yet (spot height 27)').waitFor();
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await levels.getByText('The ground is made from 26 levels').waitFor();
  await page.locator('.ledger[aria-busy=false]').waitFor();

  // Another reading is another ground; nothing is passed off as made from it before it is.
  const chosen = page.getByLabel('On the sheet');
  await chosen.selectOption({ label: 'spot height: spot height 21' });
  const drop = page.getByLabel('or drop below the mark');
  await drop.fill('1.05 m');
  await drop.press('Enter');
  await levels.getByText('Levels have changed since').waitFor();
  await levels.getByRole('button', { name: 'Make the ground anew' }).click();
  await levels.getByText('The ground is made from 26 levels').waitFor();

  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save plan' }).click();
  const saved = await readFile(await (await download).path(), 'utf8');
  await page.getByRole('button', { name: 'New plan' }).click();
  await levels.getByText('No height file?').waitFor();
  await openPlan.setInputFiles(file(JSON.parse(saved) as object));
  await levels.getByText('The ground is made from 26 levels').waitFor();
  await page.locator('.ledger[aria-busy=false]').waitFor();
  expect(faults).toEqual([]);
  await page.close();
});
