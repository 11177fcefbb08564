import { readFileSync } from 'node:fs';
import { strToU8, zipSync, type Zippable } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { GivenFile } from '../../../lib/gather/found-layer';
import { readFound } from '../../../lib/gather/read-found';
import { systemOfCode } from '../../../lib/gather/system-of';
import { emptyPlan, gatherAs, given } from './given';

const fixture = (name: string): Uint8Array => readFileSync(`fixtures/gather/${name}`);
const zipped = (name: string, files: Zippable): GivenFile => ({ name, bytes: zipSync(files) });
const kml = (inside: string): string =>
  `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${inside}</Document></kml>`;
const placemark = (name: string): string =>
  `<Placemark><name>${name}</name><Point><coordinates>-87.1,42.5</coordinates></Point></Placemark>`;

/** An archive whose list says that its one file unpacks to 4 GB, as the list of a zip bomb does. */
function bomb(): GivenFile {
  const { bytes } = zipped('bomb.zip', { 'a.shp': new Uint8Array(1000) });
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const list = bytes.length - 22 - (46 + 'a.shp'.length);
  expect(view.getUint32(list, true)).toBe(0x02014b50);
  view.setUint32(list + 24, 0xfffffff0, true);
  return { name: 'bomb.zip', bytes };
}

describe('files that cannot be read say why in one sentence', () => {
  const cases: readonly (readonly [what: string, file: () => GivenFile, said: RegExp])[] = [
    ['a zip bomb', bomb, /unpacked it would take more than 400 MB/],
    [
      'a cut archive',
      () => ({ name: 'a.zip', bytes: fixture('trees-web.zip').slice(0, 300) }),
      /the archive is cut or damaged/,
    ],
    [
      'an archive of nothing',
      () => zipped('a.zip', { 'b.txt': strToU8('x') }),
      /neither a shapefile/,
    ],
    ['a spreadsheet', () => zipped('a.xlsx', { 'xl/a.xml': strToU8('x') }), /a spreadsheet/],
    [
      'a geodatabase',
      () => zipped('a.zip', { 'a.gdb/t.gdbtable': strToU8('x') }),
      /a file geodatabase/,
    ],
    [
      'a cut shapefile',
      () => {
        const shp = new Uint8Array(150);
        new DataView(shp.buffer).setInt32(0, 9994);
        new DataView(shp.buffer).setInt32(24, 400);
        new DataView(shp.buffer).setInt32(104, 300);
        return zipped('a.zip', { 'a.shp': shp });
      },
      /a\.shp breaks off after 0 shapes/,
    ],
    [
      'cut KML',
      () => given('a.kml', kml(placemark('x')).slice(0, -20)),
      /line 1, column \d+, it is cut/,
    ],
    [
      'KML with entities of its own',
      () => given('a.kml', `<!DOCTYPE kml [<!ENTITY a "aaaa">]>${kml(placemark('&a;')).slice(21)}`),
      /it is cut or no XML: undefined entity/,
    ],
    ['a web page', () => given('a.kml', '<!doctype html><html></html>'), /it is a web page/],
    ['other XML', () => given('a.xml', '<gml/>'), /XML with <gml> at its top/],
    [
      'a cut GeoPackage',
      () => ({ name: 'a.gpkg', bytes: fixture('all.gpkg').slice(0, 20_000) }),
      /the database is cut or damaged/,
    ],
    [
      'another database',
      () => {
        // One page of 512 bytes with no table on it (13 says that it is a leaf).
        const bytes = new Uint8Array(512);
        bytes.set(new TextEncoder().encode('SQLite format 3\0'));
        bytes[16] = 2;
        bytes[100] = 13;
        return { name: 'a.db', bytes };
      },
      /a database, but no GeoPackage/,
    ],
    ['a table without places', () => given('a.csv', 'name,size\na,1\nb,2\n'), /\(name, size\)/],
  ];
  it.each(cases)('%s', async (_, file, said) => {
    const refusal = readFound(file());
    await expect(refusal).rejects.toThrow(said);
    await expect(refusal).rejects.toThrow(/^[^\n]+: [^\n]+; [^\n]+\.$/);
  });
});

