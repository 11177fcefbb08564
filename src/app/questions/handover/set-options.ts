import type { PaperName } from '../../../../lib/sheet/paper/paper';
import type { UnitSystem } from '../../../../lib/units/units';

/** Papers on offer, by what they are called. */
export const paperChoices: readonly { readonly value: PaperName; readonly label: string }[] = [
  { value: 'a4', label: 'A4' },
  { value: 'a3', label: 'A3' },
  { value: 'letter', label: 'Letter' },
  { value: 'tabloid', label: 'Tabloid' },
];

/** The paper that a sheet is drawn on where nobody chose one. */
export function usualPaper(units: UnitSystem): PaperName {
  return units === 'us' ? 'tabloid' : 'a3';
}
