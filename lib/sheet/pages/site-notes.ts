import { requiredWords, measuredWords, verdictWords } from '../../setback/judge/finding-words';
import { markings, type Service } from '../../setback/locate/marking-colours';
import { locateState } from '../../setback/locate/locates';
import { featureName } from '../../plan/feature-name';
import type { Verdict } from '../../verdict';
import { letters, type Board, type Lettered } from '../drawing/board';
import { hatchLines } from '../drawing/hatch';
import { inks, pens, unlocatedDash, utilityDashes, utilityInks } from '../drawing/inks';
import { rectRun, type At, type Rect } from '../drawing/mark';
import type { SheetFacts } from '../facts/sheet-facts';
import type { DrawnBasin } from '../views/basin-drawing';
import { zoneHatch } from '../views/plan-layers';
import { heading, numbered, padded, paragraph, type Making } from './leaf';
import { drawTable, type Cell, type Table } from './table';

/** Letters of a result: bold, in its ink. */
export function verdictLook(result: Verdict, pt = 7.5): Lettered {
  const ink = { pass: inks.meets, check: inks.check, fail: inks.fails }[result];
  return { face: 'label-bold', pt, ink };
}

/** Legend, distances and notes, stacked in a column or side by side below the drawing. */
export function drawSiteNotes(
  board: Board,
  { facts, frame }: Making,
  basins: readonly DrawnBasin[],
  zones: readonly string[],
  leftOut: readonly string[],
): void {
  const rect = padded(frame.notes);
  const isWide = rect.width > rect.height * 1.4;
  if (isWide) {
    const width = (rect.width - 10) / 3;
    const part = (i: number): Rect => ({ ...rect, x: rect.x + i * (width + 5), width });
    drawLegend(board, part(0), facts, zones);
    drawDistances(board, part(1), facts);
    drawRemarks(board, part(2), facts, basins, leftOut);
    return;
  }
  let y = drawLegend(board, rect, facts, zones);
  const bottom = rect.y + rect.height;
  y = drawDistances(board, { ...rect, y: y + 3, height: (bottom - y - 3) * 0.68 }, facts);
  drawRemarks(board, { ...rect, y: y + 3, height: bottom - y - 3 }, facts, basins, leftOut);
}

interface Entry {
  readonly words: string;
  readonly draw: (at: At) => void;
}

const sampleMm = 11;
const entryMm = 4.4;

/** What the lines mean, in two columns; only what is on the plan. */
function drawLegend(board: Board, rect: Rect, facts: SheetFacts, zones: readonly string[]): number {
  const top = heading(board, 'What the lines mean', rect);
  const entries = [...lineEntries(board, facts), ...zoneEntries(board, facts, zones)];
  const perColumn = Math.max(
    1,
    Math.min(Math.ceil(entries.length / 2), Math.floor((rect.y + rect.height - top) / entryMm)),
  );
  const width = rect.width / 2;
  entries.slice(0, 2 * perColumn).forEach(({ words, draw }, i) => {
    const x = rect.x + Math.floor(i / perColumn) * width;
    const y = top + (i % perColumn) * entryMm + 2;
    draw([x, y]);
    const look = { ...letters.label, pt: 6.8 };
    board.text(board.cut(words, look, width - sampleMm - 3), [x + sampleMm + 2, y + 0.9], look);
  });
  return top + perColumn * entryMm;
}

function lineEntries(board: Board, { plan, date, survey }: SheetFacts): Entry[] {
  const line =
    (ink: string, widthMm: number, dashMm?: readonly number[]) =>
    ([x, y]: At): void => {
      board.line(
        [
          [x, y],
          [x + sampleMm, y],
        ],
        { ink, widthMm, ...(dashMm === undefined ? {} : { dashMm }) },
      );
    };
  const filled =
    (fill: string, ink: string, widthMm: number) =>
    ([x, y]: At): void => {
      board.box(
        { x: x + 1, y: y - 1.3, width: sampleMm - 2, height: 2.6 },
        { fill, pen: { ink, widthMm } },
      );
    };
  const entries: (Entry | null)[] = [
    { words: 'lot line', draw: line(inks.ink, pens.heavy, [4, 0.9, 0.8, 0.9, 0.8, 0.9]) },
    { words: 'building', draw: filled(inks.built, inks.ink, pens.heavy) },
    plan.of.roof.length > 0
      ? { words: 'eaves', draw: line(inks.second, pens.fine, [1.4, 0.7]) }
      : null,
    plan.of.downspout.length > 0
      ? {
          words: 'downspout, where it empties',
          draw: ([x, y]) => {
            line(inks.water, pens.fine, [1.2, 0.5])([x, y]);
            board.circles([[x + 1, y]], 0.75, {
              fill: inks.paper,
              pen: { ink: inks.ink, widthMm: pens.thin },
            });
          },
        }
      : null,
    plan.of.basin.length > 0
      ? {
          words: 'rain garden: rim, water, floor',
          draw: filled(inks.midWater, inks.water, pens.heavy),
        }
      : null,
    plan.of.basin.length > 0 && survey !== null
      ? { words: 'way of the overflow', draw: line(inks.water, pens.middle, [2.6, 0.9]) }
      : null,
    survey === null ? null : { words: 'contours', draw: line(inks.contour, pens.thin) },
    plan.of['soil-test'].length > 0
      ? {
          words: 'soil test',
          draw: ([x, y]) => {
            board.text(
              '×',
              [x + sampleMm / 2, y + 1.4],
              { ...letters.labelBold, pt: 10 },
              { align: 'middle' },
            );
          },
        }
      : null,
    ...servicesOn(plan.of.utility.map(({ feature }) => feature.properties.service)).map(
      (service): Entry => {
        const isLocated = plan.of.utility.some(
          ({ feature }) =>
            feature.properties.service === service && locateState(feature, date) === 'current',
        );
        const { letter } = markings[service];
        return {
          words: `${letter}  ${service.replace('-', ' ')}${isLocated ? '' : ', not located'}`,
          draw: line(
            utilityInks[service].line,
            pens.middle,
            isLocated ? utilityDashes[service] : unlocatedDash,
          ),
        };
      },
    ),
  ];
  return entries.filter((entry) => entry !== null);
}

