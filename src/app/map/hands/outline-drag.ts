import type { LngLat } from '../../../../lib/frame/frame';
import type { ScreenXY } from '../layers/screen-xy';

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
export function dragOutlines(
  element: HTMLElement,
  port: OutlineDragPort,
  signal: AbortSignal,
): void {
  /** Where the centre was pressed, while the pointer leads the outline; by keys and fields it is led without one. */
  let pressed: ScreenXY | null = null;
  let isDown = false;
  let stretched = false;
  let swallow = false;
  let frame = 0;
  let latest: LngLat | null = null;

  const screenOf = (event: MouseEvent): ScreenXY => {
    const { left, top } = element.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };
  const letGo = (): void => {
    pressed = null;
    isDown = false;
    stretched = false;
    cancelAnimationFrame(frame);
    frame = 0;
  };
  /** Where the centre was pressed, if the outline still follows this pointer. */
  const ledFrom = (event: PointerEvent): ScreenXY | null => {
    if (pressed !== null && !(port.isPlacing() && port.isPlaced())) letGo();
    return event.isPrimary ? pressed : null;
  };
  const capture = { signal, capture: true };

  element.addEventListener(
    'pointerdown',
    (event) => {
      swallow = false;
      if (!port.isPlacing()) return;
      if (!event.isPrimary) {
        // Two fingers move the map.
        if (pressed !== null) port.drop();
        letGo();
        return;
      }
      if (event.button !== 0) return;
      swallow = true;
      event.stopPropagation();
      const at = screenOf(event);
      if (ledFrom(event) === null) {
        pressed = at;
        port.centre(port.toPlace(at));
      } else {
        stretched = true;
        port.stretch(port.toPlace(at));
      }
      isDown = true;
    },
    capture,
  );
  for (const type of ['mousedown', 'touchstart', 'touchmove', 'click', 'dblclick'] as const) {
    element.addEventListener(
      type,
      (event) => {
        if (swallow) event.stopPropagation();
        if (type === 'click') swallow = false;
      },
      capture,
    );
  }
  window.addEventListener(
    'pointerdown',
    (event) => {
      // Something beside the map was pressed: the outline stays as it is.
      if (!isInside(element, event)) letGo();
    },
    capture,
  );
  window.addEventListener(
    'keydown',
    () => {
      if (!isDown) letGo();
    },
    capture,
  );
  window.addEventListener(
    'pointermove',
    (event) => {
      const from = ledFrom(event);
      if (from === null || !(isDown || isInside(element, event))) return;
      const at = screenOf(event);
      if (!stretched && Math.hypot(at[0] - from[0], at[1] - from[1]) < slackPx) return;
      stretched = true;
      latest = port.toPlace(at);
      frame ||= requestAnimationFrame(() => {
        frame = 0;
        if (latest !== null) port.stretch(latest);
      });
    },
    capture,
  );
  window.addEventListener(
    'pointerup',
    (event) => {
      if (ledFrom(event) === null || !isDown) return;
      isDown = false;
      if (!stretched) return;
      port.stretch(port.toPlace(screenOf(event)));
      letGo();
      port.done();
    },
    capture,
  );
  window.addEventListener(
    'pointercancel',
    (event) => {
      if (ledFrom(event) === null) return;
      letGo();
      port.drop();
    },
    capture,
  );
}

function isInside(element: HTMLElement, { target }: Event): boolean {
  return target instanceof Node && element.contains(target);
}
