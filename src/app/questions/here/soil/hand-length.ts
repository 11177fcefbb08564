import { parseLength } from '../../../../../lib/units/parse-length';
import { inchM, type UnitSystem } from '../../../../../lib/units/units';

/** The unit of lengths that are read off a ruler by hand. */
export function handUnit(units: UnitSystem): 'in' | 'cm' {
  return units === 'us' ? 'in' : 'cm';
}

/**
 * A length read off a ruler, metres: a bare number is in centimetres or inches, which no hole is so small or deep to
 * need otherwise. @throws {InputError} `length-not-read`.
 */
export function parseHandLength(text: string, units: UnitSystem, field: string): number {
  const bare = /^[-−]?[\d\s.,/]+$/.test(text.trim());
  return parseLength(bare ? `${text} ${handUnit(units)}` : text, units, { field });
}

/** A length as it stands in a field, without its unit: to a tenth of a millimetre or a thousandth of an inch. */
export function handLengthText(metres: number, units: UnitSystem): string {
  return String(
    units === 'us' ? Number((metres / inchM).toFixed(3)) : Number((metres / 0.01).toFixed(2)),
  );
}
