import type { XY } from '../../frame/frame';
import { distanceM, type Ring } from '../../frame/shapes';
import { insetOutline } from '../../setback/measure/inset-outline';
import { outlineOf } from '../../setback/measure/outline';

/** Ends nearer than this are one place: rounding of doubles, metres. */
const sameM = 1e-6;

/**
 * The rings that lie at a distance inside a rim: the edge of the floor, or of what stands deeper than some depth. Good to a
 * millimetre; none where nothing lies so far inside.
 */
export function ringsInside(rim: Ring, insetM: number): Ring[] {
  const inner = insetOutline(outlineOf({ type: 'polygon', rings: [rim] }), insetM);
  if (inner === null) return [];
  const { segments } = inner;
  const left: (readonly [XY, XY])[] = [];
  for (let i = 0; i < segments.length; i += 4) {
    const piece = [
      [segments[i], segments[i + 1]],
      [segments[i + 2], segments[i + 3]],
    ] as const;
    if (distanceM(...piece) > 1e-9) left.push(piece);
  }
  const rings: Ring[] = [];
  while (left.length > 0) {
    const [start, second] = left.shift() as (typeof left)[number];
    const ring: XY[] = [start];
    let end = second;
    while (distanceM(end, start) > sameM) {
      const at = end;
      const next = left.findIndex(([from]) => distanceM(from, at) <= sameM);
      if (next === -1) break;
      ring.push(end);
      [[, end]] = left.splice(next, 1);
    }
    if (ring.length > 2) rings.push(ring);
  }
  return rings;
}
