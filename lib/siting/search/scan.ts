import { cellAt } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { perimeterM } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import { steepnessOf } from '../../setback/measure/steepness';
import { meshCentre } from '../refused/mesh';
import {
  defaultWeights,
  scoreOf,
  scoreParts,
  type Scored,
  type ScoreWeights,
} from '../sizing/score';
import { bowlVolumeM3, heldToSillM3, rimAt, type BasinOutline } from '../sizing/basin-outline';
import {
  classDepthM,
  depthForSlope,
  nearDownspoutM,
  sizeByFactor,
} from '../../basin/form/size-factors';
import type { SearchedLot } from '../sizing/searched-lot';
import { isMore, largestFirst } from '../rounding';

/** A place with the outline that looks best there, by estimates that need no routing of water. */
export interface Glimpse {
  /** The cell of the forbidden ground's mesh. */
  readonly cell: number;
  readonly at: XY;
  readonly outline: BasinOutline;
  readonly areaM2: number;
  readonly scored: Scored;
}

/** Half the distance over which the way of the fall is taken, metres. */
const fallHalfM = 2;

/**
 * Looks at places without routing water: what a basin there would catch is estimated from the contributing areas of the
 * cells along its width across the fall.
 */
export class Scan {
  readonly #perimeters: ReadonlyMap<BasinOutline, number>;
  readonly #steepness: Float32Array;
  readonly weights: ScoreWeights;
  readonly #searched: SearchedLot;

