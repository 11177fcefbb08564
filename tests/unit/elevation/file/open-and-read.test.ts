import { deflateSync } from 'node:zlib';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import {
  ascii,
  cornerAndCell,
  double,
  type RasterParts,
  short,
  writeRaster,
} from '../../../../fixtures/broken/tiff';
import { type ElevationFile, openElevation } from '../../../../lib/elevation/file/open-elevation';
import { readWindow, verticalReadings } from '../../../../lib/elevation/window/read-window';
import { InputError } from '../../../../lib/errors';
import {
  codes,
  EAST,
  lngLatAt,
  lot,
  NORTH,
  planeAt,
  planeM,
  planeRaster,
  UTM_KEYS,
  worstErrorM,
} from '../plane';

function open(parts: RasterParts) {
  return openElevation({ name: 'plane.tif', blob: new Blob([writeRaster(parts)]) });
}

/** A raster of the plane in another projection, `cell` units wide, around the same place. */
function inProjection(
  definition: string,
  cell: number,
  keys: Record<number, number>,
  toMetres = 1,
): RasterParts {
  const transform = proj4(definition);
  const [x, y] = transform.forward<[number, number]>([...lngLatAt(EAST, NORTH)]);
  const [west, north] = [(x - 40 * cell) / toMetres, (y + 40 * cell) / toMetres];
  const side = cell / toMetres;
  return {
    width: 80,
    height: 80,
    z: (column, row) =>
      planeAt(
        transform.inverse<[number, number]>([
          (west + (column + 0.5) * side) * toMetres,
          (north - (row + 0.5) * side) * toMetres,
        ]),
      ),
    place: cornerAndCell(west, north, side),
    keys,
  };
}

/** Area of one of the file's own cells on the ground. */
function sourceCellM2({ description }: ElevationFile): number {
  return description.cellM.alongRow * description.cellM.alongColumn;
}

async function read(parts: RasterParts, options = {}) {
  return readWindow(await open(parts), { area: [lot], marginM: 9.5, ...options });
}

describe('when a file was written', () => {
  const dated = async (text: string) =>
    (await open({ ...planeRaster(), tags: { 306: ascii(text) } })).description.writtenOn;

  it('is the day that its header gives, and none where that is no day', async () => {
    expect(await dated('2019:04:30 12:00:00')).toBe('2019-04-30');
    expect(await dated('2019-04-30T12:00')).toBe('2019-04-30');
    expect(await dated('0000:00:00 00:00:00')).toBeNull();
    expect(await dated('2019:02:31 00:00:00')).toBeNull();
    expect((await open(planeRaster())).description.writtenOn).toBeNull();
  });
});

describe('a file in WGS 84 / UTM zone 18N', () => {
  it('is described from its header', async () => {
    const { description } = await open(planeRaster());
    expect(description).toMatchObject({
      width: 80,
      height: 60,
      bands: 1,
      numbers: '32-bit float',
      nodata: null,
      needs: [],
      system: { name: 'WGS 84 / UTM zone 18N', code: 32618, kind: 'projected', unitM: 1 },
      vertical: { metres: 1, name: 'metres', known: 'key' },
      notes: [],
    });
    const { south, north, west, east } = description.bounds;
    const [lng, lat] = lngLatAt(EAST, NORTH);
    expect((west + east) / 2).toBeCloseTo(lng, 5);
    expect((south + north) / 2).toBeCloseTo(lat, 5);
    // The point scale of UTM is 1 here but for parts in ten thousand.
    expect(description.cellM.alongRow).toBeCloseTo(1, 3);
    expect(description.cellM.alongColumn).toBeCloseTo(1, 3);
  });

  it('is used cell for cell, with the scale of the projection taken out', async () => {
    const elevation = await read(planeRaster());
    const { grid } = elevation;
    expect([grid.width, grid.height]).toEqual([40, 40]);
    expect(elevation.resampled).toBe(false);
    expect(grid.frame.originEast).toBe(EAST);
    expect(grid.cellM).toBe(grid.frame.metresPerUnit);
    expect(worstErrorM(elevation)).toBeLessThan(1e-4);
    expect(grid.westM).toBeCloseTo(-20 * grid.cellM, 9);
    expect(grid.northM).toBeCloseTo(20 * grid.cellM, 9);
    const lowest = grid.z.reduce((a, b) => Math.min(a, b));
    expect(lowest).toBeGreaterThanOrEqual(1);
    expect(lowest).toBeLessThan(2);
    expect(Number.isInteger(grid.datumM)).toBe(true);
  });

  it('tells sides where more data lie from those where the data end', async () => {
    const file = await open(planeRaster());
    const at = async (marginM: number) => (await readWindow(file, { area: [lot], marginM })).edges;
    expect(await at(5)).toEqual({
      north: 'window',
      east: 'window',
      south: 'window',
      west: 'window',
    });
    expect(await at(25)).toEqual({ north: 'data', east: 'window', south: 'data', west: 'window' });
    expect(await at(100)).toEqual({ north: 'data', east: 'data', south: 'data', west: 'data' });
  });
});

