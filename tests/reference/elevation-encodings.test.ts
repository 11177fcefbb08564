import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Area } from '../../lib/elevation/window/area';
import { cellCentre, elevationAt } from '../../lib/elevation/grid';
import { type ElevationFile, openElevation } from '../../lib/elevation/file/open-elevation';
import { type Elevation, readWindow } from '../../lib/elevation/window/read-window';
import { surveyFootM } from '../../lib/units/units';
import { InputError } from '../../lib/errors';
import { writeGeoTiff } from '../../lib/elevation/writing/write-geotiff';
import { makeFrame, type XY } from '../../lib/frame/frame';

/**
 * One window of real ground (120 by 100 cells of 2 m) as an independent writer (GDAL 3.6.2) wrote it in many
 * ways: each reads like the plain one, place for place, or is refused with its sentence. And rasters that
 * agencies and other projects hand out.
 */
const data = process.env.LOTFALL_DATA;
const folder = join(data ?? '', 'encodings', 'same_dtm_many_encodings');
const samples = join(data ?? '', 'encodings', 'real_samples');
const there = data !== undefined && existsSync(folder);
const title = there
  ? 'one window in many encodings'
  : 'one window in many encodings: left out, LOTFALL_DATA does not name the folder with the samples';

interface Expected {
  /** Largest distance from the reference at the same place, metres. */
  readonly withinM?: number;
  /** Mean of those distances. */
  readonly typicalM?: number;
  readonly refused?: string;
  /** Cells without data. */
  readonly empty?: number;
  readonly resampled?: true;
  readonly notes?: readonly string[];
  readonly unitM?: number;
}

/** Drawn over again by the writer, and here: twice interpolated. A shift by half a cell would double the mean. */
const bilinear = { resampled: true, withinM: 0.6, typicalM: 0.02 } as const;
const expected: Record<string, Expected> = {
  '00_reference_float32_striped.tif': {},
  '01_deflate_pred3_tiled64.tif': {},
  '02_lzw_pred3_striped.tif': {},
  '03_zstd_pred3.tif': {},
  '04_lerc_lossless.tif': {},
  '05_lerc_deflate_1cm.tif': { withinM: 0.0101 },
  '06_lerc_zstd.tif': {},
  '07_packbits.tif': {},
  '08_lzma_unusual.tif': { refused: 'elevation-compression' },
  '09_bigtiff.tif': {},
  '10_bigendian.tif': {},
  '11_float64.tif': {},
  '12_int16_decimetres_scale_offset.tif': { withinM: 0.0501, notes: ['steps'] },
  '13_uint16_centimetres_unscaled.tif': { withinM: 0.00501, unitM: 0.01 },
  '14_nodata_nan.tif': { empty: 1200 },
  '15_nodata_float_min_text.tif': { empty: 1200 },
  '16_nodata_tag_missing_but_minus9999_present.tif': { empty: 1200, notes: ['absurd-heights'] },
  '17_pixel_is_point.tif': {},
  '18_geographic_4326_degrees.tif': { ...bilinear, withinM: 0.9 },
  '19_web_mercator_3857.tif': bilinear,
  '20_state_plane_usft_metre_heights_2283.tif': { withinM: 1e-4, unitM: 1 },
  '21_compound_crs_heights_us_survey_feet_navd88.tif': {},
  '22_heights_in_feet_nothing_says_so.tif': { unitM: surveyFootM },
  '23_compound_crs_navd88_metres.tif': {},
  '24_rotated_transform_20deg.tif': { resampled: true, withinM: Infinity },
  '25_south_up.tif': {},
  '26_rectangular_cells_2x1m.tif': bilinear,
  '27_no_crs.tif': { refused: 'elevation-no-crs' },
  '28_no_georeferencing_at_all.tif': { refused: 'elevation-no-georeference' },
  '29_internal_mask.tif': { empty: 1000 },
  '30_two_bands_dtm_dsm_pixel_interleaved.tif': { notes: ['several-bands'] },
  '31_sparse_missing_tiles.tif': { withinM: Infinity },
  '32_all_nodata.tif': { refused: 'elevation-all-nodata' },
  '33_one_pixel.tif': { withinM: Infinity },
  '34_inf_nan_huge_values_mixed.tif': { empty: 64 },
  '35_hole_and_nodata_border.tif': { empty: 1800 },
  '36_zero_used_as_void_no_tag.tif': { empty: 1200, notes: ['zeros-taken-as-void'] },
  '37_rgb_hillshade_not_elevation.tif': { refused: 'elevation-is-picture' },
  '38_vertical_step_integer_metres.tif': { withinM: 0.501, notes: ['coarse-steps'] },
  '40_truncated_half.tif': { refused: 'elevation-truncated' },
  '41_truncated_header_only_8_bytes.tif': { refused: 'elevation-truncated' },
  '42_empty_file.tif': { refused: 'elevation-not-tiff' },
  '43_text_renamed_to_tif.tif': { refused: 'elevation-not-tiff' },
  '44_corrupt_bytes_in_one_tile.tif': { refused: 'elevation-damaged' },
  '53_cog.tif': {},
};

