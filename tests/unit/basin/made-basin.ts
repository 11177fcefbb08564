import type { XY } from '../../../lib/frame/frame';
import type { Grid } from '../../../lib/elevation/grid';
import { finishedBasin, type FinishedBasin } from '../../../lib/basin/form/finished-basin';
import type { BasinShape } from '../../../lib/ground/basin-form';
import { groundOf } from '../ground/plane-lot';

/** A rectangle turned about its middle, radians counter-clockwise. */
export function turnedBox(middle: XY, lengthM: number, widthM: number, turnRad = 0): XY[] {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([i, j]): XY => {
    const x = (i * lengthM) / 2;
    const y = (j * widthM) / 2;
    return [middle[0] + x * cos - y * sin, middle[1] + x * sin + y * cos];
  });
}

/** An ellipse as a ring of many corners, with the area of the true one. */
export function oval(middle: XY, halfLengthM: number, halfWidthM: number, corners = 180): XY[] {
  const grow = Math.sqrt((2 * Math.PI) / corners / Math.sin((2 * Math.PI) / corners));
  return Array.from({ length: corners }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / corners;
    return [
      middle[0] + grow * halfLengthM * Math.cos(angle),
      middle[1] + grow * halfWidthM * Math.sin(angle),
    ];
  });
}

/** Level ground at 5 m, 30 by 24 m. */
export const level = (): Grid => groundOf(30, 24, 0.5, () => 5);
/** Ground that falls to the east from 5 m. */
export const falling = (slope: number): Grid => groundOf(30, 24, 0.5, (x) => 5 - slope * (x - 15));

/** A finished basin of these figures; stops the test when it cannot be dug. */
export function built(
  shape: Partial<BasinShape> = {},
  ground: Grid = level(),
  cellM?: number,
): FinishedBasin {
  const made = finishedBasin(
    ground,
    { id: 'basin', rim: turnedBox([15, 12], 6, 4), pondingDepthM: 0.15, sideSlope: 3, ...shape },
    cellM,
  );
  if ('notDug' in made) throw new Error(made.notDug);
  return made;
}
