import type { ScreenXY } from '../layers/screen-xy';

/** A measured distance to be labelled. */
export interface Dimension {
  readonly id: string;
  readonly from: ScreenXY;
  readonly to: ScreenXY;
  readonly labelWidthPx: number;
}

export interface PlacedDimension {
  readonly id: string;
  /** Middle of the label. */
  readonly at: ScreenXY;
  /** How far the label is turned, degrees clockwise, between -90 and 90 so that it reads from below. */
  readonly turnDeg: number;
  /** From the dimension line to a label that stands away from it. */
  readonly leader: readonly [ScreenXY, ScreenXY] | null;
}

interface Candidate {
  readonly at: ScreenXY;
  readonly turnDeg: number;
  readonly cost: number;
  readonly leaderFrom: ScreenXY | null;
}

/** Height of a label's text with its halo. */
const labelHeightPx = 17;
/** Between the dimension line and a label beside it. */
const gapPx = 3;

/**
 * Places the labels of dimension lines: along the line where it is long enough, else beside it or away
 * from it on a leader, so that they cover neither the obstacles nor one another as far as there is room.
 *
 * Each label takes the cheapest of about 40 places, in the order given. Cost is linear in labels times the
 * obstacles' corners; 20 labels over 300 corners take about 3 ms.
 *
 * @param obstacles - closed rings on the screen that labels must not cover
 * @param widthPx - of the sheet; labels keep inside it
 */
export function layDimensions(
  dimensions: readonly Dimension[],
  obstacles: readonly (readonly ScreenXY[])[],
  widthPx: number,
  heightPx: number,
): PlacedDimension[] {
  const kept = obstacles.map(framed);
  const taken: FramedRing[] = [];
  const placed: PlacedDimension[] = [];
  for (const dimension of dimensions) {
    let best: Candidate | null = null;
    let bestCost = Infinity;
    for (const candidate of candidates(dimension)) {
      // Candidates are cheap to make and dear to test: those that cannot win any more are left out.
      if (candidate.cost >= bestCost) continue;
      const box = boxPoints(candidate, dimension.labelWidthPx);
      const cost =
        candidate.cost +
        60 * covered(box, kept) +
        90 * covered(box, taken) +
        45 * crossed(candidate.at, box, dimensions, dimension) +
        120 * outside(box, widthPx, heightPx);
      if (cost < bestCost) {
        best = candidate;
        bestCost = cost;
      }
    }
    if (best === null) continue;
    taken.push(framed(corners(best, dimension.labelWidthPx)));
    placed.push({
      id: dimension.id,
      at: best.at,
      turnDeg: best.turnDeg,
      leader: best.leaderFrom === null ? null : [best.leaderFrom, nearEnd(best, dimension)],
    });
  }
  return placed;
}

function* candidates({ from, to, labelWidthPx }: Dimension): Generator<Candidate> {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const length = Math.hypot(dx, dy);
  const along: ScreenXY = length === 0 ? [1, 0] : [dx / length, dy / length];
  const across: ScreenXY = [-along[1], along[0]];
  const turn = (Math.atan2(along[1], along[0]) * 180) / Math.PI;
  const turnDeg = turn > 90 ? turn - 180 : turn < -90 ? turn + 180 : turn;

  if (length > labelWidthPx + 10) {
    const off = labelHeightPx / 2 + gapPx;
    for (const t of [0.5, 0.62, 0.38, 0.74, 0.26]) {
      for (const side of [1, -1]) {
        const at: ScreenXY = [
          from[0] + dx * t + across[0] * off * side,
          from[1] + dy * t + across[1] * off * side,
        ];
        yield {
          at,
          turnDeg,
          cost: Math.abs(t - 0.5) * 10 + (side > 0 ? 0.5 : 0),
          leaderFrom: null,
        };
      }
    }
  }
  const middle: ScreenXY = [from[0] + dx / 2, from[1] + dy / 2];
  // Level labels: their own half size in the direction they leave decides how far they must stand off.
  for (const away of [0, 14, 30, 52, 80]) {
    for (let step = 0; step < 8; step++) {
      const angle = (step * Math.PI) / 4;
      const ux = Math.cos(angle);
      const uy = Math.sin(angle);
      const half = Math.abs(ux) * (labelWidthPx / 2) + Math.abs(uy) * (labelHeightPx / 2);
      const lineHalf = Math.abs(ux * along[0] + uy * along[1]) * (length / 2);
      const reach = half + lineHalf + gapPx + 2 + away;
      const at: ScreenXY = [middle[0] + ux * reach, middle[1] + uy * reach];
      yield {
        at,
        turnDeg: 0,
        cost: 8 + away * 0.5 + lineHalf * 0.1,
        leaderFrom: away + lineHalf >= 14 ? middle : null,
      };
    }
  }
}

