import type { Found, GivenFile } from '../../../lib/gather/found-layer';
import { guessColumns } from '../../../lib/gather/guess-columns';
import { useOf } from '../../../lib/gather/guess-kind';
import { intoPlan, type Gathered, type GatherOptions } from '../../../lib/gather/into-plan';
import type { FoundLayer } from '../../../lib/gather/found-layer';
import type { LngLat } from '../../../lib/frame/frame';
import type { Plan } from '../../../lib/plan/schema';

/** A text as a file. */
export function given(name: string, text: string): GivenFile {
  return { name, bytes: new TextEncoder().encode(text) };
}

export const emptyPlan: Plan = {
  type: 'FeatureCollection',
  lotfall: { version: 1 },
  features: [],
};

/** A plan of one lot of about 30 m, its south-west corner in the middle of a lake. */
export const smallPlan: Plan = {
  ...emptyPlan,
  features: [
    {
      type: 'Feature',
      id: 'lot',
      properties: { kind: 'lot', own: true },
      geometry: { type: 'Polygon', coordinates: [square(0, 0, 3e-4)] },
    },
  ],
};

/** A closed ring of a square, by its south-west corner and side in degrees from the lot's corner. */
export function square(east: number, north: number, side: number): LngLat[] {
  const at = (e: number, n: number): LngLat => [-87.107 + e, 42.51 + n];
  return [
    at(east, north),
    at(east + side, north),
    at(east + side, north + side),
    at(east, north + side),
    at(east, north),
  ];
}

/** GeoJSON text of geometries, each with its properties. */
export function geoJson(
  features: readonly (readonly [geometry: object | null, properties?: object])[],
  more: object = {},
): string {
  return JSON.stringify({
    type: 'FeatureCollection',
    ...more,
    features: features.map(([geometry, properties = {}]) => ({
      type: 'Feature',
      properties,
      geometry,
    })),
  });
}

/** Brings a layer into a plan as a kind, with the columns that are guessed. */
export function gatherAs(
  plan: Plan,
  { layers }: Found,
  word: string,
  options: GatherOptions = {},
): Promise<Gathered> {
  const use = useOf(word);
  if (typeof use === 'string') throw new Error(use);
  return intoPlan(
    plan,
    layers.map((layer: FoundLayer) => ({ layer, use, columns: guessColumns(layer.columns) })),
    options,
  );
}
