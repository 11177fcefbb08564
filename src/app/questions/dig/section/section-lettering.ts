import type { BasinSection, BasinSections } from '../../../../../lib/basin/form/section';
import { formatLength } from '../../../../../lib/units/format';
import { footM, type UnitSystem } from '../../../../../lib/units/units';
import type {
  SectionDimension,
  SectionLayout,
  SectionLevel,
  SectionScale,
  SectionText,
} from './drawn-section';
import type { View } from './section-view';

const lineGapPx = 14;

interface LevelName {
  readonly id: SectionLevel['id'];
  readonly heightM: number;
  readonly text: string;
}

/** The heights that are named, from the rim down. */
export function levelNames(
  sections: BasinSections,
  options: { readonly units: UnitSystem; readonly waterDepthM: number | null },
): LevelName[] {
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
export function placeLevels(
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

export function horizontal(
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

export function upright(
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

/** Over the side on which the ground is lower, where there is air. */
export function slopeText(
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

export function endTexts(section: BasinSection, view: View, plotRight: number): SectionText[] {
  const last = section.stationM.length - 1;
  const over = (i: number): number =>
    Math.min(view.y(section.beforeM[i]), view.y(section.finishedM[i])) - 6;
  const y = (i: number): number => (Number.isNaN(over(i)) ? view.y(0) - 6 : over(i));
  return [
    { text: section.ends[0], at: [view.x(0), y(0)], anchor: 'start' },
    { text: section.ends[1], at: [plotRight, y(last)], anchor: 'end' },
  ];
}

export function layScaleBar(
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
