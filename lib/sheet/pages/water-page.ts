import type { FlowLine } from '../../drainage/answer/drainage-result';
import { soakedWords, worthNaming, type Ledger } from '../../drainage/answer/ledger';
import type { MultiPolygon } from 'geojson';
import type { LngLat } from '../../frame/frame';
import { boundsOf, contains } from '../../frame/shapes';
import { nameById } from '../../plan/feature-name';
import { formatVolume } from '../../units/format';
import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { inset, rectRun, type Rect, type Run } from '../drawing/mark';
import type { SheetFacts, WaterFacts } from '../facts/sheet-facts';
import { stormWords } from '../facts/title-cells';
import { Lettering } from '../lettering/lettering';
import { aroundSpots, insideSpots } from '../lettering/spots';
import { chosenScale, scaleText } from '../paper/scale';
import { drawArrows, drawBasin, drawnBasins } from '../views/basin-drawing';
import { drawNorth } from '../views/furniture';
import { drawBuildings, drawLots, thinned } from '../views/plan-layers';
import { groundOf, middleOf, PlanView, shownFeatures } from '../views/plan-view';
import { featureName } from '../../plan/feature-name';
import { drawLedger, type LedgerBar } from './ledger-bars';
import { heading, numbered, padded, paragraph, type Leaf, type Making } from './leaf';
import { drawTable, type Table } from './table';

/** Where the water goes today and with the garden built: two plans of one scale, the ledger as bars of one scale, who sends what to whom. */
export function waterPage(making: Making): Leaf {
  const { facts, fonts, frame } = making;
  const board = new Board(fonts);
  const about = { name: 'water', title: 'Water before and after', board };
  const { water } = facts;
  if (water === null) {
    const lack = 'Without elevation it is not known where the water goes.';
    heading(board, 'Water before and after', padded(frame.drawing));
    const rect = padded(frame.drawing);
    paragraph(board, lack, { ...rect, y: rect.y + 10 });
    return { ...about, scale: '', missing: [lack] };
  }
  const field = padded(frame.drawing);
  const isWide = frame.orientation === 'landscape';
  const plansHeight = field.height * (isWide ? 0.5 : 0.36);
  const width = (field.width - 4) / 2;
  const leftOut: string[] = [];
  const ratio = scaleOf(facts, { ...field, width, height: plansHeight - 7 });
  const states = [
    { name: 'Before', words: 'as the lot lies today', state: water.before, isAfter: false },
    {
      name: 'After',
      words: `${facts.plan.of.basin.length > 0 ? 'with the garden built' : 'with all that is proposed'}, the same storm`,
      state: water.after,
      isAfter: true,
    },
  ];
  states.forEach(({ name, words, state, isAfter }, i) => {
    const rect = { x: field.x + i * (width + 4), y: field.y, width, height: plansHeight };
    board.text(name, [rect.x, rect.y + 4], letters.title);
    board.text(words, [rect.x + board.widthMm(name, letters.title) + 3, rect.y + 4], letters.aside);
    const view = { ...rect, y: rect.y + 6, height: rect.height - 6 };
    leftOut.push(...drawState(board, facts, state, view, ratio, isAfter));
  });
  const below = { ...field, y: field.y + plansHeight + 5, height: field.height - plansHeight - 5 };
  const y = drawLedgers(board, facts, below);
  const missing =
    water.after.result.ledger === null ? ['Without an own lot there is no ledger.'] : [];
  drawExchange(board, facts, { ...below, y: y + 3, height: below.y + below.height - y - 3 });
  drawWaterNotes(board, making, leftOut);
  return { ...about, scale: scaleText(ratio, facts.units), missing, leftOut };
}

function scaleOf(facts: SheetFacts, { width, height }: Rect): number {
  const bounds = groundOf(shownFeatures(facts), 3);
  if (bounds === null) return 500;
  return chosenScale(
    {
      widthMm: width - 8,
      heightMm: height - 8,
      widthM: bounds.east - bounds.west,
      heightM: bounds.north - bounds.south,
    },
    facts.units,
  );
}

