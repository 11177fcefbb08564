import type { LngLat } from '../../../../lib/frame/frame';

/** A point by which a picture is laid. */
export interface LaidMark {
  readonly at: LngLat;
  /** Its number; empty for the one that is taken up and has no place yet. */
  readonly text: string;
}
