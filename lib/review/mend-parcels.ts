import { featureCollection, intersect, polygon } from '@turf/turf';
import { localFrame, makeFrame, type Frame, type XY } from '../frame/frame';
import { closedRings } from '../frame/geometry-rings';
import {
  areaM2,
  boundsOf,
  centroid,
  distanceM,
  nearestOnSegment,
  perimeterM,
  type Bounds,
  type Rings,
} from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { ringFault } from '../plan/ring-fault';
import type { FeatureOf } from '../plan/schema';

/** By which rules parcels are put right. Our choices, no source. */
export const parcelRules = {
  /** Corners this close to the line of a parcel that comes before are moved onto it. */
  snapM: 0.3,
  /** Narrower on average, or smaller, than this is no lot but what is left between lines. */
  sliverM: 1.5,
  sliverM2: 10,
  /** Outlines that differ by no more than this are the same lot twice. */
  sameM: 0.5,
  sameShare: 0.01,
  /** Overlaps from this area on are listed. */
  overlapM2: 0.5,
  /** With this share of it on parcels before, a parcel is none of its own. */
  coveredShare: 0.9,
} as const;

/** Parcels as lots of a review, and a sentence for each kind of thing that was done to them. */
export interface MendedParcels {
  readonly lots: readonly FeatureOf<'lot'>[];
  readonly notes: readonly string[];
}

/** Names in a sentence before it only counts. */
const mostNamed = 8;

interface Parcel {
  readonly feature: FeatureOf<'lot'>;
  rings: Rings;
  bounds: Bounds;
}

/**
 * Puts parcels right by {@link parcelRules}, in the order of their file: the same lot twice and slivers go, narrow gaps and
 * overlaps are closed, of wider overlaps the parcel that comes first keeps the ground, and wider gaps are ground on no lot.
 *
 * Cost: linear in the corners, and the pairs of parcels whose boxes meet.
 */
export function mendParcels(given: readonly FeatureOf<'lot'>[]): MendedParcels {
  if (given.length === 0) return { lots: [], notes: [] };
  const frame = makeFrame(localFrame(given[0].geometry.coordinates[0][0]));
  const kept: Parcel[] = [];
  const near = new NearBoxes();
  const twice: string[] = [];
  const slivers: string[] = [];
  const covered: string[] = [];
  const overlaps: string[] = [];
  let moved = 0;
  let mostM = 0;
  for (const feature of given) {
    const rings = localRings(feature, frame);
    const parcel: Parcel = { feature, rings, bounds: boundsOf(rings.flat()) };
    const name = featureName(feature);
    if (isSliver(rings)) {
      slivers.push(name);
      continue;
    }
    const beside = near.of(parcel.bounds, parcelRules.snapM);
    const same = beside.find((other) => isSame(other, parcel));
    if (same !== undefined) {
      twice.push(`${name} (as ${featureName(same.feature)})`);
      continue;
    }
    const snapped = snappedTo(rings, beside);
    const placed = withRings(feature, snapped.rings, frame).geometry.coordinates;
    if (snapped.moved > 0 && ringFault(placed) === undefined) {
      parcel.rings = snapped.rings;
      parcel.bounds = boundsOf(snapped.rings.flat());
      moved += snapped.moved;
      mostM = Math.max(mostM, snapped.mostM);
    }
    const over = beside
      .map((other) => ({ on: featureName(other.feature), area: overlapM2(other, parcel) }))
      .filter(({ area }) => area >= parcelRules.overlapM2);
    const overM2 = over.reduce((sum, { area }) => sum + area, 0);
    if (overM2 >= parcelRules.coveredShare * areaM2(parcel.rings)) {
      covered.push(`${name} (on ${over.map(({ on }) => on).join(', ')})`);
      continue;
    }
    for (const { on, area } of over) overlaps.push(`${name} with ${on}, ${area.toFixed(0)} m²`);
    kept.push(parcel);
    near.add(parcel);
  }
  const { snapM, sliverM, sliverM2 } = parcelRules;
  const said = (names: readonly string[], words: string): string[] =>
    names.length === 0 ? [] : [`${words}: ${listed(names)}`];
  return {
    lots: kept.map(({ feature, rings }) => withRings(feature, rings, frame)),
    notes: [
      ...said(twice, 'Left out as the same lot twice'),
      ...said(
        slivers,
        `Left out as slivers, under ${sliverM2} m² or ${sliverM} m wide, their ground is on no lot`,
      ),
      ...(moved === 0
        ? []
        : [
            `${moved} corners within ${snapM} m of the line of a parcel before theirs were moved onto it, by ${mostM.toFixed(2)} m at most`,
          ]),
      ...said(covered, 'Left out, as their ground lies on parcels before them'),
      ...said(overlaps, 'Overlaps, where the ground counts to the parcel named second'),
    ],
  };
}

function listed(names: readonly string[]): string {
  const more = names.length - mostNamed;
  return `${names.slice(0, mostNamed).join('; ')}${more > 0 ? `; and ${more} more` : ''}`;
}

