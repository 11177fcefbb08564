import { formatRate } from '../units/rate';
import { inchM, type UnitSystem } from '../units/units';

/** A number in SI and what it is, so that it can be shown in either system. */
export interface Quantity {
  readonly value: number;
  readonly as: 'depth' | 'area' | 'time' | 'rate' | 'number';
}

/** One line of arithmetic, as it would be done on paper. */
export interface ArithmeticStep {
  /** What is worked out, and why. */
  readonly words: string;
  /** The formula, each term in braces: `{drop} ÷ {time}`. */
  readonly formula: string;
  readonly terms: Readonly<Record<string, Quantity>>;
  readonly result: Quantity;
}

/** A step for people: the formula with the numbers in it, and the result with its unit. */
export interface PrintedStep {
  readonly words: string;
  readonly formula: string;
  readonly result: string;
}

export const depth = (value: number): Quantity => ({ value, as: 'depth' });
export const area = (value: number): Quantity => ({ value, as: 'area' });
export const time = (value: number): Quantity => ({ value, as: 'time' });
export const rate = (value: number): Quantity => ({ value, as: 'rate' });
export const plain = (value: number): Quantity => ({ value, as: 'number' });

/** A step in the user's units. */
export function printStep(step: ArithmeticStep, units: UnitSystem): PrintedStep {
  return {
    words: step.words,
    formula: step.formula.replace(/\{([^}]+)\}/g, (_, name: string) =>
      printQuantity(step.terms[name], units),
    ),
    result: printQuantity(step.result, units),
  };
}

/** A quantity with its unit: millimetres or inches, their squares as cm² or in², minutes, or a rate. */
export function printQuantity({ value, as }: Quantity, units: UnitSystem): string {
  switch (as) {
    case 'depth':
      return units === 'us' ? `${shortly(value / inchM)} in` : `${shortly(value / 0.001)} mm`;
    case 'area':
      return units === 'us'
        ? `${shortly(value / inchM ** 2)} in²`
        : `${shortly(value / 0.01 ** 2)} cm²`;
    case 'time':
      return `${shortly(value / 60)} min`;
    case 'rate':
      return formatRate(value, units);
    case 'number':
      return shortly(value);
  }
}

/** At most four figures, and no zeros behind the last that says something. */
function shortly(value: number): string {
  const size = Math.abs(value);
  const decimals = size >= 1000 ? 0 : size >= 100 ? 1 : 2;
  return String(Number(value.toFixed(decimals)));
}
