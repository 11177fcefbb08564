import type { BasinSection, BasinSections } from '../../../../../lib/basin/section';
import type { LayerMaterial } from '../../../../../lib/plan/basin-properties';
import { formatLength } from '../../../../../lib/units/format';
import { footM, type UnitSystem } from '../../../../../lib/units/units';

export type Point = readonly [x: number, y: number];

/** Pixels for a metre, and how many times heights are drawn larger than lengths. */
export interface SectionScale {
  readonly pxPerM: number;
  readonly exaggeration: number;
}

export interface SectionOptions {
  readonly widthPx: number;
  readonly units: UnitSystem;
  /** Depth of water over the lowest point; none is drawn when `null`. */
  readonly waterDepthM: number | null;
  /** Scale to take over from another section; else the largest that fits. */
  readonly scale?: SectionScale;
  /** Width of a text as it will be set, pixels. */
  readonly textWidth: (text: string) => number;
}

/** A text and where it goes. */
export interface SectionText {
  readonly text: string;
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
}

/** A dimension line with ticks at its ends. */
export interface SectionDimension {
  readonly id: string;
  readonly from: Point;
  readonly to: Point;
  readonly label: SectionText;
}

/** A height named at the right edge, with the line that leads to its name. */
export interface SectionLevel {
  readonly id: 'rim' | 'sill' | 'water' | 'floor' | 'bottom';
  readonly leader: readonly Point[];
  readonly label: SectionText;
}

/** A section as it is drawn: paths and places in pixels. */
export interface SectionLayout {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly scale: SectionScale;
  /** Ground as it was, and as it will be. */
  readonly before: string;
  readonly finished: string;
  /** All ground below the finished surface. */
  readonly earth: string;
  /** Ground that is heaped up. */
  readonly fill: readonly string[];
  readonly layers: readonly {
    readonly material: LayerMaterial;
    readonly path: string;
    readonly letter: SectionText | null;
  }[];
  readonly water: { readonly path: string; readonly surface: string; readonly mark: Point } | null;
  readonly sill: string;
  /** Seasonal high water and rock, where they are known and not far below the drawing. */
  readonly soilLines: readonly {
    readonly kind: 'water' | 'rock';
    readonly path: string;
    readonly label: SectionText;
  }[];
  readonly levels: readonly SectionLevel[];
  readonly dimensions: readonly SectionDimension[];
  readonly slope: SectionText;
  readonly ends: readonly SectionText[];
  readonly scaleBar: { readonly from: Point; readonly to: Point; readonly label: SectionText };
}

/** Height of a line of lettering. */
export const letteringPx = 12;
const lineGapPx = 14;
const padPx = 4;
/** Room over the drawing for the width between the rims, below it for the floor's and the scale bar. */
const topPx = 34;
const bottomPx = 46;
const exaggerations = [10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1] as const;
/** Height of the drawn ground, of the width it takes: low enough for a phone, high enough to letter the layers. */
const mostHeight = { share: 0.62, fromPx: 132, toPx: 250 } as const;
/** Soil kept below the dig, and how far below it water and rock are still drawn, metres. */
const subsoilM = 0.12;
const stillDrawnM = 1;

