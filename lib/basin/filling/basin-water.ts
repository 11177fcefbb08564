import type { UnderdrainProperties } from '../../plan/basin-properties';
import type { GreenAmptSoil } from '../../soil/green-ampt';
import { soakedUnderWaterM } from '../../soil/green-ampt';
import { GreenAmptFloor } from '../../soil/green-ampt-floor';
import type { Layer } from '../form/layers';
import { fillingUnderdrainM3PerS } from '../form/orifice';
import { balanceDepthM } from './balance-depth';
import { stripsOf } from '../form/basin-strips';
import { areaAt, depthAt, volumeAt, type StageStorage } from '../form/stage-storage';
import { weirFlowM3PerS } from '../form/weir';

/** A basin as water meets it. */
export interface BasinToFill {
  readonly storage: StageStorage;
  /** Below the floor and the sides alike, bottom up. */
  readonly layers: readonly Layer[];
  /** The soil below the layers; `null` while nothing is known of it, and then it takes nothing. */
  readonly subsoil: GreenAmptSoil | null;
  readonly underdrain?: UnderdrainProperties | undefined;
  readonly notch: {
    /** Weir coefficient in metres and seconds. */
    readonly coefficient: number;
    /** Width of the level sill, metres. */
    readonly widthM: number;
  };
}

export interface BasinWaterOptions {
  /** Strips that the bowl's sides are divided into by height, each with soil of its own below it. */
  readonly strips?: number;
  /** Whether it stands full to its sill with full layers at first; else it is empty and its layers hold what they hold against gravity. */
  readonly full?: boolean;
}

/**
 * Strips of the sides. Under a constant loss the time to drain any bowl does not hang on their number; under layers and
 * suction it differs by about one per cent from that with twice as many, in a bowl that comes to a point by up to six,
 * to the slow side.
 */
const usualStrips = 10;

/**
 * Water in a basin: what stands in the bowl, what is in the layers, and what has left. Goes forward in steps of any length.
 *
 * The floor and strips of the sides each have a column of layers and soil below them, wetted when the water reaches them,
 * so that the wetted area takes part and no more: a bowl over full layers falls at the rate of the soil, whatever its
 * shape. There is no flow sideways from column to column.
 *
 * In a column each layer passes on what it holds beyond its field capacity at its conductivity, times one plus the
 * head on it over its thickness (Darcy's law through the layer that is slowest), as far as the layer below has room;
 * where the soil is slower, layers fill from the bottom. What stands is then found so that inflow, what soaks in and
 * what runs over the sill balance at the level at the end of the step. Volumes are moved, never computed twice, so water is
 * neither made nor lost.
 */
export class BasinWater {
  /** Standing in the bowl, m3, and its depth over the lowest point, metres. */
  pondM3 = 0;
  depthM = 0;
  /** What left in the last step, m3. */
  soakedM3 = 0;
  overflowM3 = 0;
  underdrainM3 = 0;
  /** Part of the last step, 0 to 1, after which nothing stood in the bowl; 1 when something does at its end. */
  emptyAfter = 1;
  /** Whether water has run over the rim itself, beside the notch. */
  overRim = false;

  readonly basin: BasinToFill;
  readonly rimAreaM2: number;
  readonly rimM3: number;
  readonly #strips: number;
  #stepS = 0;
  /** Of each strip: the depth of its middle (0 for the floor), its area, and that of all that lies lower. */
  readonly #middleM: Float64Array;
  readonly #areaM2: Float64Array;
  readonly #lowerM2: Float64Array;
  readonly #soils: GreenAmptFloor[];
  /** Of each layer, top down. */
  readonly #layers: number;
  readonly #thickM: Float64Array;
  readonly #poreM: Float64Array;
  readonly #holdM: Float64Array;
  readonly #conductivity: Float64Array;
  /** Pores of all layers that they let go of, metres. */
  readonly #loosePoreM: number;
  /** Water in each layer of each strip, metres over the strip. */
  readonly #waterM: Float64Array;
  /** For the step: most that passes out of each layer, and most that it takes, metres. */
  readonly #passM: Float64Array;
  readonly #takeM: Float64Array;
  /** For the step: what the soil takes, the underdrain lets out, rain has put in, and the water over the soil, metres. */
  readonly #soilM: Float64Array;
  readonly #drainM: Float64Array;
  readonly #rainedM: Float64Array;
  readonly #overSoilM: Float64Array;
  /** For the step: most that the top takes beside rain, what of it goes right through, and the empty pores, metres. */
  readonly #roomM: Float64Array;
  readonly #throughM: Float64Array;
  readonly #sparePoreM: Float64Array;
  /** For the step: what each strip takes from the bowl, m3. */
  readonly #intakeM3: Float64Array;

