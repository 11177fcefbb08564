import type { BasinSection, BasinSections } from '../../../../../lib/basin/form/section';
import { letteringPx, type SectionLayout } from './drawn-section';
import { px, type View } from './section-view';

/** Stretches of stations for which something holds, as first and last index. */
export function runs(stationM: Float64Array, holds: (i: number) => boolean): [number, number][] {
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
export function layLayers(
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

export function layWater(
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

/** The level of the sill, across the bowl. */
export function laySill({ sillM }: BasinSections, section: BasinSection, view: View): string {
  return section.insideM
    .map(([from, to]) => `M${px(view.x(from))} ${px(view.y(sillM))}H${px(view.x(to))}`)
    .join('');
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

/** A line as far below the ground as it was everywhere; none where it is not known or deeper than drawn. */
export function soilLine(
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