/** Lays a section out for a width. */
export function sectionLayout(
  sections: BasinSections,
  section: BasinSection,
  options: SectionOptions,
): SectionLayout {
  const { widthPx, units, textWidth } = options;
  const names = levelNames(sections, options);
  const columnPx = Math.max(...names.map(({ text }) => textWidth(text))) + 20;
  const plotPx = widthPx - 2 * padPx - columnPx;
  const spanM = section.stationM[section.stationM.length - 1];
  const [lowM, highM] = heightRange(sections, section);
  const scale = options.scale ?? chooseScale(plotPx / spanM, highM - lowM, plotPx);
  const view = new View(scale, padPx, topPx, highM, lowM);

  const main = mainStretch(section);
  const base = section.floorM ?? [
    main[0] + 0.3 * (main[1] - main[0]),
    main[1] - 0.3 * (main[1] - main[0]),
  ];
  const along = (share: number): number => base[0] + share * (base[1] - base[0]);
  const { sillM, lowestM, digDepthM } = sections;
  const bottomM = lowestM - digDepthM;

  const plotRight = padPx + spanM * scale.pxPerM;
  const levels = placeLevels(names, view, view.x(main[1]), plotRight);
  const bowlWidth = formatLength(main[1] - main[0], units);
  const dimensions: SectionDimension[] = [horizontal('rim', view, main, topPx - 12, bowlWidth, -4)];
  if (section.floorM !== null) {
    const text = `floor ${formatLength(section.floorM[1] - section.floorM[0], units)}`;
    dimensions.push(
      horizontal('floor', view, section.floorM, view.y(bottomM) + 9, text, letteringPx),
    );
  }
  const standM = along(0.16);
  // the room between it and the letters of the layers
  const roomPx = view.x(along(0.84)) - view.x(standM) - letteringPx - 3;
  for (const [id, fromM, toM] of [
    ['ponding', sillM, lowestM],
    ['dig', lowestM, bottomM],
  ] as const) {
    const text = formatLength(fromM - toM, units);
    const fits = textWidth(text) <= roomPx && view.y(toM) - view.y(fromM) >= letteringPx;
    if (fits) dimensions.push(upright(id, view, standM, fromM, toM, text));
  }

  return {
    widthPx,
    heightPx: view.y(lowM) + bottomPx,
    scale,
    before: view.line(section.stationM, section.beforeM),
    finished: view.line(section.stationM, section.finishedM),
    earth: view.band(
      section.stationM,
      section.finishedM,
      section.stationM.map(() => lowM),
    ),
    fill: runs(section.stationM, (i) => section.finishedM[i] > section.beforeM[i] + 0.004).map(
      ([first, last]) =>
        view.band(
          section.stationM.subarray(first, last + 1),
          section.finishedM.subarray(first, last + 1),
          section.beforeM.subarray(first, last + 1),
        ),
    ),
    layers: layLayers(sections, section, view, along(0.84)),
    water: layWater(sections, section, view, options.waterDepthM, along(0.5)),
    sill: section.insideM
      .map(([from, to]) => `M${px(view.x(from))} ${px(view.y(sillM))}H${px(view.x(to))}`)
      .join(''),
    soilLines: [
      ...soilLine('water', sections.highWaterDepthM, section, view),
      ...soilLine('rock', sections.rockDepthM, section, view),
    ],
    levels,
    dimensions,
    slope: slopeText(sections, section, view, main),
    ends: endTexts(section, view, plotRight),
    scaleBar: layScaleBar(view, scale, lowM, units, plotPx),
  };
}

/** Metres along and over the rim to pixels. */
class View {
  private readonly pxPerHeightM: number;

  constructor(
    private readonly scale: SectionScale,
    private readonly leftPx: number,
    private readonly upperPx: number,
    private readonly highM: number,
    readonly lowM: number,
  ) {
    this.pxPerHeightM = scale.pxPerM * scale.exaggeration;
  }

  x(stationM: number): number {
    return this.leftPx + stationM * this.scale.pxPerM;
  }

  y(heightM: number): number {
    return this.upperPx + (this.highM - heightM) * this.pxPerHeightM;
  }

  line(stationM: ArrayLike<number>, heightM: ArrayLike<number>): string {
    return path(this.points(stationM, heightM), false);
  }

  /** The area between two lines over the same stations. */
  band(stationM: ArrayLike<number>, upperM: ArrayLike<number>, underM: ArrayLike<number>): string {
    return path(
      [...this.points(stationM, upperM), ...this.points(stationM, underM).reverse()],
      true,
    );
  }

  private points(stationM: ArrayLike<number>, heightM: ArrayLike<number>): Point[] {
    const found: Point[] = [];
    for (let i = 0; i < stationM.length; i++) {
      // without data the line stops
      if (!Number.isNaN(heightM[i])) found.push([this.x(stationM[i]), this.y(heightM[i])]);
    }
    return straightened(found);
  }
}