describe('odd files', () => {
  it('are told by what is in them, not by their ending', async () => {
    const { format } = await readFound({ name: 'gas.geojson', bytes: fixture('gas.kml') });
    expect(format).toBe('KML');
  });

  it('with folders, absolute paths or scripts in their names come in under plain names', async () => {
    const archive = zipped('x.zip', {
      '/etc/../<script>alert(1)</script>.kml': strToU8(kml(placemark('&lt;b>bold'))),
    });
    const { layers } = await readFound({ ...archive, name: '../../up/x.kmz' });
    expect(layers[0].name).toBe('x');
    expect(layers[0].shapes[0].properties).toMatchObject({ name: '<b>bold' });
  });

  it('that link elsewhere are read without what they link to', async () => {
    const link = '<NetworkLink><Link><href>http://127.0.0.1:9/a.kml</href></Link></NetworkLink>';
    const { layers, notes } = await readFound(given('a.kml', kml(link + placemark('x'))));
    expect(layers[0].shapes).toHaveLength(1);
    expect(notes.join()).toMatch(/1 links to documents elsewhere are not followed/);
  });

  it('have a layer for each folder', async () => {
    const folder = (name: string): string =>
      `<Folder><name>${name}</name>${placemark(name)}</Folder>`;
    const { layers } = await readFound(given('a.kml', kml(folder('Wells') + folder('Trees'))));
    expect(layers.map(({ name }) => name)).toEqual(['Wells', 'Trees']);
  });
});

describe('a datum whose shift is not in the file', () => {
  const older = (): GivenFile => ({ name: 'older.zip', bytes: fixture('older-datum.zip') });

  it('is asked about, with the code that it seems to be', async () => {
    const found = await readFound(older());
    expect(found.layers[0].system).toMatchObject({ is: 'doubtful', candidates: [28992] });
    const { change, layers } = await gatherAs(emptyPlan, found, 'well');
    expect(change).toBeNull();
    expect(layers[0].asked).toMatchObject({ asks: 'system', candidates: [28992] });
  });

  it('lies right once its code is named, and off when taken as written', async () => {
    const placeOf = async (options: object) => {
      const { change } = await gatherAs(emptyPlan, await readFound(older()), 'well', options);
      return change?.puts?.[0].geometry.coordinates.flat(2) ?? [];
    };
    const right = await placeOf({ system: await systemOfCode(28992, 'the test') });
    // The file was made of 5.2 degrees east, 52.7 north; a hundred metres are 1e-3 degrees.
    expect(Math.hypot(right[0] - 5.2, right[1] - 52.7)).toBeLessThan(2e-5);
    const off = await placeOf({ asWritten: true });
    expect(Math.hypot(off[0] - 5.2, off[1] - 52.7)).toBeGreaterThan(5e-4);
  });
});

describe('tables of points', () => {
  it('take degrees by their headings, and leave rows without numbers out', async () => {
    const text = 'name,Latitude,Longitude\nA,42.5,-87.1\nB,,\n';
    const { layers, notes } = await readFound(given('wells.csv', text));
    expect(layers[0].shapes.map(({ parts }) => parts)).toEqual([
      [{ type: 'Point', coordinates: [-87.1, 42.5] }],
      [],
    ]);
    expect(notes.join()).toMatch(/Longitude and Latitude are taken to be degrees on WGS 84/);
  });

  it('take a unit of their own for one that is not the system’s', async () => {
    const found = await readFound(given('a.csv', 'x,y\n1640419.9475,0\n1640419.9475,9\n'));
    const system = await systemOfCode(26916, 'the test');
    // 1640419.9475 feet are 500 km, the middle of the zone.
    const { change } = await gatherAs(emptyPlan, found, 'well', { system, unitM: 0.3048 });
    expect(change?.puts?.[0].geometry.coordinates[0]).toBeCloseTo(-87, 6);
  });
});
