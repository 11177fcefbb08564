import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeFrame, type LngLat, type XY } from '../../lib/frame/frame';
import { distanceM, nearest, type Shape } from '../../lib/frame/shapes';
import type { FoundPart } from '../../lib/gather/found-layer';
import { guessColumns } from '../../lib/gather/guess-columns';
import { useOf } from '../../lib/gather/guess-kind';
import { intoPlan, type GatherOptions } from '../../lib/gather/into-plan';
import { placing } from '../../lib/gather/place-shapes';
import { readFound } from '../../lib/gather/read-found';
import { systemOfCode } from '../../lib/gather/system-of';
import type { PlanFeature } from '../../lib/plan/schema';
import { emptyPlan } from '../unit/gather/given';

/** What GDAL reads, in metres of a frame; `layer` is that of a drawing. */
interface Reference {
  readonly frame: string;
  readonly files: Readonly<
    Record<
      string,
      Readonly<Record<string, readonly { layer: string | null; parts: FoundPart[] }[]>>
    >
  >;
}

const reference = JSON.parse(readFileSync('fixtures/reference/gather.json', 'utf8')) as Reference;
const frame = makeFrame({
  projection: reference.frame,
  originEast: 0,
  originNorth: 0,
  metresPerUnit: 1,
});
const millimetre = 0.001;

async function featuresOf(file: string, word: string, options: GatherOptions = {}) {
  const { layers } = await readFound({
    name: file,
    bytes: readFileSync(`fixtures/gather/${file}`),
  });
  const use = useOf(word);
  if (typeof use === 'string') throw new Error(use);
  const given = layers.map((layer) => ({ layer, use, columns: guessColumns(layer.columns) }));
  const { change } = await intoPlan(emptyPlan, given, options);
  return change?.puts ?? [];
}

/** Corners of a feature in the frame, ring after ring, without repeated ends. */
function cornersOf({ geometry }: PlanFeature): XY[] {
  const { type, coordinates } = geometry;
  if (type === 'Point') return [frame.toLocal(coordinates)];
  if (type === 'LineString') return coordinates.map(frame.toLocal);
  return coordinates.flatMap((ring: readonly LngLat[]) => ring.slice(0, -1).map(frame.toLocal));
}

function cornersOfPart(part: FoundPart): XY[] {
  const list =
    part.type === 'Point'
      ? [part.coordinates]
      : part.type === 'LineString'
        ? part.coordinates
        : part.coordinates.flatMap((ring) => ring.slice(0, -1));
  return list.map(([x, y]) => [x, y]);
}

