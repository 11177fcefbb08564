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

/**
 * Loads the map's library and what listens to it, which together are larger than the rest of the page, and opens the
 * map with the hands on it. Null where it was closed meanwhile.
 *
 * @param look - asked once all is loaded
 */
export async function openSheet(
  container: HTMLElement,
  look: () => FirstLook,
  hands: DrawingHandsPort,
  pointer: MapPointerPort,
  signal: AbortSignal,
): Promise<{ sheet: SheetMap; hands: DrawingHands } | null> {
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
