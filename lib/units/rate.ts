import { InputError } from '../errors';
import { parseLength } from './parse-length';
import { dayS, hourS, inchM, type UnitSystem } from './units';

/** A rate of infiltration or rain as text, three figures: millimetres or inches an hour. */
export function formatRate(mPerS: number, system: UnitSystem): string {
  if (!Number.isFinite(mPerS)) return '–';
  const unitM = system === 'us' ? inchM : 0.001;
  const value = (mPerS * hourS) / unitM;
  // Three figures, but no decimals that no test bears: never finer than a hundredth of a millimetre.
  const finest = system === 'us' ? 3 : 2;
  const whole = Math.max(0, Math.floor(Math.log10(Math.max(Math.abs(value), 1e-9))) + 1);
  const text = value.toFixed(Math.min(finest, Math.max(0, 3 - whole)));
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return `${trimmed} ${system === 'us' ? 'in/h' : 'mm/h'}`;
}

const perTimeS: ReadonlyMap<string, number> = new Map([
  ...['s', 'sec', 'second'].map((name) => [name, 1] as const),
  ...['min', 'minute', 'minutes'].map((name) => [name, 60] as const),
  ...['h', 'hr', 'hour'].map((name) => [name, hourS] as const),
  ...['d', 'day'].map((name) => [name, dayS] as const),
]);

/**
 * A rate as people write it, metres a second: `12 mm/h`, `0.5 in/h`, `3 in per day`. Without a unit, millimetres or
 * inches an hour after the system. A percolation time is refused: it counts what the wall of its hole took.
 * @throws {InputError} `rate-not-read`, `percolation-time`.
 */
export function parseRate(text: string, system: UnitSystem): number {
  const typed = text.trim();
  const [, over, under] = quotient.exec(typed) ?? [];
  if (over === undefined) {
    if (!/^[\d.,]+$/.test(typed)) throw notRead(text, system);
    return lengthM(`${typed} ${system === 'us' ? 'in' : 'mm'}`, text, system) / hourS;
  }
  const timeS = perTimeS.get(under.toLowerCase());
  if (timeS !== undefined) return lengthM(over, text, system, true) / timeS;
  if (parsePercolationTime(text, system) === null) throw notRead(text, system);
  throw new InputError({
    code: 'percolation-time',
    where: 'rate',
    problem: `'${typed.slice(0, 40)}' is a percolation time, which counts what the wall of its hole took`,
    remedy: 'give the diameter of the hole and the depth of water in it as well',
  });
}

/** Time in which the water in a hole falls by so much. */
export interface PercolationTime {
  readonly timeS: number;
  readonly fallM: number;
}

/** A percolation time as people write it, `20 min/in` or `8 minutes per cm`; `null` for anything else. */
export function parsePercolationTime(text: string, system: UnitSystem): PercolationTime | null {
  const [, over, under] = quotient.exec(text.trim()) ?? [];
  const [, amount, unit] = /^(\d+(?:\.\d*)?|\.\d+)\s*([a-z]+)$/i.exec(over ?? '') ?? [];
  const eachS = perTimeS.get((unit ?? '').toLowerCase());
  if (eachS === undefined || perTimeS.has(under.toLowerCase()) || !(Number(amount) > 0))
    return null;
  return { timeS: Number(amount) * eachS, fallM: lengthM(`1 ${under}`, text, system) };
}

const quotient = /^(.*\S)\s*(?:\/|\sper\s|\san?\s)\s*([a-z]+)$/i;

function lengthM(length: string, text: string, system: UnitSystem, withUnit = false): number {
  if (withUnit && !/[a-z"']/i.test(length)) throw notRead(text, system);
  try {
    return parseLength(length, system);
  } catch (error) {
    if (error instanceof InputError) throw notRead(text, system);
    throw error;
  }
}

function notRead(text: string, system: UnitSystem): InputError {
  return new InputError({
    code: 'rate-not-read',
    where: 'rate',
    problem: `'${text.trim().slice(0, 40)}' cannot be read as a rate`,
    remedy: `write it like ${system === 'us' ? '0.5 in/h' : '12 mm/h'}`,
  });
}
