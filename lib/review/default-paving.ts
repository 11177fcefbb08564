import { localFrame, makeFrame, type XY } from '../frame/frame';
import { areaM2, boundsOf, centroid, contains, nearest, type Bounds } from '../frame/shapes';
import { toLocal } from '../plan/local-plan';
import { featuresOf, type Plan } from '../plan/schema';
import type { Source } from '../source';
import { acreM2 } from '../units/units';

/** Roofs and paving together as a share of a residential lot, by its size in acres. */
const averageSealed: readonly (readonly [acres: number, share: number])[] = [
  [1 / 8, 0.65],
  [1 / 4, 0.38],
  [1 / 3, 0.3],
  [1 / 2, 0.25],
  [1, 0.2],
  [2, 0.12],
];

const averageSealedSource: Source = {
  title: 'Urban Hydrology for Small Watersheds, Technical Release 55, second edition',
  publisher: 'USDA Soil Conservation Service',
  year: 1986,
  section:
    'table 2-2a, residential districts by average lot size, average per cent impervious area',
  mark: 'seen',
};

/**
 * What share of its open ground is taken to be paved on a lot of which nobody has said: the average of roofs and paving for a
 * lot of its size, between the sizes of the table in a straight line, less the roofs that it has.
 *
 * @param lotM2 - of the lot. @param roofM2 - of the roofs on it. @returns 0 to 1.
 */
export function defaultPavedFraction(lotM2: number, roofM2: number): number {
  const openM2 = lotM2 - roofM2;
  if (!(openM2 > 0)) return 0;
  return Math.min(1, Math.max(0, sealedShare(lotM2 / acreM2) * lotM2 - roofM2) / openM2);
}

function sealedShare(acres: number): number {
  const [first] = averageSealed;
  const last = averageSealed[averageSealed.length - 1];
  if (acres <= first[0]) return first[1];
  const at = averageSealed.findIndex(([size]) => acres < size);
  if (at === -1) return last[1];
  const [[fromAcres, from], [toAcres, to]] = [averageSealed[at - 1], averageSealed[at]];
  return from + ((to - from) * (acres - fromAcres)) / (toAcres - fromAcres);
}

/**
 * The plan with a share of paving for each lot that says none and on which no surface is drawn: driveways, walks, sheds.
 *
 * @returns also what was assumed, in words. Cost: the pairs of lots and surfaces whose boxes meet.
 */
export function withDefaultPaving(plan: Plan): {
  readonly plan: Plan;
  readonly notes: readonly string[];
} {
  const [first] = featuresOf(plan, 'lot');
  if (first === undefined) return { plan, notes: [] };
  const local = toLocal(plan, makeFrame(localFrame(first.geometry.coordinates[0][0])));
  const surfaces = local.of.surface.map(({ shape }) => ({
    shape,
    bounds: boundsOf(shape.rings.flat()),
  }));
  const roofs = local.of.building.map(({ shape }) => ({
    at: centroid(shape.rings),
    areaM2: areaM2(shape.rings),
  }));
  const fractions = new Map<string, number>();
  for (const { id, feature, shape } of local.of.lot) {
    if (feature.properties.paved_fraction !== undefined) continue;
    const box = boundsOf(shape.rings.flat());
    const isDrawn = surfaces.some(
      (surface) => boxesMeet(surface.bounds, box) && nearest(surface.shape, shape).distanceM === 0,
    );
    if (isDrawn) continue;
    const roofM2 = roofs.reduce(
      (sum, roof) =>
        isIn(box, roof.at) && contains(shape.rings, roof.at) ? sum + roof.areaM2 : sum,
      0,
    );
    fractions.set(id, defaultPavedFraction(areaM2(shape.rings), roofM2));
  }
  if (fractions.size === 0) return { plan, notes: [] };
  const features = plan.features.map((feature) => {
    const paved_fraction = fractions.get(feature.id);
    if (feature.properties.kind !== 'lot' || paved_fraction === undefined) return feature;
    return { ...feature, properties: { ...feature.properties, paved_fraction } };
  });
  const { title, section } = averageSealedSource;
  return {
    // Kind and properties still belong together.
    plan: { ...plan, features: features as Plan['features'] },
    notes: [
      `On ${fractions.size} lots no surface is drawn: roofs and paving together are taken to be the average for their size (${title}, ${section ?? ''}), less the buildings that are there; the paving is spread evenly over their open ground`,
    ],
  };
}

function boxesMeet(a: Bounds, b: Bounds): boolean {
  return a.west <= b.east && b.west <= a.east && a.south <= b.north && b.south <= a.north;
}

function isIn({ west, east, south, north }: Bounds, [x, y]: XY): boolean {
  return x >= west && x <= east && y >= south && y <= north;
}
