import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';
import { apartPx, hearFirst, OnceAFrame, placeOn } from './pointer-events';

export interface OutlineDragPort {
  /** Whether an outline is being placed. */
  isPlacing(): boolean;
  /** Whether it lies somewhere. */
  isPlaced(): boolean;
  toPlace(screen: ScreenXY): LngLat;
  /** Its centre is where the pointer was pressed. */
  centre(place: LngLat): void;
  /** Its tip follows the pointer; at most once a frame. */
  stretch(place: LngLat): void;
  /** It lies nowhere again. */
  drop(): void;
  done(): void;
}

/** How far the pointer must move from the centre before the tip follows it, pixels. */
const slackPx = 6;

/**
 * Places an outline with the pointer, before the map or the drawing tool sees it: one press is the centre; the tip
 * follows until the pointer is let go, or, where it was let go at the centre, until a second press is.
 */
export class OutlineDrag {
  readonly #element: HTMLElement;
  readonly #port: OutlineDragPort;
  readonly #frame = new OnceAFrame();
  /** Where the centre was pressed, while the pointer leads the outline; by keys and fields it is led without one. */
  #pressed: ScreenXY | null = null;
  #isDown = false;
  #stretched = false;
  /** Where the tip was led to last. */
  #latest: LngLat | null = null;
  /** What the map would make of the press is kept from it. */
  #swallow = false;

  constructor(element: HTMLElement, port: OutlineDragPort, signal: AbortSignal) {
    this.#element = element;
    this.#port = port;
    hearFirst(element, ['pointerdown'], signal, (event) => {
      this.#press(event);
    });
    const mapHears = ['mousedown', 'touchstart', 'touchmove', 'click', 'dblclick'] as const;
    hearFirst(element, mapHears, signal, (event) => {
      if (this.#swallow) event.stopPropagation();
      if (event.type === 'click') this.#swallow = false;
    });
    hearFirst(window, ['pointerdown'], signal, (event) => {
      // Something beside the map was pressed: the outline stays as it is.
      if (!isInside(element, event)) this.#letGo();
    });
    hearFirst(window, ['keydown'], signal, () => {
      if (!this.#isDown) this.#letGo();
    });
    hearFirst(window, ['pointermove'], signal, (event) => {
      this.#move(event);
    });
    hearFirst(window, ['pointerup'], signal, (event) => {
      this.#release(event);
    });
    hearFirst(window, ['pointercancel'], signal, (event) => {
      if (this.#ledFrom(event) === null) return;
      this.#letGo();
      port.drop();
    });
  }

  #press(event: PointerEvent): void {
    const port = this.#port;
    this.#swallow = false;
    if (!port.isPlacing()) return;
    if (!event.isPrimary) {
      // Two fingers move the map.
      if (this.#pressed !== null) port.drop();
      this.#letGo();
      return;
    }
    if (event.button !== 0) return;
    this.#swallow = true;
    event.stopPropagation();
    const at = placeOn(this.#element, event);
    if (this.#ledFrom(event) === null) {
      this.#pressed = at;
      port.centre(port.toPlace(at));
    } else {
      this.#stretched = true;
      port.stretch(port.toPlace(at));
    }
    this.#isDown = true;
  }

  #move(event: PointerEvent): void {
    const from = this.#ledFrom(event);
    if (from === null || !(this.#isDown || isInside(this.#element, event))) return;
    const at = placeOn(this.#element, event);
    if (!this.#stretched && apartPx(at, from) < slackPx) return;
    this.#stretched = true;
    this.#latest = this.#port.toPlace(at);
    this.#frame.ask(() => {
      if (this.#latest !== null) this.#port.stretch(this.#latest);
    });
  }

  #release(event: PointerEvent): void {
    if (this.#ledFrom(event) === null || !this.#isDown) return;
    this.#isDown = false;
    if (!this.#stretched) return;
    this.#port.stretch(this.#port.toPlace(placeOn(this.#element, event)));
    this.#letGo();
    this.#port.done();
  }

  /** Where the centre was pressed, if the outline still follows this pointer. */
  #ledFrom(event: PointerEvent): ScreenXY | null {
    if (this.#pressed !== null && !(this.#port.isPlacing() && this.#port.isPlaced())) this.#letGo();
    return event.isPrimary ? this.#pressed : null;
  }

  #letGo(): void {
    this.#pressed = null;
    this.#isDown = false;
    this.#stretched = false;
    this.#frame.drop();
  }
}

function isInside(element: HTMLElement, { target }: Event): boolean {
  return target instanceof Node && element.contains(target);
}