/** The place on a level label's edge that its leader runs to. */
function nearEnd({ at, leaderFrom }: Candidate, { labelWidthPx }: Dimension): ScreenXY {
  const start = leaderFrom ?? at;
  const half = labelWidthPx / 2 + 2;
  const x = Math.min(at[0] + half, Math.max(at[0] - half, start[0]));
  const y = Math.min(at[1] + labelHeightPx / 2, Math.max(at[1] - labelHeightPx / 2, start[1]));
  return [x, y];
}

function boxPoints(candidate: Candidate, widthPx: number): ScreenXY[] {
  const points: ScreenXY[] = [];
  for (const across of [-0.5, 0, 0.5]) {
    for (const along of [-0.5, -0.25, 0, 0.25, 0.5]) {
      points.push(boxPoint(candidate, along * widthPx, across * labelHeightPx));
    }
  }
  return points;
}

function corners(candidate: Candidate, widthPx: number): ScreenXY[] {
  const x = widthPx / 2 + 3;
  const y = labelHeightPx / 2 + 1;
  const ring = [
    boxPoint(candidate, -x, -y),
    boxPoint(candidate, x, -y),
    boxPoint(candidate, x, y),
    boxPoint(candidate, -x, y),
  ];
  return [...ring, ring[0]];
}

function boxPoint({ at, turnDeg }: Candidate, along: number, across: number): ScreenXY {
  const turn = (turnDeg * Math.PI) / 180;
  return [
    at[0] + along * Math.cos(turn) - across * Math.sin(turn),
    at[1] + along * Math.sin(turn) + across * Math.cos(turn),
  ];
}

/** A ring with the box around it, which spares most points the walk around the ring. */
interface FramedRing {
  readonly ring: readonly ScreenXY[];
  readonly west: number;
  readonly east: number;
  readonly top: number;
  readonly bottom: number;
}

function framed(ring: readonly ScreenXY[]): FramedRing {
  let [west, east, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const [x, y] of ring) {
    west = Math.min(west, x);
    east = Math.max(east, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  return { ring, west, east, top, bottom };
}

/** How many of a box's points lie in any of the rings. */
function covered(box: readonly ScreenXY[], rings: readonly FramedRing[]): number {
  let count = 0;
  for (const point of box) {
    const [x, y] = point;
    for (const { ring, west, east, top, bottom } of rings) {
      if (x < west || x > east || y < top || y > bottom || !isInRing(ring, point)) continue;
      count++;
      break;
    }
  }
  return count;
}

/** How many other dimension lines pass through a box, sampled. */
function crossed(
  middle: ScreenXY,
  box: readonly ScreenXY[],
  dimensions: readonly Dimension[],
  own: Dimension,
): number {
  const nearPx = 5;
  const reachPx = Math.hypot(own.labelWidthPx, labelHeightPx) / 2 + nearPx;
  let count = 0;
  for (const { from, to } of dimensions) {
    if (from === own.from && to === own.to) continue;
    if (distanceToSegment(middle, from, to) > reachPx) continue;
    if (box.some((point) => distanceToSegment(point, from, to) < nearPx)) count++;
  }
  return count;
}

function outside(box: readonly ScreenXY[], widthPx: number, heightPx: number): number {
  return box.filter(([x, y]) => x < 4 || y < 4 || x > widthPx - 4 || y > heightPx - 4).length;
}

function isInRing(ring: readonly ScreenXY[], [x, y]: ScreenXY): boolean {
  let inside = false;
  for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[i + 1];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

function distanceToSegment(point: ScreenXY, from: ScreenXY, to: ScreenXY): number {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const squared = dx * dx + dy * dy;
  const t =
    squared === 0
      ? 0
      : Math.min(1, Math.max(0, ((point[0] - from[0]) * dx + (point[1] - from[1]) * dy) / squared));
  const x = point[0] - from[0] - t * dx;
  const y = point[1] - from[1] - t * dy;
  return Math.sqrt(x * x + y * y);
}
