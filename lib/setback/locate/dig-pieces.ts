import type { Shape } from '../../frame/shapes';
import { bermTopM, overflowWidthM } from '../../ground/basin-form';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { halfWidthM, nameOf } from '../rules/concerned';
import {
  isInside,
  insideSeparation,
  outlineOf,
  separation,
  type Outline,
} from '../measure/outline';
import type { CheckedBasin } from '../rules/checked-basins';
import { featureName } from '../../plan/feature-name';

/** Room to stand and to lay spoil beside the edge of the dig, metres. Common practice, no source. */
export const workingMarginM = 1;
/** Width of a trench for a pipe or the bed of a swale whose width is not given, metres. Common practice, no source. */
export const trenchWidthM = 0.3;
/** A pipe or swale that comes this near to a rim leads to it, metres: lines are drawn by hand. */
const leadsToM = 1;
/** Ground that an outline leaves out by less than this is covered by it: curves are drawn as chords, and rounded. */
const outlineErrorM = 0.02;

/** A part of the ground that is dug: all within a reach of a shape. */
export interface DigPiece {
  readonly shape: Shape;
  readonly reachM: number;
  /** What is dug, in words. */
  readonly part: string;
}

/**
 * The parts of the ground that building a basin touches: its rim with its berm, the overflow's notch through the berm,
 * the pipes and swales that lead to it, each with a working margin.
 *
 * Pipes and swales are taken whole, from end to end, when they come within a metre of a rim or its berm.
 */
export function digPieces(
  plan: Pick<LocalPlan, 'of'>,
  basin: CheckedBasin,
  marginM = workingMarginM,
): DigPiece[] {
  const bermM = basin.bermWidthM ?? bermTopM;
  const rim: Shape = { type: 'polygon', rings: [basin.rim] };
  const pieces: DigPiece[] = [
    {
      shape: rim,
      reachM: bermM + marginM,
      part: `${featureName({ id: basin.id, properties: { kind: 'basin', name: basin.name } })} with its berm`,
    },
  ];
  const drawn = plan.of.basin.find(({ id }) => id === basin.id);
  if (drawn?.overflow !== undefined) {
    const halfM = (drawn.feature.properties.overflow_width_m ?? overflowWidthM) / 2;
    pieces.push({
      shape: { type: 'point', at: drawn.overflow },
      reachM: bermM + halfM + marginM,
      part: 'the notch of its overflow',
    });
  }
  for (const line of leadsTo(plan, outlineOf(rim), bermM)) {
    const halfM = Math.max(halfWidthM(line), trenchWidthM / 2);
    pieces.push({
      shape: line.shape,
      reachM: halfM + marginM,
      part: `the trench of ${nameOf(line)}`,
    });
  }
  return pieces;
}

function leadsTo(
  plan: Pick<LocalPlan, 'of'>,
  around: Outline,
  bermM: number,
): LocalFeature<'drain-pipe' | 'swale'>[] {
  return [...plan.of['drain-pipe'], ...plan.of.swale].filter(
    (line) => separation(around, outlineOf(line.shape)).distanceM <= bermM + leadsToM,
  );
}

/** Whether the ground that is dug lies in some polygons, each piece of it in one. */
export function isCovered(
  pieces: readonly Pick<DigPiece, 'shape' | 'reachM'>[],
  by: readonly Shape[],
): boolean {
  const areas = by.map(outlineOf);
  return pieces.every(({ shape, reachM }) =>
    areas.some((area) => keptInsideM(shape, area) >= reachM - outlineErrorM),
  );
}

/** How far a shape keeps inside a polygon's edges; below 0 where it does not lie in it. */
function keptInsideM(shape: Shape, area: Outline): number {
  const outline = outlineOf(shape);
  if (outline.filled) return insideSeparation(outline, area).distanceM;
  if (!isInside(area, outline.vertices[0], outline.vertices[1])) return -Infinity;
  // Its first corner lies inside: the rest does unless it comes to an edge.
  return separation(outline, { ...area, filled: false }).distanceM;
}
