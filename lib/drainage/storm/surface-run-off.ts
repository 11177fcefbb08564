import type { Grid } from '../../elevation/grid';
import type { Ground } from '../../ground/ground';
import { cellsInside } from '../../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { defaultSoilGroup, planSoil } from '../../soil/plan-soil';
import type { Settings } from '../../plan/schema';
import { hasConditions, type CoverCondition, type Cover } from '../../storm/curve-numbers';
import type { RunOffLaw } from '../../storm/run-off-law';
import type { SpreadingLot, SurfaceClass } from '../../storm/surface-class';
import { openAreasM2, roofAreaM2 } from './lot-areas';

/** What is taken to cover ground on which no surface is drawn. */
const defaultCover = 'lawn';
/** CoverCondition of ground that the plan does not tell: of the three the one with most run-off. */
const unknownCondition: CoverCondition = 'poor';

/** Ground on which no surface is drawn, by the plan's word or as is on the safe side. */
export function undrawnGround({
  ground_condition = unknownCondition,
}: Pick<Settings, 'ground_condition'>): {
  readonly cover: Cover;
  readonly condition: CoverCondition;
} {
  return { cover: defaultCover, condition: ground_condition };
}
/** What a roof is, whatever the soil below its house. */
export const roofSurface = {
  cover: 'roof',
  condition: 'good',
  group: defaultSoilGroup,
} satisfies SurfaceClass;

/** What the inside of a basin is. */
export const basinSurface: SurfaceClass = { ...roofSurface, cover: 'basin' };

/** Covers by index; the first is that of ground on which none is drawn. */
export const covers: readonly Cover[] = [
  defaultCover,
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
  /**
   * The classes that are there, at most some dozens and one for each lot with unconnected paving; the last is that of
   * roofs.
   */
  readonly classes: readonly SurfaceClass[];
  /** Index in `classes` by cell; that of a roof where a building or roof keeps the rain off the ground, that of basins inside them. */
  readonly classOf: Uint16Array<ArrayBuffer>;
  /** Index in `covers` of what covers each cell of open ground. */
  readonly coverOf: Uint8Array<ArrayBuffer>;
  /** Lots with unconnected paving, by index, and the class that it has there. */
  readonly unconnected: readonly { readonly lot: number; readonly at: number }[];
  readonly notes: readonly string[];
}

/** Lays the plan's surfaces on the grid; where they overlap the later in the plan counts. */
export function surfaces(ground: Ground, plan: LocalPlan): Surfaces {
  const tests = plan.of['soil-test'].map(({ feature }) => feature);
  const { group, groupNotes } = planSoil(plan.plan.lotfall.soil, tests);
  const notes = [...groupNotes];
  const undrawn = undrawnGround(plan.plan.lotfall);
  const classes: SurfaceClass[] = [{ ...undrawn, group }];
  const classOf = new Uint16Array(ground.grid.z.length);
  const coverOf = new Uint8Array(ground.grid.z.length);
  const marked = plan.of.surface.some(isUnconnected) ? new Uint8Array(classOf.length) : null;
  for (const surface of plan.of.surface) {
    const { cover, condition, soil_group, unconnected } = surface.feature.properties;
    if (unconnected === true && cover !== 'paving') {
      notes.push(`${surface.id} is marked unconnected, which counts for paving only.`);
    }
    const mark = isUnconnected(surface) ? 1 : 0;
    const at = indexIn(classes, {
      cover,
      condition: condition ?? undrawn.condition,
      group: soil_group ?? group,
    });
    const index = covers.indexOf(cover);
    for (const cell of cellsInside(ground.grid, surface.shape.rings)) {
      classOf[cell] = at;
      coverOf[cell] = index;
      if (marked !== null) marked[cell] = mark;
    }
  }
  pave(ground, plan, group, { classes, classOf, notes }, coverOf);
  const unconnected =
    marked === null ? [] : setApart(ground, plan, { classes, classOf, notes }, marked);
  if (ground.basins.length > 0) {
    const basin = classes.push(basinSurface) - 1;
    for (const { cells } of ground.basins) for (const cell of cells) classOf[cell] = basin;
  }
  const roof = classes.push(roofSurface) - 1;
  for (let cell = 0; cell < classOf.length; cell++) {
    if (ground.sheltered[cell] === 1) classOf[cell] = roof;
  }
  notes.push(...conditionNotes(plan, classOf));
  return { classes, classOf, coverOf, unconnected, notes };
}