describe('layouts that mean the same ground', () => {
  const sameGround: [string, RasterParts][] = [
    ['tiles', { ...planeRaster(), tile: 16 }],
    ['big-endian', { ...planeRaster(), bigEndian: true }],
    [
      'deflate tiles',
      { ...planeRaster(), tile: 32, tags: { 259: short(8) }, pack: (b) => deflateSync(b) },
    ],
    [
      'tie point at the cell centre',
      {
        ...planeRaster(),
        keys: { ...UTM_KEYS, 1025: 2 },
        place: cornerAndCell(EAST - 39.5, NORTH + 29.5, 1),
      },
    ],
    [
      'tie point at another cell',
      {
        ...planeRaster(),
        place: { 33550: double(1, 1, 0), 33922: double(40, 30, 0, EAST, NORTH, 0) },
      },
    ],
    [
      'transformation matrix',
      {
        ...planeRaster(),
        place: { 34264: double(1, 0, 0, EAST - 40, 0, -1, 0, NORTH + 30, 0, 0, 0, 0, 0, 0, 0, 1) },
      },
    ],
    [
      'south-up',
      {
        ...planeRaster(),
        z: (column, row) => planeM(EAST - 40 + column + 0.5, NORTH - 30 + row + 0.5),
        place: { 34264: double(1, 0, 0, EAST - 40, 0, 1, 0, NORTH - 30, 0, 0, 0, 0, 0, 0, 0, 1) },
      },
    ],
    [
      'east to west',
      {
        ...planeRaster(),
        z: (column, row) => planeM(EAST + 40 - column - 0.5, NORTH + 30 - row - 0.5),
        place: { 34264: double(-1, 0, 0, EAST + 40, 0, -1, 0, NORTH + 30, 0, 0, 0, 0, 0, 0, 0, 1) },
      },
    ],
    [
      'scale and offset',
      {
        ...planeRaster(),
        z: (column, row) => (planeM(EAST - 40 + column + 0.5, NORTH + 30 - row - 0.5) - 7) / 0.5,
        tags: {
          42112: ascii(
            '<GDALMetadata><Item name="OFFSET" sample="0" role="offset">7</Item><Item name="SCALE" sample="0" role="scale">0.5</Item></GDALMetadata>',
          ),
        },
      },
    ],
  ];
  it.each(sameGround)('%s', async (_, parts) => {
    const elevation = await read(parts);
    expect(elevation.resampled).toBe(false);
    expect([elevation.grid.width, elevation.grid.height]).toEqual([40, 40]);
    expect(worstErrorM(elevation)).toBeLessThan(1e-4);
  });

  it('keeps sides in mind when the file runs south to north', async () => {
    const southUp = sameGround.find(([name]) => name === 'south-up')![1];
    const shifted = { area: [lot.map(([lng, lat]) => [lng, lat + 15 / 111_000] as const)] };
    const { edges } = await read(southUp, { ...shifted, marginM: 8 });
    expect(edges).toEqual({ north: 'data', east: 'window', south: 'window', west: 'window' });
  });
});

