import { cellAt, type Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { perimeterM } from '../../frame/shapes';
import { cellsInside } from '../../ground/rasterise';
import { checkSetbacks } from '../../setback/judge/check-setbacks';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import type { SetbackInput } from '../../setback/judge/setback-input';
import { groundPlane } from '../../ground/ground-plane';
import { heightAt } from '../../ground/height-at';
import { boundaryDistance, isInside, outlineOf, type Outline } from '../../setback/measure/outline';
import { forbiddenGround, marginCapM, type ForbiddenGround } from '../refused/forbidden-ground';
import { LeadIns } from '../leading/lead-ins';
import type { Scored } from './score';
import {
  basinOutline,
  bowlVolumeM3,
  heldToSillM3,
  rimAt,
  usualOutlines,
  type BasinOutline,
} from './basin-outline';
import { sitingDefaults, type SitingInput } from './siting-input';
import type { LedRoof } from '../leading/led-roof';
import {
  classDepthM,
  depthForSlope,
  sizeByFactor,
  type DepthClass,
} from '../../basin/form/size-factors';

/** Water deeper than this counts as standing, metres: shallower is within what the elevation can tell. */
const standingM = 0.03;
/** A basin up to 30 % smaller than asked for still does most of its work. Source: `homeowners`. */
export const leastShare = 0.7;
const shareSteps = [1, 0.85, leastShare];
const partialSteps = [...shareSteps, 0.5, 0.35, 0.25, 0];
/** Corners looked at first: every so many. */
const everyCorner = 11;
/** How much smaller each try for the largest basin at a place is. */
const largestStep = 0.93;

/** An outline at a place that keeps every distance. */
export interface Fit {
  readonly outline: BasinOutline;
  readonly areaM2: number;
  /** Least margin along the rim, metres, at most `marginCapM`. */
  readonly marginM: number;
}

/** A sized and checked basin, before it is scored against others. */
export interface Sized {
  readonly fits: true;
  /** Id of the own lot that it lies on. */
  readonly lot: string;
  readonly at: XY;
  readonly rim: readonly XY[];
  /** The rim laid out for measuring. */
  readonly around: Outline;
  /** The cells of the elevation inside it. */
  readonly cells: Int32Array;
  readonly outline: BasinOutline;
  readonly areaM2: number;
  readonly wantedM2: number;
  readonly depth: DepthClass;
  readonly byItselfM2: number;
  /** The roofs' part of that. */
  readonly roofsByItselfM2: number;
  readonly led: readonly LedRoof[];
  readonly catchesM2: number;
  /** The storm's run-off from all of it. */
  readonly inflowM3: number;
  readonly scored: Scored;
  readonly setbacks: SetbackFindings;
}

/** A place that bears no such basin. */
export interface Refused {
  readonly fits: false;
  /** Ids of the binding rules that it breaks; none where there is no room for it, or the ground is too steep. */
  readonly broken: readonly string[];
}

const noRoom: Refused = { fits: false, broken: [] };

/** The own lots with what every candidate is judged by, worked out once. */
export class SearchedLot {
  readonly forbidden: ForbiddenGround;
  readonly outlines = usualOutlines();
  readonly minAreaM2: number;
  readonly maxAreaM2: number;
  readonly sideSlope: number;
  /** The roof outlets on the own lots; a neighbour's water is not ours to lead. */
  readonly ownRoofs: readonly number[];
  /** Ways for the water of `ownRoofs`, in their order. */
  readonly leadIns: LeadIns;
  /** What every basin is checked by. */
  readonly rules: Omit<SetbackInput, 'basins'>;
  readonly #forms = new Map<string, readonly XY[]>();
  readonly #lots: readonly { readonly id: string; readonly outline: Outline }[];

  constructor(readonly input: SitingInput) {
    const { plan, ruleSet, elevation, today, locates, standingDepthM } = input;
    this.rules = {
      plan,
      ruleSet,
      elevation,
      today,
      ...(locates === undefined ? {} : { locates }),
      soil: input.soilSettings,
      ...(standingDepthM === undefined
        ? {}
        : { standing: { grid: elevation, depthM: standingDepthM } }),
    };
    this.minAreaM2 = input.minAreaM2 ?? sitingDefaults.minAreaM2;
    this.maxAreaM2 = input.maxAreaM2 ?? sitingDefaults.maxAreaM2;
    this.sideSlope = input.sideSlope ?? sitingDefaults.sideSlope;
    this.forbidden = forbiddenGround({
      ...this.rules,
      elevation,
      bottomInsetM: classDepthM.shallow * this.sideSlope,
    });
    this.#lots = input.plan.of.lot
      .filter((lot) => lot.feature.properties.own)
      .map((lot) => ({ id: lot.id, outline: outlineOf(lot.shape) }));
    const { roofs } = input.catchments;
    this.ownRoofs = roofs.flatMap((roof, i) => (this.lotAt(roof.at) === null ? [] : [i]));
    this.leadIns = new LeadIns(
      input,
      this.forbidden,
      this.ownRoofs.map((i) => roofs[i]),
      input.leadM ?? sitingDefaults.leadM,
    );
  }

  /**
   * The rim of an outline without its place, size and turn: the same object for outlines that have a form in common, so that
   * what is worked out from the form alone can be kept.
   */
  formRim({ form, aspect }: BasinOutline): readonly XY[] {
    const key = `${form} ${aspect}`;
    const rim = this.#forms.get(key) ?? rimAt(basinOutline(form, aspect, 0), [0, 0], 1);
    this.#forms.set(key, rim);
    return rim;
  }

  /** Id of the own lot at a place, `null` off them. */
  lotAt([x, y]: XY): string | null {
    return this.#lots.find(({ outline }) => isInside(outline, x, y))?.id ?? null;
  }

  /** Whether every binding rule that the ground map knows allows a rim at a cell of the map. */
  isAllowed(cell: number): boolean {
    const { inLot, refusedBy, mustBits } = this.forbidden;
    return inLot[cell] === 1 && (refusedBy[cell] & mustBits) === 0;
  }

  /** Least margin at a point, read between the centres of cells; negative off the map. */
  marginAt(x: number, y: number): number {
    const { mesh, marginM } = this.forbidden;
    const { columns, rows } = mesh;
    const column = (x - mesh.westM) / mesh.cellM - 0.5;
    const row = (mesh.northM - y) / mesh.cellM - 0.5;
    if (column < -0.5 || row < -0.5 || column > columns - 0.5 || row > rows - 0.5)
      return -marginCapM;
    const c = Math.min(columns - 2, Math.max(0, Math.floor(column)));
    const r = Math.min(rows - 2, Math.max(0, Math.floor(row)));
    if (columns < 2 || rows < 2) return marginM[Math.round(row) * columns + Math.round(column)];
    const i = r * columns + c;
    const east = column - c;
    const south = row - r;
    const north = marginM[i] * (1 - east) + marginM[i + 1] * east;
    const below = marginM[i + columns] * (1 - east) + marginM[i + columns + 1] * east;
    return north * (1 - south) + below * south;
  }

  /** The least margin along an outline that keeps every distance at a place, metres; `null` where it does not. */
  fittingMargin(outline: BasinOutline, centre: XY, areaM2: number): number | null {
    const scale = Math.sqrt(areaM2);
    const { unit } = outline;
    let least = Infinity;
    // Most that do not fit show it at one of a few corners spread around.
    for (let i = 0; i < unit.length; i += 2 * everyCorner) {
      if (this.marginAt(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]) < 0)
        return null;
    }
    for (let i = 0; i < unit.length; i += 2) {
      const marginM = this.marginAt(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]);
      if (marginM < 0) return null;
      if (marginM < least) least = marginM;
      // Half-way in, for something thin that lies wholly inside the rim.
      if (
        i % 8 === 0 &&
        this.marginAt(centre[0] + 0.5 * scale * unit[i], centre[1] + 0.5 * scale * unit[i + 1]) < 0
      ) {
        return null;
      }
    }
    return least;
  }

  /** The least margin along an outline, negative where it does not fit: by how much. */
  leastMargin(outline: BasinOutline, centre: XY, areaM2: number): number {
    const scale = Math.sqrt(areaM2);
    const { unit } = outline;
    let least = Infinity;
    for (let i = 0; i < unit.length; i += 2) {
      const marginM = this.marginAt(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]);
      if (marginM < least) least = marginM;
    }
    return least;
  }

  /**
   * The outlines that fit at a place, at the largest of the tried shares of the wanted area at which any does.
   *
   * @param partial - goes down to the least area, for a place that is too small for all that arrives.
   */
  fitsFor(centre: XY, wantedM2: number, partial = false): Fit[] {
    for (const share of partial ? partialSteps : shareSteps) {
      const areaM2 = Math.max(this.minAreaM2, share * this.bounded(wantedM2));
      const found = this.outlines.flatMap((outline): Fit[] => {
        const marginM = this.fittingMargin(outline, centre, areaM2);
        return marginM === null ? [] : [{ outline, areaM2, marginM }];
      });
      if (found.length > 0) return found;
    }
    return [];
  }

  /** The largest basin of an outline that fits at a place, within the bounds; `null` when none does. */
  #largest(centre: XY, outline: BasinOutline): Fit | null {
    for (let areaM2 = this.maxAreaM2; areaM2 >= this.minAreaM2 - 1e-9; areaM2 *= largestStep) {
      const marginM = this.fittingMargin(outline, centre, areaM2);
      if (marginM !== null) return { outline, areaM2, marginM };
    }
    const marginM = this.fittingMargin(outline, centre, this.minAreaM2);
    return marginM === null ? null : { outline, areaM2: this.minAreaM2, marginM };
  }

  bounded(areaM2: number): number {
    return Math.min(this.maxAreaM2, Math.max(this.minAreaM2, areaM2));
  }

  /**
   * Sizes a basin at a place for what it catches there and checks it by every rule.
   *
   * Catch and size depend on each other. A larger basin catches no less, so starting from the largest that fits and
   * shrinking to what is asked for ends at the largest basin that agrees with its own catch.
   *
   * @param partial - takes a place that is too small for all that arrives, to be shared with another basin.
   */
  size(centre: XY, outline: BasinOutline, partial = false): Sized | Refused {
    let fit = this.#largest(centre, outline);
    if (fit === null) return noRoom;
    let measured = this.#measure(centre, fit);
    for (let turn = 0; turn < 5 && measured !== null; turn++) {
      const areaM2 = Math.min(fit.areaM2, this.bounded(measured.wantedM2));
      // Too small a place for what arrives: others along the slope do better.
      if (!partial && areaM2 < leastShare * this.bounded(measured.wantedM2)) return noRoom;
      if (fit.areaM2 - areaM2 <= 0.02 * fit.areaM2) break;
      const marginM = this.fittingMargin(outline, centre, areaM2);
      if (marginM === null) return noRoom;
      fit = { outline, areaM2, marginM };
      measured = this.#measure(centre, fit);
    }
    return measured === null ? noRoom : this.checked(measured);
  }

  /** The same for a given area, whatever the size factors ask for. */
  sizeAt(centre: XY, outline: BasinOutline, areaM2: number): Sized | Refused {
    const marginM = this.fittingMargin(outline, centre, areaM2);
    if (marginM === null) return noRoom;
    const measured = this.#measure(centre, { outline, areaM2, marginM });
    return measured === null ? noRoom : this.checked(measured);
  }

  /**
   * The findings for a rim. Overflow is followed over the ground as it is, and through drains, from its lowest
   * place along the rim.
   *
   * @param drainDownH - how long water stands in it after the storm, where that has been worked out.
   */
  check(rim: readonly XY[], pondingDepthM: number, drainDownH?: number): SetbackFindings {
    const basin = {
      id: 'candidate',
      rim,
      bottomInsetM: pondingDepthM * this.sideSlope,
      ...(drainDownH === undefined ? {} : { drainDownH }),
      overflowWays: this.#overflowWays(rim),
    };
    return checkSetbacks({ ...this.rules, basins: [basin] });
  }

  #overflowWays(rim: readonly XY[]): readonly (readonly XY[])[] | undefined {
    const { ruleSet, catchments, elevation } = this.input;
    if (!ruleSet.rules.some(({ test }) => test === 'overflow')) return undefined;
    let lowest: XY | null = null;
    let lowestM = Infinity;
    for (const at of rim) {
      const heightM = heightAt(elevation, at);
      if (heightM < lowestM) {
        lowestM = heightM;
        lowest = at;
      }
    }
    return lowest === null
      ? undefined
      : catchments.waysFrom?.(lowest, cellsInside(elevation, [rim]));
  }

  /**
   * A measured place with its findings, unless it breaks binding rules.
   *
   * @param drainDownH - as in `check`.
   */
  checked(measured: Omit<Sized, 'setbacks'>, drainDownH?: number): Sized | Refused {
    const setbacks = this.check(measured.rim, classDepthM[measured.depth], drainDownH);
    const broken = setbacks.results.filter((row) => row.result === 'fail');
    const must = broken.filter((row) => row.binding === 'must');
    if (must.length > 0) return { fits: false, broken: [...new Set(must.map((row) => row.rule))] };
    const shouldBroken = new Set(
      broken.filter((row) => row.binding === 'should').map((row) => row.rule),
    ).size;
    return { ...measured, setbacks, scored: { ...measured.scored, shouldBroken } };
  }

  /** What a basin of a fitted outline catches, wants and digs; `null` when the ground there is too steep for any. */
  #measure(centre: XY, fit: Fit): Omit<Sized, 'setbacks'> | null {
    const { elevation, catchments, soil, roofRunOffM, standingDepthM } = this.input;
    const rim = rimAt(fit.outline, centre, fit.areaM2);
    const around = outlineOf({ type: 'polygon', rings: [rim] });
    const plane = groundPlane(elevation, rim);
    const depth = plane === null ? 'shallow' : depthForSlope(plane.slopeRatio);
    if (depth === null) return null;
    const cells = footprint(elevation, rim, centre);
    const caught = catchments.catchAt(cells);

    const led: LedRoof[] = [];
    const drained: { areaM2: number; fromDownspoutM: number }[] = [];
    let groundM2 = caught.areaM2;
    let downspoutM = Infinity;
    catchments.roofs.forEach((roof, i) => {
      const ownM2 = roof.areaM2 * caught.roofShares[i];
      groundM2 -= ownM2;
      const distanceM = nearestM(rim, roof.at);
      if (ownM2 > 0) drained.push({ areaM2: ownM2, fromDownspoutM: distanceM });
      if (ownM2 > 0.05 * roof.areaM2) downspoutM = Math.min(downspoutM, distanceM);
      const restM2 = roof.areaM2 - ownM2;
      const own = this.ownRoofs.indexOf(i);
      if (own === -1 || restM2 <= 0.001 * roof.areaM2) return;
      const way = this.leadIns.to(own, rim);
      if (way === null) return;
      led.push({ ...way, area_m2: restM2 });
      drained.push({ areaM2: restM2, fromDownspoutM: way.distance_m });
      downspoutM = Math.min(downspoutM, way.distance_m);
    });
    drained.push({ areaM2: Math.max(0, groundM2), fromDownspoutM: Infinity });
    const ledM2 = led.reduce((sum, roof) => sum + roof.area_m2, 0);
    const inflowM3 = caught.runOffM3 + roofRunOffM * (caught.areaM2 - groundM2 + ledM2);

    const pondingDepthM = classDepthM[depth];
    const { sideSlope } = this;
    const bowlM3 = heldToSillM3(fit.areaM2, perimeterM(rim), pondingDepthM, sideSlope);
    return {
      fits: true,
      lot: this.lotAt(centre) ?? '',
      at: centre,
      rim,
      around,
      cells,
      outline: fit.outline,
      areaM2: fit.areaM2,
      wantedM2: sizeByFactor(soil, depth, drained).areaM2,
      depth,
      byItselfM2: caught.areaM2,
      roofsByItselfM2: caught.areaM2 - groundM2,
      led,
      catchesM2: caught.areaM2 + ledM2,
      inflowM3,
      scored: {
        capturedM3: Math.min(bowlM3, inflowM3),
        marginM: fit.marginM,
        slopeRatio: plane?.slopeRatio ?? null,
        bowlM3,
        cutM3: levelCutM3(elevation, around, cells, pondingDepthM, sideSlope),
        levelGroundCutM3: bowlVolumeM3(fit.areaM2, perimeterM(rim), pondingDepthM, sideSlope),
        downspoutM: this.ownRoofs.length === 0 ? null : downspoutM,
        wetShare: wetShare(standingDepthM, cells),
        soil,
        shouldBroken: 0,
      },
    };
  }
}

