import type { ErrorEvent, Map as MapView } from 'maplibre-gl';

/** So many tiles must have failed, and none have come, before a source counts as giving nothing. A choice. */
const failuresThatTell = 3;

/**
 * Watches whether map tiles come, from the moment they are asked for.
 *
 * @param onNothing - called once where none do.
 * @returns what ends the watch.
 */
export function watchTiles(view: MapView, onNothing: () => void): () => void {
  let failed = 0;
  let isOver = false;
  const end = (): void => {
    isOver = true;
    view.off('sourcedata', came);
    view.off('error', fails);
  };
  const came = (event: { sourceId?: string; tile?: { state?: string } }): void => {
    if (event.sourceId === 'backdrop' && event.tile?.state === 'loaded') end();
  };
  const fails = (event: ErrorEvent & { sourceId?: string }): void => {
    if (event.sourceId !== 'backdrop') {
      reportError(event.error);
      return;
    }
    failed++;
    if (isOver || failed < failuresThatTell) return;
    end();
    onNothing();
  };
  view.on('sourcedata', came);
  view.on('error', fails);
  return end;
}