describe('what is read of each format lies where GDAL has it, to a millimetre', () => {
  it.each([
    ['parcels-feet.zip', 'wetland'],
    ['buildings-utm.geojson', 'building'],
    ['trees-web.zip', 'tree'],
    ['gas.kml', 'utility:gas'],
    ['walk.gpx', 'utility:gas'],
  ])('%s', async (file, word) => {
    const features = await featuresOf(file, word);
    const parts = Object.values(reference.files[file]).flatMap((shapes) =>
      shapes.flatMap((shape) => shape.parts),
    );
    expect(features).toHaveLength(parts.length);
    features.forEach((feature, i) => {
      const [ours, theirs] = [cornersOf(feature), cornersOfPart(parts[i])];
      expect(ours).toHaveLength(theirs.length);
      const apart = Math.max(...ours.map((corner, k) => distanceM(corner, theirs[k])));
      expect(apart, `${feature.id}, metres`).toBeLessThan(millimetre);
    });
  });

  it('all.gpkg, table by table', async () => {
    const bytes = readFileSync('fixtures/gather/all.gpkg');
    const { layers } = await readFound({ name: 'all.gpkg', bytes });
    const tables = reference.files['all.gpkg'];
    expect(layers.map(({ name }) => name).sort()).toEqual(Object.keys(tables).sort());
    for (const layer of layers) {
      const way = placing(layer, {});
      if ('asks' in way) throw new Error(way.problem);
      const ours = layer.shapes.flatMap(({ parts }) =>
        parts.map((part) => cornersOfPart(placedIn(part, (at) => frame.toLocal(way.toLngLat(at))))),
      );
      const theirs = tables[layer.name].flatMap(({ parts }) => parts.map(cornersOfPart));
      expect(ours.map((each) => each.length)).toEqual(theirs.map((each) => each.length));
      const apart = ours.flatMap((each, i) => each.map((at, k) => distanceM(at, theirs[i][k])));
      expect(Math.max(...apart), layer.name).toBeLessThan(millimetre);
    }
    const parcels = layers.find(({ name }) => name === 'parcels');
    expect(parcels?.shapes.map(({ properties }) => properties.note)).toEqual([
      'Señora Ñandú',
      'with a hole',
      'two parts',
    ]);
  });

  it('trees.csv, once its system is named', async () => {
    const system = await systemOfCode(26916, 'the test');
    const features = await featuresOf('trees.csv', 'tree', { system });
    const parts = reference.files['trees-web.zip'].trees.flatMap((shape) => shape.parts);
    expect(features).toHaveLength(2);
    features.forEach((feature, i) => {
      const apart = distanceM(cornersOf(feature)[0], cornersOfPart(parts[i])[0]);
      expect(apart).toBeLessThan(millimetre);
    });
  });

  it('gas.kmz is gas.kml packed', async () => {
    expect(await featuresOf('gas.kmz', 'utility:gas')).toEqual(
      (await featuresOf('gas.kml', 'utility:gas')).map((feature) => ({
        ...feature,
        properties: { ...feature.properties, gathered_from: 'gas.kmz, gas_mains' },
      })),
    );
  });

  it.each(['drawing-metres.dxf', 'drawing-r12.dxf'])(
    '%s: corners lie on its curves, and its curves along ours',
    async (file) => {
      const bytes = readFileSync(`fixtures/gather/${file}`);
      const { layers, notes } = await readFound({ name: file, bytes });
      const system = await systemOfCode(26916, 'the test');
      const shapes = reference.files[file].entities;
      expect(layers.map(({ name }) => name)).toEqual([
        'BUILDINGS',
        'WATER_MAIN',
        ...(file === 'drawing-r12.dxf' ? [] : ['CURVES']),
        'TREES',
        'MÜLL',
      ]);
      // GDAL gives a block one layer, ours gives each thing in it its own: compared without.
      const theirs = shapes
        .filter(({ layer }) => layer !== 'NOTES')
        .flatMap(({ parts }) => parts.map(shapeOfPart));
      const ours = layers.flatMap((layer) => {
        const way = placing(layer, { system, unitM: 1 });
        if ('asks' in way) throw new Error(way.problem);
        return layer.shapes.flatMap(({ parts }) =>
          parts.map((part) => shapeOfPart(placedIn(part, (at) => frame.toLocal(way.toLngLat(at))))),
        );
      });
      expect(ours).toHaveLength(theirs.length);
      for (const shape of ours) {
        const off = Math.min(...theirs.map((other) => farthest(shape, other)));
        expect(off, `${shape.type}, metres`).toBeLessThan(millimetre);
      }
      for (const shape of theirs) {
        // Lines of 2 degrees leave an arc of 7 m, the widest here, by a millimetre.
        const off = Math.min(...ours.map((other) => farthest(shape, other)));
        expect(off, `${shape.type}, metres`).toBeLessThan(2 * millimetre);
      }
      expect(notes.join()).toMatch(/1 TEXT are not read/);
    },
  );
});

function placedIn(part: FoundPart, place: (at: readonly number[]) => XY): FoundPart {
  if (part.type === 'Point') return { ...part, coordinates: place(part.coordinates) };
  if (part.type === 'LineString') return { ...part, coordinates: part.coordinates.map(place) };
  return { ...part, coordinates: part.coordinates.map((ring) => ring.map(place)) };
}

function shapeOfPart(part: FoundPart): Shape {
  const points = cornersOfPart(part);
  return part.type === 'Point' ? { type: 'point', at: points[0] } : { type: 'line', points };
}

/** How far the corner of one shape that lies farthest from another lies from it. */
function farthest(shape: Shape, other: Shape): number {
  if (shape.type !== other.type || shape.type === 'polygon') return Infinity;
  const corners = shape.type === 'point' ? [shape.at] : shape.points;
  return Math.max(...corners.map((at) => nearest({ type: 'point', at }, other).distanceM));
}
