import type { BasinSection, BasinSections } from '../../../../../lib/basin/form/section';
import { formatLength } from '../../../../../lib/units/format';
import type { UnitSystem } from '../../../../../lib/units/units';
import {
  letteringPx,
  type SectionDimension,
  type SectionLayout,
  type SectionScale,
} from './drawn-section';
import { layLayers, laySill, layWater, runs, soilLine } from './section-bodies';
import {
  endTexts,
  horizontal,
  layScaleBar,
  levelNames,
  placeLevels,
  slopeText,
  upright,
} from './section-lettering';
import { chooseScale, heightRange, View } from './section-view';

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

const padPx = 4;

/** Room over the drawing for the width between the rims, below it for the floor's and the scale bar. */
const topPx = 34;

const bottomPx = 46;

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
    sill: laySill(sections, section, view),
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

/** The longest stretch inside the rim. */
function mainStretch({ insideM, stationM }: BasinSection): readonly [number, number] {
  let best: readonly [number, number] = insideM.at(0) ?? [0, stationM[stationM.length - 1]];
  for (const each of insideM) if (each[1] - each[0] > best[1] - best[0]) best = each;
  return best;
}
