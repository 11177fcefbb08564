import { decodeText } from './decode-text';
import type { Found, GivenFile } from './found-layer';
import { endingOf, namesInZip } from './open-zip';
import { readDxf } from './read-dxf';
import { readGeoJson } from './read-geojson';
import { readGeoPackage } from './read-geopackage';
import { readGpx } from './read-gpx';
import { readKml, readKmz } from './read-kml';
import { readPointTable } from './read-point-table';
import { readShapefile, readZippedShapefiles } from './read-shapefile';
import { refused } from './refused';
import { sqliteStart } from './sqlite-file';

/** As large a file as is read, bytes. Own choice: more than a county's parcels. */
export const mostBytes = 200 * 1024 * 1024;

/** What a file is by its first bytes, whatever its name ends in. */
type Form =
  | 'geojson'
  | 'shapefile'
  | 'zipped shapefiles'
  | 'kml'
  | 'kmz'
  | 'gpx'
  | 'dxf'
  | 'geopackage'
  | 'table';

/**
 * Reads what a designer has been given: the layers of a file in any of the formats known, told apart by what is in it.
 *
 * @throws {InputError} one sentence where the file is empty, cut, too large, or of another format.
 */
export async function readFound(file: GivenFile): Promise<Found> {
  if (file.bytes.length === 0) {
    throw refused(file.name, 'empty', 'it is empty', 'get it again from where it came');
  }
  expectSize(file.name, file.bytes.length);
  switch (formOf(file)) {
    case 'geojson':
      return readGeoJson(file);
    case 'zipped shapefiles':
      return readZippedShapefiles(file);
    case 'shapefile':
      return readShapefile(file);
    case 'kml':
      return readKml(file);
    case 'kmz':
      return readKmz(file);
    case 'gpx':
      return readGpx(file);
    case 'dxf':
      return readDxf(file);
    case 'geopackage':
      return readGeoPackage(file);
    case 'table':
      return readPointTable(file);
  }
}

/**
 * Asked before the bytes are there, too.
 *
 * @throws {InputError} `gather-large` for a file of more bytes than are read.
 */
export function expectSize(name: string, bytes: number): void {
  if (bytes <= mostBytes) return;
  throw refused(
    name,
    'large',
    `it has ${Math.round(bytes / 2 ** 20)} MB, and ${mostBytes / 2 ** 20} MB at most are read`,
    'cut out the surroundings of the lot in a GIS',
  );
}

/** Formats that are known and not read: how they begin, what they are, what to do. */
const others: readonly (readonly [start: string, what: string, remedy: string])[] = [
  ['AC10', 'a DWG drawing', 'save it as DXF'],
  ['AutoCAD Binary DXF', 'a binary DXF drawing', 'save it as text (ASCII) DXF'],
  ['%PDF', 'a PDF document', 'ask for the drawing behind it, as DXF or GIS data'],
  ['II*\0', 'a TIFF image', 'give it as elevation, if that is what it holds'],
  ['MM\0*', 'a TIFF image', 'give it as elevation, if that is what it holds'],
  ['\x89PNG', 'an image', 'bring in shapes, not a picture of them'],
  ['\xff\xd8\xff', 'an image', 'bring in shapes, not a picture of them'],
  ['fgb\x03', 'a FlatGeobuf file', 'save it as GeoJSON or GeoPackage'],
  ['PAR1', 'a Parquet file', 'save it as GeoJSON or GeoPackage'],
  ['\x1f\x8b', 'a file packed with gzip', 'unpack it first'],
  ['Rar!', 'a RAR archive', 'unpack it, and pack its files as ZIP'],
  ['7z\xbc\xaf', 'a 7z archive', 'unpack it, and pack its files as ZIP'],
];

function formOf(file: GivenFile): Form {
  const { name, bytes } = file;
  const start = String.fromCharCode(...bytes.subarray(0, 32));
  for (const [known, what, remedy] of others) {
    if (start.startsWith(known)) throw refused(name, 'format', `it is ${what}`, remedy);
  }
  if (start.startsWith(sqliteStart)) return 'geopackage';
  if (start.startsWith('PK')) return formInZip(file);
  if (start.startsWith('\0\0\x27\x0a')) return 'shapefile';
  const text = decodeText(bytes.subarray(0, 4096))
    .text.replace(/^\uFEFF/, '')
    .trimStart();
  if (text.startsWith('{') || text.startsWith('[')) return 'geojson';
  if (text.startsWith('<')) return formOfXml(text, name);
  if (/^(999\r?\n.*\r?\n\s*)*0\r?\n\s*SECTION\b/.test(text)) return 'dxf';
  if (!text.includes('\0') && /^[^\n\r]*[,;\t ][^\n\r]*[\n\r]/.test(text)) return 'table';
  throw refused(
    name,
    'format',
    'what is in it is none of the formats that are read',
    `bring in ${readFormats}`,
  );
}

/** What an archive holds, by the names in it. */
function formInZip(file: GivenFile): Form {
  const names = namesInZip(file);
  const has = (ending: string): boolean => names.some((name) => endingOf(name) === ending);
  if (has('shp')) return 'zipped shapefiles';
  if (has('kml')) return 'kmz';
  const held = names.some((name) => /\.gdb\//i.test(name))
    ? 'it holds a file geodatabase'
    : has('xlsx') || names.some((name) => name.startsWith('xl/'))
      ? 'it is a spreadsheet'
      : 'there is neither a shapefile nor a KML document in it';
  throw refused(file.name, 'format', held, `bring in ${readFormats}`);
}

function formOfXml(text: string, name: string): Form {
  const root = /<(?![?!])(?:[\w.-]+:)?([\w.-]+)/.exec(text)?.[1] ?? '';
  if (root === 'kml') return 'kml';
  if (root === 'gpx') return 'gpx';
  const what = /^html$/i.test(root) ? 'it is a web page' : `it is XML with <${root}> at its top`;
  throw refused(name, 'format', what, `bring in ${readFormats}`);
}

/** The formats in words. */
export const readFormats =
  'GeoJSON, shapefiles (zipped, or with their other files beside them), KML, KMZ, GPX, DXF, GeoPackage, CSV of points';
