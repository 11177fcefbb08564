import type { Padding } from '../layers/sheet-map';

/** A box of the sheet's furniture in its lower right corner, pixels. */
export interface Block {
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * Room to leave when the lot is fitted to the sheet, so that the title block covers none of it: the block
 * is kept clear below or to the right, whichever leaves the lot larger.
 *
 * @param aspect - width over height of what is fitted
 */
export function fitPadding(
  base: Padding,
  block: Block,
  widthPx: number,
  heightPx: number,
  aspect: number,
): Padding {
  const gapPx = 14;
  const below = { ...base, bottom: Math.max(base.bottom, block.heightPx + gapPx) };
  const beside = { ...base, right: Math.max(base.right, block.widthPx + gapPx) };
  const scale = (padding: Padding): number =>
    Math.min(
      (widthPx - padding.left - padding.right) / aspect,
      heightPx - padding.top - padding.bottom,
    );
  const best = scale(beside) > scale(below) ? beside : below;
  // A sheet too small for its own margins keeps a fifth of itself for the lot.
  const tightest = (before: number, after: number, size: number): [number, number] => {
    const most = size * 0.8;
    const sum = before + after;
    return sum <= most ? [before, after] : [(before * most) / sum, (after * most) / sum];
  };
  const [left, right] = tightest(best.left, best.right, widthPx);
  const [top, bottom] = tightest(best.top, best.bottom, heightPx);
  return { top, right, bottom, left };
}
