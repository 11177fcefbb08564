import type { ScreenXY } from '../layers/screen-xy';
import { apartPx, hearFirst, placeOn } from './pointer-events';

/** Two opposite corners of a box on the screen. */
export interface Box {
  readonly from: ScreenXY;
  readonly to: ScreenXY;
}

export interface BoxChoicePort {
  /** Whether things on the map can be chosen now. */
  canChoose(): boolean;
  /** The box as it is drawn; null when it is gone. */
  box(box: Box | null): void;
  chosen(box: Box): void;
}

/** A box smaller than this is a click, pixels. */
const leastPx = 5;

/** Chooses by a box that is dragged with Shift held, before the map makes anything of it. */
export class BoxChoice {
  #from: ScreenXY | null = null;

  constructor(element: HTMLElement, port: BoxChoicePort, signal: AbortSignal) {
    const boxTo = (event: MouseEvent): Box | null => {
      if (this.#from === null) return null;
      const to = placeOn(element, event);
      return apartPx(this.#from, to) < leastPx ? null : { from: this.#from, to };
    };
    hearFirst(element, ['pointerdown', 'mousedown'], signal, (event) => {
      if (!event.shiftKey || event.button !== 0 || !port.canChoose()) return;
      this.#from = placeOn(element, event);
      event.stopPropagation();
    });
    hearFirst(window, ['pointermove'], signal, (event) => {
      if (this.#from !== null) port.box(boxTo(event));
    });
    hearFirst(window, ['pointerup', 'pointercancel'], signal, (event) => {
      const box = boxTo(event);
      this.#from = null;
      port.box(null);
      if (box !== null && event.type === 'pointerup') port.chosen(box);
    });
  }
}

/** Whether a place on the screen lies in a box. */
export function isInBox({ from, to }: Box, [x, y]: ScreenXY): boolean {
  return (
    x >= Math.min(from[0], to[0]) &&
    x <= Math.max(from[0], to[0]) &&
    y >= Math.min(from[1], to[1]) &&
    y <= Math.max(from[1], to[1])
  );
}
