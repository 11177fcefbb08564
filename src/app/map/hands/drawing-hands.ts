import type { Frame, LngLat } from '../../../../lib/frame/frame';
import { contains } from '../../../../lib/frame/shapes';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import { CornerHands, type CornerHandsPort } from './corner-hands';
import { Gestures, type GesturePort } from './gestures';
import type { HandWork } from './hand-work';
import { HandleDrag, type HandleDragPort } from './handle-drag';
import type { Draft, Part } from '../layers/draft';
import type { Drafting } from '../../state/drafting.svelte';
import type { PlanGeometry } from '../../state/plan-geometry';
import type { Theme } from '../../look/ink';
import { moveGeometry } from './nudge';
import { OutlineDrag, type OutlineDragPort } from './outline-drag';
import { stretchedTo } from './placed-outline';
import { type PlacedOutline } from '../../state/tool';
import { geometryOf } from '../layers/plan-drawing';
import { withCornerAt, withoutCorner, type AreaHandle, type RingHandle } from './ring-handles';
import { tidyGeometry } from '../../state/tidy-geometry';
import { draggedTo, type Satellite } from './satellites';
import type { SheetMap } from '../layers/sheet-map';
import { snap, snapLines } from './snap';
import { type ScreenXY } from '../layers/screen-xy';

/** What the hands ask of and tell their owner. */
export interface DrawingHandsPort {
  plan(): Plan;
  frame(): Frame;
  work(): HandWork;
  /** The selected feature as the plan has it, while it may be changed. */
  selected(): PlanFeature | null;
  /** Handles of the selected feature as they are drawn. */
  satellites(): readonly Satellite[];
  ringHandles(): readonly RingHandle[];
  /** What the gesture has made so far; `null` when it was dropped. */
  hold(draft: Draft | null): void;
  /** What is being drawn corner by corner. */
  drafting(): Drafting | null;
  /** The outline that is drawn as a whole; `null` while none is. */
  outline(): PlacedOutline | null;
  outlined(outline: PlacedOutline): void;
  /** The outline lies where and as it should. */
  placed(): void;
  commit(id: string, geometry: PlanGeometry, part: Part): void;
}

type Handle = Satellite | RingHandle | AreaHandle;

const reachPx = 13;

/** Everything by which the pointer draws on the map and changes what is drawn. */
export class DrawingHands {
  readonly #port: DrawingHandsPort;
  readonly #sheet: SheetMap;
  readonly #gestures: Gestures;
  readonly #handles: HandleDrag<Handle>;