/** Paves every so many cells of the ground of a lot on which nothing is drawn, as its share of paving says. */
function pave(
  ground: Ground,
  plan: LocalPlan,
  group: SurfaceClass['group'],
  { classes, classOf }: Laid,
  coverOf: Uint8Array,
): void {
  ground.lots.forEach(({ cells }, lot) => {
    const { paved_fraction: fraction = 0 } = plan.of.lot[lot].feature.properties;
    if (fraction === 0) return;
    const at = indexIn(classes, { cover: 'paving', condition: unknownCondition, group });
    let due = 0;
    for (const cell of cells) {
      if (classOf[cell] !== 0 || ground.sheltered[cell] === 1) continue;
      due += fraction;
      if (due < 0.5) continue;
      due -= 1;
      classOf[cell] = at;
      coverOf[cell] = covers.indexOf('paving');
    }
  });
}

/** That the condition of ground had to be assumed, where it counts. */
function conditionNotes({ plan, of }: LocalPlan, classOf: Uint16Array): string[] {
  const isAsked =
    classOf.includes(0) ||
    of.surface.some(
      ({ feature: { properties } }) =>
        properties.condition === undefined && hasConditions(properties.cover),
    );
  if (plan.lotfall.ground_condition !== undefined || !isAsked) return [];
  return [
    'How dense the grass is where nothing is drawn, and the condition of surfaces drawn without one, is not given: poor is taken, which gives most run-off. Good is grass on over 75 % of the ground, fair on 50 to 75 % (TR-55, table 2-2).',
  ];
}

/** What is laid so far. */
interface Laid {
  readonly classes: SurfaceClass[];
  readonly classOf: Uint16Array;
  readonly notes: string[];
}

/** Whether a surface is paving whose water spreads over lawn, by the plan's word. */
function isUnconnected({ feature }: LocalFeature<'surface'>): boolean {
  const { cover, unconnected } = feature.properties;
  return cover === 'paving' && unconnected === true;
}

/**
 * Gives the unconnected paving of each lot a class of its own, since what is credited for it hangs on the whole lot. On
 * no lot it stays paving as any other.
 *
 * @param marked - 1 for its cells.
 */
function setApart(
  ground: Ground,
  plan: LocalPlan,
  { classes, classOf, notes }: Laid,
  marked: Uint8Array,
): Surfaces['unconnected'] {
  const { grid, lots, lotOf, sheltered } = ground;
  if (marked.some((mark, cell) => mark === 1 && lotOf[cell] === -1)) {
    notes.push(
      'Where unconnected paving lies on no lot of the plan nothing is credited for it: the relation is one of a whole lot.',
    );
  }
  const plain = classes.length;
  return lots.flatMap(({ cells }, lot) => {
    const own = cells.filter((cell) => marked[cell] === 1 && sheltered[cell] === 0);
    const unconnectedM2 =
      own.filter((cell) => !Number.isNaN(grid.z[cell])).length * grid.cellM ** 2;
    if (unconnectedM2 === 0) return [];
    const spreadsOn = spreadingLot(
      classes.slice(0, plain),
      openAreasM2(ground, classOf, plain, lot),
      roofAreaM2(ground, plan, lot),
      unconnectedM2,
    );
    // Paving's condition and soil count for nothing.
    const at =
      classes.push({
        cover: 'paving',
        condition: roofSurface.condition,
        group: defaultSoilGroup,
        spreadsOn,
      }) - 1;
    for (const cell of own) classOf[cell] = at;
    return [{ lot, at }];
  });
}

function spreadingLot(
  classes: readonly SurfaceClass[],
  openAreas: Float64Array,
  roofM2: number,
  unconnectedM2: number,
): SpreadingLot {
  const parts = classes.map((surface, i) => ({ surface, areaM2: openAreas[i] }));
  const isPaving = ({ surface }: (typeof parts)[number]): boolean => surface.cover === 'paving';
  const paved = parts.filter(isPaving).reduce((sum, { areaM2 }) => sum + areaM2, 0);
  return {
    open: parts.filter((part) => part.areaM2 > 0 && !isPaving(part)),
    sealedM2: roofM2 + paved,
    unconnectedM2,
  };
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
