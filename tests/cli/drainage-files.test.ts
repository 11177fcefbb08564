import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Feature, FeatureCollection, LineString, MultiPolygon, Position } from 'geojson';
import { fromArrayBuffer } from 'geotiff';
import { afterAll, describe, expect, it } from 'vitest';
import type { CertainDrainage } from '../../lib/drainage/certainty/with-certainty';
import { openElevation } from '../../lib/elevation/file/open-elevation';
import { demoElevation, demoPlan } from './inputs';
import { documentOf, expectRefused, lotfall, lotfallBoth, lotfalls } from './run-lotfall';

const folder = mkdtempSync(join(tmpdir(), 'lotfall-files-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});
const call = ['drainage', demoPlan, '-e', demoElevation];

describe('lotfall drainage --out x.geojson', () => {
  it('writes low spots, water, contributing areas and flow lines as features that agree with the JSON', async () => {
    const file = join(folder, 'x.geojson');
    const run = await lotfall(...call, '--certainty', '--surfaces', '5', '--out', file, '--json');
    const result = documentOf(run) as CertainDrainage;
    const { type, features } = JSON.parse(readFileSync(file, 'utf8')) as FeatureCollection;
    expect(type).toBe('FeatureCollection');
    const of = (kind: string): Feature[] =>
      features.filter(({ properties }) => properties?.['kind'] === kind);

    expect(of('low-spot').map(({ properties }) => properties?.['id'] as string)).toEqual(
      result.low_spots.map(({ id }) => id),
    );
    const numbers = new Map(result.low_spots.map(({ id, number }) => [id, number]));
    for (const { properties } of of('standing-water')) {
      expect(properties?.['number']).toBe(numbers.get(properties?.['low_spot'] as string));
    }
    for (const { properties } of [...of('low-spot'), ...of('contributing-area')]) {
      const id = (properties?.['id'] ?? properties?.['feature']) as string;
      expect(properties?.['number']).toBe(numbers.get(id));
    }
    expect(of('low-spot')[0].properties?.['probability']).toBe(result.low_spots[0].probability);
    expect(
      of('contributing-area').map(({ properties }) => properties?.['area_m2'] as number),
    ).toEqual(result.contributing.map(({ area_m2 }) => area_m2));
    expect(of('standing-water').length).toBe(result.standing.length);
    expect(of('overflow-path').length).toBe(result.basins.length);
    const lines = of('flow-line');
    expect(lines.length).toBeGreaterThan(50);
    for (const { properties, geometry } of lines) {
      expect(properties?.['area_m2']).toBeGreaterThan(25);
      expect(properties?.['volume_m3']).toBeGreaterThanOrEqual(0);
      expect((geometry as LineString).coordinates.length).toBeGreaterThan(1);
    }
    // As RFC 7946 asks: rings closed, the outer anticlockwise and holes clockwise, nothing outside longitude and latitude.
    for (const { geometry } of features) {
      if (geometry?.type !== 'MultiPolygon') continue;
      for (const rings of (geometry satisfies MultiPolygon).coordinates) {
        rings.forEach((ring, i) => {
          expect(ring.at(-1)).toEqual(ring[0]);
          expect(Math.sign(turn(ring))).toBe(i === 0 ? 1 : -1);
        });
      }
    }
    expect(
      of('flow-line').map(({ geometry }) => (geometry as LineString).coordinates[0]),
    ).toSatisfy((places: Position[]) =>
      places.every(([lng, lat]) => lng > -88 && lng < -87 && lat > 42),
    );
  });
});

/** The values of a raster that the command wrote. */
async function certainties(path: string): Promise<number[]> {
  const image = await (await fromArrayBuffer(new Uint8Array(readFileSync(path)).buffer)).getImage();
  const [values] = await image.readRasters();
  return [...new Set(values as Float32Array)].filter((value) => value >= 0);
}

/** Twice the signed area of a ring, measured from its first corner. */
function turn(ring: readonly Position[]): number {
  const [x, y] = ring[0];
  let sum = 0;
  for (let i = 0; i + 1 < ring.length; i++) {
    sum += (ring[i][0] - x) * (ring[i + 1][1] - y) - (ring[i + 1][0] - x) * (ring[i][1] - y);
  }
  return sum;
}

describe('lotfall drainage --certainty --write-rasters', () => {
  it('writes how likely water stands and drains to the basin, from 0 to 1', async () => {
    const rasters = join(folder, 'rasters');
    const run = await lotfall(
      ...call,
      '--certainty',
      '--surfaces',
      '5',
      '--write-rasters',
      rasters,
    );
    expect(run.status).toBe(0);
    expect(readdirSync(rasters)).toEqual(
      expect.arrayContaining(['probability-drains-to-basin.tif', 'probability-standing-water.tif']),
    );
    const bytes = readFileSync(join(rasters, 'probability-standing-water.tif'));
    const file = await openElevation({ name: 'p.tif', blob: new Blob([bytes]) });
    expect(file.description.cellM.alongRow).toBeCloseTo(0.5, 2);
    const tallest = await certainties(join(rasters, 'probability-standing-water.tif'));
    expect(Math.min(...tallest)).toBe(0);
    expect(Math.max(...tallest)).toBe(1);
  });
});

describe('lotfall drainage --certainty --error', () => {
  it('compares several errors of the elevation; the first is the one that counts', async () => {
    const asked = [...call, '--certainty', '--surfaces', '30', '--error', '0.01,0.3 m'];
    const { json, words } = await lotfallBoth(join(folder, 'errors.txt'), ...asked);
    const result = documentOf(json) as CertainDrainage;
    expect(result.certainty.errors.rmse_m).toBeCloseTo(0.01, 12);
    const { errors, rows } = result.sensitivity ?? { errors: [], rows: [] };
    expect(errors.map(({ rmse_m }) => rmse_m)).toEqual([
      expect.closeTo(0.01, 12),
      expect.closeTo(0.3, 12),
    ]);
    const spots = rows.filter(({ about }) => about === 'low-spot');
    expect(spots.map(({ id }) => id)).toEqual(result.low_spots.map(({ id }) => id));
    spots.forEach(({ probabilities }, i) => {
      expect(probabilities[0]).toBe(result.low_spots[i].probability);
      expect(probabilities[1]).toBeLessThanOrEqual(probabilities[0]);
    });
    expect(spots.some(({ probabilities: [fine, rough] }) => fine - rough > 0.3)).toBe(true);
    expect(words.stdout).toMatch(/Were the error of the heights another one\n +1 cm +30 cm\n/);
  });

  it('is the error that low spots are held against, in place of the plan’s', async () => {
    const [fine, rough] = await lotfalls(
      [...call, '--certainty', '--surfaces', '1', '--error', '1cm', '--json'],
      [...call, '--certainty', '--surfaces', '1', '--error', '40cm', '--json'],
    );
    const doubtful = (run: typeof fine): number =>
      (documentOf(run) as CertainDrainage).low_spots.filter((spot) => spot.doubtful).length;
    expect(doubtful(fine)).toBe(0);
    expect(doubtful(rough)).toBeGreaterThan(3);
  });

  it('refuses what is no error', async () => {
    const [word, none, alone] = await lotfalls(
      [...call, '--certainty', '--error', '0.1,'],
      [...call, '--certainty', '--error', '0.1,500m'],
      [...call, '--error', '0.1'],
    );
    expectRefused(word, "--error has ''", '0.05,0.10');
    expectRefused(none, "'500m'");
    expectRefused(alone, '--error is given without --certainty');
  });
});
