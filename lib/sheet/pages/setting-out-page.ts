import type { XY } from '../../frame/frame';
import { boundsOf, centroid, distanceM } from '../../frame/shapes';
import { compass } from '../../units/compass';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { Board, letters, type Lettered } from '../drawing/board';
import { inks, pens } from '../drawing/inks';
import { inset, rectRun, type At, type Rect } from '../drawing/mark';
import type { SheetFacts } from '../facts/sheet-facts';
import { Lettering, type Spot } from '../lettering/lettering';
import { alongSpots, aroundSpots } from '../lettering/spots';
import { chosenScale, scaleText } from '../paper/scale';
import { settingOut, type SettingOut, type Stake } from '../setting-out/setting-out';
import { goodAngleDeg, usualTapeErrorM } from '../setting-out/trilateration';
import { drawBasin, drawnBasins, type DrawnBasin } from '../views/basin-drawing';
import { drawNorth, drawScaleBar, drawViewTitle } from '../views/furniture';
import { drawBuildings, drawLots, drawTrees, drawUtilities } from '../views/plan-layers';
import { middleOf, PlanView } from '../views/plan-view';
import { flowLeaves, type Block } from './flow';
import { heading, numbered, padded, paragraph, type Leaf, type Making } from './leaf';
import { drawDimension } from './site-plan';
import type { Cell, Table } from './table';

/** For each garden where its stakes go, and on pages to take outside the lengths by which they are set. */
export function settingOutPages(making: Making): Leaf[] {
  const { facts, fonts, frame } = making;
  const basins = drawnBasins(facts);
  if (basins.length === 0) {
    const board = new Board(fonts);
    const rect = padded(frame.drawing);
    const lack = 'There is no garden on the plan to be set out.';
    paragraph(board, lack, { ...rect, y: heading(board, 'Setting out', rect) });
    return [{ name: 'setting-out', title: 'Setting out', scale: '', board, missing: [lack] }];
  }
  return basins.flatMap((basin, i) => {
    const suffix = i === 0 ? '' : `-${i + 1}`;
    const whose = basins.length === 1 ? '' : `, ${basin.name}`;
    const set = settingOutOf(facts, basin);
    return [
      drawnPage(making, basin, set, { name: `setting-out${suffix}`, title: `Setting out${whose}` }),
      ...tablePages(making, set, {
        name: `stakes${suffix}`,
        title: `Stakes, to take outside${whose}`,
      }),
    ];
  });
}

/** The setting-out of a basin of the sheet. */
export function settingOutOf(
  { plan }: SheetFacts,
  { rim, floor, notch, built }: DrawnBasin,
): SettingOut {
  const form = built?.finished.form;
  return settingOut({
    plan,
    rim,
    floor,
    notch,
    tapeErrorM: usualTapeErrorM,
    levels:
      built === null || form === undefined
        ? null
        : {
            ground: built.finished.before,
            rimM: form.rimM,
            floorM: form.floorM,
            sillM: form.overflowM,
            digDepthM: built.layers.digDepthM,
          },
  });
}

function lacks(facts: SheetFacts, { pair, stringOverRimM }: SettingOut): string[] {
  return [
    ...(pair === null
      ? [
          'No two fixed corners lie within 30 m of all stakes: draw a building or the lot line near the garden.',
        ]
      : []),
    ...(stringOverRimM === null
      ? [
          facts.survey === null
            ? 'Without elevation there are no heights to measure down to.'
            : 'The garden has no levels, as it could not be worked out.',
        ]
      : []),
  ];
}

const bandMm = 16;

