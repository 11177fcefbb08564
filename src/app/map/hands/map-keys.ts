import type { Frame } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import { cursorStrides, moveGeometry, nudgeOfKey } from './nudge';
import { outlineOfKey } from './placed-outline';
import { type PlacedOutline } from '../../state/session/tool';
import { geometryOf } from '../layers/plan-drawing';

/** What keys on the map ask of and tell their owner. */
export interface MapKeysPort {
  /** The outline that is drawn as a whole; `null` while none is. */
  outline(): PlacedOutline | null;
  outlined(outline: PlacedOutline): void;
  /** The outline lies where and as it should. */
  placed(): void;
  /** Leads the next corner of what is drawn by metres east and north. Returns whether anything is being drawn. */
  leads(eastM: number, northM: number): boolean;
  /** The feature that keys change, with the gesture in progress in it; `null` when there is none. */
  inHand(): PlanFeature | null;
  frame(): Frame;
  /** Drops the gesture in progress. Returns whether there was one. */
  drop(): boolean;
  escape(): void;
  remove(id: string): void;
  nudged(id: string, geometry: PlanGeometry): void;
  /** @param joins - whether it goes on with the change before, so that both are one step to undo. */
  commit(id: string, geometry: PlanGeometry, joins: boolean): void;
  /** Moves the cursor by metres east and north. */
  moveCursor(eastM: number, northM: number): void;
  /** Does at the cursor what a press of the pointer does. Returns whether there is a cursor. */
  pressAtCursor(): boolean;
  /** Takes the cursor off the map. Returns whether there was one. */
  dropCursor(): boolean;
  /** Selects the next feature in order, or the one before. */
  walk(step: 1 | -1): void;
}

/** Keys pressed while the map has the focus, heard before the map itself does. */
export class MapKeys {
  readonly #port: MapKeysPort;
  #nudged: { readonly id: string; readonly geometry: PlanGeometry } | null = null;
  /** The feature that arrow keys moved last, while nothing else has been done since. */
  #inRow: string | null = null;

  constructor(port: MapKeysPort) {
    this.#port = port;
  }

  down(event: KeyboardEvent): void {
    if (!(event.target instanceof HTMLCanvasElement)) return;
    const nudge = nudgeOfKey(event.key, event);
    const isCommand = event.ctrlKey || event.metaKey;
    if ((nudge === null || isCommand) && !isHeldBeside(event.key)) this.endRow();
    if (isCommand || !this.#isMeant(event, nudge)) return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** What follows is no more of the same movement: something else has been done. */
  endRow(): void {
    this.#inRow = null;
  }

  /** Keeping an arrow key down is one change, done when it is let go; so are presses in a row. */
  up(event: KeyboardEvent): void {
    if (this.#nudged === null || nudgeOfKey(event.key, event) === null) return;
    const { id, geometry } = this.#nudged;
    this.#nudged = null;
    this.#port.commit(id, geometry, this.#inRow === id);
    this.#inRow = id;
  }

  /** Does what a key asks. Returns whether it asks anything. */
  #isMeant(event: KeyboardEvent, nudge: [number, number] | null): boolean {
    const { key } = event;
    const port = this.#port;
    if (key === 'Escape') {
      if (port.drop()) this.#nudged = null;
      else if (!port.dropCursor()) port.escape();
      return true;
    }
    if (this.#placeOutline(event)) return true;
    if (nudge !== null) {
      if (!port.leads(...nudge) && !this.#moveInHand(nudge)) {
        port.moveCursor(...(nudgeOfKey(key, event, cursorStrides) ?? nudge));
      }
      return true;
    }
    if (event.altKey) return false;
    if (key === 'n' || key === 'N') {
      port.walk(event.shiftKey ? -1 : 1);
      return true;
    }
    if (key === 'Enter') return port.pressAtCursor();
    if (key !== 'Delete' && key !== 'Backspace') return false;
    const feature = port.inHand();
    if (feature !== null) port.remove(feature.id);
    return feature !== null;
  }

  /** Moves the feature that is in hand. Returns whether there is one. */
  #moveInHand([eastM, northM]: [number, number]): boolean {
    const feature = this.#port.inHand();
    if (feature === null) return false;
    const geometry = moveGeometry(geometryOf(feature), eastM, northM, this.#port.frame());
    this.#nudged = { id: feature.id, geometry };
    this.#port.nudged(feature.id, geometry);
    return true;
  }

  /** Does what a key asks of the outline that is being placed. Returns whether it asks anything. */
  #placeOutline(event: KeyboardEvent): boolean {
    const outline = this.#port.outline();
    if (outline === null || outline.centre === null || event.altKey) return false;
    if (event.key === 'Enter') {
      this.#port.placed();
      return true;
    }
    const next = outlineOfKey(outline, event.key, event.shiftKey);
    if (next !== null) this.#port.outlined(next);
    return next !== null;
  }
}

/** Whether a key is one that is held beside others. */
function isHeldBeside(key: string): boolean {
  return key === 'Shift' || key === 'Alt' || key === 'Control' || key === 'Meta';
}