function localRings({ geometry }: FeatureOf<'lot'>, frame: Frame): Rings {
  return geometry.coordinates.map((ring) => ring.slice(0, -1).map((at) => frame.toLocal(at)));
}

function withRings(feature: FeatureOf<'lot'>, rings: Rings, frame: Frame): FeatureOf<'lot'> {
  const coordinates = closedRings(rings).map((ring) => ring.map((at) => frame.toLngLat(at)));
  // The same rings, moved: positions stay positions.
  return { ...feature, geometry: { ...feature.geometry, coordinates } };
}

function isSliver(rings: Rings): boolean {
  const area = areaM2(rings);
  const wide = (2 * area) / perimeterM(rings[0]);
  return area < parcelRules.sliverM2 || wide < parcelRules.sliverM;
}

function isSame(a: Parcel, b: Parcel): boolean {
  const { sameM, sameShare } = parcelRules;
  const sides = ['west', 'south', 'east', 'north'] as const;
  if (sides.some((side) => Math.abs(a.bounds[side] - b.bounds[side]) > sameM)) return false;
  const [one, other] = [areaM2(a.rings), areaM2(b.rings)];
  if (Math.abs(one - other) > sameShare * one) return false;
  return distanceM(centroid(a.rings), centroid(b.rings)) <= sameM;
}

function snappedTo(
  rings: Rings,
  beside: readonly Parcel[],
): { rings: Rings; moved: number; mostM: number } {
  let moved = 0;
  let mostM = 0;
  const found = rings.map((ring) =>
    ring.map((corner) => {
      const to = nearestCornerOrLine(corner, beside);
      const byM = to === null ? 0 : distanceM(corner, to);
      // what differs by rounding alone lies on it already
      if (to === null || byM < 1e-4) return corner;
      moved++;
      mostM = Math.max(mostM, byM);
      return to;
    }),
  );
  return { rings: found.map(withoutRepeats), moved, mostM };
}

function withoutRepeats(ring: readonly XY[]): XY[] {
  return ring.filter((corner, i) => distanceM(corner, ring[(i + 1) % ring.length]) > 1e-6);
}

/** The nearest corner within reach, else the nearest point of a line; null where none is. */
function nearestCornerOrLine(corner: XY, beside: readonly Parcel[]): XY | null {
  let corners: { at: XY; awayM: number } | null = null;
  let lines: { at: XY; awayM: number } | null = null;
  for (const ring of beside.flatMap(({ rings }) => rings)) {
    for (let i = 0; i < ring.length; i++) {
      const toCornerM = distanceM(corner, ring[i]);
      if (toCornerM <= parcelRules.snapM && toCornerM < (corners?.awayM ?? Infinity)) {
        corners = { at: ring[i], awayM: toCornerM };
      }
      const at = nearestOnSegment(corner, ring[i], ring[(i + 1) % ring.length]);
      const awayM = distanceM(corner, at);
      if (awayM <= parcelRules.snapM && awayM < (lines?.awayM ?? Infinity)) lines = { at, awayM };
    }
  }
  return (corners ?? lines)?.at ?? null;
}

function overlapM2(a: Parcel, b: Parcel): number {
  if (boxesApart(a.bounds, b.bounds) > 0) return 0;
  const [one, other] = [a, b].map(({ rings }) =>
    polygon(closedRings(rings).map((ring) => ring.map(([x, y]) => [x, y]))),
  );
  const common = intersect(featureCollection([one, other]))?.geometry;
  if (common === undefined) return 0;
  const pieces = common.type === 'Polygon' ? [common.coordinates] : common.coordinates;
  return pieces.reduce(
    (sum, rings) =>
      sum + areaM2(rings.map((ring) => ring.slice(0, -1).map(([x, y]): XY => [x, y]))),
    0,
  );
}

function boxesApart(a: Bounds, b: Bounds): number {
  return Math.max(a.west - b.east, b.west - a.east, a.south - b.north, b.south - a.north, 0);
}

/** Parcels by the squares that their boxes touch. */
class NearBoxes {
  static readonly #squareM = 50;
  readonly #in = new Map<string, Parcel[]>();

  #keys({ west, east, south, north }: Bounds, awayM: number): string[] {
    const keys: string[] = [];
    const side = NearBoxes.#squareM;
    for (let x = Math.floor((west - awayM) / side); x <= Math.floor((east + awayM) / side); x++) {
      for (
        let y = Math.floor((south - awayM) / side);
        y <= Math.floor((north + awayM) / side);
        y++
      ) {
        keys.push(`${x} ${y}`);
      }
    }
    return keys;
  }

  add(parcel: Parcel): void {
    for (const key of this.#keys(parcel.bounds, 0)) {
      const there = this.#in.get(key);
      if (there === undefined) this.#in.set(key, [parcel]);
      else there.push(parcel);
    }
  }

  of(bounds: Bounds, awayM: number): Parcel[] {
    const found = new Set(this.#keys(bounds, awayM).flatMap((key) => this.#in.get(key) ?? []));
    return [...found].filter((other) => boxesApart(other.bounds, bounds) <= awayM);
  }
}
