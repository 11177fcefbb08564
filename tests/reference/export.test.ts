import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { frameAround } from '../../lib/frame/frame-around';
import type { LngLat } from '../../lib/frame/frame';
import { groundOffset } from '../../lib/frame/ground-offset';
import { positionsOfPart, type FilePosition } from '../../lib/gather/found-layer';
import { placing } from '../../lib/gather/place-shapes';
import { readFound } from '../../lib/gather/read-found';
import { exportLayers, type ExportLayer } from '../../lib/handover/export/export-layers';
import { dxfOf } from '../../lib/handover/export/write-dxf';
import { geoPackageOf } from '../../lib/handover/export/write-geopackage';
import { shapefilesOf } from '../../lib/handover/export/write-shapefile';
import { cornersOf, geoJsonOf } from '../../lib/handover/export/write-text';
import { gpxOf, kmlOf } from '../../lib/handover/export/write-xml';
import { planArea } from '../../lib/plan/plan-area';
import { readPlan } from '../../lib/plan/read-plan';
import { footM } from '../../lib/units/units';
import { demoPlan, tempFolder } from '../cli/inputs';

const at = tempFolder();
const { plan } = readPlan(readFileSync(demoPlan, 'utf8'), 'lot');
const area = planArea(plan);
if (area === null) throw new Error('the demo is empty');
const frame = frameAround(area);
const layers = exportLayers(plan);
const bytes = (text: string) => new TextEncoder().encode(text);
const hasGdal = spawnSync('ogr2ogr', ['--version']).status === 0;
const millimetre = 0.001;

/** All corners of layers of some geometries, in order, rings without their repeated ends. */
function cornersIn(wanted: readonly ExportLayer[]): LngLat[] {
  return wanted.flatMap(({ features, geometry }) =>
    features.flatMap(({ rings }) =>
      rings.flatMap((ring) => (geometry === 'Polygon' ? ring.slice(0, -1) : ring)),
    ),
  );
}

/** The farthest that a corner lies from its nearest one of others, metres: rings may turn and begin elsewhere. */
function worstM(corners: readonly LngLat[], others: readonly LngLat[]): number {
  expect(corners.length).toBeGreaterThan(0);
  return Math.max(
    ...corners.map((corner) =>
      Math.min(
        ...others.map((other) => {
          const [x, y] = groundOffset(corner, other);
          return Math.hypot(x, y);
        }),
      ),
    ),
  );
}

function bothWaysM(a: readonly LngLat[], b: readonly LngLat[]): number {
  return Math.max(worstM(a, b), worstM(b, a));
}

/** Corners as our own readers find them in a file, degrees. */
async function readBack(name: string, file: Uint8Array): Promise<LngLat[]> {
  const { layers: found } = await readFound({ name, bytes: file });
  return found.flatMap((layer) => {
    const placed = placing(layer, {});
    if ('asks' in placed) throw new Error(placed.problem);
    return layer.shapes.flatMap(({ parts }) =>
      parts.flatMap((part) => positionsOfPart(part).map(placed.toLngLat)),
    );
  });
}

const files: Readonly<Record<string, Uint8Array>> = {
  'lot.gpkg': geoPackageOf(layers),
  'lot.zip': shapefilesOf(layers),
  'lot.gpx': bytes(gpxOf(layers)),
  'lot.kml': bytes(kmlOf(layers, 'Lot')),
  'lot.geojson': bytes(geoJsonOf(layers)),
  'lot.csv': bytes(cornersOf(layers, frame)),
};

describe('what is exported', () => {
  it.each(Object.keys(files))('is read back to a millimetre: %s', async (name) => {
    expect(bothWaysM(cornersIn(layers), await readBack(name, files[name]))).toBeLessThan(
      millimetre,
    );
  });

  it('is the same bytes for the same plan', () => {
    expect(geoPackageOf(exportLayers(plan))).toEqual(files['lot.gpkg']);
    expect(shapefilesOf(exportLayers(plan))).toEqual(files['lot.zip']);
  });

  it.each(['m', 'ft'] as const)('as a drawing in %s lies in the lot’s frame', async (unit) => {
    const drawing = bytes(dxfOf(layers, frame, { unit, system: 'test' }));
    const found = await readFound({ name: 'lot.dxf', bytes: drawing });
    const scale = unit === 'ft' ? footM : 1;
    for (const layer of layers) {
      const read = found.layers.find(({ name }) => name === layer.name);
      expect(read?.unitM).toBeCloseTo(scale, 12);
      const corners = (read?.shapes ?? []).flatMap(({ parts }) =>
        parts.flatMap((part) =>
          positionsOfPart(part).map(([x, y]: FilePosition) =>
            frame.toLngLat([x * scale, y * scale]),
          ),
        ),
      );
      expect(bothWaysM(cornersIn([layer]), corners)).toBeLessThan(millimetre);
    }
  });

  it('keeps names in any script, and long ones, whole', async () => {
    const name = `Żółć „сад” 庭 <&> ${'ä'.repeat(300)}`;
    const odd: ExportLayer = {
      name: 'tree',
      geometry: 'Point',
      features: [{ id: 't', name, properties: { fid: 3, 'a "b"': 'x' }, rings: [[[8, 50]]] }],
    };
    for (const [file, content] of [
      ['odd.gpkg', geoPackageOf([odd])],
      ['odd.kml', bytes(kmlOf([odd], name))],
      ['odd.gpx', bytes(gpxOf([odd]))],
    ] as const) {
      const [layer] = (await readFound({ name: file, bytes: content })).layers;
      expect(layer.shapes[0].properties['name']).toBe(name);
    }
    const [shapes] = (await readFound({ name: 'odd.zip', bytes: shapefilesOf([odd]) })).layers;
    expect(name.startsWith(String(shapes.shapes[0].properties['name']))).toBe(true);
  });
});

