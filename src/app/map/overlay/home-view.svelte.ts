import { untrack } from 'svelte';
import type { Frame } from '../../../../lib/frame/frame';
import { fitPadding, type Block } from './fit-padding';
import type { LngLatBox } from '../../../../lib/plan/plan-area';
import type { Padding, SheetMap } from '../layers/sheet-map';

/** A sheet lower than this keeps its view when its size changes, pixels. A choice. */
const leastFitPx = 220;

/** What the home view depends on. */
export interface HomeViewPort {
  sheet(): SheetMap | null;
  /** The ground to be seen whole. */
  home(): LngLatBox | null;
  frame(): Frame;
  padding(): Padding;
  widthPx(): number;
  heightPx(): number;
  /** The title block, which is to cover none of it. */
  block(): Block;
}

/**
 * The view on the whole lot: kept when the sheet changes its size, until the user looks elsewhere; shown anew when
 * there is another lot. To be made while the component that owns the map is.
 */
export class HomeView {
  readonly #port: HomeViewPort;
  /** The view is as `fit` left it. */
  #stays = true;

  constructor(port: HomeViewPort) {
    this.#port = port;
    // A corner of the lot that moves does not move the view; another lot does, or the first data.
    const key = $derived.by(() => {
      const home = port.home();
      return home === null || port.sheet() === null
        ? ''
        : home.map((degrees) => degrees.toFixed(3)).join();
    });
    $effect(() => {
      if (key === '') return;
      untrack(() => {
        this.fit(false);
      });
    });
    $effect(() => {
      const { widthPx, heightPx } = port.block();
      const sizes = [port.widthPx(), port.heightPx(), widthPx, heightPx];
      if (sizes.slice(0, 2).includes(0) || !this.#stays) return;
      // On a strip of map the whole lot would be too small to see anything of it.
      if (port.heightPx() < leastFitPx) return;
      untrack(() => {
        this.fit(false);
      });
    });
  }

  /** Room around the lot when it is shown whole. */
  get padding(): Padding {
    const port = this.#port;
    const bounds = port.home();
    if (bounds === null) return port.padding();
    const frame = port.frame();
    const [west, south] = frame.toLocal([bounds[0], bounds[1]]);
    const [east, north] = frame.toLocal([bounds[2], bounds[3]]);
    const aspect = (east - west) / Math.max(0.1, north - south);
    return fitPadding(port.padding(), port.block(), port.widthPx(), port.heightPx(), aspect);
  }

  /** Shows the whole lot. */
  fit(animate: boolean): void {
    const bounds = this.#port.home();
    if (bounds === null) return;
    this.#port.sheet()?.fit(bounds, this.padding, animate);
    this.#stays = true;
  }

  /** The user looks elsewhere: the view stays there. */
  leave(): void {
    this.#stays = false;
  }
}