/** One state in a field: low spots that hold water, flow paths, buildings, gardens. Gives labels without room. */
function drawState(
  board: Board,
  facts: SheetFacts,
  state: WaterFacts,
  rect: Rect,
  ratio: number,
  isAfter: boolean,
): readonly string[] {
  const bounds = groundOf(shownFeatures(facts));
  if (bounds === null) return [];
  const view = new PlanView(rect, ratio, middleOf(bounds));
  const inner = new Board(board.fonts);
  const lettering = new Lettering(inner, inset(rect, 1));
  const spots = standing(facts, state, view);
  for (const { rings } of spots) {
    inner.area(rings, { fill: inks.paleWater, pen: { ink: inks.water, widthMm: pens.fine } });
  }
  drawFlow(inner, view, facts, state.flow);
  drawBuildings(inner, view, facts.plan);
  drawLots(inner, view, facts.plan);
  const basins = isAfter ? drawnBasins(facts) : [];
  for (const basin of basins) drawBasin(inner, view, basin);
  for (const { shape } of facts.plan.of.building) lettering.avoid(view.closed(shape.rings[0]), 4);
  if (facts.lot !== null) lettering.avoid(view.closed(facts.lot.shape.rings[0]), 4);
  letterState(inner, lettering, facts, view, spots, state);
  lettering.finish();
  board.marks.push({ kind: 'clipped', outline: [rectRun(rect)], marks: inner.marks });
  board.box(rect, { pen: { ink: inks.ink, widthMm: pens.rule } });
  drawNorth(board, [rect.x + rect.width - 7, rect.y + 10], facts.plan, middleOf(bounds));
  return lettering.leftOut;
}

interface StandingSpot {
  readonly rings: readonly Run[];
  readonly volumeM3: number;
  readonly isBasin: boolean;
}

function standing(facts: SheetFacts, { result }: WaterFacts, view: PlanView): StandingSpot[] {
  return result.standing.flatMap(({ outline, volume_m3: volumeM3, basin }) => {
    if (outline === undefined) return [];
    const rings = runsOf(outline, facts, view);
    return rings.length === 0 ? [] : [{ rings, volumeM3, isBasin: basin !== null }];
  });
}

function runsOf({ coordinates }: MultiPolygon, { plan }: SheetFacts, view: PlanView): Run[] {
  return coordinates
    .flat()
    .map((ring) =>
      thinned(view.run(ring.slice(0, -1).map((at) => plan.frame.toLocal(at as unknown as LngLat)))),
    );
}

/** Flow paths by what runs over them: three weights of line. */
function drawFlow(
  board: Board,
  view: PlanView,
  { plan }: SheetFacts,
  lines: readonly FlowLine[],
): void {
  const most = Math.max(1e-9, ...lines.map(({ volume_m3: volumeM3 }) => volumeM3));
  const pen = { ink: inks.water, widthMm: pens.fine };
  for (const { points, volume_m3: volumeM3 } of lines) {
    const run = thinned(view.run(points.map((at) => plan.frame.toLocal(at))));
    const share = volumeM3 / most;
    const widthMm = share > 0.3 ? pens.middle : share > 0.08 ? pens.thin : pens.hatch;
    board.line(run, { ...pen, widthMm });
    if (share > 0.08) drawArrows(board, run, inks.water, 16);
  }
}

