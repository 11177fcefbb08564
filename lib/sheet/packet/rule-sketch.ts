import type { XY } from '../../frame/frame';
import { distanceM, verticesOf } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { kindNames } from '../../plan/schema';
import type { UnitSystem } from '../../units/units';
import { Board, letters } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { rectRun, type Pen, type Rect } from '../drawing/mark';
import { chosenScale, scaleText } from '../paper/scale';
import { PlanView } from '../views/plan-view';
import {
  drawBuildings,
  drawLots,
  drawSurfaces,
  drawTrees,
  drawUtilities,
  drawWorks,
} from '../views/plan-layers';

/** What one sketch shows. */
export interface Sketched {
  readonly plan: LocalPlan;
  readonly units: UnitSystem;
  /** The day that lines in the ground are drawn as located or not on. */
  readonly day: string;
  /** From where to where it was measured, and how long that is in words. */
  readonly line: readonly [XY, XY];
  readonly words: string;
  /** The features at its ends, drawn heavier. */
  readonly ends: readonly (string | null)[];
}

/** At least so much ground is shown each way, metres. A choice for legibility. */
const leastM = 6;
/** The line takes at most this share of the field. */
const lineShare = 0.75;
/** Crowns and widths reach beyond the shapes drawn, metres. */
const aroundM = 15;

/** A small plan around a measured line, north up, at a round scale. */
export function drawSketch(board: Board, rect: Rect, sketched: Sketched): void {
  const { plan, units, day, line, ends } = sketched;
  const [from, to] = line;
  const ratio = chosenScale(
    {
      widthMm: rect.width,
      heightMm: rect.height,
      widthM: Math.max(leastM, Math.abs(to[0] - from[0]) / lineShare),
      heightM: Math.max(leastM, Math.abs(to[1] - from[1]) / lineShare),
    },
    units,
  );
  const view = new PlanView(rect, ratio, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  const near = nearOnly(plan, view);
  const inner = new Board(board.fonts);
  drawSurfaces(inner, view, near);
  drawTrees(inner, view, near);
  drawBuildings(inner, view, near);
  drawWorks(inner, view, near);
  drawLots(inner, view, near);
  drawUtilities(inner, view, near, day);
  for (const { shape } of near.of.basin) {
    inner.area(view.rings(shape.rings), {
      fill: inks.paleWater,
      pen: { ink: inks.water, widthMm: pens.middle },
    });
  }
  for (const id of ends) drawEnd(inner, view, id === null ? undefined : plan.byId.get(id));
  drawMeasured(inner, view, sketched);
  board.marks.push({ kind: 'clipped', outline: [rectRun(rect)], marks: inner.marks });
  board.box(rect, { pen: { ink: inks.second, widthMm: pens.fine } });
  drawNorth(board, rect, scaleText(ratio, units));
}

/** The plan without what lies out of sight: a packet has many sketches. */
function nearOnly(plan: LocalPlan, view: PlanView): LocalPlan {
  const { west, south, east, north } = view.ground;
  const isNear = ({ shape }: LocalFeature): boolean => {
    const points = verticesOf(shape);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    return (
      Math.max(...xs) + aroundM >= west &&
      Math.min(...xs) - aroundM <= east &&
      Math.max(...ys) + aroundM >= south &&
      Math.min(...ys) - aroundM <= north
    );
  };
  const of = Object.fromEntries(
    kindNames.map((kind) => [kind, (plan.of[kind] as readonly LocalFeature[]).filter(isNear)]),
  );
  // Each list keeps its kind.
  return { ...plan, of: of as unknown as LocalPlan['of'] };
}

const endPen: Pen = { ink: inks.keepClear, widthMm: pens.middle };

/** The thing that is measured to. */
function drawEnd(board: Board, view: PlanView, feature: LocalFeature | undefined): void {
  if (feature === undefined) return;
  const { shape } = feature;
  switch (shape.type) {
    case 'polygon':
      board.area(view.rings(shape.rings), { pen: endPen });
      return;
    case 'line':
      board.line(view.run(shape.points), endPen);
      return;
    case 'point':
      board.circles([view.at(shape.at)], 1.8, { pen: endPen });
  }
}

/** The measured line with a stroke across each end, and its length. */
function drawMeasured(board: Board, view: PlanView, { line: [from, to], words }: Sketched): void {
  const [a, b] = [view.at(from), view.at(to)];
  const pen: Pen = { ink: inks.ink, widthMm: pens.middle };
  const lengthMm = distanceM(a, b);
  if (lengthMm < 0.3) {
    board.circles([a], 1.2, { pen });
  } else {
    const across = [(b[1] - a[1]) / lengthMm, -(b[0] - a[0]) / lengthMm] as const;
    board.line([a, b], pen);
    for (const [x, y] of [a, b]) {
      board.line(
        [
          [x - 1.3 * across[0], y - 1.3 * across[1]],
          [x + 1.3 * across[0], y + 1.3 * across[1]],
        ],
        pen,
      );
    }
  }
  if (words === '') return;
  const widthMm = board.widthMm(words, letters.labelBold);
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  board.box(
    { x: x - widthMm / 2 - 0.6, y: y - 4.6, width: widthMm + 1.2, height: 3.2 },
    { fill: inks.paper },
  );
  board.text(words, [x, y - 2.2], letters.labelBold, { align: 'middle' });
}

function drawNorth(board: Board, { x, y, width, height }: Rect, scale: string): void {
  const atX = x + width - 2.6;
  board.line(
    [
      [atX, y + 6],
      [atX, y + 1.4],
    ],
    { ink: inks.ink, widthMm: pens.fine },
  );
  board.area(
    [
      [
        [atX, y + 0.9],
        [atX - 0.8, y + 2.8],
        [atX + 0.8, y + 2.8],
      ],
    ],
    { fill: inks.ink },
  );
  const widthMm = board.widthMm(scale, letters.small);
  board.box(
    { x: x + 0.5, y: y + height - 3, width: widthMm + 1, height: 2.6 },
    { fill: inks.paper },
  );
  board.text(scale, [x + 1, y + height - 0.9], letters.small);
}
