import type { BasinSection, BasinSections } from '../../basin/form/section';
import type { LayerMaterial } from '../../plan/basin-properties';
import { formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import { letters, type Board } from '../drawing/board';
import { hatchDots, hatchLines } from '../drawing/hatch';
import { inks, pens } from '../drawing/inks';
import type { At, Rect, Run } from '../drawing/mark';

/** Room at the right for the names of heights, millimetres. */
export const levelColumnMm = 46;
/** Above for the width between the rims, below for that of the floor. */
const topMm = 10;
const bottomMm = 11;
/** Ground drawn below the dig, metres. */
const groundBelowM = 0.15;

/** Height of the ground that a section shows, metres: from below the dig to the highest ground. */
export function sectionHeights(
  { lowestM, digDepthM }: BasinSections,
  { beforeM, finishedM }: BasinSection,
): readonly [number, number] {
  const high = Math.max(0, ...beforeM, ...finishedM);
  return [lowestM - digDepthM - groundBelowM, high + 0.02];
}

/** Paper that a section takes at a scale, millimetres. */
export function sectionSize(
  sections: BasinSections,
  section: BasinSection,
  ratio: number,
): { readonly widthMm: number; readonly heightMm: number } {
  const [low, high] = sectionHeights(sections, section);
  const spanM = section.stationM[section.stationM.length - 1];
  return {
    widthMm: (1000 * spanM) / ratio + levelColumnMm,
    heightMm: (1000 * (high - low)) / ratio + topMm + bottomMm,
  };
}

/** A section with heights as lengths: ground as it is and will be, layers, water to the sill, heights named at the right. */
export function drawSection(
  board: Board,
  { x, y }: Rect,
  sections: BasinSections,
  section: BasinSection,
  ratio: number,
  units: UnitSystem,
): void {
  const [low, high] = sectionHeights(sections, section);
  const mm = 1000 / ratio;
  const place = (stationM: number, heightM: number): At => [
    x + stationM * mm,
    y + topMm + (high - heightM) * mm,
  ];
  const line = (heights: Float64Array): Run => thin(section.stationM, heights, place);
  const finished = line(section.finishedM);
  drawEarth(board, finished, place(0, low)[1]);
  drawWater(board, sections, section, place);
  drawLayers(board, sections, section, place);
  board.line(line(section.beforeM), {
    ink: inks.contour,
    widthMm: pens.thin,
    dashMm: [2, 0.9],
  });
  board.line(finished, { ink: inks.ink, widthMm: pens.heavy });
  drawLevels(board, sections, section, place, units);
  drawWidths(board, sections, section, place, units, [y + topMm - 4, place(0, low)[1] + 4]);
  const spanM = section.stationM[section.stationM.length - 1];
  const endY = place(0, low)[1] - 1.5;
  board.text(section.ends[0], [place(0, low)[0] + 1.5, endY], letters.figureBold);
  board.text(section.ends[1], [place(spanM, low)[0] - 1.5, endY], letters.figureBold, {
    align: 'end',
  });
}

type Place = (stationM: number, heightM: number) => At;

/** Points closer together on paper than this are left out, millimetres. */
const leastMm = 0.4;

function thin(stations: ArrayLike<number>, heights: ArrayLike<number>, place: Place): Run {
  const run: At[] = [];
  for (let i = 0; i < stations.length; i++) {
    if (Number.isNaN(heights[i])) continue;
    const at = place(stations[i], heights[i]);
    const last = run.at(-1);
    const isFar = last === undefined || Math.hypot(at[0] - last[0], at[1] - last[1]) >= leastMm;
    if (isFar || i === stations.length - 1) run.push(at);
  }
  return run;
}

function drawEarth(board: Board, finished: Run, bottomY: number): void {
  const last = finished[finished.length - 1];
  const earth: Run = [...finished, [last[0], bottomY], [finished[0][0], bottomY]];
  // Short strokes by threes, as for earth.
  const strokes = hatchLines([[earth]], { angleDeg: 45, pitchMm: 2.2 }).flatMap(([from, to]) =>
    dashed(from, to, 2.4, 5.2),
  );
  board.lines(strokes, { ink: inks.hair, widthMm: pens.hatch });
}

/** Pieces of a line, each so long, one in so many millimetres. */
function dashed(from: At, to: At, eachMm: number, everyMm: number): Run[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const pieces: Run[] = [];
  for (let at = 0.8; at + eachMm < length; at += everyMm) {
    const point = (mm: number): At => [
      from[0] + (mm / length) * (to[0] - from[0]),
      from[1] + (mm / length) * (to[1] - from[1]),
    ];
    pieces.push([point(at), point(at + eachMm)]);
  }
  return pieces;
}

/** Stations within a stretch with its two ends, and the finished height at each. */
function within(
  { stationM, finishedM }: BasinSection,
  [from, to]: readonly [number, number],
): { stations: number[]; heights: number[] } {
  const last = stationM.length - 1;
  const heightAt = (at: number): number => {
    const exact = (at / stationM[last]) * last;
    const i = Math.min(last - 1, Math.max(0, Math.floor(exact)));
    return finishedM[i] + (exact - i) * (finishedM[i + 1] - finishedM[i]);
  };
  const stations = [from, ...stationM.filter((at) => at > from && at < to), to];
  return { stations, heights: stations.map(heightAt) };
}

/** Hatches of materials, told apart by form. */
function drawMaterial(board: Board, material: LayerMaterial, rings: readonly Run[]): void {
  const pen = { ink: inks.second, widthMm: pens.hatch };
  switch (material) {
    case 'mulch':
      board.lines(
        hatchLines([rings], { angleDeg: 0, pitchMm: 0.9 }).flatMap(([a, b]) =>
          dashed(a, b, 1.6, 2.6),
        ),
        pen,
      );
      return;
    case 'planting-mix':
      board.circles(hatchDots(rings, 1.9), 0.17, { fill: inks.second });
      return;
    case 'compost':
      board.lines(hatchLines([rings], { angleDeg: 60, pitchMm: 1.5 }), pen);
      return;
    case 'topsoil':
      board.lines(
        hatchLines([rings], { angleDeg: 90, pitchMm: 1.7 }).flatMap(([a, b]) =>
          dashed(a, b, 0.9, 2.2),
        ),
        pen,
      );
      return;
    case 'coarse-sand':
      board.circles(hatchDots(rings, 0.95), 0.09, { fill: inks.ink });
      return;
    case 'gravel':
      board.circles(hatchDots(rings, 2.1), 0.75, { pen });
  }
}

/** The layers follow the bowl, each its thickness below it, out to the rim. */
function drawLayers(
  board: Board,
  { layers, lowestM }: BasinSections,
  section: BasinSection,
  place: Place,
): void {
  let above = 0;
  for (const { material, name, thicknessM } of layers) {
    const [top, below] = [above, above + thicknessM];
    above = below;
    const rings = section.insideM.map((stretch): Run => {
      const { stations, heights } = within(section, stretch);
      const upper = thin(
        stations,
        heights.map((height) => height - top),
        place,
      );
      const lower = thin(
        stations,
        heights.map((height) => height - below),
        place,
      );
      return [...upper, ...lower.toReversed()];
    });
    board.area(rings, { fill: inks.paper });
    drawMaterial(board, material, rings);
    board.area(rings, { pen: { ink: inks.ink, widthMm: pens.fine } });
    const middle = longest(section.insideM);
    const [atX, atY] = place(
      middle[0] + 0.32 * (middle[1] - middle[0]),
      lowestM - (top + below) / 2,
    );
    const heightMm = place(0, 0)[1] - place(0, thicknessM)[1];
    if (heightMm < 2.6) continue;
    const half = board.widthMm(name, letters.label) / 2 + 0.6;
    board.box({ x: atX - half, y: atY - 1.3, width: 2 * half, height: 2.6 }, { fill: inks.paper });
    board.text(name, [atX, atY + 0.85], letters.label, { align: 'middle' });
  }
}

function longest(stretches: readonly (readonly [number, number])[]): readonly [number, number] {
  return stretches.reduce((best, each) => (each[1] - each[0] > best[1] - best[0] ? each : best));
}

/** Water up to the sill. */
function drawWater(
  board: Board,
  { sillM }: BasinSections,
  section: BasinSection,
  place: Place,
): void {
  for (const stretch of section.insideM) {
    const { stations, heights } = within(section, stretch);
    const wet = stations
      .map((at, i) => [at, heights[i]] as const)
      .filter(([, height]) => height < sillM);
    if (wet.length < 2) continue;
    const [from, to] = [wet[0][0], wet[wet.length - 1][0]];
    const bed = thin(
      wet.map(([at]) => at),
      wet.map(([, height]) => height),
      place,
    );
    board.area([[place(from, sillM), ...bed, place(to, sillM)]], { fill: inks.paleWater });
    board.line([place(from, sillM), place(to, sillM)], { ink: inks.water, widthMm: pens.rule });
    const [mx, my] = place((from + to) / 2, sillM);
    board.area(
      [
        [
          [mx - 1.2, my - 2],
          [mx + 1.2, my - 2],
          [mx, my],
        ],
      ],
      { pen: { ink: inks.water, widthMm: pens.fine } },
    );
  }
}

/** Heights named at the right, spread so that none covers another, each led to its height. */
function drawLevels(
  board: Board,
  { sillM, lowestM, digDepthM, layers }: BasinSections,
  section: BasinSection,
  place: Place,
  units: UnitSystem,
): void {
  const spanM = section.stationM[section.stationM.length - 1];
  const down = (heightM: number): string => formatLength(-heightM, units);
  let belowM = lowestM;
  const under = layers.slice(0, -1).map(({ name, thicknessM }) => {
    belowM -= thicknessM;
    return { heightM: belowM, text: `under ${name.toLowerCase()}, ${down(belowM)} down` };
  });
  const levels = [
    { heightM: 0, text: 'rim and berm, level' },
    { heightM: sillM, text: `sill of the notch, ${down(sillM)} down` },
    { heightM: lowestM, text: `floor, ${down(lowestM)} down` },
    ...under,
    { heightM: lowestM - digDepthM, text: `dig to here, ${down(lowestM - digDepthM)} down` },
  ];
  const rightX = place(spanM, 0)[0];
  let lastY = -Infinity;
  for (const { heightM, text } of levels) {
    const y = place(0, heightM)[1];
    const textY = Math.max(y, lastY + 3.3);
    lastY = textY;
    board.lines(
      [
        [
          [rightX + 1, y],
          [rightX + 3, y],
          [rightX + 5, textY],
          [rightX + 6, textY],
        ],
      ],
      { ink: inks.ink, widthMm: pens.hatch },
    );
    board.text(text, [rightX + 7, textY + 0.9], letters.label);
  }
}

/** Widths between the rims and of the floor, and how steep the sides are. */
function drawWidths(
  board: Board,
  { sideSlope }: BasinSections,
  section: BasinSection,
  place: Place,
  units: UnitSystem,
  [topY, bottomY]: readonly [number, number],
): void {
  const main = longest(section.insideM);
  const dimension = ([from, to]: readonly [number, number], y: number, words: string): void => {
    const [a, b] = [place(from, 0)[0], place(to, 0)[0]];
    const pen = { ink: inks.ink, widthMm: pens.fine };
    board.line(
      [
        [a, y],
        [b, y],
      ],
      pen,
    );
    board.lines(
      [a, b].map((at): Run => [
        [at - 0.7, y + 0.7],
        [at + 0.7, y - 0.7],
      ]),
      { ...pen, widthMm: pens.rule },
    );
    board.text(words, [(a + b) / 2, y - 1], letters.labelBold, { align: 'middle' });
  };
  dimension(main, topY, `${formatLength(main[1] - main[0], units)} rim to rim`);
  const { floorM } = section;
  const slope = `sides ${Number(sideSlope.toFixed(1))} : 1`;
  if (floorM === null) {
    board.text(slope, [place(main[0], 0)[0], bottomY + 1], letters.label);
    return;
  }
  dimension(floorM, bottomY + 3, `${formatLength(floorM[1] - floorM[0], units)} floor, ${slope}`);
}