function letterState(
  board: Board,
  lettering: Lettering,
  facts: SheetFacts,
  view: PlanView,
  spots: readonly StandingSpot[],
  { result }: WaterFacts,
): void {
  const { units, plan } = facts;
  const bold: Lettered = { ...letters.labelBold, pt: 6.6, ink: inks.water };
  const field = rectRun(view.rect);
  for (const { rings, volumeM3, isBasin } of spots) {
    const at = insideSpots(rings)[0]?.centre ?? rings[0][0];
    if (!contains([field], at) || volumeM3 < 0.05) continue;
    const text = `${isBasin ? 'garden holds ' : ''}${formatVolume(volumeM3, units)}`;
    const half = board.widthMm(text, bold) / 2;
    lettering.place(
      [{ text, look: bold }],
      aroundSpots(at, half, { reachMm: [6, 10, 15, 21, 28] }),
    );
  }
  for (const { shape, feature } of plan.of.building) {
    const look: Lettered = { ...letters.label, pt: 6.2 };
    const text = featureName(feature).toUpperCase().slice(0, 30);
    lettering.place([{ text, look }], insideSpots(view.rings(shape.rings)), false);
  }
  for (const { shape, feature } of plan.of.lot) {
    if (feature.properties.own) continue;
    const sent = result.ledger?.passed_on_to.find(({ lot }) => lot === feature.id)?.volume_m3 ?? 0;
    const came = result.ledger?.run_on_from.find(({ lot }) => lot === feature.id)?.volume_m3 ?? 0;
    const lines = [
      { text: featureName(feature).slice(0, 40), look: letters.label },
      ...(sent >= 0.005 ? [{ text: `gets ${formatVolume(sent, units)}`, look: bold }] : []),
      ...(came >= 0.005 ? [{ text: `sends ${formatVolume(came, units)}`, look: bold }] : []),
    ];
    const seen = insideSpots(view.rings(shape.rings), 4).filter(({ centre }) =>
      contains([field], centre),
    );
    const box = boundsOf(field);
    const middleY = (box.south + box.north) / 2;
    lettering.place(
      lines,
      seen.sort((a, b) => Math.abs(a.centre[1] - middleY) - Math.abs(b.centre[1] - middleY)),
      false,
    );
  }
}

/** Where the water of a ledger ends up, for bars; hatches tell the fates apart without colour. */
function fateBar(name: string, ledger: Ledger): LedgerBar {
  const parts = [
    {
      words: soakedWords,
      short: 'soaked in',
      volumeM3: ledger.soaked_m3,
      hatch: { angleDeg: 90, pitchMm: 1.6 },
      ink: inks.ground,
    },
    {
      words: 'low spots',
      short: 'low spots',
      volumeM3: ledger.standing_m3,
      hatch: { angleDeg: 0, pitchMm: 1.2 },
      ink: inks.water,
    },
    { words: 'garden', short: 'garden', volumeM3: ledger.basin_m3, fill: inks.midWater },
    { words: 'barrels', short: 'barrels', volumeM3: ledger.barrel_m3, fill: inks.paleWater },
    {
      words: 'storm sewer',
      short: 'sewer',
      volumeM3: ledger.sewer_m3,
      hatch: { angleDeg: 0, pitchMm: 0.7 },
      ink: inks.second,
    },
    ...worthNaming(ledger.passed_on_to).map(({ name: whom, volume_m3: volumeM3 }, i) => ({
      words: `to ${whom}`,
      short: `to ${whom}`,
      volumeM3,
      hatch: { angleDeg: i % 2 === 0 ? -45 : 45, pitchMm: 1.6 },
      ink: inks.keepClear,
    })),
  ];
  return { name, parts: parts.filter(({ volumeM3 }) => volumeM3 >= 0.005) };
}

function sourceBar(ledger: Ledger): LedgerBar {
  const parts = [
    { words: 'rain on the lot', short: 'rain', volumeM3: ledger.rain_m3, fill: inks.paleWater },
    { words: 'from sumps', short: 'sumps', volumeM3: ledger.sump_m3, fill: inks.hair },
    ...worthNaming(ledger.run_on_from).map(({ name, volume_m3: volumeM3 }) => ({
      words: `from ${name}`,
      short: `from ${name}`,
      volumeM3,
      hatch: { angleDeg: -60, pitchMm: 1.6 },
      ink: inks.water,
    })),
  ];
  return { name: 'comes in', parts: parts.filter(({ volumeM3 }) => volumeM3 >= 0.005) };
}