describe('rasters that have to be interpolated', () => {
  const turn = (20 * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const rotated: RasterParts = {
    ...planeRaster(),
    z: (column, row) => {
      const [x, y] = [column + 0.5 - 40, row + 0.5 - 30];
      return planeM(EAST + x * cos - y * sin, NORTH - x * sin - y * cos);
    },
    place: {
      34264: double(
        ...[cos, -sin, 0, EAST - 40 * cos + 30 * sin],
        ...[-sin, -cos, 0, NORTH + 40 * sin + 30 * cos],
        ...[0, 0, 0, 0, 0, 0, 0, 1],
      ),
    },
  };
  const rectangular: RasterParts = {
    ...planeRaster(),
    height: 30,
    z: (column, row) => planeM(EAST - 40 + column + 0.5, NORTH + 30 - 2 * (row + 0.5)),
    place: cornerAndCell(EAST - 40, NORTH + 30, 1, 2),
  };
  const cases: [string, RasterParts, number][] = [
    [
      'degrees',
      inProjection('+proj=longlat +datum=WGS84', 1e-5, { 1024: 2, 1025: 1, 2048: 4326 }),
      0.87,
    ],
    [
      'web Mercator',
      inProjection('+proj=merc +a=6378137 +b=6378137 +nadgrids=@null +units=m', 1.3, {
        1024: 1,
        1025: 1,
        3072: 3857,
        4099: 9001,
      }),
      1.01,
    ],
    ['rotated by 20 degrees', rotated, 1],
    ['cells twice as long as wide', rectangular, 1],
  ];
  it.each(cases)('%s', async (_, parts, cellM) => {
    const elevation = await read(parts);
    expect(elevation.resampled).toBe(true);
    expect(codes(elevation)).toContain('resampled');
    expect(elevation.grid.cellM).toBeCloseTo(cellM, 2);
    // The plane is one in UTM only, so bilinear interpolation elsewhere is off by its curvature.
    expect(worstErrorM(elevation)).toBeLessThan(1e-3);
    expect(elevation.grid.z.some((z) => Number.isNaN(z))).toBe(false);
    expect(elevation.edges).toEqual({
      north: 'window',
      east: 'window',
      south: 'window',
      west: 'window',
    });
  });

  it.each(cases)('whole, when no area is named: %s', async (_, parts) => {
    const { grid } = await readWindow(await open(parts));
    const cells = grid.z.filter((z) => !Number.isNaN(z)).length;
    const { cellM } = await read(parts).then((window) => window.grid);
    const rasterM2 = parts.width * parts.height * sourceCellM2(await open(parts));
    // The outermost half cell is left blank where the frame is turned against the raster.
    expect((cells * cellM ** 2) / rasterM2).toBeGreaterThan(0.94);
    expect((cells * cellM ** 2) / rasterM2).toBeLessThan(1.01);
  });

  it('ends where the data end', async () => {
    const elevation = await read(rectangular, { marginM: 100 });
    expect(elevation.edges).toEqual({ north: 'data', east: 'data', south: 'data', west: 'data' });
    // Local north differs from grid north by about a degree, so corners stick out.
    expect(elevation.grid.width).toBeLessThan(84);
    expect(worstErrorM(elevation)).toBeLessThan(0.06);
  });
});

describe('feet', () => {
  const foot = 1200 / 3937;
  const virginia =
    '+proj=lcc +lat_0=37.6666666666667 +lon_0=-78.5 +lat_1=39.2 +lat_2=38.0333333333333 +x_0=3500000 +y_0=2000000 +ellps=GRS80 +towgs84=0,0,0,0,0,0,0 +units=m +no_defs';
  const keys = { 1024: 1, 1025: 1, 3072: 2283 };

  it('on the map are not counted twice, and the heights are asked for', async () => {
    const file = await open(inProjection(virginia, 3 * foot, keys, foot));
    expect(file.description.needs).toEqual(['vertical-unit']);
    expect(file.description.system.unitM).toBeCloseTo(foot, 9);
    await expect(readWindow(file, { area: [lot], marginM: 10 })).rejects.toMatchObject({
      code: 'elevation-vertical-unit',
    });
    const elevation = await readWindow(file, { area: [lot], marginM: 10, verticalUnitM: 1 });
    expect(elevation.resampled).toBe(false);
    expect(elevation.grid.cellM).toBeCloseTo(3 * foot, 3);
    // The database gives the projection's constants to ten digits: a tenth of a millimetre of place.
    expect(worstErrorM(elevation)).toBeLessThan(1e-3);
    expect(codes(elevation)).not.toContain('vertical-unit-unknown');
  });

  it('shows the relief under each reading', async () => {
    const file = await open(inProjection(virginia, 3 * foot, keys, foot));
    const readings = await verticalReadings(file, { area: [lot], marginM: 10 });
    expect(readings.map(({ unit }) => unit)).toEqual(['metres', 'feet', 'US survey feet']);
    const [metres, feet, surveyFeet] = readings;
    expect(metres.reliefM).toBeGreaterThan(2.5);
    expect(feet.reliefM / metres.reliefM).toBeCloseTo(0.3048, 9);
    expect(surveyFeet.reliefM / metres.reliefM).toBeCloseTo(foot, 9);
  });

  it.each([
    ['a unit key', { 4099: 9003 }, foot],
    ['the code of the height system', { 4096: 6360 }, foot],
    ['the code of a system only the database knows', { 4096: 8050 }, 0.3048],
    ['an international foot key', { 4099: 9002 }, 0.3048],
  ])('of height are known by %s', async (_, more, unitM) => {
    const raster = planeRaster();
    const elevation = await read({
      ...raster,
      keys: { 1024: 1, 1025: 1, 3072: 32618, ...more },
      z: (column, row) => raster.z(column, row) / unitM,
    });
    expect(elevation.vertical).toMatchObject({ known: 'key' });
    expect(elevation.vertical.metres).toBeCloseTo(unitM, 12);
    expect(worstErrorM(elevation)).toBeLessThan(1e-4);
  });

  it('are assumed not to be meant on a metric map, with a note, until the user says so', async () => {
    const raster = planeRaster();
    const silent = { ...raster, keys: { 1024: 1, 1025: 1, 3072: 32618 } };
    expect(codes(await read(silent))).toContain('vertical-unit-assumed');
    const given = await read(silent, { verticalUnitM: 0.3048 });
    expect(given.vertical).toEqual({ metres: 0.3048, name: 'feet', known: 'given' });
    expect(codes(given)).not.toContain('vertical-unit-assumed');
    expect(given.highestM - given.lowestM).toBeCloseTo(0.3048 * 39 * 0.08, 3);
  });
});

describe('cells without data', () => {
  const holed = (isHole: (column: number, row: number) => boolean): RasterParts => {
    const raster = planeRaster();
    return {
      ...raster,
      tags: { 42113: ascii('-9999') },
      z: (column, row) => (isHole(column, row) ? -9999 : raster.z(column, row)),
    };
  };

  it('are filled in small holes, and counted', async () => {
    const elevation = await read(holed((c, r) => Math.abs(c - 40) <= 1 && Math.abs(r - 30) <= 1));
    expect(elevation.filled.count).toBe(1);
    expect(elevation.filled.areaM2).toBeCloseTo(9, 1);
    expect(elevation.filled.mask!.reduce((a, b) => a + b)).toBe(9);
    expect(codes(elevation)).toContain('holes-filled');
    // A film over a plane is the plane.
    expect(worstErrorM(elevation)).toBeLessThan(2e-4);
    expect(elevation.grid.z.some((z) => Number.isNaN(z))).toBe(false);
  });

  it('stay in large holes', async () => {
    const elevation = await read(holed((c, r) => Math.abs(c - 40) <= 3 && Math.abs(r - 30) <= 3));
    expect(elevation.filled).toEqual({ mask: null, count: 0, areaM2: 0 });
    expect(elevation.grid.z.filter((z) => Number.isNaN(z)).length).toBe(49);
    expect(codes(elevation)).toEqual(['holes-left', 'area-without-data']);
  });

  it('do not leak into interpolated neighbours', async () => {
    const parts = inProjection('+proj=longlat +datum=WGS84', 1e-5, {
      1024: 2,
      1025: 1,
      2048: 4326,
    });
    const elevation = await read({
      ...parts,
      z: (column, row) =>
        Math.abs(column - 40) <= 5 && Math.abs(row - 40) <= 5 ? -9999 : parts.z(column, row),
      tags: { 42113: ascii('-9999') },
    });
    expect(elevation.grid.z.some((z) => Number.isNaN(z))).toBe(true);
    // Beside the hole the weights shift by up to half a cell.
    expect(worstErrorM(elevation)).toBeLessThan(0.05);
  });
});

describe('refusals', () => {
  const moved = (eastM: number, northM: number) => [
    [
      lngLatAt(EAST + eastM - 10, NORTH + northM - 10),
      lngLatAt(EAST + eastM + 10, NORTH + northM + 10),
    ],
  ];
  it.each([
    [38, 0, /does not cover the whole lot, which reaches 8\.0 m beyond it to the east/],
    [0, -29, /does not cover the whole lot, which reaches 9\.0 m beyond it to the south/],
    [3000, 3000, /does not cover the lot, which lies up to 4\.\d km beyond it to the north-east/],
    [0, 2_000_000, /another part of the world/],
  ])('a lot %s m east and %s m north', async (eastM, northM, sentence) => {
    const reading = read(planeRaster(), { area: moved(eastM, northM) });
    await expect(reading).rejects.toThrow(sentence);
    await expect(reading).rejects.toMatchObject({ code: 'elevation-not-covering' });
  });

  it('a window of too many cells', async () => {
    await expect(read(planeRaster(), { maxCells: 300 })).rejects.toMatchObject({
      code: 'elevation-window-too-large',
    });
  });

  it('nothing when told to stop first', async () => {
    const stop = AbortSignal.abort();
    await expect(read(planeRaster(), { signal: stop })).rejects.toMatchObject({
      name: 'Cancelled',
    });
    await expect(
      openElevation({ name: 'x', blob: new Blob([]) }, { signal: stop }),
    ).rejects.toMatchObject({ name: 'Cancelled' });
  });

  it('a path where there is no file', async () => {
    const opening = openElevation({ name: 'gone.tif', path: 'no/such/folder/gone.tif' });
    await expect(opening).rejects.toBeInstanceOf(InputError);
    await expect(opening).rejects.toMatchObject({ code: 'elevation-not-found' });
  });
});
