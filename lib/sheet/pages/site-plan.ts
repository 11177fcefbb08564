import type { XY } from '../../frame/frame';
import { boundsOf, contains, distanceM, type Bounds } from '../../frame/shapes';
import { featureName } from '../../plan/feature-name';
import { verdictWords } from '../../setback/judge/finding-words';
import type { SetbackResult } from '../../setback/judge/setback-result';
import { formatArea, formatLength, formatVolume } from '../../units/format';
import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens, utilityInks } from '../drawing/inks';
import { inset, rectRun, type At, type Rect, type Run } from '../drawing/mark';
import type { SheetFacts } from '../facts/sheet-facts';
import { Lettering } from '../lettering/lettering';
import { alongSpots, aroundSpots, insideSpots } from '../lettering/spots';
import { askedScale, chosenScale, scaleText, type ToFit } from '../paper/scale';
import { papers } from '../paper/paper';
import { drawBasin, drawnBasins, drawOverflow, type DrawnBasin } from '../views/basin-drawing';
import { drawNorth, drawScaleBar, drawViewTitle } from '../views/furniture';
import {
  drawBuildings,
  drawContours,
  drawLots,
  drawSurfaces,
  drawTrees,
  drawUtilities,
  drawWorks,
  drawZones,
  reachingZones,
  zoneLetters,
  type IndexLine,
} from '../views/plan-layers';
import { groundOf, middleOf, PlanView, shownFeatures } from '../views/plan-view';
import { drawRelief } from '../views/relief';
import { markings } from '../../setback/locate/marking-colours';
import { locateState } from '../../setback/locate/locates';
import type { Leaf, Making } from './leaf';
import { drawSiteNotes } from './site-notes';

/** Below the field: title of the view, scale bar, north. */
const bandMm = 18;
/** Around the lot, for its dimensions and what lies just beyond, millimetres. */
const aroundMm = 13;
/** Dimensions drawn for each garden; the table has all. */
const mostDimensions = 7;
/** Shorter ones would be ticks alone, millimetres. */
const leastDimensionMm = 4;

/** The lot with everything on it and in it, what keeps a garden off, and where its overflow goes. */
export function sitePlan(making: Making): Leaf {
  const { facts, fonts, frame } = making;
  const board = new Board(fonts);
  const field: Rect = { ...frame.drawing, height: frame.drawing.height - bandMm };
  const missing: string[] = [];
  if (facts.lot === null)
    missing.push('There is no lot line: draw it, or mark one lot as your own.');
  if (facts.survey === null)
    missing.push('There is no elevation: no contours, and no way of the overflow.');
  if (facts.plan.of.basin.length === 0) missing.push('There is no garden on the plan.');
  const bounds = groundOf(shownFeatures(facts));
  if (bounds === null) {
    return { name: 'site', title: 'Site plan', scale: '', board, missing: ['The plan is empty.'] };
  }
  const ratio = scaleFor(making, field, bounds);
  const view = new PlanView(field, ratio, middleOf(bounds));
  const inner = new Board(fonts);
  const lettering = new Lettering(inner, inset(field, 1));
  const lot = facts.lot === null ? null : view.rings(facts.lot.shape.rings);
  const contourIndex = drawGround(inner, view, facts);
  const reaching = reachingZones(facts.zones);
  const zones = drawZones(inner, view, reaching, lot);
  drawTrees(inner, view, facts.plan);
  drawWorks(inner, view, facts.plan);
  drawBuildings(inner, view, facts.plan);
  drawUtilities(inner, view, facts.plan, facts.date);
  drawLots(inner, view, facts.plan);
  const basins = drawnBasins(facts);
  const overflows = basins.map((basin) => drawOverflow(inner, view, facts, basin));
  for (const basin of basins) drawBasin(inner, view, basin);
  avoidLines(lettering, view, facts, basins);
  letterPlan({ board: inner, lettering, view, facts }, basins, overflows);
  const buildings = facts.plan.of.building.map(({ shape }) => view.rings(shape.rings));
  letterZones(lettering, zones, lot, buildings);
  letterContours(lettering, buildings, contourIndex?.index ?? [], facts);
  lettering.finish();
  board.marks.push({ kind: 'clipped', outline: [rectRun(field)], marks: inner.marks });
  const scale = scaleText(ratio, facts.units);
  drawBand(board, making, field, view, contourIndex?.intervalM ?? null);
  drawSiteNotes(board, making, basins, zoneLetters(reaching), lettering.leftOut);
  return { name: 'site', title: 'Site plan', scale, board, missing, leftOut: lettering.leftOut };
}

