import type { Grid } from '../elevation/grid';
import type { Ground } from '../ground/ground';
import { cellsInside } from '../ground/rasterise';
import type { LocalPlan } from '../plan/local-plan';
import { curveNumber, roofCurveNumber, type Cover, type SoilGroup } from '../storm/curve-numbers';
import { runOffMm } from '../storm/run-off';

/** What is taken for ground on which no surface is drawn. */
export const defaultSurface = { cover: 'lawn', condition: 'good' } as const;
/** What is taken where neither plan nor surface gives a hydrologic soil group: the less pervious middle. */
export const defaultSoilGroup: SoilGroup = 'C';

/** Covers by index; the first is that of ground on which none is drawn. */
export const covers: readonly Cover[] = [
  defaultSurface.cover,
  'bed',
  'woods',
  'meadow',
  'gravel',
  'paving',
  'deck',
  'bare',
];

/** The curve number of every cell of the ground, by the surfaces of the plan. */
export interface Surfaces {
  /** Curve number by cell; that of a roof where a building or roof keeps the rain off the ground. */
  readonly curveNumbers: Float32Array<ArrayBuffer>;
  /** Index in `covers` of what covers each cell of open ground. */
  readonly coverOf: Uint8Array<ArrayBuffer>;
  readonly notes: readonly string[];
}

/** Lays the plan's surfaces on the grid; where they overlap the later in the plan counts. */
export function surfaces(ground: Ground, plan: LocalPlan): Surfaces {
  const group = plan.plan.lotfall.soil?.group;
  const notes =
    group === undefined
      ? [
          `No hydrologic soil group is given: ${defaultSoilGroup} is assumed. A soil survey or test tells.`,
        ]
      : [];
  const base = curveNumber(
    defaultSurface.cover,
    defaultSurface.condition,
    group ?? defaultSoilGroup,
  );
  const curveNumbers = new Float32Array(ground.grid.z.length).fill(base);
  const coverOf = new Uint8Array(ground.grid.z.length);
  for (const surface of plan.of.surface) {
    const { cover, condition, soil_group } = surface.feature.properties;
    const value = curveNumber(
      cover,
      condition ?? defaultSurface.condition,
      soil_group ?? group ?? defaultSoilGroup,
    );
    const index = covers.indexOf(cover);
    for (const cell of cellsInside(ground.grid, surface.shape.rings)) {
      curveNumbers[cell] = value;
      coverOf[cell] = index;
    }
  }
  for (let cell = 0; cell < curveNumbers.length; cell++) {
    if (ground.sheltered[cell] === 1) curveNumbers[cell] = roofCurveNumber;
  }
  return { curveNumbers, coverOf, notes };
}

/**
 * Run-off depth of every cell of open ground, metres; 0 under roofs (their water comes by the
 * downspouts) and where there is no data.
 *
 * @param out - reused when given, of the grid's size.
 */
export function surfaceRunOffM(
  grid: Grid,
  ground: Pick<Ground, 'sheltered'>,
  curveNumbers: Float32Array,
  rainMm: number,
  out: Float64Array<ArrayBuffer> = new Float64Array(grid.z.length),
): Float64Array<ArrayBuffer> {
  // Curve numbers are whole and few: one run of the equation for each.
  const byNumber = new Float64Array(101);
  for (let number = 1; number <= 100; number++) byNumber[number] = runOffMm(rainMm, number) / 1000;
  for (let cell = 0; cell < out.length; cell++) {
    const open = ground.sheltered[cell] === 0 && !Number.isNaN(grid.z[cell]);
    out[cell] = open ? byNumber[curveNumbers[cell]] : 0;
  }
  return out;
}
