import type { ScreenXY } from '../layers/screen-xy';

/** Where buttons, north arrow, scale bar and title block stand on the sheet, as closed rings on the screen. */
export function furniture(
  widthPx: number,
  heightPx: number,
  block: { readonly widthPx: number; readonly heightPx: number },
): ScreenXY[][] {
  return [
    box(0, 0, 56, 170),
    box(widthPx - 64, 0, widthPx, 96),
    box(0, heightPx - 64, 250, heightPx),
    box(widthPx - block.widthPx, heightPx - block.heightPx, widthPx, heightPx),
  ];
}

/** The square around a site's badge. */
export function badgeBox([x, y]: ScreenXY): ScreenXY[] {
  return box(x - 15, y - 15, x + 15, y + 15);
}

function box(west: number, top: number, east: number, bottom: number): ScreenXY[] {
  return [
    [west, top],
    [east, top],
    [east, bottom],
    [west, bottom],
    [west, top],
  ];
}
