import { formatLength } from '../../../lib/units/format';
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

/** The same length in the other system: feet and inches, or metres. */
export function otherLengthText(lengthM: number, units: UnitSystem): string {
  return units === 'us' ? lengthText(lengthM, 'metric') : formatLength(lengthM, 'us');
}

/** An area in the other system. */
export function otherAreaText(areaM2: number, units: UnitSystem): string {
  return areaText(areaM2, units === 'us' ? 'metric' : 'us');
}

/** A turn as it is called out: right or left so many degrees. */
export function turnText(turnDeg: number): string {
  const deg = Math.abs(turnDeg).toFixed(1);
  if (deg === '0.0') return 'straight on';
  return `${turnDeg < 0 ? 'left' : 'right'} ${deg}°`;
}

/** An area with its unit, to three figures. */
export function areaText(areaM2: number, units: UnitSystem): string {
  const value = units === 'us' ? areaM2 / squareFootM2 : areaM2;
  return `${Number(value.toPrecision(3))} ${units === 'us' ? 'ft²' : 'm²'}`;
}