function drawnPage(
  making: Making,
  basin: DrawnBasin,
  set: SettingOut,
  about: { readonly name: string; readonly title: string },
): Leaf {
  const { facts, fonts, frame } = making;
  const board = new Board(fonts);
  const field: Rect = { ...frame.drawing, height: frame.drawing.height - bandMm };
  const corners = set.pair === null ? [] : [set.pair.a.at, set.pair.b.at];
  const bounds = boundsOf([...basin.rim, ...corners]);
  const ratio = chosenScale(
    {
      widthMm: field.width - 36,
      heightMm: field.height - 32,
      widthM: bounds.east - bounds.west,
      heightM: bounds.north - bounds.south,
    },
    facts.units,
  );
  const view = new PlanView(field, ratio, middleOf(bounds));
  const inner = new Board(fonts);
  const lettering = new Lettering(inner, inset(field, 1));
  drawTrees(inner, view, facts.plan);
  drawBuildings(inner, view, facts.plan);
  drawUtilities(inner, view, facts.plan, facts.date);
  drawLots(inner, view, facts.plan);
  drawBasin(inner, view, basin);
  drawTapes({ board: inner, lettering, view, facts }, set);
  drawStakes({ board: inner, lettering, view, facts }, basin, set);
  lettering.finish();
  board.marks.push({ kind: 'clipped', outline: [rectRun(field)], marks: inner.marks });
  const y = field.y + field.height;
  board.line(
    [
      [field.x, y],
      [field.x + field.width, y],
    ],
    { ink: inks.ink, widthMm: pens.rule },
  );
  drawViewTitle(board, [field.x + 4, y + bandMm / 2], {
    number: '1',
    name: 'Where the stakes go',
    words: `${scaleText(ratio, facts.units)} · numbers outside the rim, inside the floor`,
  });
  drawScaleBar(board, [field.x + field.width * 0.5, y + 6], ratio, facts.units, 60);
  drawNorth(board, [field.x + field.width - 10, y + 9], facts.plan, middleOf(bounds));
  drawHow(board, making, set);
  return {
    ...about,
    scale: scaleText(ratio, facts.units),
    board,
    missing: lacks(facts, set),
    leftOut: lettering.leftOut,
  };
}

interface Context {
  readonly board: Board;
  readonly lettering: Lettering;
  readonly view: PlanView;
  readonly facts: SheetFacts;
}

const cornerMm = 3.2;

/** The two fixed corners, the base line between them, and the tapes to one stake as an example. */
function drawTapes(
  { board, lettering, view, facts }: Context,
  { pair, baseM, stakes }: SettingOut,
): void {
  if (pair === null || baseM === null) return;
  const [a, b] = view.run([pair.a.at, pair.b.at]);
  board.line([a, b], { ink: inks.ink, widthMm: pens.rule, dashMm: [6, 1, 1, 1] });
  drawDimension(board, [a, b]);
  const rim = stakes.filter(({ on }) => on === 'rim');
  const example = rim.at(Math.floor(rim.length / 2));
  [a, b].forEach((at, i) => {
    lettering.keep({
      x: at[0] - cornerMm,
      y: at[1] - cornerMm,
      width: 2 * cornerMm,
      height: 2 * cornerMm,
    });
    board.circles([at], cornerMm, { fill: inks.ink });
    board.text(
      'AB'.charAt(i),
      [at[0], at[1] + 1.4],
      { ...letters.figureBold, pt: 11, ink: inks.paper },
      { align: 'middle' },
    );
  });
  const label = (text: string, run: readonly [At, At]): void => {
    lettering.place(
      [{ text, look: letters.labelBold }],
      alongSpots(run, { asideMm: 2, everyMm: 4 }),
      false,
    );
  };
  label(`A to B: ${formatLength(baseM, facts.units)}`, [a, b]);
  if (example === undefined || example.taped === null) return;
  const at = view.at(example.at);
  const fine = { ink: inks.ink, widthMm: pens.fine, dashMm: [0.4, 1] };
  board.lines(
    [
      [a, at],
      [b, at],
    ],
    fine,
  );
  label(`A to ${example.number}: ${formatLength(example.taped.fromAM, facts.units)}`, [a, at]);
  label(`B to ${example.number}: ${formatLength(example.taped.fromBM, facts.units)}`, [b, at]);
}

const stakeLook: Lettered = { ...letters.figureBold, pt: 9 };

/** Stakes with their numbers: outside the rim in circles, inside the floor in squares. */
function drawStakes(
  { board, lettering, view }: Context,
  { rim }: DrawnBasin,
  { stakes }: SettingOut,
): void {
  const middle = view.at(centroid([rim]));
  for (const { at } of stakes)
    lettering.avoid([view.at(at), [view.at(at)[0] + 0.01, view.at(at)[1]]], 9);
  for (const { at, on, number } of stakes) {
    const place = view.at(at);
    board.circles([place], 0.9, { fill: inks.paper, pen: { ink: inks.ink, widthMm: pens.thin } });
    board.circles([place], 0.3, { fill: inks.ink });
    const away = on === 'floor' ? -1 : 1;
    const length = Math.max(0.1, Math.hypot(place[0] - middle[0], place[1] - middle[1]));
    const [ux, uy] = [(place[0] - middle[0]) / length, (place[1] - middle[1]) / length];
    const spots: Spot[] = [4.2, 5.6, 7.5, 10].flatMap((mm) =>
      [0, 0.5, -0.5, 1, -1].map((turn): Spot => {
        const [c, s] = [Math.cos(turn), Math.sin(turn)];
        const [dx, dy] = [ux * c - uy * s, ux * s + uy * c];
        return { centre: [place[0] + away * mm * dx, place[1] + away * mm * dy] };
      }),
    );
    const text = on === 'notch' ? `${number} notch` : String(number);
    lettering.place([{ text, look: stakeLook }], [...spots, ...aroundSpots(place, 3)]);
  }
}

