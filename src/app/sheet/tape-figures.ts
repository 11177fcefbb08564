import type { Frame, LngLat } from '../../../lib/frame/frame';
import { centroid } from '../../../lib/frame/shapes';
import { placeAlong, taped, type Taped } from '../../../lib/frame/taped';
import { areaText, lengthText } from '../look/height-text';
import type { DrawnTape } from '../map/overlay/drawn-tape';
import type { Tape } from '../state/session/tape.svelte';
import type { UnitSystem } from '../../../lib/units/units';

/** What the tape measures as it lies. */
export function figuresOf({ points, isClosed }: Tape, frame: Frame): Taped {
  return taped(
    points.map((at) => frame.toLocal(at)),
    isClosed,
  );
}

/** The tape as the sheet shows it. */
export function drawnTape(tape: Tape, figures: Taped, frame: Frame, units: UnitSystem): DrawnTape {
  const { points, isClosed, line, readAtM } = tape;
  const sides = figures.legsM.map((metres, i) => ({
    from: line[i],
    to: line[i + 1],
    text: lengthText(metres, units),
  }));
  const local = (places: readonly LngLat[]) => places.map((at) => frame.toLocal(at));
  return {
    points,
    isClosed,
    running: figures.runningM.map((metres) => `∑ ${lengthText(metres, units)}`),
    measures: {
      sides,
      area:
        figures.areaM2 === null
          ? null
          : {
              at: frame.toLngLat(centroid([local(points)])),
              text: areaText(figures.areaM2, units),
            },
    },
    pointer: isClosed ? null : tape.pointer,
    readAt:
      readAtM === null || points.length < 2
        ? null
        : frame.toLngLat(placeAlong(local(line), readAtM)),
  };
}
