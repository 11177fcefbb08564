import type { BasinSection, BasinSections } from '../../../../../lib/basin/form/section';
import type { Point, SectionScale } from './drawn-section';

const exaggerations = [10, 8, 6, 5, 4, 3, 2.5, 2, 1.5, 1] as const;

/** Height of the drawn ground, of the width it takes: low enough for a phone, high enough to letter the layers. */
const mostHeight = { share: 0.62, fromPx: 132, toPx: 250 } as const;

/** Soil kept below the dig, and how far below it water and rock are still drawn, metres. */
const subsoilM = 0.12;

const stillDrawnM = 1;

/** Metres along and over the rim to pixels. */
export class View {
  readonly #scale: SectionScale;
  readonly #leftPx: number;
  readonly #upperPx: number;
  readonly #highM: number;
  readonly lowM: number;

  constructor(scale: SectionScale, leftPx: number, upperPx: number, highM: number, lowM: number) {
    this.#scale = scale;
    this.#leftPx = leftPx;
    this.#upperPx = upperPx;
    this.#highM = highM;
    this.lowM = lowM;
  }

  x(stationM: number): number {
    return this.#leftPx + stationM * this.#scale.pxPerM;
  }

  y(heightM: number): number {
    const { pxPerM, exaggeration } = this.#scale;
    return this.#upperPx + (this.#highM - heightM) * pxPerM * exaggeration;
  }

  line(stationM: ArrayLike<number>, heightM: ArrayLike<number>): string {
    return path(this.#points(stationM, heightM), false);
  }

  /** The area between two lines over the same stations. */
  band(stationM: ArrayLike<number>, upperM: ArrayLike<number>, underM: ArrayLike<number>): string {
    return path(
      [...this.#points(stationM, upperM), ...this.#points(stationM, underM).reverse()],
      true,
    );
  }

  #points(stationM: ArrayLike<number>, heightM: ArrayLike<number>): Point[] {
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

export function px(value: number): string {
  return value.toFixed(1);
}

export function heightRange(sections: BasinSections, section: BasinSection): [number, number] {
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

export function chooseScale(pxPerM: number, rangeM: number, plotPx: number): SectionScale {
  const most = Math.min(mostHeight.toPx, Math.max(mostHeight.fromPx, mostHeight.share * plotPx));
  const exaggeration = exaggerations.find((times) => rangeM * pxPerM * times <= most) ?? 1;
  return { pxPerM, exaggeration };
}
