import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';

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

/**
 * Lets handles be dragged before the map or the drawing tool sees the pointer: listens on the map's element
 * in the capturing phase and keeps what follows a hit to itself.
 *
 * @returns drops the drag in progress, and says whether there was one
 */
export function dragHandles<H>(
  element: HTMLElement,
  port: HandleDragPort<H>,
  signal: AbortSignal,
): () => boolean {
  let held: { handle: H; pointerId: number; from: ScreenXY; place: LngLat | null } | null = null;
  let swallow = false;
  let frame = 0;

  const screenOf = (event: MouseEvent): ScreenXY => {
    const { left, top } = element.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };
  const letGo = (): void => {
    if (held !== null && port.isLoose(held.handle)) port.grip(false);
    held = null;
    cancelAnimationFrame(frame);
    frame = 0;
  };
  const capture = { signal, capture: true };

  element.addEventListener(
    'pointerdown',
    (event) => {
      swallow = false;
      if (!event.isPrimary || event.button !== 0) return;
      const from = screenOf(event);
      const handle = port.handleAt(from);
      if (handle === null) return;
      held = { handle, pointerId: event.pointerId, from, place: null };
      if (port.isLoose(handle)) {
        port.grip(true);
        return;
      }
      swallow = true;
      event.stopPropagation();
    },
    capture,
  );
  for (const type of ['mousedown', 'touchstart', 'touchmove', 'mousemove', 'click'] as const) {
    element.addEventListener(
      type,
      (event) => {
        if (swallow && (held !== null || type === 'click')) event.stopPropagation();
        if (type === 'click') swallow = false;
      },
      capture,
    );
  }
  element.addEventListener(
    'contextmenu',
    (event) => {
      const handle = port.handleAt(screenOf(event));
      if (handle === null || port.isLoose(handle)) return;
      event.preventDefault();
      event.stopPropagation();
      port.remove(handle);
    },
    capture,
  );
  window.addEventListener(
    'pointermove',
    (event) => {
      if (held?.pointerId !== event.pointerId) return;
      const at = screenOf(event);
      const { handle, from } = held;
      if (held.place === null && port.isLoose(handle)) {
        // A hand that shakes while it clicks moves nothing.
        if (Math.hypot(at[0] - from[0], at[1] - from[1]) < loosePx) return;
      }
      event.stopPropagation();
      held.place = port.toPlace(handle, at);
      frame ||= requestAnimationFrame(() => {
        frame = 0;
        if (held !== null && held.place !== null) port.draft(held.handle, held.place);
      });
    },
    capture,
  );
  for (const type of ['pointerup', 'pointercancel'] as const) {
    window.addEventListener(
      type,
      (event) => {
        if (held?.pointerId !== event.pointerId) return;
        const { handle, place } = held;
        letGo();
        if (place === null) return;
        if (type === 'pointerup') port.commit(handle, place);
        else port.drop();
      },
      capture,
    );
  }
  return () => {
    if (held === null) return false;
    letGo();
    port.drop();
    return true;
  };
}

/** How far the pointer must move before a loose handle follows it, pixels. */
const loosePx = 4;
