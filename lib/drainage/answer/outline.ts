/** A corner of cells: column and row, (0, 0) being the outer north-west corner of the grid. */
export type Corner = readonly [column: number, row: number];

/** Closed line along cell edges, the first corner repeated at its end, without corners on straight lines. */
export type CellRing = readonly Corner[];

/** One connected region. */
export interface RegionOutline {
  /** Counterclockwise on a map with north up. */
  readonly outer: CellRing;
  /** Clockwise on a map with north up. */
  readonly holes: readonly CellRing[];
}

/** Walking directions along cell edges, clockwise on a map with north up; the region is on the left. */
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
 * @param options.value - the value that counts as inside, 1 where left out.
 * @param options.leastCells - regions of fewer cells are left out.
 * @returns one outline for each region, in order of their first cell.
 * Cost: O(n + length of the outlines).
 */
export function outline(
  cells: ArrayLike<number>,
  width: number,
  height: number,
  { value = 1, leastCells = 1 }: { value?: number; leastCells?: number } = {},
): RegionOutline[] {
  const inside = insideOf(cells, width, height, value);
  const { starts, ends, rows, region, sizes } = runsOf(inside, width, height);
  const found = new Map<number, { outer: CellRing; holes: CellRing[] }>();
  // Every ring has an edge that runs west along the top of a cell: start from those not walked yet.
  const walked = new Uint8Array(width * height);
  const stride = width + 2;
  for (let run = 0; run < starts.length; run++) {
    if (sizes[region[run]] < leastCells) continue;
    const row = rows[run];
    for (let column = starts[run]; column < ends[run]; column++) {
      if (inside[row * stride + column + 1] === 1 || walked[row * width + column] === 1) continue;
      for (const ring of walk(inside, width, column, row, walked)) {
        let rings = found.get(region[run]);
        if (rings === undefined) found.set(region[run], (rings = { outer: [], holes: [] }));
        if (isOuter(ring)) rings.outer = ring;
        else rings.holes.push(ring);
      }
    }
  }
  return [...found.values()];
}

/** The mask with a border of nothing one cell wide, so that walks need not ask where the grid ends. */
function insideOf(
  cells: ArrayLike<number>,
  width: number,
  height: number,
  value: number,
): Uint8Array {
  const stride = width + 2;
  const inside = new Uint8Array(stride * (height + 2));
  for (let row = 0, cell = 0; row < height; row++) {
    for (let at = (row + 1) * stride + 1, end = at + width; at < end; at++, cell++) {
      inside[at] = cells[cell] === value ? 1 : 0;
    }
  }
  return inside;
}

/** Unbroken stretches of rows, in order. Those of one region hold the same number, that of its first stretch. */
interface Runs {
  readonly rows: readonly number[];
  /** First column, and the one after the last. */
  readonly starts: readonly number[];
  readonly ends: readonly number[];
  readonly region: Int32Array;
  /** Cells of each region, by its number. */
  readonly sizes: Int32Array;
}

function runsOf(inside: Uint8Array, width: number, height: number): Runs {
  const stride = width + 2;
  const rows: number[] = [];
  const starts: number[] = [];
  const ends: number[] = [];
  const above: number[] = [];
  const headOf = (run: number): number => {
    let head = run;
    while (above[head] !== head) head = above[head] = above[above[head]];
    return head;
  };
  let before = 0;
  for (let row = 0; row < height; row++) {
    const base = (row + 1) * stride + 1;
    const first = starts.length;
    let other = before;
    for (let column = 0; column < width; column++) {
      if (inside[base + column] === 0) continue;
      const start = column;
      while (inside[base + column] === 1) column++;
      const run = starts.length;
      rows.push(row);
      starts.push(start);
      ends.push(column);
      above.push(run);
      // Joined with those of the row before that share an edge with it.
      while (other < first && ends[other] <= start) other++;
      for (let next = other; next < first && starts[next] < column; next++) {
        const [one, two] = [headOf(next), headOf(run)];
        above[Math.max(one, two)] = Math.min(one, two);
      }
    }
    before = first;
  }
  const region = Int32Array.from(starts, (_, run) => headOf(run));
  const sizes = new Int32Array(starts.length);
  for (let run = 0; run < starts.length; run++) sizes[region[run]] += ends[run] - starts[run];
  return { rows, starts, ends, region, sizes };
}

/** Walks round a region from the top edge of a cell, the region on the left, until back there. */
function walk(
  inside: Uint8Array,
  width: number,
  startColumn: number,
  startRow: number,
  walked: Uint8Array,
): CellRing[] {
  const stride = width + 2;
  const corners: [number, number][] = [];
  let touches = false;
  let x = startColumn + 1;
  let y = startRow;
  let heading = WEST;
  do {
    if (heading === WEST) walked[y * width + x - 1] = 1;
    x += X_STEP[heading];
    y += Y_STEP[heading];
    // The four cells around the corner, and of them the two ahead.
    const northWest = y * stride + x;
    const nw = inside[northWest];
    const ne = inside[northWest + 1];
    const sw = inside[northWest + stride];
    const se = inside[northWest + stride + 1];
    const left = heading === WEST ? sw : heading === SOUTH ? se : heading === 0 ? ne : nw;
    const right = heading === WEST ? nw : heading === SOUTH ? sw : heading === 0 ? se : ne;
    const turned = left === 0 ? (heading + 3) % 4 : right === 1 ? (heading + 1) % 4 : heading;
    if (turned !== heading) {
      corners.push([x, y]);
      // Two cells that touch here alone: the walk comes by twice.
      touches ||= nw === se && ne === sw;
    }
    heading = turned;
  } while (x !== startColumn + 1 || y !== startRow || heading !== WEST);
  return touches ? splitAtRepeats(corners) : [[...corners, corners[0]]];
}

/** Cuts a walk that meets a corner twice (cells touching there) into rings that do not, and closes them. */
function splitAtRepeats(corners: readonly [number, number][]): CellRing[] {
  const rings: CellRing[] = [];
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
function isOuter(ring: CellRing): boolean {
  let twiceArea = 0;
  for (let at = 1; at < ring.length; at++) {
    twiceArea += ring[at - 1][0] * ring[at][1] - ring[at][0] * ring[at - 1][1];
  }
  return twiceArea < 0;
}