/** The points of a line without those that lie on the straight way between their neighbours, to a tenth of a pixel. */
function straightened(points: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (let i = 0; i < points.length; i++) {
    const before = kept.at(-1);
    const after = points.at(i + 1);
    if (before !== undefined && after !== undefined && i + 1 < points.length) {
      const [x, y] = points[i];
      const share = (x - before[0]) / (after[0] - before[0] || 1);
      if (Math.abs(before[1] + share * (after[1] - before[1]) - y) < 0.05) continue;
    }
    kept.push(points[i]);
  }
  return kept;
}

function path(points: readonly Point[], closed: boolean): string {
  if (points.length === 0) return '';
  return `M${points.map(([x, y]) => `${px(x)} ${px(y)}`).join('L')}${closed ? 'Z' : ''}`;
}

function px(value: number): string {
  return value.toFixed(1);
}

/** The longest stretch inside the rim. */
function mainStretch({ insideM, stationM }: BasinSection): readonly [number, number] {
  let best: readonly [number, number] = insideM.at(0) ?? [0, stationM[stationM.length - 1]];
  for (const each of insideM) if (each[1] - each[0] > best[1] - best[0]) best = each;
  return best;
}

function heightRange(sections: BasinSections, section: BasinSection): [number, number] {
  let lowM = sections.lowestM - sections.digDepthM - subsoilM;
  let highM = 0;
  let groundM = Infinity;
  for (const heights of [section.beforeM, section.finishedM]) {
    for (const height of heights) {
      if (Number.isNaN(height)) continue;
      highM = Math.max(highM, height);
      groundM = Math.min(groundM, height);
    }
  }
  lowM = Math.min(lowM, groundM - subsoilM);
  const floorOfDrawing = lowM;
  for (const depthM of [sections.highWaterDepthM, sections.rockDepthM]) {
    if (depthM === null) continue;
    const soilM = groundM - depthM - subsoilM;
    if (soilM < lowM && soilM > floorOfDrawing - stillDrawnM) lowM = soilM;
  }
  return [lowM, highM + 0.03];
}

function chooseScale(pxPerM: number, rangeM: number, plotPx: number): SectionScale {
  const most = Math.min(mostHeight.toPx, Math.max(mostHeight.fromPx, mostHeight.share * plotPx));
  const exaggeration = exaggerations.find((times) => rangeM * pxPerM * times <= most) ?? 1;
  return { pxPerM, exaggeration };
}

interface LevelName {
  readonly id: SectionLevel['id'];
  readonly heightM: number;
  readonly text: string;
}

/** The heights that are named, from the rim down. */
function levelNames(sections: BasinSections, options: SectionOptions): LevelName[] {
  const { sillM, lowestM, digDepthM } = sections;
  const { units, waterDepthM } = options;
  const named = (id: LevelName['id'], word: string, heightM: number): LevelName => ({
    id,
    heightM,
    text: `${word} ${signed(heightM, units)}`,
  });
  const names = [named('rim', 'rim', 0)];
  if (sillM < 0) names.push(named('sill', 'sill', sillM));
  if (waterDepthM !== null && waterDepthM > 0) {
    names.push(named('water', 'water', Math.min(0, lowestM + waterDepthM)));
  }
  names.push(named('floor', 'floor', lowestM));
  if (digDepthM > 0) names.push(named('bottom', 'dig', lowestM - digDepthM));
  return names.sort((a, b) => b.heightM - a.heightM);
}

/** A height from the rim, with a true minus. */
function signed(heightM: number, units: UnitSystem): string {
  return Math.abs(heightM) < 0.0005 ? '0' : formatLength(heightM, units).replace('-', '−');
}

/** Sets the names one below the other at the right, each as near to its height as the others let it. */
function placeLevels(
  names: readonly LevelName[],
  view: View,
  rimX: number,
  plotRight: number,
): SectionLevel[] {
  const wanted = names.map(({ heightM }) => view.y(heightM));
  const placed = spaced(wanted, lineGapPx);
  const turnX = plotRight + 4;
  const textX = plotRight + 14;
  return names.map(({ id, text }, i) => ({
    id,
    leader: [
      [rimX, wanted[i]],
      [turnX, wanted[i]],
      [textX - 2, placed[i]],
    ],
    label: { text, at: [textX, placed[i] + 4], anchor: 'start' },
  }));
}

