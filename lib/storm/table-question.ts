import { InputError, type InputProblem } from '../errors';
import { inchMm } from '../units/units';

/** What a text table of rain may leave open, so that the user is asked. */
export interface TableAnswers {
  /** Unit of the depths. */
  readonly depthUnit?: 'mm' | 'cm' | 'in' | 'tenth-mm';
  /** Whether each depth is that of its own step, or all that has fallen so far. */
  readonly depths?: 'each-step' | 'running-total';
  /** Unit of times that are plain numbers. */
  readonly timeUnit?: 'min' | 'h';
  /** Which comes first in dates such as 3/4/2024. */
  readonly dateOrder?: 'month-first' | 'day-first';
  /** Name of the column that holds the depths. */
  readonly depthColumn?: string;
  /** Value of the column that tells stations apart, of the station wanted. */
  readonly station?: string;
  /** Step, minutes, in which depths at uneven times are summed up. */
  readonly stepMin?: string;
}

export interface TableChoice {
  readonly value: string;
  readonly label: string;
}

/** A table can be read in more than one way; the answer is given by reading again with it. */
export class TableQuestion extends InputError {
  readonly asks: keyof TableAnswers;
  readonly choices: readonly TableChoice[];

  constructor(problem: InputProblem, asks: keyof TableAnswers, choices: readonly TableChoice[]) {
    super(problem);
    this.asks = asks;
    this.choices = choices;
  }
}

/**
 * Which unit the depths of a table are in, from words about them; `null` when they do not say. The short word for inches
 * counts only where it cannot be the other word: in brackets, after an underscore or a comma at the end, before `/h`.
 */
export function depthUnitIn(words: string): 'mm' | 'cm' | 'in' | null {
  const text = words.toLowerCase();
  const plain = text.replace(/[_()[\]/,:;.-]+/g, ' ');
  if (/\b(mm|millimet(er|re)s?)\b/.test(plain)) return 'mm';
  if (/\b(cm|centimet(er|re)s?)\b/.test(plain)) return 'cm';
  if (/\binch(es)?\b/.test(plain)) return 'in';
  return /[([]\s*in\.?\s*[)\]/]|_in(_|\b)|,\s*in\.?$|\bin\s*\/\s*h/.test(text) ? 'in' : null;
}

/** Millimetres in a unit of depth. */
export const depthUnitMm = { mm: 1, cm: 10, in: inchMm, 'tenth-mm': 0.1 } as const;

/** Asks for the unit of the depths. */
export function askDepthUnit(where: string, withTenths = false): TableQuestion {
  return new TableQuestion(
    {
      code: 'rain-unit-open',
      where,
      problem: 'it does not say in what unit its depths are',
      remedy: 'say whether they are millimetres or inches',
    },
    'depthUnit',
    [
      { value: 'mm', label: 'millimetres' },
      { value: 'in', label: 'inches' },
      { value: 'cm', label: 'centimetres' },
      ...(withTenths ? [{ value: 'tenth-mm', label: 'tenths of a millimetre' }] : []),
    ],
  );
}