/** What letters are put with. */
export interface PlanLettering {
  readonly board: Board;
  readonly lettering: Lettering;
  readonly view: PlanView;
  readonly facts: SheetFacts;
}

function scaleFor({ facts, frame, scale }: Making, field: Rect, bounds: Bounds): number {
  const room: ToFit = {
    widthMm: field.width - 2 * aroundMm,
    heightMm: field.height - 2 * aroundMm,
    widthM: bounds.east - bounds.west,
    heightM: bounds.north - bounds.south,
  };
  if (scale === undefined) return chosenScale(room, facts.units);
  const paper = `${papers[frame.paper].words} ${frame.orientation}`;
  return askedScale(scale, room, facts.units, paper);
}

function drawGround(
  board: Board,
  view: PlanView,
  facts: SheetFacts,
): { index: IndexLine[]; intervalM: number } | null {
  if (facts.survey !== null) drawRelief(board, view, facts.survey.elevation.grid);
  drawSurfaces(board, view, facts.plan);
  if (facts.survey === null) return null;
  return drawContours(board, view, facts.survey.elevation.grid, facts.units);
}

/** Letters had better not lie on walls, lot lines, rims and lines in the ground. */
function avoidLines(
  lettering: Lettering,
  view: PlanView,
  { plan, lot }: SheetFacts,
  basins: readonly DrawnBasin[],
): void {
  if (lot !== null) lettering.avoid(view.closed(lot.shape.rings[0]), 6);
  for (const { shape } of plan.of.building) lettering.avoid(view.closed(shape.rings[0]), 5);
  for (const { rim } of basins) lettering.avoid(view.closed(rim), 8);
  for (const { shape } of plan.of.utility) lettering.avoid(view.run(shape.points), 2);
  for (const { shape } of plan.of.tree) lettering.avoid([view.at(shape.at), view.at(shape.at)], 3);
  for (const { shape } of plan.of.kerb) lettering.avoid(view.run(shape.points), 1);
}

function letterPlan(
  context: PlanLettering,
  basins: readonly DrawnBasin[],
  overflows: readonly Run[],
): void {
  const dimensions = basins.flatMap((basin) => dimensionsOf(context, basin));
  for (const { run } of dimensions) context.lettering.avoid(run, 4);
  for (const run of overflows) context.lettering.avoid(run, 3);
  for (const basin of basins) letterBasin(context, basin);
  letterBuildings(context);
  for (const dimension of dimensions) letterDimension(context, dimension);
  overflows.forEach((run, i) => {
    letterOverflow(context, basins[i], run);
  });
  letterLotSides(context);
  letterUtilities(context);
  letterThings(context);
  letterLots(context);
}

/** Name, levels and room of a garden, led out of it. */
function letterBasin({ lettering, view, facts, board }: PlanLettering, basin: DrawnBasin): void {
  const { built, design } = basin;
  const rim = view.run(basin.rim);
  const centre = insideSpots([rim])[0]?.centre ?? rim[0];
  const bold: Lettered = { ...letters.labelBold, ink: inks.water };
  const lines = [{ text: basin.name.slice(0, 60), look: bold }];
  if (built !== null && design !== null) {
    const { form, rimAreaM2 } = built.finished;
    const downM = form.rimM - form.floorM;
    lines.push({
      text: `rim level, floor ${formatLength(downM, facts.units)} lower, dig ${formatLength(built.layers.digDepthM, facts.units)} more`,
      look: letters.label,
    });
    lines.push({
      text: `${formatArea(rimAreaM2, facts.units)}, holds ${formatVolume(built.bowlM3, facts.units)}`,
      look: letters.label,
    });
  }
  const half = Math.max(...lines.map(({ text, look }) => board.widthMm(text, look))) / 2;
  const size = boundsOf(rim);
  const awayMm = Math.hypot(size.east - size.west, size.north - size.south) / 2;
  const reachMm = [4, 8, 13, 20, 28, 38].map((each) => awayMm + each);
  lettering.place(lines, aroundSpots(centre, half, { reachMm }));
  if (basin.notch !== null && built !== null) {
    const { overflowWidthM } = built.finished.form;
    const text = `notch ${formatLength(overflowWidthM, facts.units)} wide`;
    const look = letters.label;
    lettering.place(
      [{ text, look }],
      aroundSpots(view.at(basin.notch), board.widthMm(text, look) / 2),
    );
  }
}