  constructor(searched: SearchedLot) {
    this.#searched = searched;
    this.#perimeters = new Map(
      searched.outlines.map((outline) => [outline, perimeterM(rimAt(outline, [0, 0], 1))]),
    );
    this.#steepness = steepnessOf(searched.input.elevation).ratio;
    this.weights = { ...defaultWeights, ...searched.input.weights };
  }

  /** What the largest basin could hold at most, m3: a stand-in for the best place until that is known. */
  get possibleM3(): number {
    return this.#searched.maxAreaM2 * classDepthM.deep;
  }

  /**
   * The outline that looks best at a cell of the mesh, `null` where none fits.
   *
   * @param partial - takes a basin that is too small for all that arrives.
   */
  glimpse(cell: number, reachableM3: number, partial = false): Glimpse | null {
    const searched = this.#searched;
    if (!searched.isAllowed(cell)) return null;
    const at = meshCentre(searched.forbidden.mesh, cell);
    const fall = this.#fallAt(at);
    if (fall === null) return null;
    const led = this.#leadsTo(at);
    // The width of a basin in the middle of the range stands in for one not yet sized.
    const halfWidthM = Math.sqrt(searched.bounded(15) / Math.PI);
    const wantedM2 = this.#wanted(at, fall, led, this.#across(at, fall, halfWidthM));
    let best: Glimpse | null = null;
    let bestScore = -1;
    for (const fit of searched.fitsFor(at, wantedM2, partial)) {
      const scored = this.#scored(at, fall, led, fit.outline, fit.areaM2, fit.marginM);
      const score = scoreOf(scoreParts(scored, reachableM3), this.weights);
      if (isMore(score, bestScore)) {
        bestScore = score;
        best = { cell, at, outline: fit.outline, areaM2: fit.areaM2, scored };
      }
    }
    return best;
  }

  /** Every outline that fits at a place for an area, the one that looks best first. */
  outlinesAt(at: XY, areaM2: number, reachableM3: number): BasinOutline[] {
    const fall = this.#fallAt(at);
    if (fall === null) return [];
    const led = this.#leadsTo(at);
    return this.#searched
      .fitsFor(at, areaM2)
      .map((fit) => {
        const scored = this.#scored(at, fall, led, fit.outline, fit.areaM2, fit.marginM);
        return {
          outline: fit.outline,
          score: scoreOf(scoreParts(scored, reachableM3), this.weights),
        };
      })
      .sort((a, b) => largestFirst(a.score, b.score))
      .map(({ outline }) => outline);
  }

  /** The estimate's score, given the most that any place holds. */
  score(glimpse: Glimpse, reachableM3: number): number {
    return scoreOf(scoreParts(glimpse.scored, reachableM3), this.weights);
  }

  #fallAt(at: XY): Fall | null {
    const grid = this.#searched.input.elevation;
    const cell = cellAt(grid, at[0], at[1]);
    if (cell < 0) return null;
    const ratio = this.#steepness[cell];
    const slope = Number.isNaN(ratio) ? null : ratio;
    const depth = slope === null ? 'shallow' : depthForSlope(slope);
    if (depth === null) return null;
    const east =
      heightAt(grid, [at[0] + fallHalfM, at[1]]) - heightAt(grid, [at[0] - fallHalfM, at[1]]);
    const north =
      heightAt(grid, [at[0], at[1] + fallHalfM]) - heightAt(grid, [at[0], at[1] - fallHalfM]);
    const steep = Math.hypot(east, north);
    const down: XY = steep > 0 ? [-east / steep, -north / steep] : [0, -1];
    return { cell, slope, depth, down };
  }

  #leadsTo(at: XY): Led[] {
    const { ownRoofs, leadIns, input } = this.#searched;
    const led: Led[] = [];
    ownRoofs.forEach((roof, i) => {
      const way = leadIns.estimate(i, at[0], at[1]);
      if (way === null) return;
      led.push({ roof, areaM2: input.catchments.roofs[roof].areaM2, distanceM: way.distanceM });
    });
    return led;
  }

  /**
   * Contributing area that crosses a line through a place, at right angles to the fall: all of it, and the most that
   * three cells side by side carry, as a stream from a roof would.
   */
  #across(at: XY, fall: Fall, halfM: number): { allM2: number; streamM2: number } {
    const { elevation: grid, catchments } = this.#searched.input;
    let sum = 0;
    let before = -1;
    let streamM2 = 0;
    let [one, two] = [0, 0];
    const steps = Math.floor(halfM / grid.cellM);
    for (let k = -steps; k <= steps; k++) {
      const x = at[0] - k * grid.cellM * fall.down[1];
      const y = at[1] + k * grid.cellM * fall.down[0];
      const column = Math.floor((x - grid.westM) / grid.cellM);
      const row = Math.floor((grid.northM - y) / grid.cellM);
      if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) continue;
      const cell = row * grid.width + column;
      const caughtM2 = catchments.accumulationM2[cell];
      if (cell === before || Number.isNaN(caughtM2)) continue;
      before = cell;
      sum += caughtM2;
      streamM2 = Math.max(streamM2, one + two + caughtM2);
      [one, two] = [two, caughtM2];
    }
    return { allM2: sum, streamM2 };
  }

  /**
   * The area that the size factors ask for, by estimate: roofs near by, uphill and not led are taken to be in what
   * arrives as far as some stream there is large enough to hold them.
   */
  #wanted(
    at: XY,
    fall: Fall,
    led: readonly Led[],
    arriving: { allM2: number; streamM2: number },
  ): number {
    const { input, ownRoofs } = this.#searched;
    const here = heightAt(input.elevation, at);
    const isLed = (roof: number): boolean => led.some((each) => each.roof === roof);
    let nearM2 = 0;
    for (const i of ownRoofs) {
      const roof = input.catchments.roofs[i];
      const gapM = Math.hypot(roof.at[0] - at[0], roof.at[1] - at[1]);
      if (gapM > nearDownspoutM || isLed(i)) continue;
      if (heightAt(input.elevation, roof.at) > here) nearM2 += roof.areaM2;
    }
    nearM2 = Math.min(nearM2, arriving.streamM2);
    return sizeByFactor(input.soil, fall.depth, [
      ...led.map(({ areaM2, distanceM }) => ({ areaM2, fromDownspoutM: distanceM })),
      { areaM2: nearM2, fromDownspoutM: 0 },
      { areaM2: arriving.allM2 - nearM2, fromDownspoutM: Infinity },
    ]).areaM2;
  }

  #scored(
    at: XY,
    fall: Fall,
    led: readonly Led[],
    outline: BasinOutline,
    areaM2: number,
    marginM: number,
  ): Scored {
    const searched = this.#searched;
    const { input } = searched;
    const scale = Math.sqrt(areaM2);
    let acrossM = 0;
    let downM = 0;
    for (let i = 0; i < outline.unit.length; i += 2) {
      const x = outline.unit[i];
      const y = outline.unit[i + 1];
      acrossM = Math.max(acrossM, Math.abs(x * fall.down[1] - y * fall.down[0]));
      downM = Math.max(downM, x * fall.down[0] + y * fall.down[1]);
    }
    const perimeter = (this.#perimeters.get(outline) ?? 0) * scale;
    const depthM = classDepthM[fall.depth];
    const bowlM3 = heldToSillM3(areaM2, perimeter, depthM, searched.sideSlope);
    const levelGroundCutM3 = bowlVolumeM3(areaM2, perimeter, depthM, searched.sideSlope);
    const arrivesM3 =
      input.runOffDepthM * this.#across(at, fall, acrossM * scale).allM2 +
      input.roofRunOffM * led.reduce((sum, roof) => sum + roof.areaM2, 0);
    const standingM = input.standingDepthM?.[fall.cell] ?? 0;
    return {
      capturedM3: Math.min(bowlM3, arrivesM3),
      marginM,
      slopeRatio: fall.slope,
      bowlM3,
      // Ground stands over the lowest rim by the fall from the middle to there, on average.
      levelGroundCutM3,
      cutM3: levelGroundCutM3 + areaM2 * (fall.slope ?? 0) * downM * scale,
      downspoutM:
        searched.ownRoofs.length === 0 ? null : Math.min(...led.map((roof) => roof.distanceM)),
      wetShare: standingM > 0.03 ? 1 : 0,
      soil: input.soil,
      shouldBroken: 0,
    };
  }
}

interface Fall {
  readonly cell: number;
  readonly slope: number | null;
  readonly depth: 'shallow' | 'middle' | 'deep';
  /** Unit vector downhill. */
  readonly down: XY;
}

/** A roof that may be led to a place, by index among the catchments' roofs. */
interface Led {
  readonly roof: number;
  readonly areaM2: number;
  readonly distanceM: number;
}