/**
 * Places at least a gap apart in the order given, with the least sum of squared shifts: neighbours that are too close
 * are moved apart about their common mean.
 */
function spaced(wanted: readonly number[], gap: number): number[] {
  const groups: { sum: number; count: number }[] = [];
  wanted.forEach((place, i) => {
    groups.push({ sum: place - i * gap, count: 1 });
    for (;;) {
      const last = groups.at(-1);
      const before = groups.at(-2);
      if (last === undefined || before === undefined) return;
      if (before.sum / before.count <= last.sum / last.count) return;
      groups.splice(-2, 2, { sum: before.sum + last.sum, count: before.count + last.count });
    }
  });
  return groups
    .flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
    .map((place, i) => place + i * gap);
}

function horizontal(
  id: string,
  view: View,
  [from, to]: readonly [number, number],
  y: number,
  text: string,
  textBelowPx: number,
): SectionDimension {
  const [x1, x2] = [view.x(from), view.x(to)];
  return {
    id,
    from: [x1, y],
    to: [x2, y],
    label: { text, at: [(x1 + x2) / 2, y + textBelowPx], anchor: 'middle' },
  };
}

function upright(
  id: string,
  view: View,
  stationM: number,
  fromM: number,
  toM: number,
  text: string,
): SectionDimension {
  const [y1, y2] = [view.y(fromM), view.y(toM)];
  const x = view.x(stationM);
  return {
    id,
    from: [x, y1],
    to: [x, y2],
    label: { text, at: [x + 4, (y1 + y2) / 2 + 4], anchor: 'start' },
  };
}

/** Stretches of stations for which something holds, as first and last index. */
function runs(stationM: Float64Array, holds: (i: number) => boolean): [number, number][] {
  const found: [number, number][] = [];
  for (let i = 0; i < stationM.length; i++) {
    if (!holds(i)) continue;
    const last = found.at(-1);
    if (last !== undefined && last[1] === i - 1) last[1] = i;
    else found.push([i, i]);
  }
  return found.filter(([first, last]) => last > first);
}

/** Stations within a stretch and its two ends, and a height at each. */
function within(
  section: BasinSection,
  [from, to]: readonly [number, number],
): { stationM: number[]; finishedM: number[] } {
  const stationM = [from, ...section.stationM.filter((at) => at > from && at < to), to];
  return { stationM, finishedM: stationM.map((at) => heightOn(section, at)) };
}

function heightOn({ stationM, finishedM }: BasinSection, at: number): number {
  const last = stationM.length - 1;
  const place = (at / stationM[last]) * last;
  const i = Math.min(last - 1, Math.max(0, Math.floor(place)));
  return finishedM[i] + (place - i) * (finishedM[i + 1] - finishedM[i]);
}

/** The layers follow the bowl, each its thickness below it, out to the rim. */
function layLayers(
  { layers, lowestM }: BasinSections,
  section: BasinSection,
  view: View,
  letterStationM: number,
): SectionLayout['layers'] {
  const inside = section.insideM.map((stretch) => within(section, stretch));
  let above = 0;
  return layers.map(({ material, letter, thicknessM }) => {
    const top = above;
    above += thicknessM;
    const below = above;
    const bands = inside.map(({ stationM, finishedM }) =>
      view.band(
        stationM,
        finishedM.map((height) => height - top),
        finishedM.map((height) => height - below),
      ),
    );
    const middleY = view.y(lowestM - (top + below) / 2);
    const heightPx = view.y(lowestM - below) - view.y(lowestM - top);
    return {
      material,
      path: bands.join(''),
      letter:
        heightPx < letteringPx - 2
          ? null
          : { text: letter, at: [view.x(letterStationM), middleY + 4], anchor: 'middle' },
    };
  });
}

