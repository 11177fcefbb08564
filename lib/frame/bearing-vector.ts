import type { Frame, XY } from './frame';

/** Degrees of latitude over which north is looked for: about ten metres. */
const stepDeg = 1e-4;

/** Unit vector in the local frame for a bearing in degrees clockwise from true north, at a place. */
export function bearingVector(frame: Frame, at: XY, bearingDeg: number): XY {
  const [lng, lat] = frame.toLngLat(at);
  const [x, y] = frame.toLocal([lng, lat + stepDeg]);
  const turn = Math.atan2(x - at[0], y - at[1]) + (bearingDeg * Math.PI) / 180;
  return [Math.sin(turn), Math.cos(turn)];
}
