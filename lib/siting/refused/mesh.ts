import type { XY } from '../../frame/frame';
import type { Outline } from '../../setback/measure/outline';

/** Square cells over the own lots, row 0 in the north, row-major like a grid's. */
export interface Mesh {
  readonly cellM: number;
  /** Local coordinates of the outer north-west corner. */
  readonly westM: number;
  readonly northM: number;
  readonly columns: number;
  readonly rows: number;
}

/** Middle of a cell, local metres. */
export function meshCentre({ cellM, westM, northM, columns }: Mesh, cell: number): XY {
  const row = Math.floor(cell / columns);
  return [westM + (cell - row * columns + 0.5) * cellM, northM - (row + 0.5) * cellM];
}

/** The cell that holds a point, or -1 off the mesh. */
export function meshCellAt({ cellM, westM, northM, columns, rows }: Mesh, x: number, y: number) {
  const column = Math.floor((x - westM) / cellM);
  const row = Math.floor((northM - y) / cellM);
  if (column < 0 || row < 0 || column >= columns || row >= rows) return -1;
  return row * columns + column;
}

/** Visits the cells whose centre lies within a reach of an outline's box. */
export function eachMeshCell(
  { cellM, westM, northM, columns, rows }: Mesh,
  outline: Pick<Outline, 'west' | 'south' | 'east' | 'north'>,
  reachM: number,
  visit: (cell: number, x: number, y: number) => void,
): void {
  const column0 = Math.max(0, Math.floor((outline.west - reachM - westM) / cellM));
  const column1 = Math.min(columns - 1, Math.floor((outline.east + reachM - westM) / cellM));
  const row0 = Math.max(0, Math.floor((northM - outline.north - reachM) / cellM));
  const row1 = Math.min(rows - 1, Math.floor((northM - outline.south + reachM) / cellM));
  for (let row = row0; row <= row1; row++) {
    const y = northM - (row + 0.5) * cellM;
    for (let column = column0; column <= column1; column++) {
      visit(row * columns + column, westM + (column + 0.5) * cellM, y);
    }
  }
}
