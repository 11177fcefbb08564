import { distanceM as apart, segmentCrossing } from '../../frame/shapes';
import type { Board, Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { pointMm, type At, type Rect, type Run } from '../drawing/mark';

/** Room that letters take: a rectangle about a centre, turned clockwise. */
export interface LetterBox {
  readonly centre: At;
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
  readonly turnDeg: number;
}

/** Where a label may stand: the middle of its box. */
export interface Spot {
  readonly centre: At;
  readonly turnDeg?: number;
  /** From the thing to the label. */
  readonly leader?: readonly [At, At];
}

export interface LabelLine {
  readonly text: string;
  readonly look: Lettered;
}

/** Letters above the base line, and room for a line, as shares of their size. */
const capShare = 0.68;
export const lineShare = 1.22;
/** A label that nobody would miss hides no wall, rim or lot line. */
const mostCost = 4;
/** White kept around letters, millimetres. */
const haloMm = 0.45;

/**
 * Places labels so that none covers another: of the spots that a label may take, in the order of preference, the first at
 * which it lies inside the frame, off everything that is lettered already, and off what is better not crossed. Where all
 * cross something, the one that crosses least; where none is free, the label is left out and named in `leftOut`.
 */
export class Lettering {
  readonly #board: Board;
  readonly #frame: Rect;
  readonly #taken: LetterBox[] = [];
  readonly #leaders: (readonly [At, At])[] = [];
  readonly #avoided: { readonly run: Run; readonly cost: number; readonly box: Rect }[] = [];
  readonly #leftOut: string[] = [];
  readonly #placed: { readonly lines: readonly LabelLine[]; readonly box: LetterBox }[] = [];

  constructor(board: Board, frame: Rect) {
    this.#board = board;
    this.#frame = frame;
  }

  /** Boxes of what has been lettered. */
  get taken(): readonly LetterBox[] {
    return this.#taken;
  }

  /** Labels that found no room. */
  get leftOut(): readonly string[] {
    return this.#leftOut;
  }

  /** Room that no label may take. */
  keep(rect: Rect): void {
    this.#taken.push({
      centre: [rect.x + rect.width / 2, rect.y + rect.height / 2],
      halfWidthMm: rect.width / 2,
      halfHeightMm: rect.height / 2,
      turnDeg: 0,
    });
  }

  /** A line that labels had better not lie on; the dearer, the rather. */
  avoid(run: Run, cost = 1): void {
    if (run.length < 2) return;
    const xs = run.map(([x]) => x);
    const ys = run.map(([, y]) => y);
    const [x, y] = [Math.min(...xs), Math.min(...ys)];
    const box = { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
    this.#avoided.push({ run, cost, box });
  }

  /**
   * Puts a label at the best of its spots and draws it.
   *
   * @param needed - whether to tell of it where it finds no room.
   * @returns whether it found one.
   */
  place(lines: readonly LabelLine[], spots: Iterable<Spot>, needed = true): boolean {
    const [halfWidthMm, halfHeightMm] = this.#halfSize(lines);
    let best: { spot: Spot; box: LetterBox; cost: number } | null = null;
    for (const spot of spots) {
      const { centre, turnDeg = 0 } = spot;
      const box = { centre, halfWidthMm, halfHeightMm, turnDeg };
      if (!this.#isFree(box, spot.leader)) continue;
      const cost = this.#cost(box);
      if (!needed && cost > mostCost) continue;
      if (best === null || cost < best.cost) best = { spot, box, cost };
      if (cost === 0) break;
    }
    if (best === null) {
      if (needed) this.#leftOut.push(lines.map(({ text }) => text).join(' '));
      return false;
    }
    this.#taken.push(best.box);
    const { leader } = best.spot;
    if (leader !== undefined) {
      this.#leaders.push(leader);
      this.#board.line(leader, { ink: inks.ink, widthMm: pens.fine });
      this.#board.circles([leader[0]], 0.45, { fill: inks.ink });
    }
    this.#placed.push({ lines, box: best.box });
    return true;
  }

  /** Draws the labels, over everything else: to be called once, when all lines are drawn. */
  finish(): void {
    for (const { lines, box } of this.#placed) this.#draw(lines, box);
  }

  #halfSize(lines: readonly LabelLine[]): readonly [number, number] {
    const widths = lines.map(({ text, look }) => this.#board.widthMm(text, look));
    const heights = lines.map(({ look }, i) =>
      i === lines.length - 1 ? look.pt * pointMm * 0.9 : look.pt * pointMm * lineShare,
    );
    const height = heights.reduce((sum, each) => sum + each, 0);
    return [Math.max(...widths) / 2 + haloMm, height / 2 + haloMm];
  }

  #isFree(box: LetterBox, leader: Spot['leader']): boolean {
    const corners = cornersOf(box);
    const { x, y, width, height } = this.#frame;
    const inFrame = corners.every(
      ([cx, cy]) => cx >= x && cx <= x + width && cy >= y && cy <= y + height,
    );
    if (!inFrame) return false;
    if (this.#taken.some((other) => boxesMeet(box, other))) return false;
    if (this.#leaders.some((line) => meetsBox(line, corners))) return false;
    if (leader === undefined) return true;
    return (
      !this.#taken.some((other) => meetsBox(leader, cornersOf(other))) &&
      !this.#leaders.some((line) => segmentCrossing(...line, ...leader) !== undefined)
    );
  }

  #cost(box: LetterBox): number {
    const corners = cornersOf(box);
    const xs = corners.map(([x]) => x);
    const ys = corners.map(([, y]) => y);
    const [west, east] = [Math.min(...xs), Math.max(...xs)];
    const [north, south] = [Math.min(...ys), Math.max(...ys)];
    let cost = 0;
    for (const { run, cost: each, box: around } of this.#avoided) {
      const isApart =
        around.x > east ||
        around.x + around.width < west ||
        around.y > south ||
        around.y + around.height < north;
      if (isApart) continue;
      for (let i = 1; i < run.length; i++) {
        if (meetsBox([run[i - 1], run[i]], corners)) {
          cost += each;
          break;
        }
      }
    }
    return cost;
  }

  #draw(lines: readonly LabelLine[], box: LetterBox): void {
    const { centre, turnDeg, halfHeightMm } = box;
    const turn = (turnDeg * Math.PI) / 180;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    this.#board.area([cornersOf(box)], { fill: inks.paper });
    let downMm = -halfHeightMm + haloMm;
    for (const { text, look } of lines) {
      const sizeMm = look.pt * pointMm;
      const baseMm = downMm + sizeMm * (capShare + 0.08);
      this.#board.text(text, [centre[0] - baseMm * s, centre[1] + baseMm * c], look, {
        align: 'middle',
        turnDeg,
      });
      downMm += sizeMm * lineShare;
    }
  }
}

