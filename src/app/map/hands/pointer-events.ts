import type { ScreenXY } from '../layers/screen-xy';

/** Hears events of some types on their way down, before what lies below and may be kept from hearing them. */
export function hearFirst<K extends keyof GlobalEventHandlersEventMap>(
  target: GlobalEventHandlers,
  types: readonly K[],
  signal: AbortSignal,
  hear: (event: GlobalEventHandlersEventMap[K]) => void,
): void {
  for (const type of types) target.addEventListener(type, hear, { signal, capture: true });
}

/** Where an event is on an element, pixels from its upper left corner. */
export function placeOn(element: HTMLElement, event: MouseEvent): ScreenXY {
  const { left, top } = element.getBoundingClientRect();
  return [event.clientX - left, event.clientY - top];
}

/** How far it is from one place to another on the screen, pixels. */
export function apartPx(a: ScreenXY, b: ScreenXY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Something done in the next frame, and once only however often it is asked for before. */
export class OnceAFrame {
  #id = 0;

  ask(run: () => void): void {
    this.#id ||= requestAnimationFrame(() => {
      this.#id = 0;
      run();
    });
  }

  drop(): void {
    cancelAnimationFrame(this.#id);
    this.#id = 0;
  }
}