function drawHow(board: Board, { facts, frame }: Making, set: SettingOut): void {
  const rect = padded(frame.notes);
  const bottom = rect.y + rect.height;
  const y = heading(board, 'How', rect);
  numbered(
    board,
    howSteps(facts, set),
    { ...rect, y, height: bottom - y },
    { ...letters.body, pt: 9.5 },
  );
}

/** What is done outside, in order. */
function howSteps({ units }: SheetFacts, set: SettingOut): string[] {
  const { pair, baseM, stakes, tapeErrorM, stringOverRimM, benchmark } = set;
  const length = (metres: number): string => formatLength(metres, units);
  if (pair === null || baseM === null) {
    return [
      'No pair of fixed corners was found: set the garden out from the distances on the site plan.',
    ];
  }
  const taped = stakes.flatMap(({ taped: each }) => (each === null ? [] : [each]));
  const bad = stakes
    .filter(({ taped: each }) => each !== null && !each.isGood)
    .map(({ number }) => number);
  const worstM = Math.max(...taped.map(({ errorM }) => errorM));
  const direction = sideWords(pair.a.at, pair.b.at, stakes[0]);
  return [
    `A is the ${pair.a.name}, B the ${pair.b.name}. Tape A to B first: ${length(baseM)}. If it is off by more than ${length(3 * tapeErrorM)}, the plan is not true there: stop.`,
    `Hold one tape at A and one at B, level; where both lengths meet, set the stake. All stakes lie ${direction} of the line from A to B.`,
    'Tape each stake to the one before it (check). Off by more than twice the error: measure again.',
    `Or measure along the line A–B from A (minus lies beyond A) and square out from it.`,
    `For tapes true to ${length(tapeErrorM)} each, stakes are true to ${length(worstM)} or better. Tapes under ${goodAngleDeg.from}° or over ${goodAngleDeg.to}° cross too flat: ${bad.length === 0 ? 'none does' : `at ${bad.join(', ')}, where the offsets are to be trusted`}.`,
    ...(pair.hidden > 0
      ? [
          `A building stands in the way of ${pair.hidden} stake${pair.hidden === 1 ? '' : 's'}: use the offsets there.`,
        ]
      : []),
    ...(stringOverRimM === null || benchmark === null
      ? []
      : [
          `Height: at stake ${benchmark.stake} the rim is ${length(Math.abs(benchmark.groundUnderRimM))} ${benchmark.groundUnderRimM >= 0 ? 'over' : 'under'} the ground as the elevation has it. Mark the rim there, and pull a level string ${length(stringOverRimM)} over that mark.`,
          'Measure down from the string: ground now tells how true the elevation is, finished is the surface when done, dig to is where the lowest layer begins.',
        ]),
    'Mark lines in the ground first; dig by hand near them. Paint the rim through its stakes.',
  ];
}

function sideWords([ax, ay]: XY, [bx, by]: XY, { taped }: Stake): string {
  const isLeft = (taped?.outM ?? 0) > 0;
  const [dx, dy] = [bx - ax, by - ay];
  // Square to the line, towards the stakes.
  const [nx, ny] = isLeft ? [-dy, dx] : [dy, -dx];
  return compass((Math.atan2(nx, ny) * 180) / Math.PI);
}

/** A length as on a tape: metres with two decimals, or feet and inches. */
function tape(metres: number, units: UnitSystem): string {
  return units === 'us' ? formatLength(metres, units) : metres.toFixed(2);
}

const big: Lettered = { ...letters.figure, pt: 10.5 };
const bigBold: Lettered = { ...letters.figureBold, pt: 10.5 };

function tablePages(
  making: Making,
  set: SettingOut,
  about: { readonly name: string; readonly title: string },
): Leaf[] {
  const { facts } = making;
  const unit = facts.units === 'us' ? 'ft in' : 'm';
  const main: Block[] = [
    { kind: 'heading', text: `Stakes: rim, floor, notch; lengths in ${unit}, level` },
    { kind: 'table', table: stakeTable(facts, set) },
    ...roundBlocks(facts, set),
  ];
  const side: Block[] = [
    { kind: 'heading', text: 'Checks' },
    { kind: 'table', table: checkTable(facts, set) },
    { kind: 'heading', text: 'How' },
    { kind: 'items', items: howSteps(facts, set), look: { ...letters.body, pt: 9 } },
  ];
  return flowLeaves(making, { ...about, missing: [] }, { main, side });
}

