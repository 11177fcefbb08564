import type { Grid } from '../../elevation/grid';
import { areaM2, boundsOf, type Bounds } from '../../frame/shapes';
import {
  basinLevels,
  cutBasin,
  type BasinForm,
  type BasinShape,
  type NotDug,
} from '../../ground/basin-form';
import { finerGrid } from '../../ground/finer-grid';
import type { Source } from '../../source';
import { inchM } from '../../units/units';

/** The ground around one basin as it is when the digging is done, before layers are laid below the floor. */
export interface FinishedBasin {
  readonly shape: BasinShape;
  /** Heights on the grids below; `cutM3` and `fillM3` are of bowl, berm and bank. */
  readonly form: BasinForm;
  /** The ground before, in fine cells. */
  readonly before: Grid;
  /** The finished ground, cell for cell with `before`. */
  readonly grid: Grid;
  /** Area inside the rim. */
  readonly rimAreaM2: number;
  /** Area inside the rim where the floor of the bowl lies higher than the ground did, and how deep that fill is at most. */
  readonly floorOnFill: { readonly areaM2: number; readonly depthM: number };
  readonly notes: readonly string[];
}

/** Side of the cells in which a basin is worked out, metres. */
const fineCellM = 0.05;
/** As many of them as are worked out at most; a basin that needs more gets coarser ones. */
const mostCells = 2_000_000;
/** Ground beyond the berm's foot that is kept for drawing, metres. */
const aroundM = 1;
/** Fill under a bowl thinner than this is the roughness of a lawn, metres. */
const worthTellingM = 0.03;

/**
 * Builds a basin into finely divided ground: bowl, level rim, berm on the low side, bank on the high side, notch.
 *
 * The heights are those of the coarse ground (`basinLevels`), and the same code cuts both, so the two agree but for the
 * size of their cells.
 *
 * @param ground - the ground that the basin is dug in (`groundBeforeBasin`); not modified.
 * @param cellM - side of the fine cells.
 * @returns why not, for a rim that leaves the data and for a bowl that would hold nothing.
 * Cost: fine cells around the rim times its edges; about 20 ms for a garden of 30 m2.
 */
export function finishedBasin(
  ground: Grid,
  shape: BasinShape,
  cellM = fineCellM,
): FinishedBasin | NotDug {
  const levels = basinLevels(ground, shape);
  if ('notDug' in levels) return levels;
  // Heights stay over 1 (see Grid), below the floor too.
  const liftM = Math.max(0, Math.ceil(1 - Math.min(levels.floorM, levels.rimM)));
  const around = grown(boundsOf(shape.rim), levels.reachM + aroundM);
  const room = (around.east - around.west) * (around.north - around.south);
  const fineM = Math.max(cellM, Math.sqrt(room / mostCells));
  const before = finerGrid(ground, around, fineM, liftM);
  const z = before.z.slice();
  const form = cutBasin(before, z, shape, {
    ...levels,
    rimM: levels.rimM + liftM,
    overflowM: levels.overflowM + liftM,
    floorM: levels.floorM + liftM,
  });
  if ('notDug' in form) return form;
  const grid: Grid = { ...before, z };
  const floorOnFill = fillUnderBowl(before, z, form);
  return {
    shape,
    form,
    before,
    grid,
    rimAreaM2: areaM2([shape.rim]),
    floorOnFill,
    notes: [...form.notes, ...builtNotes(form, floorOnFill, areaM2([shape.rim]))],
  };
}

function grown({ west, south, east, north }: Bounds, byM: number): Bounds {
  return { west: west - byM, south: south - byM, east: east + byM, north: north + byM };
}

function fillUnderBowl(
  before: Grid,
  z: Float32Array,
  { cells }: BasinForm,
): FinishedBasin['floorOnFill'] {
  let count = 0;
  let depthM = 0;
  for (const cell of cells) {
    const filled = z[cell] - before.z[cell];
    if (filled <= worthTellingM) continue;
    count++;
    if (filled > depthM) depthM = filled;
  }
  return { areaM2: count * before.cellM ** 2, depthM };
}

/** Shares of the bowl on fill below this are not worth a word. Our choice, no source. */
const littleFill = 0.05;

/** Height of the rim over the sill that a handbook asks for. */
export const askedFreeboard = {
  leastM: 6 * inchM,
  published: 'at least 6 in of freeboard',
  source: {
    title: 'Rain Garden Handbook for Western Washington',
    publisher: 'Washington State University Extension and the state Department of Ecology',
    year: 2013,
    section: 'pp. 40 and 44',
    mark: 'seen',
  },
} as const satisfies { source: Source } & Record<string, unknown>;
/** A freeboard that misses it by less is as asked. */
const freeboardSlackM = 0.005;

function builtNotes(
  { sideSlope, freeboardM }: BasinForm,
  onFill: FinishedBasin['floorOnFill'],
  rimAreaM2: number,
): string[] {
  const notes: string[] = [];
  if (sideSlope < 2) {
    notes.push(
      `Sides of ${sideSlope} : 1 are steeper than 2 : 1, the steepest that Western Washington's handbook (2013, p. 44) allows.`,
    );
  }
  if (freeboardM < askedFreeboard.leastM - freeboardSlackM) {
    notes.push(
      `The rim stands ${Math.round(freeboardM * 100)} cm over the sill; Western Washington's handbook (2013, p. 40) asks for 6 in (15 cm). What the notch has to pass decides.`,
    );
  }
  if (onFill.areaM2 > littleFill * rimAreaM2) {
    notes.push(
      `${Math.round((100 * onFill.areaM2) / rimAreaM2)} % of the bowl lies on fill, up to ${Math.round(onFill.depthM * 100)} cm thick: tread it down in layers under the berm, and expect it to settle.`,
    );
  }
  return notes;
}
