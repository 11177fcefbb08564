import { basinSections, type BasinSection, type BasinSections } from '../../basin/form/section';
import type { ZoneName } from '../../basin/form/planting-zones';
import type { BasinAsBuilt } from '../../basin/form/as-built';
import type { XY } from '../../frame/frame';
import { boundsOf } from '../../frame/shapes';
import { formatArea, formatLength } from '../../units/format';
import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { inset, rectRun, type At, type Rect, type Run } from '../drawing/mark';
import { plantCounts, usualSpacingM } from '../facts/plant-counts';
import { plantLayout } from '../facts/plant-layout';
import type { SheetFacts } from '../facts/sheet-facts';
import { Lettering } from '../lettering/lettering';
import { aroundSpots, insideSpots } from '../lettering/spots';
import { chosenScale, scaleText } from '../paper/scale';
import { drawnBasins, drawOverflow, outward, type DrawnBasin } from '../views/basin-drawing';
import { drawNorth, drawScaleBar, drawViewTitle } from '../views/furniture';
import { gardenView } from '../views/garden-view';
import type { PlanView } from '../views/plan-view';
import { drawSection, levelColumnMm, sectionHeights, sectionSize } from '../views/section-drawing';
import { heading, numbered, padded, paragraph, type Leaf, type Making } from './leaf';
import { drawTable, type Table } from './table';

/** A page for each garden: where what is planted, and how it is built. */
export function gardenPages(making: Making): Leaf[] {
  const { facts, fonts, frame } = making;
  const basins = drawnBasins(facts);
  const title = 'Garden: planting and sections';
  if (basins.length === 0 || facts.survey === null) {
    const lack =
      basins.length === 0
        ? 'There is no garden on the plan to be drawn.'
        : 'Without elevation the garden has no levels, so it cannot be drawn in section.';
    const board = new Board(fonts);
    const rect = padded(frame.drawing);
    const y = heading(board, title, rect);
    paragraph(board, lack, { ...rect, y });
    return [{ name: 'garden', title, scale: '', board, missing: [lack] }];
  }
  return basins.map((basin, i) => gardenPage(making, basin, i, basins.length));
}

function gardenPage(making: Making, basin: DrawnBasin, index: number, of: number): Leaf {
  const { facts, fonts, frame } = making;
  const board = new Board(fonts);
  const name = index === 0 ? 'garden' : `garden-${index + 1}`;
  const title = of === 1 ? 'Garden: planting and sections' : `${basin.name}: planting and sections`;
  if (basin.built === null) {
    const undug = facts.design?.basins.find(({ id }) => id === basin.id);
    const lack = `${basin.name}: ${undug !== undefined && 'not_dug' in undug ? undug.not_dug : 'it could not be worked out.'}`;
    const rect = padded(frame.drawing);
    paragraph(board, lack, { ...rect, y: heading(board, title, rect) });
    return { name, title, scale: '', board, missing: [lack] };
  }
  const sections = basinSections(basin.built);
  const field = padded(frame.drawing);
  const drawn = [sections.across, sections.along];
  const ratios = drawn.map((each) => sectionScale(facts, sections, each, field));
  const heights = drawn.map((each, i) => sectionSize(sections, each, ratios[i]).heightMm + 12);
  const planHeight = field.height - heights[0] - heights[1];
  const planRatio = drawPlanting(board, making, basin, basin.built, sections, {
    ...field,
    height: planHeight,
  });
  let y = field.y + planHeight;
  drawn.forEach((section, i) => {
    drawSection(board, { ...field, y }, sections, section, ratios[i], facts.units);
    drawViewTitle(board, [field.x, y + heights[i] - 7], {
      number: i === 0 ? 'I' : 'II',
      name: i === 0 ? 'Crossways' : 'Lengthways',
      words: `${scaleText(ratios[i], facts.units)}, heights as lengths · from ${section.ends[0]} to ${section.ends[1]}`,
    });
    y += heights[i];
    drawScaleBar(board, [field.x + field.width - 62, y - 9], ratios[i], facts.units, 50);
  });
  drawGardenNotes(board, making, basin.built);
  const scale = [...new Set([planRatio, ...ratios])]
    .map((each) => scaleText(each, facts.units))
    .join(', ');
  return { name, title, scale, board, missing: index === 0 ? facts.job.lacks.planting : [] };
}

/** The largest round scale at which a section fits into the width and takes no more than its share of the height. */
function sectionScale(
  { units }: SheetFacts,
  sections: BasinSections,
  section: BasinSection,
  field: Rect,
): number {
  const [low, high] = sectionHeights(sections, section);
  return chosenScale(
    {
      widthMm: field.width - levelColumnMm,
      heightMm: field.height * 0.28 - 33,
      widthM: section.stationM[section.stationM.length - 1],
      heightM: high - low,
    },
    units,
  );
}

