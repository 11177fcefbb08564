import type { LngLat } from '../frame/frame';
import { positionFault } from '../plan/position-fault';
import type { FoundPart, FoundShape } from './found-layer';
import { onLattice } from './mend-outline';

/** A part on the globe, in degrees as plans are written; null where a corner is no place on it. */
export function placedPart(
  part: FoundPart,
  toLngLat: (at: readonly number[]) => LngLat,
): PlacedPart | null {
  let isSound = true;
  const place = (at: readonly number[]): LngLat => {
    const there = onLattice(toLngLat(at));
    if (positionFault(there) !== undefined) isSound = false;
    return there;
  };
  const placed: PlacedPart =
    part.type === 'Point'
      ? { type: 'Point', rings: [[place(part.coordinates)]] }
      : part.type === 'LineString'
        ? { type: 'LineString', rings: [part.coordinates.map(place)] }
        : { type: 'Polygon', rings: part.coordinates.map((ring) => ring.map(place)) };
  return isSound ? placed : null;
}

/** A part on the globe, degrees. */
export interface PlacedPart {
  readonly type: FoundPart['type'];
  /** Rings of a polygon; one list of positions else. */
  readonly rings: readonly (readonly LngLat[])[];
}

/** What of a shape becomes points: the place of a symbol, not its picture. */
export function pointParts({ parts, at }: FoundShape): readonly FoundPart[] {
  return at === undefined ? parts : [{ type: 'Point', coordinates: at }];
}
