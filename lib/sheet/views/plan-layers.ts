import { chooseInterval, contours } from '../../elevation/picture/contours';
import type { Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { areaM2, distanceM } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { locateState } from '../../setback/locate/locates';
import type { KeepClearZone } from '../../setback/rules/keep-clear-zones';
import type { UnitSystem } from '../../units/units';
import { Board } from '../drawing/board';
import { hatchDots } from '../drawing/hatch';
import { inks, pens, unlocatedDash, utilityDashes, utilityInks } from '../drawing/inks';
import type { At, Pen, Run } from '../drawing/mark';
import type { PlanView } from './plan-view';

/** A contour line that may carry its height. */
export interface IndexLine {
  readonly elevationM: number;
  readonly run: Run;
}

/** Contours of the ground in the field. Gives the index lines, for their heights. */
export function drawContours(
  board: Board,
  view: PlanView,
  grid: Grid,
  units: UnitSystem,
): { index: IndexLine[]; intervalM: number } {
  const intervalM = chooseInterval(reliefIn(grid, view), units);
  const index: IndexLine[] = [];
  const minor: Run[] = [];
  for (const level of contours(grid, { intervalM })) {
    for (const line of level.lines) {
      if (!view.shows(line)) continue;
      const run = thinned(view.run(line));
      if (level.index) index.push({ elevationM: level.elevationM, run });
      else minor.push(run);
    }
  }
  board.lines(minor, { ink: inks.contour, widthMm: pens.hatch });
  board.lines(
    index.map(({ run }) => run),
    { ink: inks.contour, widthMm: pens.thin },
  );
  return { index, intervalM };
}

/** Height from the lowest to the highest ground of the field. */
function reliefIn(grid: Grid, { ground }: PlanView): number {
  const { width, height, cellM, westM, northM, z } = grid;
  let [low, high] = [Infinity, -Infinity];
  for (let row = 0; row < height; row++) {
    const y = northM - (row + 0.5) * cellM;
    if (y < ground.south || y > ground.north) continue;
    for (let column = 0; column < width; column++) {
      const x = westM + (column + 0.5) * cellM;
      const value = z[row * width + column];
      if (x < ground.west || x > ground.east || Number.isNaN(value)) continue;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  return Math.max(0.1, high - low);
}

/** Closer together on paper than this, points of a line tell nothing, millimetres. */
const tellingMm = 0.35;

/** A line without points that no eye sees. */
export function thinned(run: Run): Run {
  const kept: At[] = [];
  run.forEach((at, i) => {
    const last = kept.at(-1);
    if (last === undefined || i === run.length - 1 || distanceM(last, at) >= tellingMm)
      kept.push(at);
  });
  return kept;
}

/** What covers the ground, faintly: paving filled, the rest outlined. */
export function drawSurfaces(board: Board, view: PlanView, plan: LocalPlan): void {
  const pen: Pen = { ink: inks.hair, widthMm: pens.hatch };
  for (const { shape, feature } of plan.of.surface) {
    if (!view.shows(shape.rings[0])) continue;
    const { cover } = feature.properties;
    const rings = view.rings(shape.rings);
    if (cover === 'lawn' || cover === 'meadow')
      board.area(rings, { pen: { ...pen, dashMm: [0.5, 1.4] } });
    else board.area(rings, { pen });
    if (cover === 'deck') board.hatch([rings], { angleDeg: 0, pitchMm: 1 }, inks.hair);
    if (cover === 'gravel') board.circles(hatchDots(rings, 1.6), 0.14, { fill: inks.hair });
    if (cover === 'bed') board.circles(hatchDots(rings, 2.2), 0.2, { fill: inks.growth });
  }
  for (const kind of ['easement', 'wetland'] as const) {
    for (const { shape } of plan.of[kind]) {
      board.area(view.rings(shape.rings), {
        pen: { ink: inks.second, widthMm: pens.thin, dashMm: [3, 1, 1, 1] },
      });
    }
  }
}

/** Hatches of keep-clear zones by the order of their letters: told apart by angle and pitch where colours are not seen. */
const zoneHatches = [
  { angleDeg: -45, pitchMm: 1.9 },
  { angleDeg: 45, pitchMm: 2.8 },
  { angleDeg: 0, pitchMm: 2.4 },
  { angleDeg: -15, pitchMm: 3.2 },
  { angleDeg: 70, pitchMm: 2.4 },
  { angleDeg: 20, pitchMm: 2.6 },
  { angleDeg: -70, pitchMm: 3 },
] as const;

/** A rule's hatch; the ground dug by hand along lines has one of its own. */
export function zoneHatch(
  letter: string,
  letters: readonly string[],
): { angleDeg: number; pitchMm: number } {
  if (letter === 'U') return { angleDeg: 90, pitchMm: 0.9 };
  const order = letters.filter((each) => each !== 'U').indexOf(letter);
  return zoneHatches[Math.max(0, order) % zoneHatches.length];
}

/** Zones that reach beyond their thing: rules that only forbid lying over it have none to draw. */
export function reachingZones(zones: readonly KeepClearZone[]): KeepClearZone[] {
  return zones.filter(({ requiredM }) => requiredM > 0.01);
}

/** Letters of the rules that have zones on the plan, in order. */
export function zoneLetters(zones: readonly KeepClearZone[]): string[] {
  return [...new Set(zones.map(({ letter }) => letter))].sort();
}

/** Zones larger than this on paper are hatched along their edge alone: whole, they would hide each other, mm2. */
const largeMm2 = 700;
const bandMm = 3.2;

/**
 * Keep-clear zones, clipped to the own lot. Rules that forbid no more than lying over a thing have none.
 *
 * @returns of each letter the outlines that are hatched, for its letters.
 */
export function drawZones(
  board: Board,
  view: PlanView,
  zones: readonly KeepClearZone[],
  lot: readonly Run[] | null,
): { letter: string; rings: readonly Run[] }[] {
  const drawn = zones.flatMap(({ letter, polygons }) =>
    polygons
      .filter((polygon) => view.shows(polygon[0]))
      .map((polygon) => ({ letter, rings: view.rings(polygon).map(thinned) })),
  );
  const shown = zoneLetters(zones);
  const inner = new Board(board.fonts);
  const edge: Pen = { ink: inks.keepClear, widthMm: pens.hatch };
  for (const { letter, rings } of drawn) {
    const hatch = zoneHatch(letter, shown);
    const isLarge = areaM2(rings) > largeMm2 && letter !== 'U';
    inner.area(rings, { pen: edge });
    inner.hatch(
      lot === null ? [rings] : [rings, lot],
      isLarge ? { ...hatch, bandMm } : hatch,
      inks.keepClear,
    );
  }
  if (lot === null) board.marks.push(...inner.marks);
  else board.marks.push({ kind: 'clipped', outline: lot, marks: inner.marks });
  return drawn;
}

/** A tree as seen from above: a scalloped crown and its trunk. */
export function drawTrees(board: Board, view: PlanView, plan: LocalPlan): void {
  for (const { shape, feature } of plan.of.tree) {
    const { canopy_radius_m: canopyM = 2, trunk_diameter_m: trunkM = 0.3 } = feature.properties;
    const centre = view.at(shape.at);
    const radius = view.mm(canopyM);
    const lobes = Math.max(8, Math.round(radius * 1.6));
    const crown: At[] = Array.from({ length: lobes * 6 }, (_, i) => {
      const turn = (2 * Math.PI * i) / (lobes * 6);
      const bulge = radius * (0.93 + 0.07 * Math.abs(Math.sin((lobes * turn) / 2)));
      return [centre[0] + bulge * Math.cos(turn), centre[1] + bulge * Math.sin(turn)];
    });
    board.area([crown], { pen: { ink: inks.growth, widthMm: pens.fine } });
    board.circles([centre], Math.max(0.5, view.mm(trunkM) / 2), { fill: inks.growth });
  }
}

/** Buildings with heavy walls, roofs with eaves and ridge, downspouts with their outlets. */
export function drawBuildings(board: Board, view: PlanView, plan: LocalPlan): void {
  for (const { shape, ridge } of plan.of.roof) {
    board.area(view.rings(shape.rings), {
      pen: { ink: inks.second, widthMm: pens.fine, dashMm: [1.4, 0.7] },
    });
    if (ridge !== undefined) board.line(view.run(ridge), { ink: inks.second, widthMm: pens.hatch });
  }
  for (const { shape } of plan.of.building) {
    board.area(view.rings(shape.rings), {
      fill: inks.built,
      pen: { ink: inks.ink, widthMm: pens.heavy },
    });
  }
  for (const { shape, outlet } of plan.of.downspout) {
    const at = view.at(shape.at);
    if (outlet !== 'storm-sewer' && distanceM(outlet, shape.at) > 0.2) {
      const to = view.at(outlet);
      board.line([at, to], { ink: inks.water, widthMm: pens.fine, dashMm: [1.2, 0.5] });
      board.circles([to], 0.35, { fill: inks.water });
    }
    board.circles([at], 0.75, { fill: inks.paper, pen: { ink: inks.ink, widthMm: pens.thin } });
  }
}

/** Kerbs, walls, berms, swales, pipes, watercourses, wells, tanks and fields. */
export function drawWorks(board: Board, view: PlanView, plan: LocalPlan): void {
  const line = (points: readonly XY[], pen: Pen): void => {
    board.line(view.run(points), pen);
  };
  const water: Pen = { ink: inks.water, widthMm: pens.rule };
  for (const { shape } of plan.of.kerb)
    line(shape.points, { ink: inks.second, widthMm: pens.rule });
  for (const { shape } of plan.of.wall) line(shape.points, { ink: inks.ink, widthMm: pens.middle });
  for (const { shape } of plan.of.berm) {
    line(shape.points, { ink: inks.ground, widthMm: pens.rule, dashMm: [2.5, 0.8] });
  }
  for (const { shape } of plan.of.swale)
    line(shape.points, { ...water, dashMm: [3.5, 0.9, 0.8, 0.9] });
  for (const { shape } of plan.of.watercourse)
    line(shape.points, { ...water, widthMm: pens.middle });
  for (const { shape } of plan.of['drain-pipe'])
    line(shape.points, { ...water, dashMm: [1.5, 0.7] });
  const septic: Pen = { ink: inks.septic, widthMm: pens.thin, dashMm: [2, 0.8] };
  for (const { shape } of plan.of['septic-field']) {
    const rings = view.rings(shape.rings);
    board.area(rings, { pen: septic });
    board.hatch([rings], { angleDeg: 90, pitchMm: 3 }, inks.septic, pens.hatch);
  }
  for (const { shape, feature } of plan.of['septic-tank']) {
    const radius = Math.max(1, view.mm(feature.properties.radius_m ?? 0.8));
    board.circles([view.at(shape.at)], radius, { fill: inks.paper, pen: septic });
  }
  for (const { shape } of plan.of.well) {
    const at = view.at(shape.at);
    board.circles([at], 1.3, { fill: inks.paper, pen: { ink: inks.ink, widthMm: pens.rule } });
    board.circles([at], 0.5, { fill: inks.ink });
  }
  for (const { shape } of plan.of['yard-drain']) {
    const [x, y] = view.at(shape.at);
    board.box(
      { x: x - 0.9, y: y - 0.9, width: 1.8, height: 1.8 },
      { fill: inks.paper, pen: water },
    );
  }
  for (const { shape } of plan.of['soil-test']) {
    const [x, y] = view.at(shape.at);
    const pen: Pen = { ink: inks.ink, widthMm: pens.fine };
    board.lines(
      [
        [
          [x - 1, y - 1],
          [x + 1, y + 1],
        ],
        [
          [x - 1, y + 1],
          [x + 1, y - 1],
        ],
      ],
      pen,
    );
  }
}

/** Lines in the ground, by the uniform colours and dashes; what nobody located today is dashed short. */
export function drawUtilities(board: Board, view: PlanView, plan: LocalPlan, date: string): void {
  for (const { shape, feature } of plan.of.utility) {
    const { service } = feature.properties;
    const isLocated = locateState(feature, date) === 'current';
    board.line(view.run(shape.points), {
      ink: utilityInks[service].line,
      widthMm: pens.middle,
      dashMm: isLocated ? utilityDashes[service] : unlocatedDash,
    });
  }
}

/** Lot lines: the own one heavy with round corners, the others fine. */
export function drawLots(board: Board, view: PlanView, plan: LocalPlan): void {
  for (const { shape, feature } of plan.of.lot) {
    const isOwn = feature.properties.own;
    const pen: Pen = isOwn
      ? { ink: inks.ink, widthMm: pens.heavy, dashMm: [7, 1.2, 1, 1.2, 1, 1.2] }
      : { ink: inks.second, widthMm: pens.thin, dashMm: [7, 1.2, 1, 1.2] };
    for (const ring of shape.rings) {
      board.line(view.closed(ring), pen);
      if (isOwn) {
        board.circles(view.run(ring), 1.1, {
          fill: inks.paper,
          pen: { ink: inks.ink, widthMm: pens.rule },
        });
      }
    }
  }
}