function drawLedgers(board: Board, facts: SheetFacts, rect: Rect): number {
  const { water, units } = facts;
  const [before, after] = [water?.before.result.ledger, water?.after.result.ledger];
  if (before === null || before === undefined || after === null || after === undefined) {
    return paragraph(board, 'No ledger: mark one lot as your own.', rect);
  }
  board.text('Water ledger', [rect.x, rect.y + 4], letters.title);
  const words = `${stormWords(facts)}; one scale for all bars`;
  board.text(
    words,
    [rect.x + board.widthMm('Water ledger', letters.title) + 3, rect.y + 4],
    letters.aside,
  );
  return drawLedger(
    board,
    { ...rect, y: rect.y + 7 },
    [sourceBar(after), fateBar('ends up, before', before), fateBar('ends up, after', after)],
    units,
  );
}

/** Who sends how much to whom, before and after. */
function drawExchange(board: Board, facts: SheetFacts, rect: Rect): void {
  const { water, units, plan } = facts;
  if (water === null || rect.height < 25) return;
  const key = ({ from, to }: { from: string | null; to: string | null }): string =>
    `${from ?? ''}>${to ?? ''}`;
  const was = new Map(water.before.result.exchange.map((each) => [key(each), each.volume_m3]));
  const is = new Map(water.after.result.exchange.map((each) => [key(each), each.volume_m3]));
  const rows = [...new Set([...was.keys(), ...is.keys()])]
    .map((pair) => ({ pair, before: was.get(pair) ?? 0, after: is.get(pair) ?? 0 }))
    .filter(({ before, after }) => Math.max(before, after) >= 0.005)
    .sort((a, b) => Math.abs(b.after - b.before) - Math.abs(a.after - a.before));
  if (rows.length === 0) return;
  const y = heading(board, 'Who sends what to whom in this storm', rect);
  const name = (id: string): string =>
    id === '' ? 'street and other ground' : nameById(plan.plan.features, id);
  const table: Table = {
    columns: [
      { head: 'from', width: 30, look: letters.body },
      { head: 'to', width: 30, look: letters.body },
      { head: 'before', width: 14, align: 'end' },
      { head: 'after', width: 14, align: 'end' },
      { head: 'change', width: 14, align: 'end', look: letters.figureBold },
      { head: 'so', width: 20, look: letters.label },
    ],
    rows: rows.map(({ pair, before, after }) => {
      const [from, to] = pair.split('>');
      const most = Math.max(before, after);
      const change = after - before;
      const isSame = Math.abs(change) < 0.005 * most;
      return [
        name(from),
        name(to),
        formatVolume(before, units, most),
        formatVolume(after, units, most),
        isSame ? '0' : `${change > 0 ? '+' : '−'}${formatVolume(Math.abs(change), units, most)}`,
        isSame ? 'the same' : change > 0 ? '? more' : '✓ less',
      ];
    }),
    rowMm: 4.4,
  };
  drawTable(board, table, { ...rect, y: y - 2, height: rect.y + rect.height - y + 2 });
}

function drawWaterNotes(board: Board, { facts, frame }: Making, leftOut: readonly string[]): void {
  const rect = padded(frame.notes);
  const bottom = rect.y + rect.height;
  const y = heading(board, 'How to read it', rect);
  const remarks = [
    'Before is the lot as it stands today without the gardens of the plan; after is with all that is proposed. Both get the same storm.',
    'Blue ground holds water when the storm is over; lines are ways that water takes, heavier where more runs.',
    'The bars add up: what comes in is what ends up somewhere. Soaked in counts what leaves, boards and roofs hold.',
    'A design storm is not last night’s rain: other storms give other volumes. Water below the ground is left out.',
    ...(facts.water?.after.result.notes ?? []).slice(0, 6),
    ...(leftOut.length > 0 ? [`No room for the labels: ${leftOut.join('; ')}.`] : []),
  ];
  numbered(board, remarks, { ...rect, y, height: bottom - y });
}