/** The garden turned so that it lies lengthwise, with plants, notch and the lines of the sections. Gives its scale. */
function drawPlanting(
  board: Board,
  { facts, fonts }: Making,
  basin: DrawnBasin,
  built: BasinAsBuilt,
  sections: BasinSections,
  rect: Rect,
): number {
  const field = { ...rect, height: rect.height - 13 };
  const { view, centre } = gardenView(field, basin.rim, sections, facts.units);
  const { ratio, turn } = view;
  const inner = new Board(fonts);
  const lettering = new Lettering(inner, inset(field, 1));
  inner.area([view.run(basin.rim)], { fill: inks.paper });
  for (const { zone, polygons } of built.zones) {
    const fill = { deep: inks.midWater, middle: inks.paleWater, edge: inks.paper }[zone];
    for (const rings of polygons)
      inner.area(view.rings(rings), { fill, pen: { ink: inks.water, widthMm: pens.hatch } });
  }
  for (const { zone, places } of plantLayout(built.zones, usualSpacingM)) {
    drawPlants(inner, zone, view.run(places), Math.min(2.6, view.mm(usualSpacingM) * 0.42));
  }
  inner.area([view.run(basin.rim)], { pen: { ink: inks.water, widthMm: pens.heavy } });
  drawOverflow(inner, view, facts, basin);
  drawSectionLines(inner, view, sections);
  letterPlanting({ board: inner, lettering, view, facts }, basin, built);
  lettering.finish();
  board.marks.push({ kind: 'clipped', outline: [rectRun(field)], marks: inner.marks });
  drawNorth(board, [rect.x + rect.width - 8, rect.y + 10], facts.plan, centre, turn);
  drawViewTitle(board, [rect.x, rect.y + rect.height - 8], {
    number: '1',
    name: 'Planting',
    words: `${scaleText(ratio, facts.units)} · plants ${formatLength(usualSpacingM, facts.units)} apart on a triangular grid`,
  });
  return ratio;
}

/** Signs of plants by zone, told apart by form. */
function drawPlants(board: Board, zone: ZoneName, places: Run, radius: number): void {
  const pen = { ink: inks.growth, widthMm: pens.fine };
  if (zone === 'deep') {
    board.circles(places, radius, { pen });
    board.circles(places, radius / 3, { fill: inks.growth });
    return;
  }
  if (zone === 'middle') {
    board.circles(places, radius, { pen });
    board.lines(
      places.flatMap(([x, y]): Run[] => [
        [
          [x - radius, y],
          [x + radius, y],
        ],
        [
          [x, y - radius],
          [x, y + radius],
        ],
      ]),
      pen,
    );
    return;
  }
  board.lines(
    places.flatMap(([x, y]): Run[] =>
      [0, 60, 120].map((degrees): Run => {
        const [dx, dy] = [
          radius * Math.cos((degrees * Math.PI) / 180),
          radius * Math.sin((degrees * Math.PI) / 180),
        ];
        return [
          [x - dx, y - dy],
          [x + dx, y + dy],
        ];
      }),
    ),
    pen,
  );
}

/** Beyond the rim a line of a section is drawn so far, millimetres. */
const beyondMm = 11;

/** The ends of a section's line as drawn: a little beyond the rim. */
function cutLine({ from, to, stationM, insideM }: BasinSection, view: PlanView): readonly [XY, XY] {
  const spanM = stationM[stationM.length - 1];
  const beyondM = (beyondMm * view.ratio) / 1000;
  const at = (station: number): XY => {
    const share = Math.max(0, Math.min(1, station / spanM));
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  };
  return [at(insideM[0][0] - beyondM), at(insideM[insideM.length - 1][1] + beyondM)];
}

/** Where the sections are cut: short heavy ends with their numbers. */
function drawSectionLines(board: Board, view: PlanView, sections: BasinSections): void {
  for (const [section, number] of [
    [sections.across, 'I'],
    [sections.along, 'II'],
  ] as const) {
    const [a, b] = view.run(cutLine(section, view));
    board.line([a, b], { ink: inks.ink, widthMm: pens.hatch, dashMm: [6, 1, 1, 1] });
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    for (const [at, way] of [
      [a, 1],
      [b, -1],
    ] as const) {
      const end: At = [at[0] + 5 * way * ux, at[1] + 5 * way * uy];
      board.line([at, end], { ink: inks.ink, widthMm: pens.heavy });
      const text: At = [at[0] - 2.4 * way * ux, at[1] - 2.4 * way * uy + 1.2];
      board.text(number, text, letters.figureBold, { align: 'middle' });
    }
  }
}