/** Where tapes cross well they stand bold, else the offsets do. */
function stakeTable({ units }: SheetFacts, { stakes }: SettingOut): Table {
  const quiet: Lettered = { ...big, ink: inks.second };
  const cell = (value: number | null | undefined, look: Lettered): Cell => ({
    text: value === null || value === undefined || Number.isNaN(value) ? '–' : tape(value, units),
    look,
  });
  return {
    columns: [
      { head: 'No', width: 8, look: { ...letters.figureBold, pt: 12 } },
      { head: 'on', width: 11, look: letters.body },
      { head: 'tape from A', width: 14, align: 'end' },
      { head: 'tape from B', width: 14, align: 'end' },
      { head: 'check: to the one before', width: 15, align: 'end' },
      { head: 'along A–B', width: 14, align: 'end' },
      { head: 'out from it', width: 14, align: 'end' },
      { head: 'cross at', width: 11, align: 'end', look: letters.figure },
      { head: 'true to', width: 11, align: 'end', look: letters.figure },
      { head: 'down: ground now', width: 14, align: 'end' },
      { head: 'down: finished', width: 14, align: 'end' },
      { head: 'down: dig to', width: 14, align: 'end' },
      { head: 'done', width: 9, align: 'end' },
    ],
    rows: stakes.map(({ number, on, taped, toLastM, down }) => {
      const isGood = taped?.isGood === true;
      return [
        String(number),
        on,
        cell(taped?.fromAM, isGood ? bigBold : quiet),
        cell(taped?.fromBM, isGood ? bigBold : quiet),
        on === 'notch' ? { text: '', look: big } : cell(toLastM, quiet),
        cell(taped?.alongM, isGood ? quiet : bigBold),
        cell(taped === null ? null : Math.abs(taped.outM), isGood ? quiet : bigBold),
        taped === null ? '–' : `${isGood ? '' : '! '}${taped.crossingDeg.toFixed(0)}°`,
        taped === null || taped.errorM > 9 ? '–' : formatLength(taped.errorM, units, 0.01),
        cell(down?.groundNowM, quiet),
        cell(down?.finishedM, bigBold),
        cell(down?.digToM, big),
        '□',
      ];
    }),
    rowMm: 6.2,
  };
}

/** Across the outline: what a wrong side would not pass. */
function checkTable({ units }: SheetFacts, { stakes, pair, baseM }: SettingOut): Table {
  const rim = stakes.filter(({ on }) => on === 'rim');
  const half = Math.floor(rim.length / 2);
  const across = [0, Math.floor(rim.length / 4)].flatMap((i) => {
    const [a, b] = [rim.at(i), rim.at((i + half) % Math.max(1, rim.length))];
    return a === undefined || b === undefined || a === b
      ? []
      : [[`${a.number} to ${b.number}, across the rim`, distanceM(a.at, b.at)] as const];
  });
  const rows = [
    ...(pair === null || baseM === null ? [] : [['A to B', baseM] as const]),
    ...across,
  ];
  return {
    columns: [
      { head: 'between', width: 40, look: letters.body },
      { head: 'taped', width: 20, align: 'end', look: bigBold },
    ],
    rows: rows.map(([words, metres]) => [words, tape(metres, units)]),
    rowMm: 6,
  };
}

function roundBlocks({ units }: SheetFacts, { round, pair }: SettingOut): Block[] {
  if (round.length === 0) {
    return [
      {
        kind: 'text',
        text: 'The outline has no round parts to be swung with a string.',
        look: letters.aside,
      },
    ];
  }
  return [
    { kind: 'heading', text: 'Round parts: swing a string about these middles' },
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'part', width: 10, look: bigBold },
          { head: 'radius', width: 20, align: 'end', look: bigBold },
          { head: 'middle, from A', width: 20, align: 'end', look: big },
          { head: 'middle, from B', width: 20, align: 'end', look: big },
        ],
        rows: round.map(({ centre, radiusM }, i) => [
          String(i + 1),
          tape(radiusM, units),
          pair === null ? '–' : tape(distanceM(pair.a.at, centre), units),
          pair === null ? '–' : tape(distanceM(pair.b.at, centre), units),
        ]),
        rowMm: 6,
      },
    },
  ];
}