/**
 * What is dug for a level bowl whose water stands at the lowest ground along the rim, so that no berm is needed, m3:
 * over each cell the ground above the bowl. On level ground it is the bowl itself.
 */
export function levelCutM3(
  grid: Grid,
  rim: Outline,
  cells: Int32Array,
  depthM: number,
  sideSlope: number,
): number {
  let lowest = Infinity;
  for (let v = 0; v < rim.vertices.length; v += 2) {
    const height = heightAt(grid, [rim.vertices[v], rim.vertices[v + 1]]);
    if (height < lowest) lowest = height;
  }
  if (lowest === Infinity) return 0;
  let sum = 0;
  for (const cell of cells) {
    const z = grid.z[cell];
    if (Number.isNaN(z)) continue;
    const row = Math.floor(cell / grid.width);
    const x = grid.westM + (cell - row * grid.width + 0.5) * grid.cellM;
    const y = grid.northM - (row + 0.5) * grid.cellM;
    const inM = isInside(rim, x, y) ? boundaryDistance(rim, x, y) : 0;
    const bowl = lowest - (sideSlope > 0 ? Math.min(depthM, inM / sideSlope) : depthM);
    if (z > bowl) sum += z - bowl;
  }
  return sum * grid.cellM * grid.cellM;
}

/** The cells inside a rim, or the one at its centre when it is smaller than a cell. */
function footprint(grid: Grid, rim: readonly XY[], centre: XY): Int32Array {
  const cells = cellsInside(grid, [rim]);
  if (cells.length > 0) return cells;
  const cell = cellAt(grid, centre[0], centre[1]);
  return cell < 0 ? cells : Int32Array.of(cell);
}

/** Distance from a place to the nearest corner of a rim. */
export function nearestM(rim: readonly XY[], to: XY): number {
  let least = Infinity;
  for (const at of rim) least = Math.min(least, (at[0] - to[0]) ** 2 + (at[1] - to[1]) ** 2);
  return Math.sqrt(least);
}

function wetShare(standingDepthM: Float32Array | undefined, cells: Int32Array): number {
  if (standingDepthM === undefined || cells.length === 0) return 0;
  let wet = 0;
  for (const cell of cells) if (standingDepthM[cell] > standingM) wet++;
  return wet / cells.length;
}