/** Opens a file and reads all of it, asking for no more than its middle to be covered. */
async function readAll(path: string, name: string, unitM?: number): Promise<Elevation> {
  const file = await openElevation({ name, path });
  return readWindow(file, {
    area: middle(file, 0.05),
    marginM: 300,
    ...(unitM === undefined ? {} : { verticalUnitM: unitM }),
  });
}

function middle({ description }: ElevationFile, share: number): Area {
  const { west, south, east, north } = description.bounds;
  const [lng, lat] = [(west + east) / 2, (south + north) / 2];
  const [x, y] = [((east - west) * share) / 2, ((north - south) * share) / 2];
  return [lng - x, lat - y, lng + x, lat + y];
}

/**
 * Differences of one window from another at the centres of the first's cells, the second interpolated between
 * the centres of its cells.
 */
function differences(
  elevation: Elevation,
  reference: Elevation,
): { worst: number; typical: number } {
  const { toLngLat } = makeFrame(elevation.grid.frame);
  const { toLocal } = makeFrame(reference.grid.frame);
  let worst = 0;
  let sum = 0;
  let count = 0;
  for (let i = 0; i < elevation.grid.z.length; i++) {
    const between = interpolated(reference, toLocal(toLngLat(cellCentre(elevation.grid, i))));
    const difference = Math.abs(elevationAt(elevation.grid, i) - between);
    if (Number.isNaN(difference)) continue;
    worst = Math.max(worst, difference);
    sum += difference;
    count++;
  }
  expect(count).toBeGreaterThan(0);
  return { worst, typical: sum / count };
}

function interpolated({ grid }: Elevation, [x, y]: XY): number {
  // Rounded to a millionth of a cell, so that a place on a cell's centre needs no neighbour.
  const column = Math.round(1e6 * ((x - grid.westM) / grid.cellM - 0.5)) / 1e6;
  const row = Math.round(1e6 * ((grid.northM - y) / grid.cellM - 0.5)) / 1e6;
  const [c, r] = [Math.floor(column), Math.floor(row)];
  let sum = 0;
  for (const [dx, dy] of [
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
  ]) {
    const share = (dx ? column - c : 1 - column + c) * (dy ? row - r : 1 - row + r);
    if (share === 0) continue;
    if (c + dx < 0 || r + dy < 0 || c + dx >= grid.width || r + dy >= grid.height)
      return Number.NaN;
    sum += share * elevationAt(grid, (r + dy) * grid.width + c + dx);
  }
  return sum;
}

describe.skipIf(!there)(title, () => {
  it('covers every file of the folder', () => {
    const files = readdirSync(folder).filter((name) => name.endsWith('.tif'));
    expect(files.sort()).toEqual(Object.keys(expected).sort());
  });

  it.each(Object.entries(expected))('%s', async (name, answer) => {
    const reading = readAll(join(folder, name), name, answer.unitM);
    if (answer.refused !== undefined) {
      await expect(reading).rejects.toBeInstanceOf(InputError);
      await expect(reading).rejects.toMatchObject({ code: answer.refused });
      return;
    }
    const elevation = await reading;
    expect(elevation.resampled).toBe(answer.resampled ?? false);
    const codes = elevation.notes.map(({ code }) => code);
    for (const note of answer.notes ?? []) expect(codes).toContain(note);
    const reference = await readAll(join(folder, '00_reference_float32_striped.tif'), 'reference');
    const { worst, typical } = differences(elevation, reference);
    expect(worst).toBeLessThanOrEqual(answer.withinM ?? 2e-5);
    if (answer.typicalM !== undefined) expect(typical).toBeLessThan(answer.typicalM);
    if (answer.empty !== undefined) {
      expect(elevation.grid.z.filter((z) => Number.isNaN(z)).length).toBe(answer.empty);
    }
  });

  it('heights in centimetres without a word are noticed', async () => {
    const name = '13_uint16_centimetres_unscaled.tif';
    const { notes } = await readAll(join(folder, name), name);
    expect(notes.map(({ code }) => code)).toContain('implausibly-steep');
  });

  it('formats that are no GeoTIFF are named', async () => {
    const open = (name: string) => openElevation({ name, path: join(folder, name) });
    await expect(open('50_ascii_grid.asc')).rejects.toThrow(/text grid, not a GeoTIFF/);
    await expect(open('54_png16_with_pgw.png')).rejects.toThrow(/picture \(PNG or JPEG\)/);
    await expect(open('52_points.xyz')).rejects.toThrow(/not a GeoTIFF/);
  });
});