/** Names of buildings inside them, of what they stand on below. */
function letterBuildings({ lettering, view, facts }: PlanLettering): void {
  for (const { shape, feature } of facts.plan.of.building) {
    if (!view.shows(shape.rings[0])) continue;
    const name = { text: featureName(feature).toUpperCase().slice(0, 40), look: letters.head };
    const { foundation } = feature.properties;
    const spots = insideSpots(view.rings(shape.rings));
    const below =
      foundation === undefined || foundation === 'none'
        ? []
        : [{ text: foundation.replace('-', ' '), look: letters.small }];
    if (!lettering.place([name, ...below], spots, false)) lettering.place([name], spots, false);
  }
}

/** The rows whose distance is drawn: of each thing the one with least to spare, the tightest first. */
export function drawnDistances(
  facts: SheetFacts,
  basinId: string,
): (SetbackResult & { nearest: readonly [XY, XY]; measured_m: number; required_m: number })[] {
  const rows = (facts.findings?.results ?? []).flatMap((row) => {
    const { nearest, measured_m: measuredM, required_m: requiredM } = row;
    if (row.basin !== basinId || nearest === null || measuredM === null) return [];
    if (requiredM === null || requiredM === 0 || row.feature === null) return [];
    return [{ ...row, nearest, measured_m: measuredM, required_m: requiredM }];
  });
  const sorted = rows.sort((a, b) => a.measured_m - a.required_m - (b.measured_m - b.required_m));
  const seen = new Set<string | null>();
  return sorted.filter(({ feature }) => !seen.has(feature) && seen.add(feature).size > 0);
}

interface Dimension {
  readonly run: Run;
  readonly text: string;
}

/** The distances that are drawn from one garden, and what is written on them. */
function dimensionsOf({ view, facts }: PlanLettering, basin: DrawnBasin): Dimension[] {
  const { x, y, width, height } = inset(view.rect, 2);
  return drawnDistances(facts, basin.id)
    .map((row): Dimension => {
      const mark = verdictWords[row.result].charAt(0);
      const is = formatLength(row.measured_m, facts.units);
      const needs = formatLength(row.required_m, facts.units);
      return { run: view.run(row.nearest), text: `${mark} ${is}, needs ${needs}` };
    })
    .filter(({ run }) => {
      const isSeen = run.every(
        ([atX, atY]) => atX > x && atY > y && atX < x + width && atY < y + height,
      );
      return isSeen && distanceM(run[0], run[1]) >= leastDimensionMm;
    })
    .slice(0, mostDimensions);
}

function letterDimension({ board, lettering }: PlanLettering, { run, text }: Dimension): void {
  const look: Lettered = { ...letters.labelBold, pt: 6.5 };
  drawDimension(board, run);
  const middle: At = [(run[0][0] + run[1][0]) / 2, (run[0][1] + run[1][1]) / 2];
  const reachMm = [5, 9, 14, 20];
  lettering.place(
    [{ text, look }],
    [
      ...alongSpots(run, { asideMm: 1.9, everyMm: 3 }),
      ...aroundSpots(middle, board.widthMm(text, look) / 2, { reachMm }),
    ],
  );
}

/** A dimension line: fine, with oblique ticks at its ends. */
export function drawDimension(board: Board, run: Run): void {
  const pen = { ink: inks.ink, widthMm: pens.fine };
  board.line(run, pen);
  const [[ax, ay], [bx, by]] = run;
  const turn = Math.atan2(by - ay, bx - ax) - Math.PI / 4;
  const [dx, dy] = [0.9 * Math.cos(turn), 0.9 * Math.sin(turn)];
  board.lines(
    run.map(([x, y]): Run => [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ]),
    { ...pen, widthMm: pens.rule },
  );
}

