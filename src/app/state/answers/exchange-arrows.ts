import type { DrainageResult } from '../../../../lib/drainage/answer/drainage-result';
import { makeFrame, type FrameSpec, type XY, type LngLat } from '../../../../lib/frame/frame';
import { centroid, segmentCrossing, type Ring } from '../../../../lib/frame/shapes';
import { toLocal } from '../../../../lib/plan/local-plan';
import type { Plan } from '../../../../lib/plan/schema';
import { formatVolume } from '../../../../lib/units/format';
import type { UnitSystem } from '../../../../lib/units/units';

/** Water that one lot sends another, drawn across the line between them. */
export interface ExchangeArrow {
  readonly id: string;
  readonly from: LngLat;
  readonly to: LngLat;
  /** The volume with its unit, rounded. */
  readonly text: string;
  /** Whether another arrow runs the other way over the same line. */
  readonly isMet: boolean;
}

/** Less than this is not worth an arrow, m3. A choice for legibility. */
const leastM3 = 0.05;
/** Half the stretch of ground that an arrow marks, metres. */
const reachM = 4;

/**
 * Arrows over the lot lines for what neighbours send each other: across the line from one lot's middle to the other's.
 * What runs to ground on no lot has no middle to point to and is left to the ledger.
 */
export function exchangeArrows(
  { exchange }: Pick<DrainageResult, 'exchange'>,
  plan: Plan,
  spec: FrameSpec,
  units: UnitSystem,
): ExchangeArrow[] {
  const frame = makeFrame(spec);
  const outlines = new Map(toLocal(plan, frame).of.lot.map((lot) => [lot.id, lot.shape.rings[0]]));
  const drawn = exchange.filter(({ volume_m3 }) => volume_m3 >= leastM3);
  return drawn.flatMap(({ from, to, volume_m3 }) => {
    const giver = outlines.get(from);
    const taker = to === null ? undefined : outlines.get(to);
    if (giver === undefined || taker === undefined) return [];
    const isMet = drawn.some((other) => other.from === to && other.to === from);
    const start = centroid([giver]);
    const end = centroid([taker]);
    const at = crossing(giver, start, end);
    const length = Math.hypot(end[0] - start[0], end[1] - start[1]);
    if (at === null || length === 0) return [];
    const along: XY = [(end[0] - start[0]) / length, (end[1] - start[1]) / length];
    const place = (distance: number): XY => [
      at[0] + along[0] * distance,
      at[1] + along[1] * distance,
    ];
    return [
      {
        id: `${from} ${to ?? ''}`,
        from: frame.toLngLat(place(-reachM)),
        to: frame.toLngLat(place(reachM)),
        text: formatVolume(volume_m3, units),
        isMet,
      },
    ];
  });
}

/** Where the way from one lot's middle to another's leaves the first. */
function crossing(outline: Ring, start: XY, end: XY): XY | null {
  for (let i = 0; i < outline.length; i++) {
    const found = segmentCrossing(start, end, outline[i], outline[(i + 1) % outline.length]);
    if (found !== undefined) return found;
  }
  return null;
}
