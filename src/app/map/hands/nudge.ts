import type { Position } from 'geojson';
import type { Frame } from '../../../../lib/frame/frame';
import { roundDegrees } from '../../state/plan/tidy-geometry';
import type { PlanGeometry } from '../../state/plan/plan-geometry';

/** How far one press of an arrow key goes, metres: by itself, with Shift, with Alt. */
export interface Strides {
  readonly usualM: number;
  readonly longM: number;
  readonly fineM: number;
}

/** Of what is drawn: to the decimetre, and to the centimetre of a tape. */
export const nudgeStrides: Strides = { usualM: 0.1, longM: 1, fineM: 0.01 };
/** Of the cursor, which crosses the whole lot. */
export const cursorStrides: Strides = { usualM: 1, longM: 10, fineM: 0.1 };

/** Keys held beside another. */
export interface Held {
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/** East and north in metres for a key, or `null` when it is not an arrow key. */
export function nudgeOfKey(
  key: string,
  { shiftKey, altKey }: Held,
  { usualM, longM, fineM }: Strides = nudgeStrides,
): [east: number, north: number] | null {
  const step = altKey ? fineM : shiftKey ? longM : usualM;
  switch (key) {
    case 'ArrowRight':
      return [step, 0];
    case 'ArrowLeft':
      return [-step, 0];
    case 'ArrowUp':
      return [0, step];
    case 'ArrowDown':
      return [0, -step];
    default:
      return null;
  }
}

/** A geometry moved by metres east and north. */
export function moveGeometry(
  geometry: PlanGeometry,
  eastM: number,
  northM: number,
  frame: Frame,
): PlanGeometry {
  const move = ([lng, lat]: Position): Position => {
    const [x, y] = frame.toLocal([lng, lat]);
    const [movedLng, movedLat] = frame.toLngLat([x + eastM, y + northM]);
    return [roundDegrees(movedLng), roundDegrees(movedLat)];
  };
  switch (geometry.type) {
    case 'Point':
      return { type: 'Point', coordinates: move(geometry.coordinates) };
    case 'LineString':
      return { type: 'LineString', coordinates: geometry.coordinates.map(move) };
    case 'Polygon':
      return { type: 'Polygon', coordinates: geometry.coordinates.map((ring) => ring.map(move)) };
  }
}
