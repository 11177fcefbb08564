import { footM, squareFootM2, type UnitSystem } from '../../../lib/units/units';

/** A length in the unit shown, metres or feet. */
export function inShownUnits(lengthM: number, units: UnitSystem): number {
  return units === 'us' ? lengthM / footM : lengthM;
}

/**
 * A height or length as written on the sheet, without its unit: metres or feet, with as many decimals as
 * a step of `stepM` needs.
 */
export function heightText(heightM: number, units: UnitSystem, stepM: number): string {
  const value = inShownUnits(heightM, units);
  const step = inShownUnits(stepM, units);
  const decimals = Math.min(3, Math.max(0, Math.ceil(-Math.log10(step) - 0.01)));
  return value.toFixed(decimals);
}

/** A length with its unit, to the centimetre or the tenth of a foot. */
export function lengthText(lengthM: number, units: UnitSystem): string {
  return units === 'us' ? `${(lengthM / footM).toFixed(1)} ft` : `${lengthM.toFixed(2)} m`;
}

/** An area with its unit, to three figures. */
export function areaText(areaM2: number, units: UnitSystem): string {
  const value = units === 'us' ? areaM2 / squareFootM2 : areaM2;
  return `${Number(value.toPrecision(3))} ${units === 'us' ? 'ft²' : 'm²'}`;
}
