import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';
import { apartPx, hearFirst, OnceAFrame, placeOn } from './pointer-events';

export interface HandleDragPort<H> {
  /** The handle at a place on the screen; null where there is none. */
  handleAt(screen: ScreenXY): H | null;
  /**
   * Whether a press on the handle is also one on what lies under it until it moves: then a click goes through to the
   * map, which is told by `grip` not to move along.
   */
  isLoose(handle: H): boolean;
  grip(held: boolean): void;
  toPlace(handle: H, screen: ScreenXY): LngLat;
  /** The handle follows the pointer; at most once a frame. */
  draft(handle: H, place: LngLat): void;
  drop(): void;
  commit(handle: H, place: LngLat): void;
  /** The handle was pressed with the second button: what it stands for is to go. */
  remove(handle: H): void;
}

interface Held<H> {
  readonly handle: H;
  readonly pointerId: number;
  readonly from: ScreenXY;
  /** Where it has been dragged to; null until it moves. */
  place: LngLat | null;
}

/** How far the pointer must move before a loose handle follows it, pixels. */
const loosePx = 4;

/**
 * Lets handles be dragged before the map or the drawing tool sees the pointer: listens on the map's element
 * in the capturing phase and keeps what follows a hit to itself.
 */
export class HandleDrag<H> {
  readonly #element: HTMLElement;
  readonly #port: HandleDragPort<H>;
  readonly #frame = new OnceAFrame();
  #held: Held<H> | null = null;
  /** What the map would make of the press is kept from it. */
  #swallow = false;

  constructor(element: HTMLElement, port: HandleDragPort<H>, signal: AbortSignal) {
    this.#element = element;
    this.#port = port;
    hearFirst(element, ['pointerdown'], signal, (event) => {
      this.#press(event);
    });
    const mapHears = ['mousedown', 'touchstart', 'touchmove', 'mousemove', 'click'] as const;
    hearFirst(element, mapHears, signal, (event) => {
      const isClick = event.type === 'click';
      if (this.#swallow && (this.#held !== null || isClick)) event.stopPropagation();
      if (isClick) this.#swallow = false;
    });
    hearFirst(element, ['contextmenu'], signal, (event) => {
      this.#remove(event);
    });
    hearFirst(window, ['pointermove'], signal, (event) => {
      this.#move(event);
    });
    hearFirst(window, ['pointerup', 'pointercancel'], signal, (event) => {
      this.#release(event);
    });
  }

  /** Drops the drag in progress. Returns whether there was one. */
  drop(): boolean {
    if (this.#held === null) return false;
    this.#letGo();
    this.#port.drop();
    return true;
  }

  #press(event: PointerEvent): void {
    this.#swallow = false;
    if (!event.isPrimary || event.button !== 0) return;
    const from = placeOn(this.#element, event);
    const handle = this.#port.handleAt(from);
    if (handle === null) return;
    this.#held = { handle, pointerId: event.pointerId, from, place: null };
    if (this.#port.isLoose(handle)) {
      this.#port.grip(true);
      return;
    }
    this.#swallow = true;
    event.stopPropagation();
  }

  #move(event: PointerEvent): void {
    const held = this.#held;
    if (held?.pointerId !== event.pointerId) return;
    const at = placeOn(this.#element, event);
    const { handle, from } = held;
    // A hand that shakes while it clicks moves nothing.
    if (held.place === null && this.#port.isLoose(handle) && apartPx(at, from) < loosePx) return;
    event.stopPropagation();
    held.place = this.#port.toPlace(handle, at);
    this.#frame.ask(() => {
      const now = this.#held;
      if (now !== null && now.place !== null) this.#port.draft(now.handle, now.place);
    });
  }

  #release(event: PointerEvent): void {
    if (this.#held?.pointerId !== event.pointerId) return;
    const { handle, place } = this.#held;
    this.#letGo();
    if (place === null) return;
    if (event.type === 'pointerup') this.#port.commit(handle, place);
    else this.#port.drop();
  }

  #remove(event: MouseEvent): void {
    const handle = this.#port.handleAt(placeOn(this.#element, event));
    if (handle === null || this.#port.isLoose(handle)) return;
    event.preventDefault();
    event.stopPropagation();
    this.#port.remove(handle);
  }

  #letGo(): void {
    if (this.#held !== null && this.#port.isLoose(this.#held.handle)) this.#port.grip(false);
    this.#held = null;
    this.#frame.drop();
  }
}
