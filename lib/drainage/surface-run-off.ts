import type { Grid } from '../elevation/grid';
import type { Ground } from '../ground/ground';
import { cellsInside } from '../ground/rasterise';
import type { LocalPlan } from '../plan/local-plan';
import type { Cover, SoilGroup } from '../storm/curve-numbers';
import type { RunOffLaw } from '../storm/run-off-law';
import type { SurfaceClass } from '../storm/surface-class';

/** What is taken for ground on which no surface is drawn. */
export const defaultSurface = { cover: 'lawn', condition: 'good' } as const;
/** What is taken where neither plan nor surface gives a hydrologic soil group: the less pervious middle. */
export const defaultSoilGroup: SoilGroup = 'C';

/** What a roof is, whatever the soil below its house. */
export const roofSurface: SurfaceClass = {
  cover: 'roof',
  condition: 'good',
  group: defaultSoilGroup,
};

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

/** The class of surface of every cell of the ground, by the surfaces of the plan. */
export interface Surfaces {
  /** The classes that are there, at most some dozens; the last is that of roofs. */
  readonly classes: readonly SurfaceClass[];
  /** Index in `classes` by cell; that of a roof where a building or roof keeps the rain off the ground. */
  readonly classOf: Uint8Array<ArrayBuffer>;
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
  const classes: SurfaceClass[] = [{ ...defaultSurface, group: group ?? defaultSoilGroup }];
  const classOf = new Uint8Array(ground.grid.z.length);
  const coverOf = new Uint8Array(ground.grid.z.length);
  for (const surface of plan.of.surface) {
    const { cover, condition, soil_group } = surface.feature.properties;
    const at = indexIn(classes, {
      cover,
      condition: condition ?? defaultSurface.condition,
      group: soil_group ?? group ?? defaultSoilGroup,
    });
    const index = covers.indexOf(cover);
    for (const cell of cellsInside(ground.grid, surface.shape.rings)) {
      classOf[cell] = at;
      coverOf[cell] = index;
    }
  }
  const roof = classes.push(roofSurface) - 1;
  for (let cell = 0; cell < classOf.length; cell++) {
    if (ground.sheltered[cell] === 1) classOf[cell] = roof;
  }
  return { classes, classOf, coverOf, notes };
}

/** The index of a class, which is put at the end when it is not there yet. */
function indexIn(classes: SurfaceClass[], { cover, condition, group }: SurfaceClass): number {
  const found = classes.findIndex(
    (each) => each.cover === cover && each.condition === condition && each.group === group,
  );
  return found === -1 ? classes.push({ cover, condition, group }) - 1 : found;
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
  { classes, classOf }: Pick<Surfaces, 'classes' | 'classOf'>,
  law: Pick<RunOffLaw, 'runOffMm'>,
  out: Float64Array<ArrayBuffer> = new Float64Array(grid.z.length),
): Float64Array<ArrayBuffer> {
  // Classes are few: the law is asked once for each.
  const byClass = Float64Array.from(classes, (surface) => law.runOffMm(surface) / 1000);
  for (let cell = 0; cell < out.length; cell++) {
    const open = ground.sheltered[cell] === 0 && !Number.isNaN(grid.z[cell]);
    out[cell] = open ? byClass[classOf[cell]] : 0;
  }
  return out;
}
