import type { Frame } from '../../../../lib/frame/frame';
import type { PlanFeature } from '../../../../lib/plan/schema';
import type { PlanGeometry } from '../../state/plan-geometry';
import { moveGeometry, nudgeOfKey } from './nudge';
import { outlineOfKey } from './placed-outline';
import { type PlacedOutline } from '../../state/tool';
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
  commit(id: string, geometry: PlanGeometry): void;
}

/** Keys pressed while the map has the focus, heard before the map itself does. */
export class MapKeys {
  readonly #port: MapKeysPort;
  #nudged: { readonly id: string; readonly geometry: PlanGeometry } | null = null;

  constructor(port: MapKeysPort) {
    this.#port = port;
  }

  down(event: KeyboardEvent): void {
    if (!(event.target instanceof HTMLCanvasElement)) return;
    if (event.key === 'Escape') {
      if (this.#port.drop()) this.#nudged = null;
      else this.#port.escape();
      event.stopPropagation();
      return;
    }
    if (this.#placeOutline(event)) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    if (this.#leadCorner(event)) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    const feature = this.#port.inHand();
    if (feature === null) return;
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      event.stopPropagation();
      this.#port.remove(feature.id);
      return;
    }
    const nudge = nudgeOfKey(event.key, event.shiftKey);
    if (nudge === null || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    const geometry = moveGeometry(geometryOf(feature), nudge[0], nudge[1], this.#port.frame());
    this.#nudged = { id: feature.id, geometry };
    this.#port.nudged(feature.id, geometry);
  }

  #leadCorner(event: KeyboardEvent): boolean {
    const nudge = nudgeOfKey(event.key, event.shiftKey);
    if (nudge === null || event.ctrlKey || event.metaKey || event.altKey) return false;
    return this.#port.leads(...nudge);
  }

  /** Does what a key asks of the outline that is being placed. Returns whether it asks anything. */
  #placeOutline(event: KeyboardEvent): boolean {
    const outline = this.#port.outline();
    if (outline === null || outline.centre === null) return false;
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    if (event.key === 'Enter') {
      this.#port.placed();
      return true;
    }
    const next = outlineOfKey(outline, event.key, event.shiftKey);
    if (next !== null) this.#port.outlined(next);
    return next !== null;
  }

  /** Keeping an arrow key down is one change, done when it is let go. */
  up(event: KeyboardEvent): void {
    if (this.#nudged === null || nudgeOfKey(event.key, false) === null) return;
    const { id, geometry } = this.#nudged;
    this.#nudged = null;
    this.#port.commit(id, geometry);
  }
}
