import { createServer, type Server } from 'node:http';
import { readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DrainageResult } from '../../lib/drainage/answer/drainage-result';
import { openElevation } from '../../lib/elevation/file/open-elevation';
import { bareLot, broken, demoElevation, demoPlan, save, squareLot, tempFolder } from './inputs';
import { documentOf, expectRefused, lotfall, lotfalls } from './run-lotfall';

const at = tempFolder();

/** A lot of 12 m on the 24 by 20 m of the broken rasters. */
const small = (): string => save(at('small.geojson'), squareLot(4, 4, 12));
/** A lot of 100 m on the raster with cells of 10 m. */
const wide = (): string => save(at('wide.geojson'), squareLot(40, 40, 100));

describe('elevation that cannot be used is refused with a sentence', () => {
  const cases: readonly (readonly [string, readonly (string | RegExp)[]])[] = [
    ['not-a-tiff', ['not a GeoTIFF', 'choose a GeoTIFF']],
    ['web-page', ['it is a web page', 'choose a GeoTIFF']],
    ['no-georeference', ['where on the ground it lies', 'with a GIS']],
    ['header-only', ['cut short', 'download it again']],
    ['data-cut', ['cut short', 'download it again']],
    ['damaged-block', ['damaged', 'download it again']],
    ['all-nodata', ['no elevation data around the lot', 'another source']],
    ['unknown-system', ['EPSG:20999', 'reproject it']],
    ['one-giant-strip', ['40000 by 40000 cells', 'no part of it can be read alone', 'tiled']],
    ['absurd-size', ['4000000000 by 20 cells', 'download it again']],
    ['absurd-tile', ['tiles of 1000000000', 'download it again']],
    ['picture', ['a picture, not heights', 'bare earth']],
  ];

  it.concurrent.each(cases)('%s', async (name, parts) => {
    const run = await lotfall('setbacks', small(), '--elevation', broken(`${name}.tif`));
    expectRefused(run, new RegExp(`^${name}\\.tif: `), ...parts);
  });

  it('the lot lies elsewhere, or only partly on it', async () => {
    const beyond = save(at('beyond.geojson'), squareLot(16, 4, 12));
    const [elsewhere, partly] = await lotfalls(
      ['setbacks', demoPlan, '-e', broken('sound.tif')],
      ['setbacks', beyond, '-e', broken('sound.tif')],
    );
    expectRefused(elsewhere, 'sound.tif: it does not cover the lot', 'another part of the world');
    expectRefused(
      partly,
      'it does not cover the whole lot',
      /reaches 4(\.\d)? m beyond it to the east/,
    );
  });
});

describe('coarse cells', () => {
  it('of 10 m: siting is refused with the reason, drainage warned of before any figure', async () => {
    const raster = broken('cells-of-10-m.tif');
    const [words, json, drainage] = await lotfalls(
      ['sites', wide(), '-e', raster],
      ['sites', wide(), '-e', raster, '--json'],
      ['drainage', wide(), '-e', raster],
    );
    const reason = /cells are 10 m wide\. Above 5 m .* no site is chosen/;
    expect(words.status).toBe(0);
    expect(words.stdout).toContain('No place on this lot is proposed');
    expect(words.stdout).toMatch(reason);
    const sites = documentOf(json) as { sites: unknown[]; lot_m2: number; notes: string[] };
    expect(sites.sites).toEqual([]);
    expect(sites.notes[0]).toMatch(reason);
    expect(sites.lot_m2).toBeCloseTo(10_000, -2);
    expect(drainage.stdout).toMatch(
      /^Bare lot: [^\n]+\n\nNote: These heights cannot show a yard: the cells are 10 m wide/,
    );
    expect(drainage.stdout.match(/cells are 10 m wide/g)).toHaveLength(1);
  });

  it('of 3 m: sites are found and the cells warned of', async () => {
    const lot = save(at('forty.geojson'), squareLot(20, 10, 40));
    const run = await lotfall('sites', lot, '-e', broken('cells-of-3-m.tif'), '--json');
    const { sites, notes } = documentOf(run) as { sites: unknown[]; notes: string[] };
    expect(sites.length).toBeGreaterThan(0);
    expect(notes.some((note) => note.startsWith('The cells are 3 m wide'))).toBe(true);
  });
});

describe('heights whose unit the file does not say', () => {
  it('are asked for with the relief under each reading, and read as told', async () => {
    const raster = broken('feet-without-vertical-unit.tif');
    const blob = new Blob([readFileSync(raster)]);
    const { description } = await openElevation({ name: 'feet', blob });
    const { west, south, east, north } = description.bounds;
    const corner = (e: number, n: number) =>
      [west + e * (east - west), south + n * (north - south)] as const;
    const lot = bareLot([corner(0.2, 0.2), corner(0.8, 0.2), corner(0.8, 0.8), corner(0.2, 0.8)]);
    const plan = save(at('feet.geojson'), lot);
    const [asked, metres, feet] = await lotfalls(
      ['drainage', plan, '-e', raster],
      ['setbacks', plan, '-e', raster, '--vertical-unit', 'm'],
      ['drainage', plan, '-e', raster, '--vertical-unit', 'us-ft', '--json'],
    );
    expectRefused(
      asked,
      'feet-without-vertical-unit.tif: ',
      'does not say in what unit its heights are',
      /--vertical-unit m \(.*1\.14 m of relief\).*--vertical-unit ft \(.*35 cm.*--vertical-unit us-ft/,
    );
    // the lot has no basin, and is judged by the rules that need none
    expect(metres).toMatchObject({ status: 0 });
    expect((documentOf(feet) as DrainageResult).grid.cell_m).toBeCloseTo(3 * (1200 / 3937), 3);
  });
});

describe('elevation at an address', () => {
  const bytes = readFileSync(demoElevation);
  let server: Server;
  let base = '';
  let requests: string[] = [];

  beforeAll(async () => {
    server = createServer((request, response) => {
      const range = /bytes=(\d+)-(\d+)/.exec(request.headers.range ?? '');
      if (request.url !== '/lot.tif' || range === null) {
        response.writeHead(404).end();
        return;
      }
      requests.push(range[0]);
      const from = Number(range[1]);
      const to = Math.min(Number(range[2]), bytes.length - 1);
      response
        .writeHead(206, {
          'content-range': `bytes ${from}-${to}/${bytes.length}`,
          'content-length': to - from + 1,
        })
        .end(bytes.subarray(from, to + 1));
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  });
  afterAll(() => {
    server.closeAllConnections();
    server.close();
  });

  it('is read by ranges and answers as the file does', async () => {
    requests = [];
    const [remote, local, gone] = await lotfalls(
      ['drainage', demoPlan, '-e', `${base}/lot.tif`, '--json'],
      ['drainage', demoPlan, '-e', demoElevation, '--json'],
      ['drainage', demoPlan, '-e', `${base}/gone.tif`],
    );
    // The plan names the file that it was drawn on; the address has another name.
    const { notes: said, ...answer } = documentOf(remote) as { notes: string[] };
    const { notes, ...expected } = documentOf(local) as { notes: string[] };
    expect(answer).toEqual(expected);
    expect(said[0]).toMatch(/^The plan was drawn on lot\.elevation\.tif .*, not on http:/);
    expect(said.slice(1)).toEqual(notes);
    expect(requests[0]).toBe('bytes=0-65535');
    expect(requests.length).toBeGreaterThan(1);
    expectRefused(gone, `${base}/gone.tif: `, 'status 404', 'check the address');
  });
});
