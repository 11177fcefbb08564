import { InputError } from '../errors';
import { squareFootM2, type UnitSystem } from './units';

const unitsM2: ReadonlyMap<string, number> = new Map([
  ...['m2', 'sqm', 'sq m'].map((name) => [name, 1] as const),
  ...['ft2', 'sqft', 'sq ft'].map((name) => [name, squareFootM2] as const),
]);

/**
 * An area as people write it, in square metres: `60m2`, `60 m²`, `650 sq ft`. Without a unit, square feet or square metres
 * after the system.
 *
 * @param field - what it is, for the sentence that refuses it.
 * @throws {InputError} `area-not-read`.
 */
export function parseArea(text: string, system: UnitSystem, field = 'area'): number {
  const [, figure, unit] =
    /^(\d+(?:\.\d*)?|\.\d+)\s*([a-z][a-z0-9 ]*)?$/i.exec(text.normalize('NFKC').trim()) ?? [];
  const bare = system === 'us' ? squareFootM2 : 1;
  const unitM2 = unit === undefined ? bare : unitsM2.get(unit.toLowerCase());
  if (figure === undefined || unitM2 === undefined) {
    throw new InputError({
      code: 'area-not-read',
      where: field,
      problem: `'${text.trim().slice(0, 40)}' is no area`,
      remedy: system === 'us' ? 'write 650 ft2 or 60 m2' : 'write 60 m2 or 650 ft2',
    });
  }
  return Number(figure) * unitM2;
}