/** A GeoPackage with so much in it that tables take many pages and rows run over theirs. */
const large: ExportLayer = {
  name: 'surface',
  geometry: 'LineString',
  features: Array.from({ length: 600 }, (_, i) => ({
    id: `s${i}`,
    name: `surface ${i}`,
    properties: { note: 'n'.repeat((i * 37) % 9000), even: i % 2 === 0, size: i / 7 },
    rings: [
      Array.from({ length: 2 + ((i * 13) % 700) }, (__, j): LngLat => [8 + i / 1e4, 50 + j / 1e5]),
    ],
  })),
};

describe('a database', () => {
  it('is whole with any number of tables', async () => {
    for (const count of [1, 5, 9, 10, 11, 12, 13, 14, 15, 40]) {
      const tables = Array.from({ length: count }, (_, i) => ({
        ...large,
        name: `t${i}`,
        features: large.features.slice(i, i + 3),
      }));
      const { layers: found } = await readFound({ name: 'x.gpkg', bytes: geoPackageOf(tables) });
      expect(found.map(({ shapes }) => shapes.length)).toEqual(tables.map(() => 3));
    }
  });
});

describe('a large table', () => {
  it('is read back row for row', async () => {
    const { layers: found } = await readFound({
      name: 'large.gpkg',
      bytes: geoPackageOf([large]),
    });
    expect(found[0].shapes).toHaveLength(600);
    found[0].shapes.forEach(({ parts, properties }, i) => {
      expect(properties['note']).toBe(large.features[i].properties['note']);
      expect(parts[0].coordinates).toEqual(large.features[i].rings[0]);
    });
  });
});

describe.runIf(hasGdal)('GDAL', () => {
  /** The corners of a layer as GDAL gives them in GeoJSON. */
  function gdalCorners(source: string, layer: string): LngLat[] {
    const text = execFileSync(
      'ogr2ogr',
      ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=12', '/vsistdout/', source, layer],
      { encoding: 'utf8', maxBuffer: 2 ** 28, stdio: ['ignore', 'pipe', 'ignore'] },
    );
    const { features } = JSON.parse(text) as { features: { geometry: { coordinates: unknown } }[] };
    return features.flatMap(({ geometry }) => flat(geometry.coordinates));
  }

  function flat(value: unknown): LngLat[] {
    if (!Array.isArray(value)) return [];
    if (typeof value[0] === 'number') return [[value[0], value[1] as number]];
    return value.flatMap(flat);
  }

  it.each(['lot.gpkg', 'lot.zip', 'lot.kml'])('reads %s as it is drawn', (name) => {
    writeFileSync(at(name), files[name]);
    const source = name.endsWith('.zip') ? `/vsizip/${at(name)}` : at(name);
    for (const layer of layers.filter((each) =>
      ['lot', 'basin', 'utility', 'tree'].includes(each.name),
    )) {
      expect(bothWaysM(cornersIn([layer]), gdalCorners(source, layer.name))).toBeLessThan(
        millimetre,
      );
    }
  });

  it('reads all rows of a large table', () => {
    writeFileSync(at('large.gpkg'), geoPackageOf([large]));
    const corners = gdalCorners(at('large.gpkg'), 'surface');
    expect(corners).toHaveLength(cornersIn([large]).length);
  });

  it('reads receiver tracks and the drawing', () => {
    writeFileSync(at('lot.gpx'), files['lot.gpx']);
    expect(
      bothWaysM(
        cornersIn(layers.filter(({ geometry }) => geometry === 'Point')),
        gdalCorners(at('lot.gpx'), 'waypoints'),
      ),
    ).toBeLessThan(millimetre);
    writeFileSync(at('lot.dxf'), dxfOf(layers, frame, { unit: 'm', system: 'test' }));
    const text = execFileSync('ogrinfo', ['-al', '-where', "Layer='basin'", at('lot.dxf')], {
      encoding: 'utf8',
    });
    const [, line = ''] = /LINESTRING Z \(([^)]*)\)/.exec(text) ?? [];
    const corners = line.split(',').map((pair): LngLat => {
      const [x, y] = pair.split(' ').map(Number);
      return frame.toLngLat([x, y]);
    });
    const basin = layers.filter(({ name }) => name === 'basin');
    expect(bothWaysM(cornersIn(basin), corners)).toBeLessThan(millimetre);
  });
});
