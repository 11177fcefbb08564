import { InputError } from '../errors';
import { footM, inchM, surveyFootM, yardM, type UnitSystem } from './units';

/** Names that people write after a length, in metres. */
const unitsM: ReadonlyMap<string, number> = new Map(
  [
    [0.001, 'mm millimetre millimetres millimeter millimeters'],
    [0.01, 'cm centimetre centimetres centimeter centimeters'],
    [1, 'm metre metres meter meters'],
    [1000, 'km kilometre kilometres kilometer kilometers'],
    [inchM, 'in in. inch inches "'],
    [footM, "ft ft. foot feet '"],
    [yardM, 'yd yd. yard yards'],
    [surveyFootM, 'ftus us-ft'],
  ].flatMap(([factor, names]) =>
    String(names)
      .split(' ')
      .map((name) => [name, Number(factor)] as const),
  ),
);

/** A number with an optional fraction: `18`, `0.45`, `.5`, `6 1/2`, `1/2`, `0,45`, `1,250.5`. */
const numberPattern = String.raw`\d+\s*/\s*\d+|(?:\d[\d,]*(?:\.\d*)?|\.\d+)(?:\s+\d+\s*/\s*\d+)?`;
const part = new RegExp(String.raw`^\s*(${numberPattern})\s*([a-z][a-z-]*\.?|['"])?`, 'i');

export interface ParseOptions {
  /** What is being read, for the message: 'ponding depth'. */
  readonly field?: string;
  /** Whether a value below zero makes sense (an elevation). */
  readonly signed?: boolean;
}

/**
 * A length as people write it, in metres: `18 in`, `1'6"`, `1 ft 6 1/2 in`, `0.45 m`, `45 cm`, `0,45 m`.
 * Without a unit, feet or metres after the system. @throws {InputError} `length-not-read`.
 */
export function parseLength(text: string, system: UnitSystem, options: ParseOptions = {}): number {
  return readLength(text, system === 'us' ? footM : 1, {
    field: options.field ?? 'length',
    signed: options.signed ?? false,
    example: system === 'us' ? `18 in, 1'6" or 0.45 m` : `0.45 m, 45 cm or 18 in`,
  });
}

/**
 * A depth of rain as people write it, in millimetres: `25mm`, `1 in`, `2.5 cm`. Without a unit, inches or
 * millimetres after the system; without a system either, refused.
 *
 * @param field - what it is, for the sentence that refuses it.
 * @throws {InputError} `length-not-read`.
 */
export function parseRain(text: string, system?: UnitSystem, field = 'rain'): number {
  const bareM = system === undefined ? undefined : system === 'us' ? inchM : 0.001;
  const metres = readLength(text, bareM, { field, signed: false, example: '25mm or 1 in' });
  return metres / 0.001;
}

interface Wording {
  readonly field: string;
  readonly signed: boolean;
  readonly example: string;
}

function readLength(text: string, bareM: number | undefined, wording: Wording): number {
  const plain = text
    .normalize('NFKC')
    .replace(/''|[\u2033\u201c\u201d]/g, '"')
    .replace(/[\u2032\u2018\u2019]/g, "'")
    .replace(/[\u2212\u2013]/g, '-')
    .replace(/\u2044/g, '/')
    .trim();
  const negative = plain.startsWith('-');
  if (negative && !wording.signed) throw notRead(text, wording, 'it is below zero');
  let rest = plain.replace(/^[-+]\s*/, '');
  let sum = 0;
  let lastM = Number.POSITIVE_INFINITY;
  do {
    const found = part.exec(rest);
    if (found === null) throw notRead(text, wording, 'it is not a number with a unit');
    const [whole, amount] = found;
    const unit = found.at(2);
    const unitM = unit === undefined ? bareM : unitsM.get(unit.toLowerCase());
    if (unitM === undefined) {
      throw notRead(
        text,
        wording,
        unit === undefined ? 'it has no unit' : `unknown unit '${unit}'`,
      );
    }
    // Only 1 ft 6 in and the like: each part in a smaller unit than the one before.
    const alone = lastM === Number.POSITIVE_INFINITY && whole.length === rest.length;
    if (unitM >= lastM || (unit === undefined && !alone)) {
      throw notRead(text, wording, 'its parts do not add up to one length');
    }
    const value = readNumber(amount);
    if (value === undefined)
      throw notRead(text, wording, `the number '${amount}' can be read two ways`);
    sum += value * unitM;
    lastM = unitM;
    rest = rest.slice(whole.length).trim();
  } while (rest !== '');
  if (!Number.isFinite(sum)) throw notRead(text, wording, 'it is too large');
  return negative ? -sum : sum;
}

/** A plain, mixed or broken number; `undefined` when its comma may mean thousands or a decimal. */
function readNumber(text: string): number | undefined {
  const fraction = /^(.*?)\s*(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (fraction !== null) {
    const [, whole, over, under] = fraction;
    const base = whole === '' ? 0 : readNumber(whole);
    return base === undefined ? undefined : base + Number(over) / Number(under);
  }
  if (!text.includes(',')) return Number(text);
  if (/^\d{1,3}(,\d{3})+\.\d*$/.test(text) || /^\d{1,3}(,\d{3}){2,}$/.test(text)) {
    return Number(text.replaceAll(',', ''));
  }
  const decimal = /^\d+,\d*$/.test(text) && !/^[1-9]\d{0,2},\d{3}$/.test(text);
  return decimal ? Number(text.replace(',', '.')) : undefined;
}

function notRead(text: string, { field, example }: Wording, why: string): InputError {
  return new InputError({
    code: 'length-not-read',
    where: field,
    problem: `'${text.slice(0, 40)}' cannot be read as a ${field === 'rain' ? 'depth of rain' : 'length'}: ${why}`,
    remedy: `write it like ${example}`,
  });
}
