import { localFrame, makeFrame, type LngLat } from '../frame/frame';
import { centroid } from '../frame/shapes';
import { mostVerticesPerFeature } from '../plan/read-feature';
import { geometryTypeOf, type PlanFeature } from '../plan/schema';
import type { KindUse } from './guess-kind';
import type { LeftOut } from './left-out';
import { mendOutline, onLattice } from './mend-outline';
import type { PlacedPart } from './placed-part';

/** A placed part as geometries of a kind: one, several where mending cuts it, or none, with the reason. */
export async function geometriesOf(
  { type, rings }: PlacedPart,
  { kind }: KindUse,
  closeM: number | undefined,
  left: LeftOut,
  notes: string[],
): Promise<PlanFeature['geometry'][]> {
  const wanted = geometryTypeOf(kind);
  const corners = rings.reduce((sum, ring) => sum + ring.length, 0);
  if (corners > mostVerticesPerFeature) {
    left.add(`more than ${mostVerticesPerFeature} corners`);
    return [];
  }
  if (wanted === 'Point') {
    if (type === 'Point') return [{ type: wanted, coordinates: rings[0][0] }];
    const middle = type === 'Polygon' || endsMeet(rings[0], closeM ?? 0) ? middleOf(rings) : null;
    if (middle !== null) return [{ type: wanted, coordinates: middle }];
    left.add(`lines, and a ${kind} is a point`);
    return [];
  }
  if (wanted === 'LineString') {
    if (type === 'LineString') {
      const points = rings[0].filter((at, i, all) => i === 0 || !samePlace(at, all[i - 1]));
      if (points.length > 1) return [{ type: wanted, coordinates: points }];
      left.add('without length');
      return [];
    }
    left.add(`${type === 'Point' ? 'points' : 'outlines'}, and a ${kind} is a line`);
    return [];
  }
  if (type === 'Point') {
    left.add(`points, and a ${kind} is an outline`);
    return [];
  }
  if (type === 'LineString' && closeM === undefined) {
    left.add(
      endsMeet(rings[0], 0)
        ? 'closed lines, which become outlines only when that is asked for'
        : `open lines, and a ${kind} is an outline`,
    );
    return [];
  }
  if (type === 'LineString' && !endsMeet(rings[0], closeM ?? 0)) {
    left.add(`lines whose ends do not meet, and a ${kind} is an outline`);
    return [];
  }
  const { pieces, done } = await mendOutline(rings);
  if (pieces.length === 0) left.add(`not an outline: ${done}`);
  else if (done !== null) notes.push(`the outline at ${placeWords(rings[0][0])}: ${done}`);
  return pieces.map((piece) => ({ type: wanted, coordinates: piece.map((ring) => [...ring]) }));
}

function endsMeet(points: readonly LngLat[], withinM: number): boolean {
  if (points.length < 4) return false;
  const frame = makeFrame(localFrame(points[0]));
  return Math.hypot(...frame.toLocal(points[points.length - 1])) <= withinM + 1e-4;
}

function middleOf(rings: readonly (readonly LngLat[])[]): LngLat {
  const frame = makeFrame(localFrame(rings[0][0]));
  return onLattice(
    frame.toLngLat(centroid(rings.map((ring) => ring.map((at) => frame.toLocal(at))))),
  );
}

function samePlace(a: LngLat, b: LngLat): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

function placeWords([lng, lat]: LngLat): string {
  return `${lng.toFixed(6)}, ${lat.toFixed(6)}`;
}