/** Corners of a box in order. */
export function cornersOf({ centre, halfWidthMm, halfHeightMm, turnDeg }: LetterBox): At[] {
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const signs: readonly At[] = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ];
  return signs.map(([a, b]): At => {
    const [along, down] = [a * halfWidthMm, b * halfHeightMm];
    return [centre[0] + along * c - down * s, centre[1] + along * s + down * c];
  });
}

/** Whether two boxes share any room: no line along a side of either parts them. */
export function boxesMeet(a: LetterBox, b: LetterBox): boolean {
  const reach =
    Math.hypot(a.halfWidthMm, a.halfHeightMm) + Math.hypot(b.halfWidthMm, b.halfHeightMm);
  if (apart(a.centre, b.centre) > reach) return false;
  const [cornersA, cornersB] = [cornersOf(a), cornersOf(b)];
  for (const { turnDeg } of [a, b]) {
    for (const quarter of [0, Math.PI / 2]) {
      const turn = (turnDeg * Math.PI) / 180 + quarter;
      const along = ([x, y]: At): number => x * Math.cos(turn) + y * Math.sin(turn);
      const [ofA, ofB] = [cornersA.map(along), cornersB.map(along)];
      if (Math.max(...ofA) <= Math.min(...ofB) || Math.max(...ofB) <= Math.min(...ofA))
        return false;
    }
  }
  return true;
}

/** Whether a straight line touches a box. */
function meetsBox([from, to]: readonly [At, At], corners: readonly At[]): boolean {
  if (isWithin(from, corners) || isWithin(to, corners)) return true;
  return corners.some(
    (corner, i) => segmentCrossing(from, to, corner, corners[(i + 1) % 4]) !== undefined,
  );
}

function isWithin([x, y]: At, corners: readonly At[]): boolean {
  return corners.every(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4];
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0;
  });
}