/** A window written to a file as a result is, and read from it again. */
async function writtenAndRead({ grid, written }: Elevation): Promise<Elevation> {
  const bytes = await writeGeoTiff(grid, written === null ? {} : { system: written });
  const file = await openElevation({ name: 'written.tif', blob: new Blob([bytes]) });
  return readWindow(file, { verticalUnitM: 1 });
}

describe.skipIf(!there)(`real files${there ? '' : ': left out, LOTFALL_DATA is unset'}`, () => {
  it('each of them reads and can be written in its own place, or is refused with a sentence', async () => {
    let read = 0;
    for (const name of readdirSync(samples)) {
      const outcome = await readAll(join(samples, name), name).catch((error: unknown) => {
        expect(error, name).toBeInstanceOf(InputError);
        expect((error as InputError).message).toMatch(/: .+; .+\.$/);
        return null;
      });
      if (outcome === null) continue;
      read++;
      const { worst } = differences(await writtenAndRead(outcome), outcome);
      expect(worst, name).toBeLessThan(1e-3);
    }
    expect(read).toBe(10);
  });

  it('a national one-metre raster is used cell for cell', async () => {
    const name = 'nz_1m_dem_BS28_1000_1141.tif';
    const elevation = await readAll(join(samples, name), name);
    expect(elevation.resampled).toBe(false);
    expect([elevation.grid.width, elevation.grid.height]).toEqual([63, 244]);
    expect(elevation.systemName).toBe('NZGD2000 / New Zealand Transverse Mercator 2000');
    expect(elevation.grid.cellM).toBeCloseTo(1, 3);
  });

  it('surface models and heights above ground are told from bare earth', async () => {
    const said = async (...path: string[]) => {
      const { notes } = await readAll(join(data ?? '', ...path), path.join('/'));
      return notes.find(({ code }) => code === 'surface-model')?.text.slice(0, 15);
    };
    const town = 'alexandria_2m_dtm_dsm_buildings';
    const street = 'montpellier_50cm';
    const [surface, above] = ['This looks like', 'These look like'];
    expect(await said(town, 'dtm.tif')).toBeUndefined();
    expect(await said(town, 'dsm.tif')).toBe(surface);
    expect(await said(town, 'hag.tif')).toBe(above);
    for (const bare of ['dtm_050_filled.tif', 'agency_DTM_77055_627760_50cm.tif']) {
      expect(await said(street, bare)).toBeUndefined();
    }
    expect(await said(street, 'dsm_050.tif')).toBe(surface);
    expect(await said(street, 'agency_DSM_77055_627760_50cm.tif')).toBe(surface);
    expect(await said(street, 'agency_DHM_77055_627760_50cm.tif')).toBe(above);
    expect(await said('encodings', 'real_samples', 'nz_1m_dem_BS28_1000_1141.tif')).toBeUndefined();
  });

  it('a street at half a metre keeps its relief of 1.6 m, small holes filled and a large one left', async () => {
    const path = join(data!, 'montpellier_50cm', 'dtm_050_with_gap.tif');
    const elevation = await readAll(path, 'gap');
    expect(elevation.highestM - elevation.lowestM).toBeCloseTo(1.636, 2);
    expect(elevation.filled.count).toBeGreaterThan(0);
    expect(elevation.filled.areaM2).toBeLessThan(50);
    const whole = await readAll(join(data!, 'montpellier_50cm', 'dtm_050_filled.tif'), 'whole');
    expect(differences(elevation, whole).worst).toBeLessThan(0.1);
    expect(elevation.grid.z.filter((z) => Number.isNaN(z)).length).toBeGreaterThan(1500);
  });
});
