import type { Frame, XY } from '../frame/frame';
import { innermost } from '../frame/innermost';
import { distanceM, type Ring } from '../frame/shapes';
import { featureName } from '../plan/feature-name';
import { featuresOf, type Plan } from '../plan/schema';

/** The edge of water that stood: a level line. */
export interface PuddleEdge {
  readonly id: string;
  readonly name: string;
  /** Whether water stood inside it; else it is a line at one height. */
  readonly isArea: boolean;
  /** Along the edge, closely enough that the surface is level on it. */
  readonly edge: readonly XY[];
  /** Where it is taken to have been deepest, farthest from its edge, and how deep, when that was measured. */
  readonly deepest: { readonly at: XY; readonly depthM: number } | null;
}

/** An edge is taken at places so far apart, metres, and at no more than so many. Our choices, no source. */
const apartM = 1;
const mostPlaces = 40;

/** The puddle edges of a plan, in the lot's frame. */
export function puddleEdges(plan: Plan, frame: Frame): PuddleEdge[] {
  const there = featuresOf(plan, 'puddle-edge').filter(
    ({ properties }) => properties.state !== 'gone',
  );
  return there.map((feature) => {
    const rings = feature.geometry.coordinates.map((ring) =>
      ring.slice(0, -1).map((at) => frame.toLocal(at)),
    );
    const { depth_m } = feature.properties;
    return {
      id: feature.id,
      name: featureName(feature),
      isArea: true,
      edge: along(rings[0]),
      deepest: depth_m === undefined ? null : { at: innermost(rings), depthM: depth_m },
    };
  });
}

/** Places along a ring, evenly apart. */
export function along(ring: Ring): XY[] {
  return alongLine([...ring, ring[0]]);
}

/** Places along a line from its beginning on, evenly apart, its end left out. */
export function alongLine(line: readonly XY[]): XY[] {
  const sides = line.slice(1).map((to, i) => ({ from: line[i], to }));
  const lengthM = sides.reduce((sum, { from, to }) => sum + distanceM(from, to), 0);
  const count = Math.max(3, Math.min(mostPlaces, Math.round(lengthM / apartM)));
  const step = lengthM / count;
  const places: XY[] = [];
  let doneM = 0;
  for (const { from, to } of sides) {
    const sideM = distanceM(from, to);
    while (places.length < count && places.length * step < doneM + sideM) {
      const share = (places.length * step - doneM) / sideM;
      places.push([from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]);
    }
    doneM += sideM;
  }
  return places;
}
