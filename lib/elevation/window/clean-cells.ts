import { info, type Note, warning } from '../note';
import type { Cells } from '../file/read-cells';

/** No ground lies higher (8,849 m) or, within reason, deeper. */
const ABSURD_M = 9000;
/** A gap of bare nothing between cells of exactly zero and the lowest other cell, from which zero is a void. */
const ZERO_GAP_M = 2;
/** Steps from which heights are too coarse for drainage, metres. */
const COARSE_STEP_M = 0.25;
/** Steepness between neighbours that half of the cells of a true surface do not exceed (56 degrees). */
const IMPLAUSIBLE_SLOPE = 1.5;

/** What is known of the cells beside their values. */
export interface CellFacts {
  /** Metres for one vertical unit. */
  readonly unitM: number;
  /** Whether that unit was only assumed. */
  readonly unitAssumed: boolean;
  /** Whether the file names a no-data value or holds a mask. */
  readonly noDataNamed: boolean;
  /** Step of stored whole numbers in metres, or null for floating point. */
  readonly stepM: number | null;
  /** Ground metres from cell to cell. */
  readonly cellM: number;
}

/**
 * Clears cells that cannot be heights, in place, and notes what the rest is like.
 *
 * Cleared (set to `NaN`): values beyond 9,000 m either way, which are no-data marks that the file does not
 * name; cells of exactly zero where no no-data value is named and everything else lies more than 2 m higher.
 *
 * @returns the lowest value left, in vertical units, or null when none is; how many were cleared as absurd.
 */
export function cleanCells(
  cells: Cells,
  width: number,
  facts: CellFacts,
): { readonly lowest: number | null; readonly absurd: number; readonly notes: readonly Note[] } {
  const notes: Note[] = [];
  const absurd = ABSURD_M / facts.unitM;
  let cleared = 0;
  let zeros = 0;
  let lowest = Infinity;
  let lowestOther = Infinity;
  let whole = true;
  let data = 0;
  let highest = -Infinity;
  for (let i = 0; i < cells.length; i++) {
    const value = cells[i];
    if (Number.isNaN(value)) continue;
    if (Math.abs(value) > absurd) {
      cells[i] = Number.NaN;
      cleared++;
      continue;
    }
    data++;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
    if (value === 0) zeros++;
    else if (value < lowestOther) lowestOther = value;
    if (whole && value !== Math.floor(value)) whole = false;
  }
  if (cleared > 0) {
    notes.push(
      warning(
        'absurd-heights',
        `${count(cleared)} beyond ${ABSURD_M} m above or below zero ${cleared === 1 ? 'was' : 'were'} taken as no data.`,
      ),
    );
  }
  const zeroIsVoid = zeros > 0 && !facts.noDataNamed && lowestOther * facts.unitM > ZERO_GAP_M;
  if (zeroIsVoid && lowestOther < Infinity) {
    for (let i = 0; i < cells.length; i++) if (cells[i] === 0) cells[i] = Number.NaN;
    data -= zeros;
    lowest = lowestOther;
    notes.push(
      warning(
        'zeros-taken-as-void',
        `${count(zeros)} of exactly 0 ${zeros === 1 ? 'was' : 'were'} taken as no data: nothing else lies below ${(lowestOther * facts.unitM).toFixed(1)} m, and the file names no other mark for it.`,
      ),
    );
  }
  if (data === 0) return { lowest: null, absurd: cleared, notes };
  if (highest > lowest) notes.push(...stepNotes(whole, facts));
  if (isImplausiblySteep(cells, width, facts)) {
    notes.push(
      warning(
        'implausibly-steep',
        `Read as they are, the heights make most of the ground steeper than 56 degrees. ${facts.unitAssumed ? 'They are probably not in metres: set the unit (centimetres, say).' : 'Check the unit of the heights.'}`,
      ),
    );
  }
  return { lowest, absurd: cleared, notes };
}

function stepNotes(whole: boolean, facts: CellFacts): Note[] {
  // Floating point cells may still hold whole units only.
  const stepM = facts.stepM ?? (whole ? facts.unitM : null);
  if (stepM === null) return [];
  const figure = stepM < 0.1 ? `${(stepM * 100).toFixed(1)} cm` : `${stepM.toFixed(2)} m`;
  return stepM >= COARSE_STEP_M
    ? [
        warning(
          'coarse-steps',
          `The heights come in steps of ${figure}: flow paths and low spots shallower than that are made up by the rounding.`,
        ),
      ]
    : [info('steps', `The heights come in steps of ${figure}.`)];
}

function isImplausiblySteep(cells: Cells, width: number, facts: CellFacts): boolean {
  const limit = (IMPLAUSIBLE_SLOPE * facts.cellM) / facts.unitM;
  let steep = 0;
  let pairs = 0;
  for (let i = 1; i < cells.length; i++) {
    const difference = Math.abs(cells[i] - cells[i - 1]);
    if (Number.isNaN(difference) || i % width === 0) continue;
    pairs++;
    if (difference > limit) steep++;
  }
  return pairs > 0 && steep > pairs / 2;
}

function count(cells: number): string {
  return cells === 1 ? 'One cell' : `${cells} cells`;
}
