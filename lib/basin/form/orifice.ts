import type { UnderdrainProperties } from '../../plan/basin-properties';
import { usualDiameterM } from '../../ground/pipe-capacity';
import { gravity } from './weir';
import { hourS } from '../../units/units';

/** Discharge coefficient of an orifice: 0.6 (hydraulics handbooks, from memory). */
const dischargeCoefficient = 0.6;

/**
 * Flow through a round opening, m3/s: Q = Cd A sqrt(2 g h).
 *
 * @param headM - of water over its middle.
 */
export function orificeFlowM3PerS(diameterM: number, headM: number): number {
  if (!(headM > 0)) return 0;
  return dischargeCoefficient * (Math.PI / 4) * diameterM ** 2 * Math.sqrt(2 * gravity * headM);
}

/**
 * Most that an underdrain lets out, m3/s: through its end as an orifice, or its stated capacity where that is less.
 *
 * @param waterM - height of the water over the bottom of the dig.
 * Limits: below its middle the opening runs part full, and no flow is counted.
 */
export function underdrainFlowM3PerS(underdrain: UnderdrainProperties, waterM: number): number {
  const { diameter_m = usualDiameterM, height_m = 0, capacity_m3_per_h = Infinity } = underdrain;
  const headM = waterM - height_m - diameter_m / 2;
  return Math.min(orificeFlowM3PerS(diameter_m, headM), capacity_m3_per_h / hourS);
}

/**
 * What an underdrain lets out while its opening fills, m3/s: it grows with the depth in the opening to the power of 1.5,
 * as over a weir, up to that of the full one.
 *
 * @param waterM - height of the water over the bottom of the dig.
 */
export function fillingUnderdrainM3PerS(underdrain: UnderdrainProperties, waterM: number): number {
  const { diameter_m = usualDiameterM, height_m = 0 } = underdrain;
  const overInvertM = waterM - height_m;
  if (!(overInvertM > 0)) return 0;
  const fullM = height_m + diameter_m;
  return (
    underdrainFlowM3PerS(underdrain, Math.max(fullM, waterM)) *
    Math.min(1, overInvertM / diameter_m) ** 1.5
  );
}
