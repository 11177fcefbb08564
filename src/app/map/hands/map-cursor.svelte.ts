import type { Frame, LngLat } from '../../../../lib/frame/frame';
import type { Target } from '../../state/session/target';
import { pick } from '../layers/pick';
import type { SheetMap } from '../layers/sheet-map';
import { pressAt, type MapPointerPort } from './map-pointer';

/** What the cursor asks of and tells the map that it is on. */
export interface MapCursorPort {
  sheet(): SheetMap | null;
  frame(): Frame;
  pointer: MapPointerPort;
  moved(cursor: { readonly place: LngLat; readonly over: Target | null } | null): void;
}

/** How near the edge of the sheet the cursor may come before the map follows, pixels. A choice. */
const edgePx = 40;

/** A place on the map that keys lead, and press at as the pointer does. */
export class MapCursorHands {
  readonly #port: MapCursorPort;
  place = $state.raw<LngLat | null>(null);

  constructor(port: MapCursorPort) {
    this.#port = port;
  }

  /** Moves by metres east and north; from the middle of the sheet at first. */
  move(eastM: number, northM: number): void {
    const sheet = this.#port.sheet();
    if (sheet === null) return;
    const { lng, lat } = sheet.view.getCenter();
    const { toLocal, toLngLat } = this.#port.frame();
    const [x, y] = toLocal(this.place ?? [lng, lat]);
    this.#put(sheet, this.place === null ? [lng, lat] : toLngLat([x + eastM, y + northM]));
  }

  /** Does what the pointer does where the cursor is. Returns whether there is one. */
  press(): boolean {
    const sheet = this.#port.sheet();
    if (sheet === null || this.place === null) return false;
    pressAt(sheet, this.#port.pointer, sheet.toScreen(this.place), this.place, false);
    return true;
  }

  /** Takes it off the map. Returns whether it was there. */
  drop(): boolean {
    if (this.place === null) return false;
    this.place = null;
    this.#port.pointer.pointedAt(null);
    this.#port.moved(null);
    return true;
  }

  #put(sheet: SheetMap, place: LngLat): void {
    this.place = place;
    keepInView(sheet, place);
    const over = pick(sheet.hitsAt(sheet.toScreen(place)));
    this.#port.pointer.pointer(place);
    this.#port.pointer.pointedAt(over);
    this.#port.moved({ place, over });
  }
}

/** Moves the map so far that a place is well on it. */
export function keepInView(sheet: SheetMap, [lng, lat]: LngLat): void {
  const [x, y] = sheet.toScreen([lng, lat]);
  const { clientWidth, clientHeight } = sheet.view.getCanvas();
  const isIn = x > edgePx && y > edgePx && x < clientWidth - edgePx && y < clientHeight - edgePx;
  if (!isIn) sheet.view.jumpTo({ center: [lng, lat] });
}
