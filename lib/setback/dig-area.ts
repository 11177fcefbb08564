import type { XY } from '../frame/frame';
import { areaM2, type Rings } from '../frame/shapes';
import { bermTopM, overflowWidthM } from '../ground/basin-form';
import type { LocalFeature, LocalPlan } from '../plan/local-plan';
import { halfWidthM, nameOf } from './concerned';
import { grown, united } from './grow';
import { outlineOf, separation } from './measure';
import type { CheckedBasin } from './setback-result';

/** Room to stand and to lay spoil beside the edge of the dig, metres. Common practice, no source. */
export const workingMarginM = 1;
/** Width of a trench for a pipe or the bed of a swale whose width is not given, metres. Common practice, no source. */
const trenchWidthM = 0.3;
/** A pipe or swale that comes this near to a rim leads to it, metres: lines are drawn by hand. */
const leadsToM = 1;

/** The ground that digging will touch: what is outlined in white and named in a locate request. */
export interface DigArea {
  /** In local metres, not overlapping. */
  readonly polygons: readonly Rings[];
  readonly areaM2: number;
  /** What is dug, in words. */
  readonly parts: readonly string[];
}

/**
 * The ground that building some basins touches: each rim with its berm, the overflow's notch through the berm, the
 * pipes and swales that lead to it, and a working margin around all of it.
 *
 * Pipes and swales are taken whole, from end to end, when they come within a metre of a rim or its berm.
 * Curves lie inside the true ones by at most 4 mm.
 */
export async function digArea(
  plan: Pick<LocalPlan, 'of'>,
  basins: readonly CheckedBasin[],
  marginM = workingMarginM,
): Promise<DigArea> {
  const pieces: Rings[] = [];
  const parts: string[] = [];
  for (const basin of basins) {
    const bermM = basin.bermWidthM ?? bermTopM;
    pieces.push(...(await grown({ type: 'polygon', rings: [basin.rim] }, bermM + marginM)));
    parts.push(`${basin.name ?? `basin ${basin.id}`} with its berm`);
    const drawn = plan.of.basin.find(({ id }) => id === basin.id);
    if (drawn?.overflow !== undefined) {
      const halfM = (drawn.feature.properties.overflow_width_m ?? overflowWidthM) / 2;
      pieces.push(...(await grown({ type: 'point', at: drawn.overflow }, bermM + halfM + marginM)));
      parts.push('the notch of its overflow');
    }
    for (const line of leadsTo(plan, basin, bermM)) {
      const halfM = Math.max(halfWidthM(line), trenchWidthM / 2);
      pieces.push(...(await grown(line.shape, halfM + marginM)));
      parts.push(`the trench of ${nameOf(line)}`);
    }
  }
  const polygons = await united(pieces);
  return {
    polygons,
    areaM2: polygons.reduce((sum, rings) => sum + areaM2(rings), 0),
    parts: [...new Set(parts)],
  };
}

function leadsTo(
  plan: Pick<LocalPlan, 'of'>,
  { rim }: CheckedBasin,
  bermM: number,
): LocalFeature<'drain-pipe' | 'swale'>[] {
  const around = outlineOf({ type: 'polygon', rings: [rim] });
  return [...plan.of['drain-pipe'], ...plan.of.swale].filter(
    (line) => separation(around, outlineOf(line.shape)).distanceM <= bermM + leadsToM,
  );
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
