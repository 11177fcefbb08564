import { assert } from '../errors';
import { capacityMPerS, soakedUnderWaterM, type GreenAmptSoil } from './green-ampt';
import { dayS } from '../units/units';

/**
 * A floor that soaks water away, for a computation that goes forward in time. Its state is the depth soaked in
 * since its wetting front started.
 */
export class GreenAmptFloor {
  readonly soil: GreenAmptSoil;
  #soakedM = 0;
  #dryS = 0;

  constructor(soil: GreenAmptSoil) {
    this.soil = soil;
  }

  /** Depth soaked in since the front started, metres. */
  get soakedM(): number {
    return this.#soakedM;
  }

  /** Rate that it can take now under so much water, metres a second; `Infinity` at a dry start. */
  capacityMPerS(headM: number): number {
    return capacityMPerS(this.soil, this.#soakedM, headM);
  }

  /**
   * Goes on by a step and returns the depth soaked in during it, metres: the least of what is there and what the
   * soil takes under a constant head. Nothing else changes the state, so the sum of what is returned is
   * what has soaked in.
   *
   * Water that comes in the step counts as being there from its beginning, and the head as constant. Both
   * errors shrink with the step, the second in proportion to it: within 1 % for a pool soaking away in steps of
   * some minutes.
   *
   * After {@link restS} without water the front starts afresh: behind it the soil has drained to what it
   * holds against gravity, which is the wetness it started with.
   *
   * @param stepS - length of the step, seconds.
   * @param supplyM - water standing on the floor and coming in the step, metres over the floor.
   * @param headM - depth of the water standing on it, metres.
   */
  advance(stepS: number, supplyM: number, headM: number): number {
    assert(stepS >= 0 && supplyM >= 0 && headM >= 0, 'steps, supplies and heads are 0 or more');
    if (supplyM === 0) {
      this.#dryS += stepS;
      if (this.#dryS >= restS) this.#soakedM = 0;
      return 0;
    }
    this.#dryS = 0;
    const couldM = soakedUnderWaterM(this.soil, this.#soakedM, stepS, headM) - this.#soakedM;
    const tookM = Math.min(supplyM, couldM);
    this.#soakedM += tookM;
    return tookM;
  }
}

/**
 * Time without water after which a wetted soil counts as drained to its field capacity: two days, the shorter
 * end of the usual two to three (a sanitation handbook's glossary, seen in a secondary copy).
 */
export const restS = 2 * dayS;
