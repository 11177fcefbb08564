import { nearestAlong } from '../frame/taped';
import { contains, distanceM } from '../frame/shapes';
import type { Frame, XY } from '../frame/frame';
import { featuresOf, type Plan, type PlanFeature } from './schema';

/** Sides longer than this are read in their middle as well, and levels within as much of it are of it, metres. Our choices, no source. */
const longSideM = 6;
const besideM = 3;
/** More corners than these are not read one by one. Our choice, no source. */
const mostCorners = 8;

/** What is to be read again where something was built on ground that is older. */
export interface Relevelling {
  readonly corners: number;
  readonly middles: number;
  /** Whether the middle of it is to be read: no house stands there. */
  readonly inside: boolean;
  /** Levels of the plan that lie at it. */
  readonly set: number;
}

export function relevelling(feature: PlanFeature, plan: Plan, frame: Frame): Relevelling {
  const { geometry } = feature;
  const isArea = geometry.type === 'Polygon';
  const line = lineOf(feature, frame);
  const sides = line.slice(1).map((to, i) => distanceM(line[i], to));
  const corners = isArea ? line.length - 1 : line.length;
  const middles = sides.filter((sideM) => sideM > longSideM).length;
  return {
    corners: Math.min(mostCorners, corners),
    middles: Math.min(mostCorners, middles),
    inside: isArea && feature.properties.kind !== 'building',
    set: featuresOf(plan, 'spot-height').filter(({ properties, geometry: { coordinates } }) => {
      const isRead = properties.elevation_m !== undefined || properties.drop_m !== undefined;
      return isRead && isAt(frame.toLocal(coordinates), line, isArea);
    }).length,
  };
}

/** How many readings are asked for. */
export function readings({ corners, middles, inside }: Relevelling): number {
  return corners + middles + (inside ? 1 : 0);
}

/** What to read, in words. */
export function relevelWords(asked: Relevelling, isArea: boolean): string {
  const parts = [
    `${asked.corners} ${isArea ? 'corners' : 'places along it'}`,
    ...(asked.middles === 0
      ? []
      : [`the middle of ${asked.middles === 1 ? 'its long side' : `${asked.middles} long sides`}`]),
    ...(asked.inside ? ['its middle'] : []),
  ];
  const set = asked.set === 0 ? '' : `; ${asked.set} ${asked.set === 1 ? 'is' : 'are'} set`;
  return `${parts.join(', ')}: ${readings(asked)} readings${set}`;
}

function isAt(place: XY, line: readonly XY[], isArea: boolean): boolean {
  if (isArea && contains([line.slice(0, -1)], place)) return true;
  return line.length > 1 && nearestAlong(line, place).awayM <= besideM;
}

/** Outer ring with its first corner at the end again, line or point, metres. */
function lineOf({ geometry }: PlanFeature, { toLocal }: Frame): XY[] {
  switch (geometry.type) {
    case 'Point':
      return [toLocal(geometry.coordinates)];
    case 'LineString':
      return geometry.coordinates.map(toLocal);
    case 'Polygon':
      return geometry.coordinates[0].map(toLocal);
  }
}