function servicesOn(services: readonly Service[]): Service[] {
  return [...new Set(services)].sort();
}

function zoneEntries(board: Board, { zones }: SheetFacts, drawn: readonly string[]): Entry[] {
  return drawn.map((letter) => ({
    words: `${letter}  ${zones.find((zone) => zone.letter === letter)?.title ?? ''}`,
    draw: ([x, y]) => {
      const run = rectRun({ x: x + 1, y: y - 1.3, width: sampleMm - 2, height: 2.6 });
      board.lines(hatchLines([[run]], zoneHatch(letter, drawn)), {
        ink: inks.keepClear,
        widthMm: pens.hatch,
      });
      board.area([run], { pen: { ink: inks.keepClear, widthMm: pens.hatch } });
    },
  }));
}

/** Distances from the rim, those with least to spare first; what does not pass stands on top. */
function drawDistances(board: Board, rect: Rect, facts: SheetFacts): number {
  const top = heading(board, 'Distances from the rim', rect);
  const rows = distanceRows(facts);
  if (rows.length === 0) {
    return paragraph(board, 'There is no garden on the plan to measure from.', { ...rect, y: top });
  }
  const table: Table = {
    columns: [
      { head: '', width: 0.07, look: letters.figureBold },
      { head: 'to', width: 0.36, look: { ...letters.label, pt: 7.2 } },
      { head: 'needs', width: 0.19, align: 'end', look: { ...letters.figure, pt: 7.4 } },
      { head: 'is', width: 0.18, align: 'end', look: { ...letters.figureBold, pt: 7.4 } },
      { head: 'result', width: 0.2 },
    ],
    rows: rows.map((row): Cell[] => [
      row.letter,
      board.cut(row.feature_name, { ...letters.label, pt: 7.2 }, rect.width * 0.36 - 2),
      requiredWords(row, facts.units),
      measuredWords(row, facts.units),
      { text: verdictWords[row.result], look: verdictLook(row.result) },
    ]),
    rowMm: 4.3,
  };
  const height = rect.y + rect.height - top - 4;
  const drawn = drawTable(board, table, { ...rect, y: top - 2, height });
  const left = rows.length - drawn.next;
  if (left > 0) {
    board.text(`and ${left} more on the page of rules`, [rect.x, drawn.y + 3.2], letters.small);
  }
  return drawn.y + (left > 0 ? 4 : 0);
}

function distanceRows({ findings }: SheetFacts) {
  const worst: readonly Verdict[] = ['fail', 'check', 'pass'];
  return (findings?.results ?? [])
    .filter(({ required_m: requiredM }) => requiredM !== null && requiredM > 0)
    .sort(
      (a, b) =>
        worst.indexOf(a.result) - worst.indexOf(b.result) ||
        (a.margin_m ?? Infinity) - (b.margin_m ?? Infinity),
    );
}

function drawRemarks(
  board: Board,
  rect: Rect,
  facts: SheetFacts,
  basins: readonly DrawnBasin[],
  leftOut: readonly string[],
): void {
  if (rect.height < 16) return;
  const bottom = rect.y + rect.height;
  const y = heading(board, 'Notes', rect);
  const remarks = siteRemarks(facts, basins, leftOut);
  numbered(board, remarks, { ...rect, y, height: bottom - y });
}

function siteRemarks(
  { plan, date, ruleSet, survey }: SheetFacts,
  basins: readonly DrawnBasin[],
  leftOut: readonly string[],
): string[] {
  const open = plan.of.utility.filter(({ feature }) => locateState(feature, date) !== 'current');
  const located = plan.of.utility.flatMap(({ feature }) =>
    locateState(feature, date) === 'current' && feature.properties.located !== undefined
      ? [`${featureName(feature)} until ${feature.properties.located.until}`]
      : [],
  );
  return [
    ...(open.length > 0
      ? [
          `Not located on ${date}: ${open.map(({ feature }) => featureName(feature)).join(', ')}. No digging before they are.`,
        ]
      : []),
    ...(located.length > 0 ? [`Marks hold: ${located.join(', ')}.`] : []),
    'An unmarked line is not an absent one. Ask for the public marking and a private locator before digging, by hand too.',
    `Hatched ground keeps a rim out by the rules of ${ruleSet.title}; what leaves the lot is not hatched.`,
    ...(survey === null
      ? []
      : [
          'Contours are of the elevation as it was read, smoothed for reading; the garden is built to its own levels, not to contours.',
        ]),
    ...basins.flatMap(({ name, design }) =>
      design === null ? [] : [`${name}, overflow: ${design.overflow.verdict.why}`],
    ),
    ...(leftOut.length > 0 ? [`No room on the plan for: ${leftOut.join('; ')}.`] : []),
    'Do not scale from a copy before the bar has been measured.',
  ];
}
