/** A corner of cells: column and row, (0, 0) being the outer north-west corner of the grid. */
export type Corner = readonly [column: number, row: number];

/** Closed line along cell edges, the first corner repeated at its end, without corners on straight lines. */
export type Ring = readonly Corner[];

/** One connected region. */
export interface Outline {
  /** Counterclockwise on a map with north up. */
  readonly outer: Ring;
  /** Clockwise on a map with north up. */
  readonly holes: readonly Ring[];
}

/** Walking directions along cell edges, clockwise on a map with north up; the region is on the left. */
const EAST = 0;
const SOUTH = 1;
const WEST = 2;
const X_STEP: readonly number[] = [1, 0, -1, 0];
const Y_STEP: readonly number[] = [0, 1, 0, -1];

/**
 * Outlines of the regions of cells that hold a value, in cell corners.
 *
 * Cells belong together when they share an edge; two that touch at a corner only do not. Rings never
 * cross; a ring visits no corner twice, rings may touch each other at a corner.
 *
 * @param cells - mask or labels, row-major, `width * height`.
 * @param value - the value that counts as inside, 1 where left out.
 * @returns one outline for each region, in order of their first cell.
 * Cost: O(n + length of the outlines).
 */
export function outline(
  cells: ArrayLike<number>,
  width: number,
  height: number,
  value = 1,
): Outline[] {
  const region = labelRegions(cells, width, height, value);
  const outers: Ring[] = [];
  const holes: Ring[][] = [];
  // Every ring has an edge that runs west along the top of a cell: start from those not walked yet.
  const walked = new Uint8Array(width * height);
  for (let start = 0; start < region.length; start++) {
    const number = region[start];
    if (number < 0 || walked[start] === 1) continue;
    if (start >= width && region[start - width] >= 0) continue;
    for (const ring of splitAtRepeats(walk(region, width, height, start, walked))) {
      if (isOuter(ring)) outers[number] = ring;
      else (holes[number] ??= []).push(ring);
    }
  }
  return outers.map((outer, number) => ({ outer, holes: holes[number] ?? [] }));
}

/** Numbers regions of edge-sharing cells from 0 in order of their first cell; -1 elsewhere. */
function labelRegions(
  cells: ArrayLike<number>,
  width: number,
  height: number,
  value: number,
): Int32Array {
  const size = width * height;
  const region = new Int32Array(size).fill(-1);
  const stack: number[] = [];
  let count = 0;
  for (let start = 0; start < size; start++) {
    if (cells[start] !== value || region[start] >= 0) continue;
    region[start] = count;
    stack.push(start);
    for (let cell = stack.pop(); cell !== undefined; cell = stack.pop()) {
      const column = cell % width;
      const visit = (next: number): void => {
        if (cells[next] !== value || region[next] >= 0) return;
        region[next] = count;
        stack.push(next);
      };
      if (column > 0) visit(cell - 1);
      if (column + 1 < width) visit(cell + 1);
      if (cell >= width) visit(cell - width);
      if (cell + width < size) visit(cell + width);
    }
    count++;
  }
  return region;
}

/** Walks round a region from the top edge of a cell, the region on the left, until back there. */
function walk(
  region: Int32Array,
  width: number,
  height: number,
  start: number,
  walked: Uint8Array,
): [number, number][] {
  const startColumn = start % width;
  const startRow = (start - startColumn) / width;
  const isInside = (column: number, row: number): boolean =>
    column >= 0 && row >= 0 && column < width && row < height && region[row * width + column] >= 0;
  const corners: [number, number][] = [];
  let x = startColumn + 1;
  let y = startRow;
  let heading = WEST;
  do {
    if (heading === WEST) walked[y * width + x - 1] = 1;
    x += X_STEP[heading];
    y += Y_STEP[heading];
    // the two cells ahead of the corner
    const left = isInside(...aheadLeft(x, y, heading));
    const right = isInside(...aheadRight(x, y, heading));
    const turned = !left ? (heading + 3) % 4 : right ? (heading + 1) % 4 : heading;
    if (turned !== heading) corners.push([x, y]);
    heading = turned;
  } while (x !== startColumn + 1 || y !== startRow || heading !== WEST);
  return corners;
}

function aheadLeft(x: number, y: number, heading: number): [number, number] {
  return [
    heading === EAST || heading === SOUTH ? x : x - 1,
    heading === SOUTH || heading === WEST ? y : y - 1,
  ];
}

function aheadRight(x: number, y: number, heading: number): [number, number] {
  return [
    heading === SOUTH || heading === WEST ? x - 1 : x,
    heading === EAST || heading === SOUTH ? y : y - 1,
  ];
}

/** Cuts a walk that meets a corner twice (cells touching there) into rings that do not, and closes them. */
function splitAtRepeats(corners: readonly [number, number][]): Ring[] {
  const rings: Ring[] = [];
  const open: Corner[] = [];
  const places = new Map<string, number>();
  for (const corner of corners) {
    const key = corner.join(' ');
    const place = places.get(key);
    if (place !== undefined) {
      const ring = open.splice(place);
      for (const [column, row] of ring) places.delete(`${column} ${row}`);
      rings.push([...ring, ring[0]]);
    }
    places.set(key, open.length);
    open.push(corner);
  }
  rings.push([...open, open[0]]);
  return rings;
}

/** Whether a ring runs counterclockwise on a map with north up (rows count southwards). */
function isOuter(ring: Ring): boolean {
  let twiceArea = 0;
  for (let at = 1; at < ring.length; at++) {
    twiceArea += ring[at - 1][0] * ring[at][1] - ring[at][0] * ring[at - 1][1];
  }
  return twiceArea < 0;
}
