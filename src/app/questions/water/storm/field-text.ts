import { InputError } from '../../../../../lib/errors';
import { durationName } from '../../../../../lib/storm/depth-table';
import { parseRain } from '../../../../../lib/units/parse-length';
import { inchM, type UnitSystem } from '../../../../../lib/units/units';

/** As much as a plan holds. */
const mostRainMm = 2000;
const mostHours = 1000;
const leastC = -60;
const mostC = 50;

/** Units in which temperatures are typed. */
export type TemperatureUnit = 'C' | 'F';

/** A depth of rain or of water in snow as it stands in a field, with its unit: finer than in running text. */
export function rainText(rainMm: number, units: UnitSystem): string {
  return units === 'us'
    ? `${Number(((rainMm * 0.001) / inchM).toFixed(3))} in`
    : `${Number(rainMm.toFixed(1))} mm`;
}

/**
 * A depth that a plan can hold, millimetres.
 *
 * @param field - what it is, for the sentence that refuses it.
 * @throws {InputError} `length-not-read`, `rain-too-deep`.
 */
export function readRain(typed: string, units: UnitSystem, field?: string): number {
  const rainMm = parseRain(typed, units, field);
  if (rainMm <= mostRainMm) return rainMm;
  throw new InputError({
    code: 'rain-too-deep',
    where: field ?? 'depth',
    problem: `'${typed.trim().slice(0, 40)}' is more than ${field === undefined ? 'any storm on record' : 'a plan holds'}`,
    remedy: `give at most ${rainText(mostRainMm, units)}`,
  });
}

/** A duration as it stands in a field. */
export function durationText(hours: number): string {
  return durationName(hours * 60);
}

const unitHours: ReadonlyMap<string, number> = new Map([
  ...['min', 'mins', 'minute', 'minutes'].map((name) => [name, 1 / 60] as const),
  ...['', 'h', 'hr', 'hrs', 'hour', 'hours'].map((name) => [name, 1] as const),
  ...['d', 'day', 'days'].map((name) => [name, 24] as const),
]);

/** A duration as people write it, hours: `90 min`, `6 h`, `2 days`, `1 h 30 min`; a bare number is in hours. @throws {InputError} `duration-not-read`. */
export function readDuration(typed: string): number {
  const parts = [...typed.trim().matchAll(/(\d+(?:[.,]\d+)?|[.,]\d+)\s*([a-z]*)\.?\s*/gi)];
  const isWhole = parts.map(([part]) => part).join('') === typed.trim();
  const hours = parts.reduce((sum, [, amount, unit]) => {
    const isBare = unit === '' && parts.length > 1;
    const each = isBare ? undefined : unitHours.get(unit.toLowerCase());
    return sum + Number(amount.replace(',', '.')) * (each ?? NaN);
  }, 0);
  if (isWhole && hours > 0 && hours <= mostHours) return hours;
  throw new InputError({
    code: 'duration-not-read',
    where: 'duration',
    problem:
      hours > mostHours
        ? `'${typed.trim().slice(0, 40)}' is longer than ${mostHours} h`
        : `'${typed.trim().slice(0, 40)}' is not a time that a storm can last`,
    remedy: 'write it like 30 min, 6 h or 2 days',
  });
}

/** A temperature as it stands in a field, without its unit. */
export function temperatureText(degreesC: number, unit: TemperatureUnit): string {
  return String(Number((unit === 'F' ? degreesC * 1.8 + 32 : degreesC).toFixed(1)));
}

/** A temperature typed in a unit, or with one of its own, degrees Celsius. @throws {InputError} `temperature-not-read`. */
export function readTemperature(typed: string, unit: TemperatureUnit): number {
  const plain = typed.trim().replace(/[\u2212\u2013]/g, '-');
  const [, amount, own] = /^([-+]?\d+(?:[.,]\d+)?)\s*°?\s*([cf]?)$/i.exec(plain) ?? [];
  if (amount !== undefined) {
    const value = Number(amount.replace(',', '.'));
    const isF = own === '' ? unit === 'F' : own.toUpperCase() === 'F';
    const degreesC = isF ? (value - 32) / 1.8 : value;
    if (degreesC >= leastC && degreesC <= mostC) return degreesC;
  }
  throw new InputError({
    code: 'temperature-not-read',
    where: 'temperature',
    problem: `'${plain.slice(0, 40)}' is not a temperature of the air`,
    remedy: `give ${temperatureText(leastC, unit)} to ${temperatureText(mostC, unit)} °${unit}`,
  });
}

/** Millimetres a degree Celsius and day in the unit in which a user has the degree-day coefficient. */
function coefficientUnitMm(units: UnitSystem): number {
  return units === 'us' ? (inchM / 0.001) * 1.8 : 1;
}

/** What the degree-day coefficient is counted in. */
export function coefficientUnit(units: UnitSystem): string {
  return units === 'us' ? 'in for each °F and day' : 'mm for each °C and day';
}

/** A degree-day coefficient without its unit. */
export function coefficientText(mmPerCDay: number, units: UnitSystem): string {
  const value = mmPerCDay / coefficientUnitMm(units);
  return String(Number(value.toFixed(units === 'us' ? 3 : 2)));
}

/** A degree-day coefficient, millimetres a degree Celsius and day. @throws {InputError} `coefficient-not-read`. */
export function readCoefficient(typed: string, units: UnitSystem): number {
  const plain = typed.trim().replace(',', '.');
  const value = plain === '' ? NaN : Number(plain) * coefficientUnitMm(units);
  if (value >= 0 && value <= 20) return value;
  throw new InputError({
    code: 'coefficient-not-read',
    where: 'melt',
    problem: `'${plain.slice(0, 40)}' cannot be the melt of a degree and day`,
    remedy: `give 0 to ${coefficientText(20, units)} ${coefficientUnit(units)}`,
  });
}
