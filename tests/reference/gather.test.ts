import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeFrame, type LngLat, type XY } from '../../lib/frame/frame';
import { distanceM } from '../../lib/frame/shapes';
import type { FoundPart } from '../../lib/gather/found-layer';
import { guessColumns } from '../../lib/gather/guess-columns';
import { useOf } from '../../lib/gather/guess-kind';
import { intoPlan, type GatherOptions } from '../../lib/gather/into-plan';
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
});
