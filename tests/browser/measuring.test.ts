import { expect, it } from 'vitest';
import { launched } from './open-page';
import { demoToDraw } from './on-the-map';

const browser = launched();

it('measures with the tape, lays a photograph and a plan under the drawing, and says what cannot be laid', async () => {
  const { page, faults } = await demoToDraw(browser());
  const map = await page.locator('.map canvas').boundingBox();
  if (map === null) throw new Error('The page shows no map');
  const press = (x: number, y: number): Promise<void> =>
    page.mouse.click(map.x + map.width * x, map.y + map.height * y);

  // The tape: two legs, closed by a press on the first point, and back.
  await page.getByRole('button', { name: 'Tape', exact: true }).click();
  const note = page.getByRole('region', { name: 'Tape', exact: true });
  await press(0.25, 0.62);
  await press(0.5, 0.72);
  await note.getByText(/The ground (falls|rises)/).waitFor();
  await press(0.3, 0.8);
  await note.getByText(/in 2 legs/).waitFor();
  await press(0.25, 0.62);
  await note.getByText(/m² within/).waitFor();
  await note.getByRole('button', { name: 'open it again' }).click();
  await note.getByText(/° N, .*° W/).waitFor();

  // Heights along it are walked by keys, and marked on the map.
  await note.getByRole('button', { name: 'heights along it' }).click();
  const along = page.getByRole('slider', { name: 'Place along the tape' });
  await page.locator('.plot path.ground[d^="M"]').waitFor();
  await along.press('End');
  await expect.poll(() => along.getAttribute('aria-valuetext')).toMatch(/along: ground \d+\.\d+ m/);
  expect(await page.locator('svg.over circle.read').count()).toBe(1);
  await note.getByRole('button', { name: 'put it away' }).click();

  // Under the drawing.
  await page.getByText('What lies under the drawing').click();
  const give = page.locator('label', { hasText: 'Lay something under it' }).locator('input');
  await give.setInputFiles('fixtures/backdrop/photo-jpeg.tif');
  await page.getByText('photograph from above').first().waitFor();
  const absurd = Buffer.alloc(33);
  Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex').copy(absurd);
  absurd.writeUInt32BE(20_000, 16);
  absurd.writeUInt32BE(20_000, 20);
  await give.setInputFiles({ name: 'wall.png', mimeType: 'image/png', buffer: absurd });
  await page.getByRole('alert').getByText('wall.png: the picture has 20000 by 20000').waitFor();
  const pixel =
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
  const picture = { name: 'plan.png', mimeType: 'image/png', buffer: Buffer.from(pixel, 'base64') };
  await give.setInputFiles(picture);
  const laying = page.getByRole('region', { name: 'Laying a picture by points' });
  await laying.getByText('first point').waitFor();
  await press(0.45, 0.45);
  await laying.getByText('where this point belongs').waitFor();
  await press(0.45, 0.5);
  await laying.getByText('second point').waitFor();
  await laying.getByRole('button', { name: 'done' }).click();
  expect(faults).toEqual([]);
  await page.close();
});
