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

/** The bearing of a point of the compass by its name (`south`, `north-east`, `NE`), degrees; `null` when it is none. */
export function bearingOfPoint(name: string): number | null {
  const written = name
    .trim()
    .toLowerCase()
    .replaceAll(/[\s_]+/g, '-');
  const at = points.findIndex((point) => {
    const [first, second = ''] = point.split('-');
    return [point, point.replace('-', ''), `${first[0]}${second.slice(0, 1)}`].includes(written);
  });
  return at === -1 ? null : at * 45;
}
