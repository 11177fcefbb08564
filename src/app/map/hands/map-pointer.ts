import type { LngLat } from '../../../../lib/frame/frame';
import type { Target } from '../../state/session/target';
import type { Tool } from '../../state/session/tool';
import { pick } from '../layers/pick';
import type { SheetMap } from '../layers/sheet-map';
import type { ScreenXY } from '../layers/screen-xy';

/** How the view stands; replaced with each movement, so that what is drawn over the map follows. */
export interface ViewOfSheet {
  readonly toScreen: (place: LngLat) => ScreenXY;
  readonly metresPerPx: number;
  readonly bearingDeg: number;
}

/** The view at rest. */
export interface Rest {
  readonly metresPerPx: number;
  readonly bearingDeg: number;
  readonly middle: LngLat;
}

/** What listening to the map asks of and tells its owner. */
export interface MapPointerPort {
  tool(): Tool;
  /** The view moves, or has another size. */
  moved(view: ViewOfSheet): void;
  rested(rest: Rest): void;
  /** The user has moved the view. */
  movedByHand(): void;
  /** The place under the pointer, at most once a frame; `null` when it leaves the map. */
  pointer(place: LngLat | null): void;
  /** What the pointer is over, while it neither drags nor draws. */
  pointedAt(target: Target | null): void;
  /** Something was clicked, `null` for bare ground; with Shift held, more is to be chosen. */
  clicked(target: Target | null, place: LngLat, isMore: boolean): void;
  probed(place: LngLat): void;
  /** The tape is led on to a place, or a point of a picture is taken up or set down there. */
  measured(place: LngLat): void;
}

/** Does what a press at a place does with the tool in hand, by pointer or keys. */
export function pressAt(
  sheet: Pick<SheetMap, 'hitsAt'>,
  port: MapPointerPort,
  at: ScreenXY,
  place: LngLat,
  isMore: boolean,
): void {
  const tool = port.tool();
  if (tool === 'probe') port.probed(place);
  else if (isMeasuring(tool)) port.measured(place);
  else if (typeof tool === 'string') port.clicked(pick(sheet.hitsAt(at)), place, isMore);
}

/** Hears the map's own events: how the view moves, what is pointed at and clicked. */
export function listenToMap(sheet: SheetMap, port: MapPointerPort): void {
  const { view } = sheet;
  const moved = (): void => {
    port.moved({
      toScreen: (place) => sheet.toScreen(place),
      metresPerPx: sheet.metresPerPx(),
      bearingDeg: view.getBearing(),
    });
  };
  const rested = (): void => {
    const { lng, lat } = view.getCenter();
    port.rested({
      metresPerPx: sheet.metresPerPx(),
      bearingDeg: view.getBearing(),
      middle: [lng, lat],
    });
  };
  moved();
  view.on('move', moved);
  view.on('resize', moved);
  view.on('moveend', rested);
  view.on('resize', rested);
  rested();
  for (const type of ['dragstart', 'wheel', 'zoomstart', 'rotatestart'] as const) {
    view.on(type, (event: object) => {
      // Movements that the program makes have no such event behind them.
      if ('originalEvent' in event && event.originalEvent !== undefined) port.movedByHand();
    });
  }
  // The click that ends a drawing comes when the tool is already another: it is the drawing's, not the sheet's.
  let pressedWith: Tool = 'none';
  view.getCanvasContainer().addEventListener(
    'pointerdown',
    () => {
      pressedWith = port.tool();
    },
    { capture: true },
  );
  view.on('click', ({ point, lngLat, originalEvent }) => {
    if (typeof pressedWith === 'object') return;
    pressAt(sheet, port, [point.x, point.y], [lngLat.lng, lngLat.lat], originalEvent.shiftKey);
  });
  view.on('dblclick', (event) => {
    // Two quick points are no wish to look closer.
    if (isMeasuring(port.tool())) event.preventDefault();
  });
  let frameId = 0;
  view.on('mousemove', ({ point, lngLat, originalEvent }) => {
    const at: ScreenXY = [point.x, point.y];
    const place: LngLat = [lngLat.lng, lngLat.lat];
    const dragging = originalEvent.buttons !== 0;
    cancelAnimationFrame(frameId);
    frameId = requestAnimationFrame(() => {
      port.pointer(place);
      const tool = port.tool();
      if (dragging || typeof tool === 'object' || view.isMoving()) return;
      port.pointedAt(isMeasuring(tool) ? null : pick(sheet.hitsAt(at)));
      view.getCanvas().style.cursor = tool === 'probe' || isMeasuring(tool) ? 'crosshair' : '';
    });
  });
  view.on('mouseout', () => {
    cancelAnimationFrame(frameId);
    port.pointer(null);
    port.pointedAt(null);
  });
}

/** Whether presses set points one after the other and change nothing drawn. */
function isMeasuring(tool: Tool): boolean {
  return tool === 'tape' || tool === 'lay';
}
