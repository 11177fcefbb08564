/** Position on the screen, pixels. */
export type ScreenXY = readonly [x: number, y: number];