  constructor(basin: BasinToFill, options: BasinWaterOptions = {}) {
    const { storage } = basin;
    const last = storage.depthsM.length - 1;
    this.basin = basin;
    this.rimAreaM2 = storage.areasM2[last];
    this.rimM3 = storage.volumesM3[last];
    const strips = stripsOf(storage, options.strips ?? usualStrips);
    this.#strips = strips.length;
    this.#middleM = Float64Array.from(strips, ({ lowM, highM }) => Math.max(0, lowM + highM) / 2);
    this.#areaM2 = Float64Array.from(strips, ({ areaM2 }) => areaM2);
    this.#lowerM2 = Float64Array.from(strips, ({ lowerM2 }) => lowerM2);
    const layers = basin.layers.toReversed();
    this.#layers = layers.length;
    this.#thickM = Float64Array.from(layers, ({ thicknessM }) => thicknessM);
    this.#poreM = Float64Array.from(layers, ({ thicknessM, porosity }) => thicknessM * porosity);
    this.#holdM = Float64Array.from(layers, (each) => each.thicknessM * each.fieldCapacity);
    this.#conductivity = Float64Array.from(layers, ({ conductivityMPerS }) => conductivityMPerS);
    const cells = this.#strips * this.#layers;
    this.#waterM = new Float64Array(cells);
    this.#passM = new Float64Array(cells);
    this.#takeM = new Float64Array(cells);
    this.#soilM = new Float64Array(this.#strips);
    this.#drainM = new Float64Array(this.#strips);
    this.#rainedM = new Float64Array(this.#strips);
    this.#overSoilM = new Float64Array(this.#strips);
    this.#roomM = new Float64Array(this.#strips);
    this.#throughM = new Float64Array(this.#strips);
    this.#sparePoreM = new Float64Array(this.#strips);
    this.#loosePoreM = layers.reduce(
      (sum, each) => sum + each.thicknessM * (each.porosity - each.fieldCapacity),
      0,
    );
    this.#intakeM3 = new Float64Array(this.#strips);
    const nothing = { conductivityMPerS: 0, suctionM: 0, deficit: 0 };
    this.#soils = strips.map(() => new GreenAmptFloor(basin.subsoil ?? nothing));
    const full = options.full === true;
    for (let at = 0; at < cells; at++) {
      this.#waterM[at] = (full ? this.#poreM : this.#holdM)[at % this.#layers];
    }
    if (full) {
      this.pondM3 = volumeAt(storage, storage.overflowDepthM);
      this.depthM = storage.overflowDepthM;
    }
  }

  /** Water in the layers, m3. */
  get layersM3(): number {
    let sum = 0;
    for (let strip = 0, at = 0; strip < this.#strips; strip++) {
      for (let k = 0; k < this.#layers; k++, at++) sum += this.#waterM[at] * this.#areaM2[strip];
    }
    return sum;
  }

  /** Water in the layers that they will let go, m3. */
  get looseM3(): number {
    let sum = 0;
    for (let strip = 0, at = 0; strip < this.#strips; strip++) {
      for (let k = 0; k < this.#layers; k++, at++) {
        sum += Math.max(0, this.#waterM[at] - this.#holdM[k]) * this.#areaM2[strip];
      }
    }
    return sum;
  }

  /**
   * Takes water out of the layers from the top down, as plants and air do between storms.
   *
   * @param depthM - most that is taken, metres over every strip.
   * @returns what was taken, m3; less where the layers are dry.
   */
  dry(depthM: number): number {
    let tookM3 = 0;
    for (let strip = 0; strip < this.#strips; strip++) {
      let left = depthM;
      for (let k = 0; k < this.#layers && left > 0; k++) {
        const at = strip * this.#layers + k;
        const took = Math.min(left, this.#waterM[at]);
        this.#waterM[at] -= took;
        left -= took;
        tookM3 += took * this.#areaM2[strip];
      }
    }
    return tookM3;
  }

  /** Lets the soil below drain for a time in which nothing comes or stands, without a step. */
  rest(timeS: number): void {
    for (const soil of this.#soils) soil.advance(timeS, 0, 0);
  }

  /**
   * Goes on by a step.
   *
   * @param stepS - its length, seconds.
   * @param runOnM3 - what comes over the rim in it.
   * @param rainM - what falls on the basin itself in it, metres.
   */
  step(stepS: number, runOnM3: number, rainM: number): void {
    this.#prepare(stepS);
    const toPondM3 = this.#letRain(rainM, stepS);
    this.#fillPond(stepS, this.pondM3 + runOnM3 + toPondM3);
    this.#sink(stepS);
  }

  /** Finds, from the bottom up, how much each column takes in the step. */
  #prepare(stepS: number): void {
    const layers = this.#layers;
    const strips = this.#strips;
    const thickM = this.#thickM;
    const poreM = this.#poreM;
    const holdM = this.#holdM;
    const conductivity = this.#conductivity;
    const waterM = this.#waterM;
    const passM = this.#passM;
    const takeM = this.#takeM;
    let drainedArea = 0;
    for (let strip = 0; strip < strips; strip++) {
      const first = strip * layers;
      let headM = Math.max(0, this.depthM - this.#middleM[strip]);
      for (let k = 0; k < layers; k++) {
        const at = first + k;
        const room = poreM[k] - holdM[k];
        const loose = Math.max(0, waterM[at] - holdM[k]);
        const filled = room > 0 ? Math.min(1, loose / room) : 1;
        passM[at] = stepS * conductivity[k] * (1 + (filled * headM) / thickM[k]);
        headM = filled * (thickM[k] + headM);
        if (k + 1 < layers) {
          const into = stepS * conductivity[k + 1] * (1 + headM / thickM[k + 1]);
          passM[at] = Math.min(passM[at], into);
        }
      }
      this.#overSoilM[strip] = headM;
      const soil = this.#soils[strip];
      this.#soilM[strip] = soakedUnderWaterM(soil.soil, soil.soakedM, stepS, headM) - soil.soakedM;
      this.#drainM[strip] = 0;
      if (headM > this.#invertM) drainedArea += this.#areaM2[strip];
    }
    if (drainedArea > 0) {
      const letsOutM = (this.#underdrainM3PerS * stepS) / drainedArea;
      for (let strip = 0; strip < strips; strip++) {
        if (this.#overSoilM[strip] > this.#invertM) this.#drainM[strip] = letsOutM;
      }
    }
    for (let strip = 0; strip < strips; strip++) {
      let below = this.#soilM[strip];
      let through = below;
      let spare = 0;
      for (let k = layers - 1; k >= 0; k--) {
        const at = strip * layers + k;
        const beside = k === layers - 1 ? this.#drainM[strip] : 0;
        const empty = Math.max(0, poreM[k] - waterM[at]);
        takeM[at] = empty + Math.min(passM[at], below) + beside;
        through = Math.min(passM[at], through) + beside;
        below = takeM[at];
        spare += empty;
      }
      this.#roomM[strip] = below;
      this.#throughM[strip] = through;
      this.#sparePoreM[strip] = spare;
    }
  }

  /** Height of the underdrain over the bottom of the dig, metres; out of reach where there is none. */
  get #invertM(): number {
    const { underdrain } = this.basin;
    if (underdrain === undefined || this.#layers === 0) return Infinity;
    return Math.min(underdrain.height_m ?? 0, this.#thickM[this.#layers - 1]);
  }

  /** What the underdrain can let out now, under the water over the lowest strip. */
  get #underdrainM3PerS(): number {
    const { underdrain } = this.basin;
    if (underdrain === undefined) return 0;
    return fillingUnderdrainM3PerS({ ...underdrain, height_m: this.#invertM }, this.#overSoilM[0]);
  }

  /** Rain on ground that is not under water soaks in there; returns what runs to the water instead, m3. */
  #letRain(rainM: number, stepS: number): number {
    if (rainM === 0) {
      this.#rainedM.fill(0);
      return 0;
    }
    const topM = this.#layers > 0 ? this.#conductivity[0] * stepS : Infinity;
    const waterM2 = areaAt(this.basin.storage, this.depthM);
    let toPondM3 = 0;
    for (let strip = 0; strip < this.#strips; strip++) {
      const dry = 1 - this.#wetted(strip, waterM2);
      const soaks = dry * Math.min(rainM, topM, this.#roomM[strip]);
      this.#rainedM[strip] = soaks;
      // rounding must not make them negative
      this.#roomM[strip] = Math.max(0, this.#roomM[strip] - soaks);
      this.#sparePoreM[strip] = Math.max(0, this.#sparePoreM[strip] - soaks);
      toPondM3 += (rainM - soaks) * this.#areaM2[strip];
    }
    return toPondM3;
  }

  /** Finds the level at which the step's water balances, and what soaks in and runs over the sill at it. */
  #fillPond(stepS: number, supplyM3: number): void {
    const { storage } = this.basin;
    this.#stepS = stepS;
    const depthM = balanceDepthM(storage, supplyM3, this.#leavesM3, this.depthM);
    let tookM3 = this.#intake(depthM);
    this.emptyAfter = 1;
    if (tookM3 > supplyM3) {
      // they could take more than there is: all columns get less in the same proportion
      const share = supplyM3 / tookM3;
      for (let strip = 0; strip < this.#strips; strip++) this.#intakeM3[strip] *= share;
      tookM3 = supplyM3;
      this.emptyAfter = share;
    }
    this.overflowM3 = Math.min(this.#spillM3PerS(depthM) * stepS, supplyM3 - tookM3);
    this.pondM3 = supplyM3 - tookM3 - this.overflowM3;
    if (this.pondM3 > this.rimM3) {
      this.overflowM3 += this.pondM3 - this.rimM3;
      this.pondM3 = this.rimM3;
      this.overRim = true;
    }
    this.depthM = depthAt(storage, this.pondM3);
  }

  /** What leaves the bowl in the step when it stands at a depth, m3. */
  readonly #leavesM3 = (depthM: number): number =>
    this.#intake(depthM) + this.#spillM3PerS(depthM) * this.#stepS;

  #spillM3PerS(depthM: number): number {
    const { notch, storage } = this.basin;
    return weirFlowM3PerS(notch.coefficient, notch.widthM, depthM - storage.overflowDepthM);
  }

  /**
   * What the columns take from the bowl in the step at whose end it stands at a depth, m3; each one's share stays in
   * `intakeM3`. Those are wet that lie under the level halfway: under that at the end a falling bowl would drain too slowly.
   */
  #intake(depthM: number): number {
    const waterM2 = areaAt(this.basin.storage, (this.depthM + depthM) / 2);
    let sum = 0;
    for (let strip = 0; strip < this.#strips; strip++) {
      const wet = this.#wetted(strip, waterM2);
      let tookM3 = 0;
      if (wet > 0) {
        let limitM = wet * this.#roomM[strip];
        if (this.#layers > 0) {
          const headM = Math.max(0, depthM - this.#middleM[strip]);
          const topM = this.#conductivity[0] * (1 + headM / this.#thickM[0]) * this.#stepS;
          // Of the empty pores those above the water come first: a falling level leaves them behind it.
          const spareM = Math.max(0, this.#sparePoreM[strip] - (1 - wet) * this.#loosePoreM);
          limitM = Math.min(limitM, wet * topM, wet * this.#throughM[strip] + spareM);
        }
        tookM3 = this.#areaM2[strip] * limitM;
      }
      this.#intakeM3[strip] = tookM3;
      sum += tookM3;
    }
    return sum;
  }

  /** Share of a strip that is under water where the water's surface has an area: by the bowl's own shape, not evenly by height. */
  #wetted(strip: number, waterM2: number): number {
    const share = (waterM2 - this.#lowerM2[strip]) / this.#areaM2[strip];
    return Math.min(1, Math.max(0, share));
  }

  /** Lets what the columns took sink through them, from the top down. */
  #sink(stepS: number): void {
    const layers = this.#layers;
    const waterM = this.#waterM;
    const holdM = this.#holdM;
    const poreM = this.#poreM;
    const thickM = this.#thickM;
    const passM = this.#passM;
    const takeM = this.#takeM;
    this.soakedM3 = 0;
    this.underdrainM3 = 0;
    const invert = this.#invertM;
    for (let strip = 0; strip < this.#strips; strip++) {
      const area = this.#areaM2[strip];
      let movingM = this.#rainedM[strip] + this.#intakeM3[strip] / area;
      let drainedM = 0;
      for (let k = 0; k < layers; k++) {
        const at = strip * layers + k;
        const isLowest = k === layers - 1;
        const water = waterM[at] + movingM;
        const loose = Math.max(0, water - holdM[k]);
        movingM = Math.min(loose, passM[at], isLowest ? this.#soilM[strip] : takeM[at + 1]);
        if (isLowest && this.#drainM[strip] > 0) {
          const belowInvert = (poreM[k] - holdM[k]) * (invert / thickM[k]);
          drainedM = Math.min(Math.max(0, loose - movingM - belowInvert), this.#drainM[strip]);
        }
        waterM[at] = water - movingM - drainedM;
      }
      this.#soils[strip].advance(stepS, movingM, this.#overSoilM[strip]);
      this.soakedM3 += movingM * area;
      this.underdrainM3 += drainedM * area;
    }
  }
}
