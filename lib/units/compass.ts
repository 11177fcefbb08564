const points = [
  'north',
  'north-east',
  'east',
  'south-east',
  'south',
  'south-west',
  'west',
  'north-west',
] as const;

/** The point of the compass nearest to a bearing in degrees clockwise from north, of any number of turns. */
export function compass(bearingDeg: number): string {
  const eighths = Math.round(bearingDeg / 45) % points.length;
  return points[(eighths + points.length) % points.length];
}
