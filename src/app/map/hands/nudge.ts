import type { Position } from 'geojson';
import type { Frame } from '../../../../lib/frame/frame';
import { roundDegrees } from '../../state/tidy-geometry';
import type { PlanGeometry } from '../../state/plan-geometry';

/** How far one press of an arrow key moves a feature, metres. */
export const nudgeM = 0.1;
/** The same with Shift held. */
export const longNudgeM = 1;

/** East and north in metres for a key, or `null` when it is not an arrow key. */
export function nudgeOfKey(key: string, shift: boolean): [east: number, north: number] | null {
  const step = shift ? longNudgeM : nudgeM;
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
