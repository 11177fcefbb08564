import type { LngLat } from '../../../lib/frame/frame';
import type { LaidMark } from '../map/overlay/laid-mark';
import type { Underlay } from '../state/session/underlays.svelte';

/** The points of a picture as the sheet shows them, and the one that is taken up. */
export function laidMarks({ laying }: Underlay, takenUp: LngLat | null): LaidMark[] {
  const marks = (laying?.points ?? []).map(({ at }, i) => ({ at, text: String(i + 1) }));
  return takenUp === null ? marks : [...marks, { at: takenUp, text: '' }];
}
