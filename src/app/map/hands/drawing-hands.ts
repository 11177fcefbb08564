import type { Frame, LngLat, XY } from '../../../../lib/frame/frame';
import { contains } from '../../../../lib/frame/shapes';
import type { Plan, PlanFeature } from '../../../../lib/plan/schema';
import { BoxChoice, type Box } from './box-choice';
import { CornerHands, type CornerHandsPort } from './corner-hands';
import { Gestures, type GesturePort } from './gestures';
import type { HandWork } from './hand-work';
import { HandleDrag, type HandleDragPort } from './handle-drag';
import type { Draft, Part } from '../layers/draft';
import { pick } from '../layers/pick';
import type { Drafting } from '../../state/drawing/drafting.svelte';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import type { Theme } from '../../look/ink';
import { moveGeometry } from './nudge';
import { OutlineDrag, type OutlineDragPort } from './outline-drag';
import { stretchedTo } from './placed-outline';
import { type PlacedOutline } from '../../state/session/tool';
import { geometryOf } from '../layers/plan-drawing';
import { withCornerAt, withoutCorner, type AreaHandle, type RingHandle } from './ring-handles';
import { tidyGeometry } from '../../state/plan/tidy-geometry';
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
  /** Whether things can be chosen on the map now. */
  canChoose(): boolean;
  /** All that is chosen, where that is several features. */
  group(): readonly string[];
  /** What is chosen is dragged along; null when that was dropped. */
  moveGroup(by: XY | null, isDone: boolean): void;
  /** The box by which things are chosen. */
  box(box: Box | null): void;
  chosenIn(box: Box): void;
  /** The outline that is drawn as a whole; `null` while none is. */
  outline(): PlacedOutline | null;
  outlined(outline: PlacedOutline): void;
  /** The outline lies where and as it should. */
  placed(): void;
  commit(id: string, geometry: PlanGeometry, part: Part): void;
}

/** Several chosen features, held at a place on one of them. */
interface GroupHandle {
  readonly part: 'group';
  readonly from: LngLat;
}

type Handle = Satellite | RingHandle | AreaHandle | GroupHandle;

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
    sheet.view.boxZoom.disable();
    new BoxChoice(
      container,
      {
        canChoose: () => port.canChoose(),
        box: (box) => {
          port.box(box);
        },
        chosen: (box) => {
          port.chosenIn(box);
        },
      },
      signal,
    );
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
      isLoose,
      grip: (held) => {
        if (held) dragPan.disable();
        else dragPan.enable();
      },
      toPlace: (handle, at) =>
        (isCorner(handle) ? this.#snapped(at) : null) ?? this.#sheet.toPlace(at),
      draft: (handle, place) => {
        if (handle.part === 'group') {
          port.moveGroup(this.#between(handle.from, place), false);
          return;
        }
        this.#change(handle, place, (id, geometry) => {
          port.hold({ id, part: handle.part, geometry });
        });
      },
      drop: () => {
        port.hold(null);
        port.moveGroup(null, false);
      },
      commit: (handle, place) => {
        if (handle.part === 'group') {
          port.moveGroup(this.#between(handle.from, place), true);
          return;
        }
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

  #between(from: LngLat, to: LngLat): XY {
    const { toLocal } = this.#port.frame();
    const [fromX, fromY] = toLocal(from);
    const [toX, toY] = toLocal(to);
    return [toX - fromX, toY - fromY];
  }

  #handleAt(at: ScreenXY): Handle | null {
    const group = this.#port.group();
    if (group.length > 1) {
      const under = pick(this.#sheet.hitsAt(at));
      const isHeld = under?.kind === 'feature' && group.includes(under.id);
      return isHeld ? { part: 'group', from: this.#sheet.toPlace(at) } : null;
    }
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
  #change(
    handle: Exclude<Handle, GroupHandle>,
    place: LngLat,
    tell: (id: string, geometry: PlanGeometry) => void,
  ): void {
    const feature = this.#port.selected();
    const geometry = feature === null ? null : this.#changed(feature, handle, place);
    if (feature !== null && geometry !== null) tell(feature.id, geometry);
  }

  #changed(
    feature: PlanFeature,
    handle: Exclude<Handle, GroupHandle>,
    place: LngLat,
  ): PlanGeometry | null {
    if (handle.part !== 'geometry') return draggedTo(feature, handle, place);
    const geometry = geometryOf(feature);
    if (geometry.type !== 'Polygon') return null;
    if (isCorner(handle)) return withCornerAt(geometry, handle, place);
    const frame = this.#port.frame();
    return moveGeometry(geometry, ...this.#between(handle.from, place), frame);
  }

  #snapped(at: ScreenXY): LngLat | null {
    const lines = snapLines(this.#port.plan(), this.#port.selected()?.id ?? null);
    return snap(at, lines, (place) => this.#sheet.toScreen(place));
  }
}

function isLoose(handle: Handle): boolean {
  return handle.part === 'group' || (handle.part === 'geometry' && handle.does === 'move-area');
}

function isCorner(handle: Handle): handle is RingHandle {
  return handle.part === 'geometry' && handle.does !== 'move-area';
}