  constructor(sheet: SheetMap, port: DrawingHandsPort, theme: Theme, signal: AbortSignal) {
    this.#sheet = sheet;
    this.#port = port;
    this.#gestures = new Gestures(sheet.view, this.#gesturePort(), theme);
    signal.addEventListener('abort', () => {
      this.#gestures.close();
    });
    const container = sheet.view.getCanvasContainer();
    this.#handles = new HandleDrag(container, this.#handlePort(), signal);
    new OutlineDrag(container, this.#outlinePort(), signal);
    new CornerHands(container, this.#cornerPort(), signal);
  }

  setWork(work: HandWork): void {
    this.#gestures.setWork(work);
  }

  setTheme(theme: Theme): void {
    this.#gestures.setTheme(theme);
  }

  /** Drops the gesture in progress. Returns whether there was one. */
  cancel(): boolean {
    return this.#handles.drop() || this.#gestures.cancel();
  }

  #gesturePort(): GesturePort {
    const port = this.#port;
    return {
      snapLines: () => {
        const work = port.work();
        return snapLines(port.plan(), work.does === 'edit' ? work.id : null);
      },
      toScreen: (place) => this.#sheet.toScreen(place),
      draft: (geometry) => {
        const work = port.work();
        const id = work.does === 'edit' ? work.id : null;
        port.hold(geometry === null ? null : { id, part: 'geometry', geometry });
      },
      edited: (geometry) => {
        const work = port.work();
        if (work.does === 'edit') port.commit(work.id, geometry, 'geometry');
      },
    };
  }

  #handlePort(): HandleDragPort<Handle> {
    const port = this.#port;
    const { dragPan } = this.#sheet.view;
    return {
      handleAt: (at) => this.#handleAt(at),
      isLoose: isArea,
      grip: (held) => {
        if (held) dragPan.disable();
        else dragPan.enable();
      },
      toPlace: (handle, at) =>
        (isCorner(handle) ? this.#snapped(at) : null) ?? this.#sheet.toPlace(at),
      draft: (handle, place) => {
        this.#change(handle, place, (id, geometry) => {
          port.hold({ id, part: handle.part, geometry });
        });
      },
      drop: () => {
        port.hold(null);
      },
      commit: (handle, place) => {
        this.#change(handle, place, (id, geometry) => {
          port.commit(id, tidyGeometry(geometry), handle.part);
        });
      },
      remove: (handle) => {
        const feature = port.selected();
        if (!isCorner(handle) || handle.does !== 'move-corner' || feature === null) return;
        const area = geometryOf(feature);
        const left = area.type === 'Polygon' ? withoutCorner(area, handle) : null;
        if (left !== null) port.commit(feature.id, tidyGeometry(left), 'geometry');
      },
    };
  }

  #outlinePort(): OutlineDragPort {
    const port = this.#port;
    const change = (make: (outline: PlacedOutline) => PlacedOutline): void => {
      const outline = port.outline();
      if (outline !== null) port.outlined(make(outline));
    };
    return {
      isPlacing: () => port.outline() !== null,
      isPlaced: () => (port.outline()?.centre ?? null) !== null,
      toPlace: (at) => this.#sheet.toPlace(at),
      centre: (centre) => {
        change((outline) => ({ ...outline, centre }));
      },
      stretch: (place) => {
        change((outline) => stretchedTo(outline, place));
      },
      drop: () => {
        change((outline) => ({ ...outline, centre: null }));
      },
      done: () => {
        port.placed();
      },
    };
  }

  #cornerPort(): CornerHandsPort {
    const port = this.#port;
    return {
      isDrawing: () => (port.drafting()?.kind ?? null) !== null,
      toPlace: (at) => this.#sheet.toPlace(at),
      metresPerPx: () => this.#sheet.metresPerPx(),
      point: (place, reachM) => port.drafting()?.point(place, reachM),
      press: (place, reachM) => port.drafting()?.press(place, reachM),
    };
  }

  #handleAt(at: ScreenXY): Handle | null {
    const handles = [...this.#port.satellites(), ...this.#port.ringHandles()];
    const hit = handles.find((handle) => {
      return Math.hypot(handle.at[0] - at[0], handle.at[1] - at[1]) <= reachPx;
    });
    if (hit !== undefined) return hit;
    // The drawing tool drags what it holds by itself.
    if (this.#port.ringHandles().length === 0) return null;
    const feature = this.#port.selected();
    const from = this.#sheet.toPlace(at);
    const rings = feature?.geometry.type === 'Polygon' ? feature.geometry.coordinates : [];
    return contains(rings, from) ? { part: 'geometry', does: 'move-area', from } : null;
  }

  /** Tells what a handle that is dragged to a place makes of its feature. */
  #change(handle: Handle, place: LngLat, tell: (id: string, geometry: PlanGeometry) => void): void {
    const feature = this.#port.selected();
    const geometry = feature === null ? null : this.#changed(feature, handle, place);
    if (feature !== null && geometry !== null) tell(feature.id, geometry);
  }

  #changed(feature: PlanFeature, handle: Handle, place: LngLat): PlanGeometry | null {
    if (handle.part !== 'geometry') return draggedTo(feature, handle, place);
    const geometry = geometryOf(feature);
    if (geometry.type !== 'Polygon') return null;
    if (isCorner(handle)) return withCornerAt(geometry, handle, place);
    const frame = this.#port.frame();
    const [fromX, fromY] = frame.toLocal(handle.from);
    const [toX, toY] = frame.toLocal(place);
    return moveGeometry(geometry, toX - fromX, toY - fromY, frame);
  }

  #snapped(at: ScreenXY): LngLat | null {
    const lines = snapLines(this.#port.plan(), this.#port.selected()?.id ?? null);
    return snap(at, lines, (place) => this.#sheet.toScreen(place));
  }
}

function isArea(handle: Handle): handle is AreaHandle {
  return handle.part === 'geometry' && handle.does === 'move-area';
}

function isCorner(handle: Handle): handle is RingHandle {
  return handle.part === 'geometry' && handle.does !== 'move-area';
}
