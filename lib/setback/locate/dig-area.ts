import type { XY } from '../../frame/frame';
import { areaM2, type Rings } from '../../frame/shapes';
import type { LocalPlan } from '../../plan/local-plan';
import { digPieces, workingMarginM } from './dig-pieces';
import { grown, united } from '../measure/grown';
import type { CheckedBasin } from '../rules/checked-basins';

/** The ground that digging will touch: what is outlined in white and named in a locate request. */
export interface DigArea {
  /** In local metres, not overlapping. */
  readonly polygons: readonly Rings[];
  readonly areaM2: number;
  /** What is dug, in words. */
  readonly parts: readonly string[];
}

/** The ground that building some basins touches (see `digPieces`). Curves lie inside the true ones by at most 4 mm. */
export async function digArea(
  plan: Pick<LocalPlan, 'of'>,
  basins: readonly CheckedBasin[],
  marginM = workingMarginM,
): Promise<DigArea> {
  const pieces = basins.flatMap((basin) => digPieces(plan, basin, marginM));
  const grownPieces: Rings[] = [];
  for (const { shape, reachM } of pieces) grownPieces.push(...(await grown(shape, reachM)));
  const polygons = await united(grownPieces);
  return {
    polygons,
    areaM2: polygons.reduce((sum, rings) => sum + areaM2(rings), 0),
    parts: [...new Set(pieces.map(({ part }) => part))],
  };
}

/** The smallest rectangle, at any turn, around some polygons: its corners in order. Empty without polygons. */
export function rectangleAround(polygons: readonly Rings[]): readonly XY[] {
  const corners = polygons.flatMap(([ring]) => ring);
  let best: { area: number; corners: readonly XY[] } | undefined;
  for (let turn = 0; turn < quarterSteps; turn++) {
    const angle = (turn * Math.PI) / (2 * quarterSteps);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const along = corners.map(([x, y]) => x * c + y * s);
    const across = corners.map(([x, y]) => y * c - x * s);
    const [a0, a1] = [least(along), -least(along.map((value) => -value))];
    const [b0, b1] = [least(across), -least(across.map((value) => -value))];
    const area = (a1 - a0) * (b1 - b0);
    if (best !== undefined && area >= best.area) continue;
    const at = (a: number, b: number): XY => [a * c - b * s, a * s + b * c];
    best = { area, corners: [at(a0, b0), at(a1, b0), at(a1, b1), at(a0, b1)] };
  }
  return corners.length === 0 || best === undefined ? [] : best.corners;
}

/** Turns tried in a quarter: half a degree apart, which costs under 1 % of the area. */
const quarterSteps = 180;

function least(values: readonly number[]): number {
  return values.reduce((low, value) => Math.min(low, value), Infinity);
}