function layWater(
  { lowestM }: BasinSections,
  section: BasinSection,
  view: View,
  waterDepthM: number | null,
  markStationM: number,
): SectionLayout['water'] {
  if (waterDepthM === null || !(waterDepthM > 0)) return null;
  // over the rim it runs away
  const levelM = Math.min(0, lowestM + waterDepthM);
  const parts = section.insideM.flatMap((stretch) => {
    const { stationM, finishedM } = within(section, stretch);
    return runs(Float64Array.from(stationM), (i) => finishedM[i] < levelM).map(([first, last]) => {
      const stations = stationM.slice(first, last + 1);
      const bed = finishedM.slice(first, last + 1);
      // out to where the side comes up through the surface
      if (first > 0) {
        stations.unshift(crossing(stationM, finishedM, first - 1, levelM));
        bed.unshift(levelM);
      }
      if (last + 1 < stationM.length) {
        stations.push(crossing(stationM, finishedM, last, levelM));
        bed.push(levelM);
      }
      return { stations, bed };
    });
  });
  if (parts.length === 0) return null;
  const y = px(view.y(levelM));
  return {
    path: parts
      .map(({ stations, bed }) =>
        view.band(
          stations,
          stations.map(() => levelM),
          bed,
        ),
      )
      .join(''),
    surface: parts
      .map(
        ({ stations }) =>
          `M${px(view.x(stations[0]))} ${y}H${px(view.x(stations[stations.length - 1]))}`,
      )
      .join(''),
    mark: [view.x(markStationM), view.y(levelM)],
  };
}

function crossing(
  stationM: readonly number[],
  heightM: readonly number[],
  i: number,
  levelM: number,
): number {
  const share = (levelM - heightM[i]) / (heightM[i + 1] - heightM[i]);
  return stationM[i] + share * (stationM[i + 1] - stationM[i]);
}

/** Over the side on which the ground is lower, where there is air. */
function slopeText(
  { sideSlope }: BasinSections,
  section: BasinSection,
  view: View,
  [from, to]: readonly [number, number],
): SectionText {
  const text = `${Number(sideSlope.toFixed(1))} : 1`;
  const last = section.beforeM.length - 1;
  const isStart = section.beforeM[0] < section.beforeM[last];
  const x = isStart ? view.x(from) + 3 : view.x(to) - 3;
  return { text, at: [x, view.y(0) - 4], anchor: isStart ? 'start' : 'end' };
}

/** A line as far below the ground as it was everywhere; none where it is not known or deeper than drawn. */
function soilLine(
  kind: 'water' | 'rock',
  depthM: number | null,
  { stationM, beforeM }: BasinSection,
  view: View,
): SectionLayout['soilLines'] {
  if (depthM === null) return [];
  const line = beforeM.map((height) => height - depthM);
  if (!line.every((height) => Number.isNaN(height) || height > view.lowM)) return [];
  return [
    {
      kind,
      path: view.line(stationM, line),
      label: {
        text: kind === 'water' ? 'high water' : 'rock',
        at: [view.x(0), view.y(line[0]) - 3],
        anchor: 'start',
      },
    },
  ];
}

function endTexts(section: BasinSection, view: View, plotRight: number): SectionText[] {
  const last = section.stationM.length - 1;
  const over = (i: number): number =>
    Math.min(view.y(section.beforeM[i]), view.y(section.finishedM[i])) - 6;
  const y = (i: number): number => (Number.isNaN(over(i)) ? view.y(0) - 6 : over(i));
  return [
    { text: section.ends[0], at: [view.x(0), y(0)], anchor: 'start' },
    { text: section.ends[1], at: [plotRight, y(last)], anchor: 'end' },
  ];
}

function layScaleBar(
  view: View,
  { pxPerM, exaggeration }: SectionScale,
  lowM: number,
  units: UnitSystem,
  plotPx: number,
): SectionLayout['scaleBar'] {
  const unitM = units === 'us' ? footM : 1;
  const steps = [20, 10, 5, 2, 1, 0.5];
  const length = steps.find((step) => step * unitM * pxPerM <= Math.max(40, plotPx * 0.3)) ?? 0.5;
  const x = view.x(0);
  const y = view.y(lowM) + 36;
  const widthPx = length * unitM * pxPerM;
  const heights =
    exaggeration === 1 ? 'heights to the same scale' : `heights ${exaggeration} times`;
  return {
    from: [x, y],
    to: [x + widthPx, y],
    label: {
      text: `${length} ${units === 'us' ? 'ft' : 'm'}; ${heights}`,
      at: [x + widthPx + 8, y + 4],
      anchor: 'start',
    },
  };
}
