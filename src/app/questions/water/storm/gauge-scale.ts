import type { DepthTableSettings } from '../../../../../lib/plan/storm-settings';
import { tableDepth } from '../../../../../lib/storm/depth-table';
import { inchMm, type UnitSystem } from '../../../../../lib/units/units';

/** One line of the rule. */
export interface Graduation {
  readonly mm: number;
  /** Share of the height of the longest. */
  readonly height: number;
  /** Written under the long ones, in the unit of the scale. */
  readonly text: string;
}

/** A ruled scale of rain, in millimetres or inches. */
export interface GaugeScale {
  readonly endMm: number;
  /** What a press of an arrow key adds. */
  readonly stepMm: number;
  readonly unit: string;
  readonly graduations: readonly Graduation[];
}

/** How a scale is ruled, in its own unit. */
interface Ruling {
  readonly unit: string;
  readonly unitMm: number;
  /** More than most design storms bring. */
  readonly usualEnd: number;
  readonly step: number;
  /** Short lines for each, longer ones for so many of them, long ones with figures for so many of those. */
  readonly short: number;
  readonly middleOf: number;
  readonly longOf: number;
}

const rulings: Readonly<Record<UnitSystem, Ruling>> = {
  metric: { unit: 'mm', unitMm: 1, usualEnd: 200, step: 1, short: 5, middleOf: 2, longOf: 5 },
  us: { unit: 'in', unitMm: inchMm, usualEnd: 8, step: 0.05, short: 0.25, middleOf: 4, longOf: 2 },
};

/** Long lines beyond which every second one is ruled. */
const mostLong = 6;

/**
 * The scale that reaches every depth it is asked to show.
 *
 * @param depthsMm - of the storm and of the marks that must be on it.
 */
export function gaugeScale(units: UnitSystem, depthsMm: readonly number[]): GaugeScale {
  const { unit, unitMm, usualEnd, step, short, middleOf, longOf } = rulings[units];
  const long = short * middleOf * longOf;
  const needed = Math.max(0, ...depthsMm) / unitMm;
  const end = Math.max(usualEnd, Math.ceil(needed / long) * long);
  const coarser = 2 ** Math.max(0, Math.ceil(Math.log2(end / long / mostLong)));
  const count = Math.round(end / (short * coarser));
  const graduations = Array.from({ length: count + 1 }, (_, i): Graduation => {
    const value = i * short * coarser;
    const isLong = i % (middleOf * longOf) === 0;
    return {
      mm: value * unitMm,
      height: isLong ? 1 : i % middleOf === 0 ? 0.65 : 0.35,
      text: isLong ? String(value) : '',
    };
  });
  return { endMm: end * unitMm, stepMm: step * unitMm, unit, graduations };
}

/** A depth of the plan's rain table, for as long as the storm lasts. */
export interface TableMark {
  readonly mm: number;
  readonly years: number;
}

/** The depths that a table has for a duration; none where the table does not reach it. */
export function tableMarks(table: DepthTableSettings | undefined, hours: number): TableMark[] {
  if (table === undefined) return [];
  const durationMin = hours * 60;
  if (durationMin > Math.max(...table.durations_min)) return [];
  return table.return_periods_y.map((years) => ({
    years,
    mm: tableDepth(table, durationMin, years).depthMm,
  }));
}

/** Marks that share a label. */
export interface Label<M> {
  readonly marks: readonly M[];
  /** Where the label stands, pixels. */
  readonly x: number;
}

/**
 * Labels for marks on a line, none nearer to another than a gap and each as near to its mark as that lets it be. Where not
 * all have room, those that stand closest together share one.
 *
 * @param xOf - where a mark stands, pixels. @param between - from where to where labels may stand, pixels.
 */
export function labelled<M>(
  marks: readonly M[],
  xOf: (mark: M) => number,
  gapPx: number,
  [fromPx, toPx]: readonly [number, number],
): Label<M>[] {
  const most = Math.max(1, Math.floor((toPx - fromPx) / gapPx) + 1);
  let shareWithinPx = 1;
  let groups = grouped(marks, xOf, shareWithinPx);
  while (groups.length > most) {
    shareWithinPx += 1;
    groups = grouped(marks, xOf, shareWithinPx);
  }
  const places = groups.map((group) => xOf(group[0]));
  const last = toPx - (groups.length - 1) * gapPx;
  return spread(places, gapPx).map((x, i) => ({
    marks: groups[i],
    x: Math.min(Math.max(x - i * gapPx, fromPx), Math.max(fromPx, last)) + i * gapPx,
  }));
}

/** Marks in the order of their places, those within so many pixels of the first of a group together. */
function grouped<M>(marks: readonly M[], xOf: (mark: M) => number, withinPx: number): M[][] {
  const groups: M[][] = [];
  for (const mark of [...marks].sort((a, b) => xOf(a) - xOf(b))) {
    const group = groups.at(-1);
    if (group === undefined || xOf(mark) - xOf(group[0]) >= withinPx) groups.push([mark]);
    else group.push(mark);
  }
  return groups;
}

/** The places nearest to ascending ones, by least squares, of which none is nearer to the next than a gap. */
function spread(places: readonly number[], gapPx: number): number[] {
  const blocks: { sum: number; count: number }[] = [];
  places.forEach((x, i) => {
    let block = { sum: x - i * gapPx, count: 1 };
    for (;;) {
      const before = blocks.at(-1);
      if (before === undefined || before.sum / before.count <= block.sum / block.count) break;
      blocks.pop();
      block = { sum: before.sum + block.sum, count: before.count + block.count };
    }
    blocks.push(block);
  });
  return blocks
    .flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
    .map((x, i) => x + i * gapPx);
}

/** The next mark above or below a depth, millimetres; the depth itself where there is none. */
export function nextMark(marksMm: readonly number[], fromMm: number, towards: 1 | -1): number {
  const ahead = marksMm.filter((mm) => (mm - fromMm) * towards > 0.01);
  if (ahead.length === 0) return fromMm;
  return towards > 0 ? Math.min(...ahead) : Math.max(...ahead);
}
