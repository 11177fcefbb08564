const points = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
];

/** The point of the compass nearest to a bearing in degrees clockwise from north. */
export function compass(bearingDeg: number): string {
  return points[Math.round(bearingDeg / 45) % points.length];
}
