import type { ScreenXY } from '../layers/screen-xy';

/** An arrow between two lots as it is drawn, pixels. */
export interface ArrowLayout {
  readonly shaft: string;
  /** Outline of the head. */
  readonly head: string;
  /** Where its volume is written. */
  readonly text: ScreenXY;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** Least length on the screen, so that an arrow is seen in a wide view too, pixels. */
const leastPx = 34;
const headPx = 9;
/** How far each of two arrows that run against each other stands to its own right, pixels. */
const asidePx = 9;
/** From the middle of an arrow to the middle of what is written beside it, pixels. */
const textPx = 13;

/**
 * Lays out an arrow so that neither it nor its volume lies on the one that runs against it: each keeps to its right.
 *
 * @param isMet - whether another arrow runs the other way over the same line.
 */
export function exchangeLayout(from: ScreenXY, to: ScreenXY, isMet: boolean): ArrowLayout {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [ux, uy] =
    length < 1e-6 ? [1, 0] : [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const half = Math.max(leastPx, length) / 2;
  // Right-hand side of the way on a screen, whose y runs down; an arrow alone is written over or right of.
  const isRight = isMet || ux < -levelBelow || (Math.abs(ux) <= levelBelow && uy < 0);
  const [nx, ny] = isRight ? [-uy, ux] : [uy, -ux];
  const aside = isMet ? asidePx : 0;
  const x = (from[0] + to[0]) / 2 + nx * aside;
  const y = (from[1] + to[1]) / 2 + ny * aside;
  const tip = [x + ux * half, y + uy * half];
  const back = [tip[0] - ux * headPx * 1.6, tip[1] - uy * headPx * 1.6];
  const side = [nx * headPx * 0.8, ny * headPx * 0.8];
  return {
    shaft: `M${x - ux * half} ${y - uy * half}L${back[0]} ${back[1]}`,
    head: `M${tip[0]} ${tip[1]}L${back[0] + side[0]} ${back[1] + side[1]}L${back[0] - side[0]} ${back[1] - side[1]}Z`,
    text: [x + nx * textPx, y + ny * textPx],
    anchor: Math.abs(nx) < 0.5 ? 'middle' : nx > 0 ? 'start' : 'end',
  };
}

/** Arrows whose way east or west is less than this part of their length count as upright. */
const levelBelow = 0.1;