function letterOverflow(
  { lettering, facts, board }: PlanLettering,
  basin: DrawnBasin,
  run: Run,
): void {
  if (basin.design === null || run.length < 2) return;
  const { verdict } = basin.design.overflow;
  const name = verdict.feature === null ? null : facts.plan.byId.get(verdict.feature);
  const text = `overflow${name === undefined || name === null ? '' : ` to ${featureName(name.feature)}`}: ${verdictWords[verdict.result]}`;
  const look: Lettered = { ...letters.label, ink: inks.water };
  const at = run[Math.floor(run.length * 0.7)];
  lettering.place([{ text, look }], aroundSpots(at, board.widthMm(text, look) / 2));
}

/** Length and bearing of each side of the own lot, outside it. */
function letterLotSides({ lettering, view, facts }: PlanLettering): void {
  if (facts.lot === null) return;
  const ring = facts.lot.shape.rings[0];
  ring.forEach((from, i) => {
    const to = ring[(i + 1) % ring.length];
    const run = view.run([from, to]);
    if (distanceM(run[0], run[1]) < 6) return;
    const bearing = (Math.atan2(to[0] - from[0], to[1] - from[1]) * 180) / Math.PI;
    const text = `${formatLength(distanceM(from, to), facts.units)}  ${bearingText(bearing)}`;
    const outside = alongSpots(run, { asideMm: 2.4 }).filter(
      ({ centre }) => !contains([view.run(ring)], centre),
    );
    lettering.place([{ text, look: letters.label }], outside, false);
  });
}

/** A bearing clockwise from north in whole minutes of a degree. */
function bearingText(degrees: number): string {
  const minutes = Math.round((((degrees % 360) + 360) % 360) * 60) % (360 * 60);
  const whole = Math.floor(minutes / 60);
  return `${String(whole).padStart(3, '0')}° ${String(minutes % 60).padStart(2, '0')}′`;
}

/** Letters of the service along each line; what nobody located says so once. */
function letterUtilities({ lettering, view, facts, board }: PlanLettering): void {
  for (const { shape, feature } of facts.plan.of.utility) {
    const { service } = feature.properties;
    const run = view.run(shape.points);
    const isLocated = locateState(feature, facts.date) === 'current';
    const look: Lettered = { ...letters.labelBold, ink: utilityInks[service].letter };
    const text = `${markings[service].letter}${isLocated ? '' : '?'}`;
    const spots = alongSpots(run, { everyMm: 17 });
    const turned = spots.map((spot) => ({ ...spot, turnDeg: 0 }));
    for (const spot of turned) lettering.place([{ text, look }], [spot], false);
    if (isLocated) continue;
    const words = `${featureName(feature)}: not located`.slice(0, 60);
    const small: Lettered = { ...look, face: 'label', ink: inks.fails };
    const middle = spots.at(0)?.centre ?? run[0];
    lettering.place(
      [{ text: words, look: small }],
      aroundSpots(middle, board.widthMm(words, small) / 2),
    );
  }
}

