import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import type { ReviewResult } from '../../lib/review/review-result';
import { tempFolder, type PlanJson } from './inputs';
import { documentOf, expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();
const street = (name: string) =>
  fileURLToPath(new URL(`../../fixtures/street/street.${name}`, import.meta.url));

/** The street's features of a kind, as a layer of others would have them. */
function layer(kind: string, properties: (name: unknown) => Record<string, unknown>): string {
  const plan = JSON.parse(readFileSync(street('plan.geojson'), 'utf8')) as PlanJson;
  const features = plan.features
    .filter((feature) => feature.properties['kind'] === kind)
    .map(({ geometry, properties: { name } }) => ({
      type: 'Feature',
      properties: properties(name),
      geometry,
    }));
  const path = at(`${kind}.geojson`);
  writeFileSync(path, JSON.stringify({ type: 'FeatureCollection', features }));
  return path;
}

it('reviews a street from layers, owners left out, and refuses what is of another place', async () => {
  const parcels = layer('lot', (name) => ({ parcel_no: name, owner_name: 'somebody' }));
  const buildings = layer('building', (name) => ({ name }));
  const gardens = layer('basin', (name) => ({ name }));
  const elevation = street('elevation.tif');
  const run = await lotfall(
    ...['review', '--parcels', parcels, '--buildings', buildings, '--gardens', gardens],
    ...['-e', elevation, '--rain', '40mm', '--json'],
  );
  const result = documentOf(run) as ReviewResult;
  expect(result.whole).toMatchObject({ lots: 16, whole: 16 });
  expect(result.whole.basin_after_m3).toBeGreaterThan(10);
  expect(result.whole.wet_buildings_before).toBeGreaterThan(0);
  for (const { after } of result.lots) expect(after?.error_m3).toBeCloseTo(0, 9);
  expect(result.notes.join('\n')).toMatch(/owner_name \(--owners keeps them\)/);
  expect(result.notes.join('\n')).toMatch(/On 16 lots no surface is drawn/);
  expect(run.stdout).not.toMatch(/somebody/);

  const far = at('far.geojson');
  writeFileSync(
    far,
    readFileSync(parcels, 'utf8').replaceAll(
      /\[-(\d+)\./g,
      (_, degrees: string) => `[-${Number(degrees) - 1}.`,
    ),
  );
  expectRefused(
    await lotfall('review', '--parcels', far, '-e', elevation),
    /^far\.geojson: none of its 16 lots lies wholly on the elevation/,
  );
  mkdirSync(at('empty'));
  expectRefused(
    await lotfall('review', '--parcels', parcels, '-e', at('empty')),
    /^empty: the folder holds no GeoTIFF/,
  );
});