function letterPlanting(
  {
    board,
    lettering,
    view,
    facts,
  }: { board: Board; lettering: Lettering; view: PlanView; facts: SheetFacts },
  basin: DrawnBasin,
  built: BasinAsBuilt,
): void {
  const { units } = facts;
  lettering.avoid(view.closed(basin.rim), 3);
  const { across, along } = basinSections(built);
  for (const section of [across, along]) {
    for (const [x, y] of view.run(cutLine(section, view))) {
      lettering.keep({ x: x - 5, y: y - 3, width: 10, height: 6 });
    }
  }
  const counts = plantCounts(built.zones, usualSpacingM);
  for (const { zone, polygons } of built.zones) {
    const count = counts.find((each) => each.zone === zone)?.count ?? 0;
    const text = `${zone}: ${count} plants`;
    const look: Lettered = letters.labelBold;
    const half = board.widthMm(text, look) / 2;
    const [at] = polygons.flatMap((rings) => insideSpots(view.rings(rings), 2));
    if (at === undefined) continue;
    lettering.place([{ text, look }], outsideSpots(view.run(basin.rim), at.centre, half));
  }
  if (basin.notch !== null) {
    const { form } = built.finished;
    const text = `notch ${formatLength(form.overflowWidthM, units)} wide, sill ${formatLength(form.freeboardM, units)} under the rim`;
    const at = view.at(basin.notch);
    const [out] = outward(basin.rim, basin.notch);
    const [dx, dy] = [view.at([basin.notch[0] + out[0], basin.notch[1] + out[1]])[0] - at[0], 0];
    const half = board.widthMm(text, letters.label) / 2;
    const spots = [...aroundSpots(at, half, { reachMm: [8, 12, 17, 24] })];
    lettering.place([{ text, look: letters.label }], dx + dy >= 0 ? spots : spots.reverse());
  }
}

/** Spots beyond a rim, led from a place inside it. */
function outsideSpots(rim: Run, at: At, half: number) {
  const { west, south, east, north } = boundsOf(rim);
  const reach = Math.hypot(east - west, north - south) / 2;
  return aroundSpots(at, half, {
    reachMm: [0.4, 0.55, 0.7, 0.85, 1, 1.2].map((share) => share * reach + 6),
  });
}

function drawGardenNotes(board: Board, { facts, frame }: Making, built: BasinAsBuilt): void {
  const rect = padded(frame.notes);
  const isWide = rect.width > rect.height * 1.4;
  const half = (rect.width - 6) / 2;
  const first = isWide ? { ...rect, width: half } : rect;
  const y = drawZoneNotes(board, facts, built, first);
  const second = isWide
    ? { ...rect, x: rect.x + half + 6, width: half }
    : { ...rect, y: y + 1, height: rect.y + rect.height - y - 1 };
  drawLayerNotes(board, facts, built, second);
}

function drawZoneNotes(board: Board, facts: SheetFacts, built: BasinAsBuilt, rect: Rect): number {
  let y = heading(board, 'Zones', rect);
  const counts = plantCounts(built.zones, usualSpacingM);
  const small: Lettered = { ...letters.body, pt: 7 };
  const table: Table = {
    columns: [
      { head: 'zone', width: 14, look: letters.bodyBold },
      { head: 'area', width: 14, align: 'end' },
      { head: 'plants', width: 11, align: 'end', look: letters.figureBold },
      { head: 'water when full', width: 22, align: 'end' },
    ],
    rows: counts.map(({ zone, areaM2, count, waterM }) => [
      zone,
      formatArea(areaM2, facts.units),
      String(count),
      waterM[1] === 0 ? 'none' : `to ${formatLength(waterM[1], facts.units)}`,
    ]),
  };
  y = drawTable(board, table, { ...rect, y: y - 2, height: 40 }).y + 2;
  const bottom = rect.y + rect.height;
  counts.forEach(({ zone, grows }) => {
    drawPlants(board, zone, [[rect.x + 2.5, y + 2]], 1.7);
    const words = { x: rect.x + 7, y, width: rect.width - 7 };
    y = paragraph(board, `${zone}: ${grows}.`, words, small, bottom) + 1.2;
  });
  return y;
}

function drawLayerNotes(board: Board, facts: SheetFacts, built: BasinAsBuilt, rect: Rect): void {
  const bottom = rect.y + rect.height;
  let y = heading(board, 'Layers, from the top', rect);
  const layers: Table = {
    columns: [
      { head: 'material', width: 24, look: letters.bodyBold },
      { head: 'thick', width: 14, align: 'end' },
      { head: 'down to, under the rim', width: 26, align: 'end', look: letters.figureBold },
    ],
    rows: layerRows(built, facts),
  };
  y = drawTable(board, layers, { ...rect, y: y - 2, height: Math.max(0, bottom - y) }).y + 3;
  if (bottom - y < 14) return;
  y = heading(board, 'Notes', { ...rect, y });
  const remarks = [
    'Heights are under the rim, which is level all round: set it first, measure down from it.',
    'Check your local native and invasive lists before choosing plants; the plan names no species.',
    'No vertical edge: shape the sides as drawn. Do not tread the floor once it is loosened.',
    ...built.notes,
  ];
  numbered(board, remarks, { ...rect, y, height: bottom - y });
}

function layerRows({ layers, finished }: BasinAsBuilt, { units }: SheetFacts): string[][] {
  const { form } = finished;
  let downM = form.rimM - form.floorM;
  return layers.layers.toReversed().map(({ name, thicknessM }) => {
    downM += thicknessM;
    return [name, formatLength(thicknessM, units), formatLength(downM, units)];
  });
}
