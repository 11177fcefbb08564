import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ledger } from '../../lib/drainage/answer/ledger';
import { shapeGround } from '../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../lib/drainage/storm/storm-on-ground';
import { openElevation } from '../../lib/elevation/file/open-elevation';
import { readWindow } from '../../lib/elevation/window/read-window';
import { localFrame, makeFrame, type LngLat, type XY } from '../../lib/frame/frame';
import { toLocal } from '../../lib/plan/local-plan';
import { readPlan } from '../../lib/plan/read-plan';

/**
 * Elevation as agencies hand it out, with a made-up lot in the middle: the whole chain from the file to the water
 * ledger runs, and no water is lost or made on ground that nobody smoothed.
 */
const data = process.env.LOTFALL_DATA;
const there = data !== undefined && existsSync(join(data, 'montpellier_50cm'));
const title = there
  ? 'real rasters, from file to ledger'
  : 'real rasters, from file to ledger: left out, LOTFALL_DATA does not name the folder with the samples';

const street = 'montpellier_50cm';
const samples = join('encodings', 'real_samples');
const windows = join('encodings', 'same_dtm_many_encodings');
const rasters: readonly (readonly [path: string, lotM: number])[] = [
  [join(street, 'dtm_050_filled.tif'), 40],
  [join(street, 'dtm_050_with_gap.tif'), 40],
  [join(street, 'dsm_050.tif'), 40],
  [join(street, 'agency_DTM_77055_627760_50cm.tif'), 24],
  [join('alexandria_2m_dtm_dsm_buildings', 'dtm.tif'), 60],
  [join('alexandria_2m_dtm_dsm_buildings', 'dsm.tif'), 60],
  [join(samples, 'nz_1m_dem_BS28_1000_1141.tif'), 40],
  [join(samples, 'olinda_dem_utm25s.tif'), 600],
  [join(windows, '18_geographic_4326_degrees.tif'), 60],
  [join(windows, '21_compound_crs_heights_us_survey_feet_navd88.tif'), 60],
  [join(windows, '24_rotated_transform_20deg.tif'), 60],
  [join(windows, '35_hole_and_nodata_border.tif'), 60],
];

/** A square lot with a house, a roof that drains by one downspout, and a basin below it. */
function lotAround(middle: LngLat, sideM: number): string {
  const frame = makeFrame(localFrame(middle));
  const at = ([x, y]: XY): LngLat => frame.toLngLat([x * sideM, y * sideM]);
  const box = (west: number, south: number, east: number, north: number) => {
    const corners: XY[] = [
      [west, south],
      [east, south],
      [east, north],
      [west, north],
      [west, south],
    ];
    return { type: 'Polygon', coordinates: [corners.map(at)] };
  };
  const feature = (id: string, geometry: object, properties: object) => ({
    type: 'Feature',
    id,
    geometry,
    properties: { kind: id, ...properties },
  });
  const house = box(-0.2, -0.1, 0.15, 0.2);
  return JSON.stringify({
    type: 'FeatureCollection',
    lotfall: { version: 1, soil: { group: 'B' } },
    features: [
      feature('lot', box(-0.5, -0.5, 0.5, 0.5), { own: true }),
      feature('building', house, { foundation: 'basement' }),
      feature('roof', house, { building: 'building' }),
      feature('downspout', { type: 'Point', coordinates: at([0.15, -0.1]) }, { roof: 'roof' }),
      feature('basin', box(0.22, -0.4, 0.36, -0.28), { ponding_depth_m: 0.15 }),
    ],
  });
}

describe.skipIf(!there)(title, () => {
  it.each(rasters)('%s', async (path, sideM) => {
    const file = await openElevation({ name: path, path: join(data ?? '', path) });
    const { layout, mapping } = file.raster;
    const middle = mapping.toLngLat([layout.width / 2, layout.height / 2]);
    const { plan } = readPlan(lotAround(middle, sideM), 'lot');
    const area = plan.features.flatMap(({ geometry }) =>
      geometry.type === 'Polygon' ? geometry.coordinates[0] : [],
    );
    const { grid } = await readWindow(file, { area: [area], marginM: 1.5 * sideM });
    const local = toLocal(plan, makeFrame(grid.frame));
    const shape = shapeGround(grid, local);

    const { z, filled } = shape.terrain;
    let lowered = 0;
    let holds = 0;
    for (let cell = 0; cell < z.length; cell++) {
      if (Number.isNaN(z[cell])) continue;
      if (!(filled[cell] >= z[cell])) lowered++;
      if (filled[cell] > z[cell]) holds++;
    }
    expect(lowered).toBe(0);
    expect(holds).toBeGreaterThan(0);

    for (const rainMm of [5, 40, 300]) {
      const storm = stormOnGround(shape, local, rainMm);
      let wrong = 0;
      for (const depthM of storm.depthM) if (!(depthM >= 0 && depthM < 1000)) wrong++;
      expect(wrong).toBe(0);
      const account = ledger(shape, storm, local, 0);
      const comesIn = account.rain_m3 + account.run_on_m3;
      expect(comesIn).toBeGreaterThan(0);
      expect(Math.abs(account.error_m3)).toBeLessThan(1e-9 * comesIn);
      const parts = [account.soaked_m3, account.standing_m3, account.basin_m3];
      for (const part of [...parts, account.sewer_m3, account.passed_on_m3])
        expect(part).toBeGreaterThanOrEqual(0);
    }
  });
});