/** Names of single things and of paths and streets. */
function letterThings({ lettering, view, facts, board }: PlanLettering): void {
  const { plan } = facts;
  const named = (at: XY, words: string, ink: string, isNeeded: boolean): void => {
    const text = words.slice(0, 40);
    const look: Lettered = { ...letters.label, pt: 6.5, ink };
    if (!view.shows([at])) return;
    lettering.place(
      [{ text, look }],
      aroundSpots(view.at(at), board.widthMm(text, look) / 2, {
        nearMm: 1.8,
        reachMm: [6, 10, 15],
      }),
      isNeeded,
    );
  };
  for (const { shape, feature } of plan.of.well)
    named(shape.at, featureName(feature), inks.ink, true);
  for (const { shape, feature } of plan.of['septic-tank'])
    named(shape.at, featureName(feature), inks.septic, true);
  for (const { shape, feature } of plan.of['septic-field']) {
    const look = { ...letters.label, ink: inks.septic };
    lettering.place(
      [{ text: featureName(feature).slice(0, 40), look }],
      insideSpots(view.rings(shape.rings)),
      false,
    );
  }
  for (const { shape, feature } of plan.of.tree) {
    const { trunk_diameter_m: trunkM } = feature.properties;
    const trunk = trunkM === undefined ? '' : `, trunk ${formatLength(trunkM, facts.units)}`;
    named(shape.at, `${featureName(feature)}${trunk}`, inks.growth, false);
  }
  for (const { shape, feature } of plan.of.swale) {
    const look = { ...letters.label, ink: inks.water };
    lettering.place(
      [{ text: featureName(feature).slice(0, 40), look }],
      alongSpots(view.run(shape.points), { asideMm: 2 }),
      false,
    );
  }
  for (const { shape, feature } of plan.of.surface) {
    const { name, cover } = feature.properties;
    if (cover === 'lawn' || !view.shows(shape.rings[0])) continue;
    const look = { ...letters.small, pt: 6.5 };
    lettering.place(
      [{ text: (name ?? cover).slice(0, 40), look }],
      insideSpots(view.rings(shape.rings)),
      false,
    );
  }
  for (const { shape, feature } of plan.of['soil-test'])
    named(shape.at, featureName(feature), inks.second, false);
}

/** Names of the neighbours, letterspaced, on their side. */
function letterLots({ lettering, view, facts }: PlanLettering): void {
  for (const { shape, feature } of facts.plan.of.lot) {
    if (feature.properties.own || !view.shows(shape.rings[0])) continue;
    const text = featureName(feature).toUpperCase().slice(0, 40).split('').join(' ');
    const look: Lettered = { ...letters.label, ink: inks.second };
    lettering.place([{ text, look }], insideSpots(view.rings(shape.rings), 6), false);
  }
}

/** Letters of the zones just inside their edges, where the hatch is. */
function letterZones(
  lettering: Lettering,
  zones: readonly { letter: string; rings: readonly Run[] }[],
  lot: readonly Run[] | null,
  buildings: readonly (readonly Run[])[],
): void {
  const look: Lettered = { ...letters.labelBold, pt: 8, ink: inks.keepClear };
  for (const { letter, rings } of zones) {
    if (letter === 'U') continue;
    const [outer] = rings;
    const spots = alongSpots([...outer, outer[0]], { asideMm: 2.4, everyMm: 5 }).filter(
      ({ centre }) =>
        contains(rings, centre) &&
        (lot === null || contains(lot, centre)) &&
        !buildings.some((building) => contains(building, centre)),
    );
    lettering.place(
      [{ text: letter, look }],
      spots.map(({ centre }) => ({ centre })),
      false,
    );
  }
}

function letterContours(
  lettering: Lettering,
  buildings: readonly (readonly Run[])[],
  index: readonly IndexLine[],
  { units }: SheetFacts,
): void {
  const look: Lettered = { ...letters.label, pt: 6.5, ink: inks.contour };
  for (const { elevationM, run } of index) {
    if (run.length < 6) continue;
    const text = formatLength(elevationM, units, 0.1);
    const spots = alongSpots(run, { everyMm: 14 }).filter(
      ({ centre }) => !buildings.some((rings) => contains(rings, centre)),
    );
    lettering.place([{ text, look }], spots, false);
  }
}

function drawBand(
  board: Board,
  { facts, frame }: Making,
  field: Rect,
  view: PlanView,
  intervalM: number | null,
): void {
  const y = field.y + field.height;
  board.line(
    [
      [field.x, y],
      [field.x + field.width, y],
    ],
    { ink: inks.ink, widthMm: pens.rule },
  );
  const scale = scaleText(view.ratio, facts.units);
  const every =
    intervalM === null ? '' : ` · contours every ${formatLength(intervalM, facts.units, 0.01)}`;
  drawViewTitle(board, [field.x + 4, y + bandMm / 2], {
    number: '1',
    name: 'Site plan',
    words: `${scale}${every} · distances level`,
  });
  const barMm = Math.min(75, frame.drawing.width * 0.28);
  drawScaleBar(board, [field.x + field.width * 0.52, y + 7], view.ratio, facts.units, barMm);
  const { ground } = view;
  drawNorth(board, [field.x + field.width - 10, y + 10], facts.plan, middleOf(ground));
}
