import type { LngLatBox } from '../../../lib/plan/plan-area';
import type { Theme } from '../look/ink';
import type { DrawingHands, DrawingHandsPort } from './hands/drawing-hands';
import type { MapPointerPort } from './hands/map-pointer';
import type { Padding, SheetMap } from './layers/sheet-map';

/** How a sheet is first shown. */
export interface FirstLook {
  readonly theme: Theme;
  readonly home: LngLatBox | null;
  readonly padding: Padding;
}

/** The map, and the hands on it. */
export interface OpenedSheet {
  readonly sheet: SheetMap;
  readonly hands: DrawingHands;
}

/** Whom a map belongs to. */
export interface SheetOwner {
  readonly hands: DrawingHandsPort;
  readonly pointer: MapPointerPort;
  /** How it is first shown, asked once all is loaded. */
  readonly look: () => FirstLook;
  /** It is there, or no more. */
  opened(opened: OpenedSheet | null): void;
  /** It cannot be shown, with the reason in the browser's words. */
  failed(reason: string): void;
}

/** Opens the map in an element. Returns what closes it again. */
export function openSheet(container: HTMLElement, owner: SheetOwner): () => void {
  const closing = new AbortController();
  const { signal } = closing;
  loadSheet(container, owner, signal)
    .then((opened) => {
      if (opened !== null && !signal.aborted) owner.opened(opened);
    })
    .catch((error: unknown) => {
      if (!signal.aborted) owner.failed(error instanceof Error ? error.message : String(error));
    });
  return () => {
    owner.opened(null);
    closing.abort();
  };
}

/**
 * Loads the map's library and what listens to it, which together are larger than the rest of the page. Null where the
 * map was closed meanwhile.
 */
async function loadSheet(
  container: HTMLElement,
  { hands, pointer, look }: SheetOwner,
  signal: AbortSignal,
): Promise<OpenedSheet | null> {
  const [{ SheetMap: Sheet }, { DrawingHands: Hands }, { listenToMap }] = await Promise.all([
    import('./layers/sheet-map'),
    import('./hands/drawing-hands'),
    import('./hands/map-pointer'),
  ]);
  if (signal.aborted) return null;
  const { theme, home, padding } = look();
  const sheet = await Sheet.open(container, theme, home, padding, signal);
  if (sheet === null) return null;
  const drawing = new Hands(sheet, hands, theme, signal);
  listenToMap(sheet, pointer);
  return { sheet, hands: drawing };
}
