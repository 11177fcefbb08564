import { classDepthM } from '../../basin/form/size-factors';
import type { XY } from '../../frame/frame';
import { heightAt } from '../../ground/height-at';
import { cellsInside } from '../../ground/rasterise';
import { checkSetbacks } from '../../setback/judge/check-setbacks';
import type { SetbackInput } from '../../setback/judge/setback-input';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import { isInside, outlineOf, type Outline } from '../../setback/measure/outline';
import { LeadIns } from '../leading/lead-ins';
import { forbiddenGround, type ForbiddenGround } from '../refused/forbidden-ground';
import { basinOutline, rimAt, usualOutlines, type BasinOutline } from './basin-outline';
import { measurePlace } from './measure-place';
import { RimMargins } from './rim-margins';
import { sitingDefaults, type SitingInput } from './siting-input';
import type { Fit, MeasuredPlace, Refused, Sized } from './sized-place';

/** A basin up to 30 % smaller than asked for still does most of its work. Source: `homeowners`. */
export const leastShare = 0.7;
const shareSteps = [1, 0.85, leastShare];
const partialSteps = [...shareSteps, 0.5, 0.35, 0.25, 0];
/** How much smaller each try for the largest basin at a place is. */
const largestStep = 0.93;

const noRoom: Refused = { fits: false, broken: [] };

/** The own lots with what every candidate is judged by, worked out once. */
export class SearchedLot {
  readonly forbidden: ForbiddenGround;
  readonly margins: RimMargins;
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
    this.margins = new RimMargins(this.forbidden);
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

  /**
   * The outlines that fit at a place, at the largest of the tried shares of the wanted area at which any does.
   *
   * @param partial - goes down to the least area, for a place that is too small for all that arrives.
   */
  fitsFor(centre: XY, wantedM2: number, partial = false): Fit[] {
    for (const share of partial ? partialSteps : shareSteps) {
      const areaM2 = Math.max(this.minAreaM2, share * this.bounded(wantedM2));
      const found = this.outlines.flatMap((outline): Fit[] => {
        const marginM = this.margins.fitting(outline, centre, areaM2);
        return marginM === null ? [] : [{ outline, areaM2, marginM }];
      });
      if (found.length > 0) return found;
    }
    return [];
  }

  /** The largest basin of an outline that fits at a place, within the bounds; `null` when none does. */
  #largest(centre: XY, outline: BasinOutline): Fit | null {
    for (let areaM2 = this.maxAreaM2; areaM2 >= this.minAreaM2 - 1e-9; areaM2 *= largestStep) {
      const marginM = this.margins.fitting(outline, centre, areaM2);
      if (marginM !== null) return { outline, areaM2, marginM };
    }
    const marginM = this.margins.fitting(outline, centre, this.minAreaM2);
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
    let measured = measurePlace(this, centre, fit);
    for (let turn = 0; turn < 5 && measured !== null; turn++) {
      const areaM2 = Math.min(fit.areaM2, this.bounded(measured.wantedM2));
      // Too small a place for what arrives: others along the slope do better.
      if (!partial && areaM2 < leastShare * this.bounded(measured.wantedM2)) return noRoom;
      if (fit.areaM2 - areaM2 <= 0.02 * fit.areaM2) break;
      const marginM = this.margins.fitting(outline, centre, areaM2);
      if (marginM === null) return noRoom;
      fit = { outline, areaM2, marginM };
      measured = measurePlace(this, centre, fit);
    }
    return measured === null ? noRoom : this.checked(measured);
  }

  /** The same for a given area, whatever the size factors ask for. */
  sizeAt(centre: XY, outline: BasinOutline, areaM2: number): Sized | Refused {
    const marginM = this.margins.fitting(outline, centre, areaM2);
    if (marginM === null) return noRoom;
    const measured = measurePlace(this, centre, { outline, areaM2, marginM });
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
  checked(measured: MeasuredPlace, drainDownH?: number): Sized | Refused {
    const setbacks = this.check(measured.rim, classDepthM[measured.depth], drainDownH);
    const broken = setbacks.results.filter((row) => row.result === 'fail');
    const must = broken.filter((row) => row.binding === 'must');
    if (must.length > 0) return { fits: false, broken: [...new Set(must.map((row) => row.rule))] };
    const shouldBroken = new Set(
      broken.filter((row) => row.binding === 'should').map((row) => row.rule),
    ).size;
    return { ...measured, setbacks, scored: { ...measured.scored, shouldBroken } };
  }
}
