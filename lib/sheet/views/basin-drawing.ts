import type { BasinDesign } from '../../basin/design/design-result';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import { isDesigned } from '../../basin/design/design-result';
import type { XY } from '../../frame/frame';
import { distanceM, type Ring } from '../../frame/shapes';
import type { SheetFacts } from '../facts/sheet-facts';
import type { Board } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import type { At, Run } from '../drawing/mark';
import { ringsInside } from './floor-edge';
import type { PlanView } from './plan-view';

/** A basin as it is drawn: its rim, and what is known of it where there is elevation. */
export interface DrawnBasin {
  readonly id: string;
  readonly name: string;
  readonly rim: Ring;
  readonly floor: readonly Ring[];
  /** Edge of the water when it is full to the sill. */
  readonly brim: readonly Ring[];
  readonly notch: XY | null;
  readonly built: BasinAsBuilt | null;
  readonly design: BasinDesign | null;
}

/** The basins of a plan, with what was worked out of each. */
export function drawnBasins({ plan, built, design }: SheetFacts): DrawnBasin[] {
  return plan.of.basin.map(({ id, feature, shape, overflow }) => {
    const made = built.get(id) ?? null;
    const designed = design?.basins.find((each) => each.id === id);
    const rim = shape.rings[0];
    const form = made?.finished.form;
    return {
      id,
      name: feature.properties.name ?? 'Rain garden',
      rim,
      floor: form === undefined ? [] : ringsInside(rim, (form.rimM - form.floorM) * form.sideSlope),
      brim: form === undefined ? [] : ringsInside(rim, form.freeboardM * form.sideSlope),
      notch: form?.overflowAt ?? overflow ?? null,
      built: made,
      design: designed !== undefined && isDesigned(designed) ? designed : null,
    };
  });
}

/** Rim heavy, water to the sill filled, floor dashed, the notch as a wedge that points outwards. */
export function drawBasin(board: Board, view: PlanView, basin: DrawnBasin): void {
  board.area([view.run(basin.rim)], { fill: inks.paper });
  board.area(view.rings(basin.brim), { fill: inks.paleWater });
  board.area(view.rings(basin.floor), { fill: inks.midWater });
  board.area(view.rings(basin.floor), {
    pen: { ink: inks.water, widthMm: pens.fine, dashMm: [1.2, 0.7] },
  });
  board.area([view.run(basin.rim)], { pen: { ink: inks.water, widthMm: pens.heavy } });
  if (basin.notch !== null) drawNotch(board, view, basin.rim, basin.notch);
}

function drawNotch(board: Board, view: PlanView, rim: Ring, notch: XY): void {
  const [out, along] = outward(rim, notch);
  const at = view.at(notch);
  const place = (outMm: number, alongMm: number): At => [
    at[0] + outMm * out[0] + alongMm * along[0],
    at[1] - outMm * out[1] - alongMm * along[1],
  ];
  board.area([[place(-0.8, -1.3), place(-0.8, 1.3), place(1.8, 0)]], {
    fill: inks.paper,
    pen: { ink: inks.water, widthMm: pens.rule },
  });
}

/** Directions out of a rim and along it, at the place of it that is nearest to a point. */
export function outward(rim: Ring, at: XY): readonly [XY, XY] {
  let best = { awayM: Infinity, along: [1, 0] as XY };
  for (let i = 0; i < rim.length; i++) {
    const [a, b] = [rim[i], rim[(i + 1) % rim.length]];
    const lengthM = distanceM(a, b);
    if (lengthM === 0) continue;
    const share = Math.max(
      0,
      Math.min(1, ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / lengthM ** 2),
    );
    const near: XY = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
    const awayM = distanceM(near, at);
    if (awayM < best.awayM) {
      best = { awayM, along: [(b[0] - a[0]) / lengthM, (b[1] - a[1]) / lengthM] };
    }
  }
  const [x, y] = best.along;
  const turns = rim.reduce((sum, [ax, ay], i) => {
    const [bx, by] = rim[(i + 1) % rim.length];
    return sum + ax * by - bx * ay;
  }, 0);
  // Right of the way of a ring that turns counter-clockwise is outside.
  return [turns > 0 ? [y, -x] : [-y, x], best.along];
}

/** The way of the overflow, with arrows. Gives its last place in the field. */
export function drawOverflow(
  board: Board,
  view: PlanView,
  facts: SheetFacts,
  basin: DrawnBasin,
): Run {
  if (basin.design === null) return [];
  const { path, verdict } = basin.design.overflow;
  const all = path.map((place) => facts.plan.frame.toLocal(place));
  const points = verdict.result === 'pass' ? upTo(all, verdict.along_m) : all;
  const run = inField(view.run(points), view);
  board.line(run, { ink: inks.water, widthMm: pens.middle, dashMm: [2.6, 0.9] });
  drawArrows(board, run, inks.water);
  return run;
}

/** Arrow heads along a line, one in so many millimetres. */
export function drawArrows(board: Board, run: Run, ink: string, everyMm = 14): void {
  let left = everyMm / 2;
  for (let i = 1; i < run.length; i++) {
    const [a, b] = [run[i - 1], run[i]];
    const length = distanceM(a, b);
    while (left <= length && length > 0) {
      const share = left / length;
      const at: At = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
      const [x, y] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      board.area(
        [
          [
            [at[0] + 1.2 * x, at[1] + 1.2 * y],
            [at[0] - 0.9 * x + 0.7 * y, at[1] - 0.9 * y - 0.7 * x],
            [at[0] - 0.9 * x - 0.7 * y, at[1] - 0.9 * y + 0.7 * x],
          ],
        ],
        { fill: ink },
      );
      left += everyMm;
    }
    left -= length;
  }
}

/** As much of a line as so many metres reach. */
function upTo(points: readonly XY[], mostM: number): XY[] {
  const kept: XY[] = points.slice(0, 1);
  let leftM = mostM;
  for (let i = 1; i < points.length && leftM > 0; i++) {
    leftM -= distanceM(points[i - 1], points[i]);
    kept.push(points[i]);
  }
  return kept;
}

/** The part of a line before it first leaves the field. */
export function inField(run: Run, { rect }: PlanView): Run {
  const out = run.findIndex(
    ([x, y]) => x < rect.x || x > rect.x + rect.width || y < rect.y || y > rect.y + rect.height,
  );
  return out === -1 ? run : run.slice(0, out);
}
