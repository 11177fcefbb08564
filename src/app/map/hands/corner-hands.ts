import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';
import { apartPx, hearFirst, OnceAFrame, placeOn } from './pointer-events';

export interface CornerHandsPort {
  /** Whether a feature is being drawn corner by corner. */
  isDrawing(): boolean;
  toPlace(screen: ScreenXY): LngLat;
  metresPerPx(): number;
  /** The pointer is over a place, at most once a frame; null when it has left. */
  point(place: LngLat | null, reachM: number): void;
  press(place: LngLat, reachM: number): void;
}

/** How near the pointer must come to be caught, pixels: of a mouse, and half a fingertip. */
const reachPx = { mouse: 11, touch: 18 } as const;
/** A press that moves farther than this moves the map, pixels. */
const shakePx = { mouse: 6, touch: 12 } as const;

/** Sets corners with the pointer: a press is a corner, while a drag still moves the map. */
export class CornerHands {
  readonly #element: HTMLElement;
  readonly #port: CornerHandsPort;
  readonly #frame = new OnceAFrame();
  #pressed: ScreenXY | null = null;

  constructor(element: HTMLElement, port: CornerHandsPort, signal: AbortSignal) {
    this.#element = element;
    this.#port = port;
    hearFirst(element, ['pointerdown'], signal, (event) => {
      // Two fingers move the map.
      const isOne = event.isPrimary && event.button === 0 && port.isDrawing();
      this.#pressed = isOne ? placeOn(element, event) : null;
    });
    hearFirst(element, ['dblclick'], signal, (event) => {
      if (port.isDrawing()) event.stopPropagation();
    });
    hearFirst(element, ['pointermove'], signal, (event) => {
      this.#move(event);
    });
    hearFirst(element, ['pointerup'], signal, (event) => {
      this.#release(event);
    });
    hearFirst(element, ['pointerleave', 'pointercancel'], signal, (event) => {
      if (event.target !== element) return;
      this.#frame.drop();
      if (port.isDrawing()) port.point(null, 0);
    });
  }

  #move(event: PointerEvent): void {
    const port = this.#port;
    if (!port.isDrawing() || event.pointerType === 'touch' || event.buttons !== 0) return;
    const at = placeOn(this.#element, event);
    this.#frame.ask(() => {
      if (port.isDrawing()) port.point(port.toPlace(at), reachPx.mouse * port.metresPerPx());
    });
  }

  #release(event: PointerEvent): void {
    const from = this.#pressed;
    this.#pressed = null;
    if (from === null || !event.isPrimary || !this.#port.isDrawing()) return;
    const hand = event.pointerType === 'touch' ? 'touch' : 'mouse';
    const at = placeOn(this.#element, event);
    if (apartPx(at, from) > shakePx[hand]) return;
    const port = this.#port;
    this.#frame.drop();
    const reachM = reachPx[hand] * port.metresPerPx();
    port.press(port.toPlace(at), reachM);
    // A finger that is lifted points at nothing any more.
    if (hand === 'touch' && port.isDrawing()) port.point(null, reachM);
  }
}
