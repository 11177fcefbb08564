import type { LngLat } from '../../../lib/frame/frame';
import type { Satellite } from './satellites';
import type { ScreenXY } from './snap';

export interface SatelliteDragPort {
  satellites(): readonly Satellite[];
  toPlace(screen: ScreenXY): LngLat;
  /** The handle follows the pointer; at most once a frame. */
  draft(handle: Satellite, place: LngLat): void;
  drop(): void;
  commit(handle: Satellite, place: LngLat): void;
}

const reachPx = 13;

/**
 * Lets handles be dragged before the map or the drawing tool sees the pointer: listens on the map's element
 * in the capturing phase and keeps what follows a hit to itself.
 *
 * @returns drops the drag in progress, and says whether there was one
 */
export function dragSatellites(
  element: HTMLElement,
  port: SatelliteDragPort,
  signal: AbortSignal,
): () => boolean {
  let held: { handle: Satellite; pointerId: number; place: LngLat | null } | null = null;
  let swallow = false;
  let frame = 0;

  const screenOf = (event: PointerEvent): ScreenXY => {
    const { left, top } = element.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };
  const capture = { signal, capture: true };

  element.addEventListener(
    'pointerdown',
    (event) => {
      swallow = false;
      if (!event.isPrimary || event.button !== 0) return;
      const [x, y] = screenOf(event);
      const hit = port.satellites().find(({ at }) => Math.hypot(at[0] - x, at[1] - y) <= reachPx);
      if (hit === undefined) return;
      held = { handle: hit, pointerId: event.pointerId, place: null };
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
  window.addEventListener(
    'pointermove',
    (event) => {
      if (held?.pointerId !== event.pointerId) return;
      event.stopPropagation();
      held.place = port.toPlace(screenOf(event));
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
        held = null;
        cancelAnimationFrame(frame);
        frame = 0;
        if (place === null) return;
        if (type === 'pointerup') port.commit(handle, place);
        else port.drop();
      },
      capture,
    );
  }
  return () => {
    if (held === null) return false;
    held = null;
    cancelAnimationFrame(frame);
    frame = 0;
    port.drop();
    return true;
  };
}
