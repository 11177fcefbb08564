import type { Source } from '../source';
import type { SoilGroup } from '../storm/curve-numbers';
import { nehGroups } from './sources';

export interface GroupInput {
  /** Conductivity of the least transmissive layer, metres a second. */
  readonly conductivityMPerS: number;
  /** Depth to a layer that lets hardly any water through, metres; leave out when unknown. */
  readonly limitingLayerM?: number;
  /** Depth to the seasonal high water, metres; leave out when unknown. */
  readonly waterTableM?: number;
}

export interface HydrologicGroup {
  /** As it stands, undrained. */
  readonly group: SoilGroup;
  /** `A/D` and so on: the first if the water is drained off, D as it stands; else `null`. */
  readonly dual: `${'A' | 'B' | 'C'}/D` | null;
  /** The group if no layer and no water lies within a metre; `null` when the depths are known. */
  readonly atBest: SoilGroup | null;
  readonly why: string;
  readonly source: Source;
}

/** Said with every group from a field rate. */
export const fieldRateCaution =
  'The group is defined by the saturated conductivity of the slowest layer, measured in a laboratory; a rate from a hole is only a hint.';

/** Lower limits of A, B and C, metres a second, with a layer or water in the first metre or without. */
const micro = 1e-6;
const within = { A: 40 * micro, B: 10 * micro, C: 1 * micro };
const below = { A: 10 * micro, B: 4 * micro, C: 0.4 * micro };
/** Depths at which the table turns. */
const layerM = { shallow: 0.5, deep: 1 };
const waterM = { shallow: 0.6, deep: 1 };

/**
 * The hydrologic soil group by the rate, the depth to a limiting layer and that to water. Where one of the depths is not
 * known the group is the slower of what it may be, and {@link HydrologicGroup.atBest} the other.
 *
 * For water above 60 cm the limits of the drained class are taken from the band of the limiting layer (from memory).
 * Source: `nehGroups`.
 */
export function hydrologicGroup(input: GroupInput): HydrologicGroup {
  const { conductivityMPerS, limitingLayerM, waterTableM } = input;
  const source = nehGroups;
  if (limitingLayerM !== undefined && limitingLayerM < layerM.shallow) {
    return {
      group: 'D',
      dual: null,
      atBest: null,
      why: 'a layer that holds water up lies within 50 cm',
      source,
    };
  }
  const layerNear = limitingLayerM !== undefined && limitingLayerM <= layerM.deep;
  const layerMayBeNear = limitingLayerM === undefined || layerNear;
  if (waterTableM !== undefined && waterTableM < waterM.shallow) {
    const drained = byLimits(conductivityMPerS, layerMayBeNear ? within : below);
    return {
      group: 'D',
      dual: drained === 'D' ? null : `${drained}/D`,
      atBest: null,
      why: 'seasonal water stands within 60 cm',
      source,
    };
  }
  if (layerNear || (waterTableM !== undefined && waterTableM <= waterM.deep)) {
    return {
      group: byLimits(conductivityMPerS, within),
      dual: null,
      atBest: null,
      why: `${layerNear ? 'a layer that holds water up' : 'seasonal water'} lies within a metre`,
      source,
    };
  }
  if (limitingLayerM === undefined || waterTableM === undefined) {
    return {
      group: byLimits(conductivityMPerS, within),
      dual: null,
      atBest: byLimits(conductivityMPerS, below),
      why: `it is not known whether ${limitingLayerM === undefined ? 'a layer that holds water up' : ''}${limitingLayerM === undefined && waterTableM === undefined ? ' or ' : ''}${waterTableM === undefined ? 'seasonal water' : ''} lies within a metre`,
      source,
    };
  }
  return {
    group: byLimits(conductivityMPerS, below),
    dual: null,
    atBest: null,
    why: 'neither a layer that holds water up nor seasonal water lies within a metre',
    source,
  };
}

function byLimits(rateMPerS: number, limits: Readonly<Record<'A' | 'B' | 'C', number>>): SoilGroup {
  if (rateMPerS > limits.A) return 'A';
  if (rateMPerS > limits.B) return 'B';
  return rateMPerS > limits.C ? 'C' : 'D';
}
