import { InputError } from '../../../../../lib/errors';
import { formatLength } from '../../../../../lib/units/format';
import { parseLength } from '../../../../../lib/units/parse-length';
import type { UnitSystem } from '../../../../../lib/units/units';

/** A number of a rule set: a length in metres, a slope as a ratio, or a plain one. */
export type FigureType = 'length' | 'percent' | 'number';

/** A number as its field shows it; nothing for one that is not there. */
export function figureText(type: FigureType, value: number | undefined, units: UnitSystem): string {
  if (value === undefined) return '';
  if (type === 'length') return formatLength(value, units, 0.001);
  return type === 'percent' ? `${Number((100 * value).toFixed(3))} %` : String(value);
}

/**
 * What was typed as a number, `undefined` where the field was emptied and may be.
 *
 * @throws {InputError} `length-not-read`, `number-not-read`.
 */
export function typedFigure(
  text: string,
  units: UnitSystem,
  { type, label, isOptional = false }: { type: FigureType; label: string; isOptional?: boolean },
): number | undefined {
  if (text === '' && isOptional) return undefined;
  if (type === 'length') return parseLength(text, units, { field: label });
  const number = Number(text.replace('%', '').replace(',', '.'));
  if (text === '' || !Number.isFinite(number)) {
    throw new InputError({
      code: 'number-not-read',
      where: label,
      problem: `'${text}' is no number`,
      remedy: type === 'percent' ? 'write it as 12 %' : 'write it as 12',
    });
  }
  return type === 'percent' ? number / 100 : number;
}

/** Runs what may find that typed text cannot be read, and hands the sentence back. */
export function orSentence(take: () => string | null): string | null {
  try {
    return take();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.message;
  }
}
