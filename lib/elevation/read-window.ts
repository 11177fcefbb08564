import { InputError, type Progress, throwIfCancelled } from '../errors';
import { type FrameSpec, type LngLat, localFrame, makeFrame, type XY } from '../frame/frame';
import { isSimilarity, localDistortion, metresPerUnit } from '../frame/local-distortion';
import { type Area, areaPoints, middleOf } from './area';
import { cleanCells } from './clean-cells';
import { coverageProblem } from './coverage';
import { fillHoles } from './fill-holes';
import { toMap } from './georeference';
import type { Grid } from './grid';
import { info, type Note, warning } from './note';
import type { ElevationFile } from './open-elevation';
import { groundCellM, type Raster } from './raster';
import type { CellWindow } from './read-blocks';
import { type Cells, readCells } from './read-cells';
import { interpolate, type LocalCells, placesInRaster } from './resample';
import { FOOT_M, givenUnit, VERTICAL_UNITS, type VerticalUnit } from './vertical-unit';

/** Which part of a file is wanted, and what the user adds to what the file says. */
export interface WindowRequest {
  /** What must be covered by data: the lot, or all lots of a review. */
  readonly area: Area;
  /** How far beyond the area to read, ground metres; the data may end sooner. */
  readonly marginM: number;
  /** Larger windows are refused. Default 16 million cells. */
  readonly maxCells?: number;
  /** Metres for one unit of the heights, where the file does not say or is wrong. */
  readonly verticalUnitM?: number;
  /** Vertical error (RMSE) that the source states, metres; carried through. */
  readonly statedErrorM?: number;
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
}

/** What lies on a side of the window: the end of the data, or more data that a larger window would hold. */
export type Edge = 'data' | 'window';

/** A window of elevations in the lot's local metric frame. */
export interface Elevation {
  readonly grid: Grid;
  readonly notes: readonly Note[];
  readonly edges: Readonly<Record<'north' | 'east' | 'south' | 'west', Edge>>;
  /** Small holes that were filled: 1 for each filled cell (null when none), how many holes, how much area. */
  readonly filled: {
    readonly mask: Uint8Array | null;
    readonly count: number;
    readonly areaM2: number;
  };
  /** Name of the file or address. */
  readonly source: string;
  readonly systemName: string;
  readonly systemCode: number | null;
  /** Coarser side of the source's cells in ground metres; the grid's cells may be finer. */
  readonly sourceCellM: number;
  /** Whether cells were interpolated into the frame; else they are the source's own, one for one. */
  readonly resampled: boolean;
  readonly vertical: VerticalUnit;
  /** Lowest and highest elevation of the window, metres above the source's vertical datum. */
  readonly lowestM: number;
  readonly highestM: number;
  readonly statedErrorM: number | null;
}

/** Relief of a window under one reading of its unknown vertical unit. */
export interface VerticalReading {
  readonly unitM: number;
  readonly unit: string;
  readonly reliefM: number;
  readonly lowestM: number;
  readonly highestM: number;
}

const MOST_CELLS = 16_000_000;
/** Largest hole that is filled: common practice, no source; about a parked car, a shrub or a well house. */
export const FILLED_HOLE_M2 = 25;
/** Cells coarser than these blur the ditches and kerbs that decide where water goes (design decision). */
const COARSE_CELL_M = 2;
const TOO_COARSE_CELL_M = 5;

/**
 * Reads a window of elevations around an area into a grid in a local metric frame.
 *
 * A raster that runs north-up (or mirrored) with square cells, in a projection that is a similarity there
 * (equal scale in both directions to 1 in 10,000), is used cell for cell, and its projection with the scale
 * taken out becomes the frame. Any other (degrees, web Mercator, rotated, rectangular cells) is interpolated
 * bilinearly into a transverse Mercator frame centred on the area, at the finer of its ground spacings.
 * Small holes are filled, see {@link fillHoles}.
 *
 * @returns the grid, `z` in metres above `datumM` (a whole number of metres, so that the lowest `z` is from 1
 *   to 2), `NaN` for no data, with notes on what was assumed, done or found wanting.
 * @throws {InputError} `elevation-vertical-unit` when the unit of the heights must be given,
 *   `elevation-not-covering`, `elevation-all-nodata`, `elevation-window-too-large`, `elevation-truncated`,
 *   `elevation-damaged`. @throws {Cancelled}
 * Cost: reads only the blocks touched; up to 10 bytes per cell when used cell for cell, up to 45 when
 *   interpolated, beside a few blocks.
 */
export async function readWindow(file: ElevationFile, request: WindowRequest): Promise<Elevation> {
  const { raster, description } = file;
  const { signal, onProgress } = request;
  throwIfCancelled(signal);
  const vertical =
    request.verticalUnitM === undefined ? description.vertical : givenUnit(request.verticalUnitM);
  if (vertical.metres === null) {
    throw new InputError({
      code: 'elevation-vertical-unit',
      where: raster.name,
      problem: 'its map is in feet and it does not say in what unit its heights are',
      remedy: 'say whether they are metres, feet or US survey feet',
    });
  }
  const unitM = vertical.metres;
  const points = areaPoints(request.area);
  const centre = middleOf(points);
  const problem = coverageProblem(raster, points, centre);
  if (problem !== null) {
    throw new InputError({
      code: 'elevation-not-covering',
      where: raster.name,
      problem,
      remedy: 'choose elevation that reaches around the whole lot, or check where the lot is drawn',
    });
  }
  const plan = planWindow(raster, points, centre, request.marginM);
  if (plan.cells.width * plan.cells.height > (request.maxCells ?? MOST_CELLS)) {
    throw new InputError({
      code: 'elevation-window-too-large',
      where: raster.name,
      problem: `the area with its margin takes ${plan.cells.width} by ${plan.cells.height} cells of ${round(plan.cells.cellM)} m, more than ${((request.maxCells ?? MOST_CELLS) / 1e6).toFixed(0)} million`,
      remedy: 'choose a smaller area, or a raster with larger cells',
    });
  }
  onProgress?.(0, 'Reading elevation');
  const raw = await readCells(raster, plan.source, {
    signal,
    onProgress: (fraction) => onProgress?.(0.9 * fraction, 'Reading elevation'),
  });
  throwIfCancelled(signal);
  const cleaned = cleanCells(raw, plan.source.width, {
    unitM,
    unitAssumed: vertical.known === 'assumed',
    noDataNamed: raster.nodata !== null || raster.mask !== null,
    stepM: raster.layout.sample === 'float' ? null : raster.scale * unitM,
    cellM: plan.sourceCellM,
  });
  if (cleaned.lowest === null) throw noHeights(raster.name, cleaned.absurd);
  // A whole number of units, taken off before heights are rounded to 32 bits.
  const base = Math.floor(cleaned.lowest);
  const { cells, z } = plan.place(raw, base);
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < z.length; i++) {
    if (z[i] < lowest) lowest = z[i];
    if (z[i] > highest) highest = z[i];
  }
  if (lowest > highest) throw noHeights(raster.name, 0);
  const datumM = Math.floor((base + lowest) * unitM) - 1;
  // Heights above the datum, from units above the base.
  const shift = base * unitM - datumM;
  for (let i = 0; i < z.length; i++) z[i] = z[i] * unitM + shift;
  const holes = fillHoles(z, cells.width, cells.height, cells.cellM, FILLED_HOLE_M2);
  const grid: Grid = {
    width: cells.width,
    height: cells.height,
    cellM: cells.cellM,
    westM: cells.westM,
    northM: cells.northM,
    z,
    datumM,
    frame: cells.frame,
  };
  onProgress?.(1, 'Reading elevation');
  return {
    grid,
    notes: [
      ...description.notes.filter((note) => keptNote(note, request)),
      ...cleaned.notes,
      ...holeNotes(holes),
      ...missingOnArea(grid, points),
      ...cellNotes(plan),
    ],
    edges: plan.edges(),
    filled: { mask: holes.mask, count: holes.count, areaM2: holes.areaM2 },
    source: raster.name,
    systemName: raster.system.name,
    systemCode: raster.system.code,
    sourceCellM: plan.sourceCellM,
    resampled: plan.resampled,
    vertical,
    lowestM: (base + lowest) * unitM,
    highestM: (base + highest) * unitM,
    statedErrorM: request.statedErrorM ?? null,
  };
}

/**
 * The relief of a window under each reading of its vertical unit, for asking the user which is right where
 * the file does not say. Costs as much as {@link readWindow}.
 */
export async function verticalReadings(
  file: ElevationFile,
  request: WindowRequest,
): Promise<VerticalReading[]> {
  // Read as feet, the smallest unit offered, so that no height is dropped as absurd under another reading.
  const { lowestM, highestM } = await readWindow(file, { ...request, verticalUnitM: FOOT_M });
  return VERTICAL_UNITS.map(({ metres, name }) => {
    const factor = metres / FOOT_M;
    return {
      unitM: metres,
      unit: name,
      reliefM: (highestM - lowestM) * factor,
      lowestM: lowestM * factor,
      highestM: highestM * factor,
    };
  });
}

/** How a window is had: which cells of the file to read, and how they come to lie in the frame. */
interface WindowPlan {
  readonly source: CellWindow;
  readonly cells: LocalCells;
  readonly resampled: boolean;
  readonly why: string;
  readonly sourceCellM: number;
  edges(): Elevation['edges'];
  /** Puts the cells that were read into the grid, less `base`, in the file's vertical units. */
  place(raw: Cells, base: number): { cells: LocalCells; z: Float32Array };
}

function planWindow(
  raster: Raster,
  points: readonly LngLat[],
  centre: LngLat,
  marginM: number,
): WindowPlan {
  const [pixelX, pixelY] = raster.mapping.toPixel(centre);
  const [alongRow, alongColumn] = groundCellM(raster.mapping, pixelX, pixelY);
  const native = nativeFrame(raster, [pixelX, pixelY]);
  if ('frame' in native) return planNative(raster, points, native, marginM);
  return planResampled(raster, points, centre, marginM, {
    cellM: Math.min(alongRow, alongColumn),
    sourceCellM: Math.max(alongRow, alongColumn),
    why: native.why,
  });
}

interface NativeFrame {
  readonly frame: FrameSpec;
  /** Side of a cell in units of the projection. */
  readonly cell: number;
}

/** The frame in which a raster's cells can be used as they are, or why they cannot. */
function nativeFrame(raster: Raster, [column, row]: XY): NativeFrame | { readonly why: string } {
  const { place, system } = raster;
  if (system.kind === 'degrees') return { why: 'it is in degrees' };
  const sides = [Math.abs(place.eastByColumn), Math.abs(place.northByRow)];
  const cell = (sides[0] + sides[1]) / 2;
  if (Math.max(Math.abs(place.eastByRow), Math.abs(place.northByColumn)) > 1e-6 * cell) {
    return { why: 'its rows do not run east' };
  }
  // Over a thousand cells the sides part by less than a hundredth of one.
  if (Math.abs(sides[0] - sides[1]) > 1e-5 * cell) return { why: 'its cells are not square' };
  const [east, north] = toMap(place, column, row);
  const frameAt = (metres: number): FrameSpec => ({
    projection: system.definition,
    originEast: Math.round(east),
    originNorth: Math.round(north),
    metresPerUnit: metres,
  });
  const plain = makeFrame({ ...frameAt(1), originEast: 0, originNorth: 0 });
  const step = 50 / (system.unitM === null ? 1 : system.unitM / system.unitFactor);
  const distortion = localDistortion((at) => plain.toLngLat(at), [east, north], step);
  if (!isSimilarity(distortion)) {
    return { why: 'its projection stretches the ground unequally there' };
  }
  return { frame: frameAt(metresPerUnit(distortion)), cell };
}

function planNative(
  raster: Raster,
  points: readonly LngLat[],
  { frame, cell }: NativeFrame,
  marginM: number,
): WindowPlan {
  const { layout, place } = raster;
  const cellM = cell * frame.metresPerUnit;
  const margin = Math.ceil(marginM / cellM);
  const pixels = points.map((point) => raster.mapping.toPixel(point));
  const [left, right] = span(
    pixels.map(([column]) => column),
    margin,
    layout.width,
  );
  const [top, bottom] = span(
    pixels.map(([, row]) => row),
    margin,
    layout.height,
  );
  const source = { column: left, row: top, width: right - left, height: bottom - top };
  const mirrored = place.eastByColumn < 0;
  const southUp = place.northByRow > 0;
  const [west, north] = toMap(place, mirrored ? right : left, southUp ? bottom : top);
  const cells: LocalCells = {
    frame,
    westM: (west - frame.originEast) * frame.metresPerUnit,
    northM: (north - frame.originNorth) * frame.metresPerUnit,
    cellM,
    width: source.width,
    height: source.height,
  };
  const first = (at: number): Edge => (at === 0 ? 'data' : 'window');
  const last = (at: number, end: number): Edge => (at === end ? 'data' : 'window');
  const rows = [first(top), last(bottom, layout.height)];
  const columns = [first(left), last(right, layout.width)];
  return {
    source,
    cells,
    resampled: false,
    why: '',
    sourceCellM: cellM,
    edges: () => ({
      north: rows[southUp ? 1 : 0],
      south: rows[southUp ? 0 : 1],
      west: columns[mirrored ? 1 : 0],
      east: columns[mirrored ? 0 : 1],
    }),
    place: (raw, base) => ({ cells, z: turned(raw, source, base, mirrored, southUp) }),
  };
}

/** First and last (not included) cell over a set of places, with a margin, kept within the raster. */
function span(places: readonly number[], margin: number, end: number): [number, number] {
  // A corner on the line between two cells must not take in another cell for its last digit.
  const slack = 1e-6;
  const first = Math.min(Math.max(Math.floor(Math.min(...places) + slack) - margin, 0), end - 1);
  const last = Math.min(Math.max(Math.ceil(Math.max(...places) - slack) + margin, first + 1), end);
  return [first, last];
}

/** Cells with row 0 in the north and column 0 in the west, less `base`. */
function turned(
  raw: Cells,
  { width, height }: CellWindow,
  base: number,
  mirrored: boolean,
  southUp: boolean,
): Float32Array {
  // The file's own order is turned in place when it holds 32 bits already: no second copy.
  const z =
    raw instanceof Float32Array && !mirrored && !southUp ? raw : new Float32Array(raw.length);
  for (let r = 0; r < height; r++) {
    const from = (southUp ? height - 1 - r : r) * width;
    for (let c = 0; c < width; c++) {
      z[r * width + c] = raw[from + (mirrored ? width - 1 - c : c)] - base;
    }
  }
  return z;
}

function planResampled(
  raster: Raster,
  points: readonly LngLat[],
  centre: LngLat,
  marginM: number,
  spacing: { readonly cellM: number; readonly sourceCellM: number; readonly why: string },
): WindowPlan {
  const { layout, mapping } = raster;
  const { cellM } = spacing;
  // Rounded, so that the frame written into results is short; about a decimetre.
  const frame = localFrame([Number(centre[0].toFixed(6)), Number(centre[1].toFixed(6))]);
  const { toLocal } = makeFrame(frame);
  const local = points.map((point) => toLocal(point));
  const xs = local.map(([x]) => x);
  const ys = local.map(([, y]) => y);
  const west = Math.floor((Math.min(...xs) - marginM) / cellM);
  const east = Math.ceil((Math.max(...xs) + marginM) / cellM);
  const south = Math.floor((Math.min(...ys) - marginM) / cellM);
  const north = Math.ceil((Math.max(...ys) + marginM) / cellM);
  const asked: LocalCells = {
    frame,
    westM: west * cellM,
    northM: north * cellM,
    cellM,
    width: east - west,
    height: north - south,
  };
  if (asked.width * asked.height > 4 * MOST_CELLS) {
    // Too large to map; the caller refuses it by its size.
    return refusedBySize(asked, spacing);
  }
  const wide = placesInRaster(asked, mapping, layout.width, layout.height);
  const { firstColumn, firstRow, endColumn, endRow } = wide.inside;
  const cells: LocalCells = {
    ...asked,
    westM: asked.westM + firstColumn * cellM,
    northM: asked.northM - firstRow * cellM,
    width: endColumn - firstColumn,
    height: endRow - firstRow,
  };
  const column = crop(wide.column, asked.width, wide.inside);
  const row = crop(wide.row, asked.width, wide.inside);
  const source = windowAround(column, row, layout.width, layout.height);
  const outside = (i: number): boolean =>
    !(column[i] >= 0 && row[i] >= 0 && column[i] <= layout.width && row[i] <= layout.height);
  const side = (cut: boolean, cellsOfSide: number, index: (k: number) => number): Edge => {
    if (cut) return 'data';
    for (let k = 0; k < cellsOfSide; k++) if (outside(index(k))) return 'data';
    return 'window';
  };
  const { width, height } = cells;
  return {
    source,
    cells,
    resampled: true,
    why: spacing.why,
    sourceCellM: spacing.sourceCellM,
    edges: () => ({
      north: side(firstRow > 0, width, (k) => k),
      south: side(endRow < asked.height, width, (k) => (height - 1) * width + k),
      west: side(firstColumn > 0, height, (k) => k * width),
      east: side(endColumn < asked.width, height, (k) => k * width + width - 1),
    }),
    place: (raw, base) => ({ cells, z: interpolate(raw, source, column, row, layout, base) }),
  };
}

function refusedBySize(
  cells: LocalCells,
  spacing: { readonly sourceCellM: number; readonly why: string },
): WindowPlan {
  return {
    source: { column: 0, row: 0, width: 0, height: 0 },
    cells,
    resampled: true,
    why: spacing.why,
    sourceCellM: spacing.sourceCellM,
    edges: () => ({ north: 'window', east: 'window', south: 'window', west: 'window' }),
    place: () => ({ cells, z: new Float32Array(0) }),
  };
}

function crop(
  values: Float64Array,
  width: number,
  inside: { firstColumn: number; firstRow: number; endColumn: number; endRow: number },
): Float64Array {
  const columns = Math.max(inside.endColumn - inside.firstColumn, 0);
  const rows = Math.max(inside.endRow - inside.firstRow, 0);
  if (columns * rows === values.length) return values;
  const out = new Float64Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    const from = (inside.firstRow + r) * width + inside.firstColumn;
    out.set(values.subarray(from, from + columns), r * columns);
  }
  return out;
}

/** The cells of the file that interpolation at some places needs. */
function windowAround(
  column: Float64Array,
  row: Float64Array,
  width: number,
  height: number,
): CellWindow {
  let left = width;
  let right = 0;
  let top = height;
  let bottom = 0;
  for (let i = 0; i < column.length; i++) {
    if (column[i] < left) left = column[i];
    if (column[i] > right) right = column[i];
    if (row[i] < top) top = row[i];
    if (row[i] > bottom) bottom = row[i];
  }
  const first = Math.min(Math.max(Math.floor(left) - 1, 0), width - 1);
  const upper = Math.min(Math.max(Math.floor(top) - 1, 0), height - 1);
  return {
    column: first,
    row: upper,
    width: Math.min(Math.max(Math.ceil(right) + 1, first + 1), width) - first,
    height: Math.min(Math.max(Math.ceil(bottom) + 1, upper + 1), height) - upper,
  };
}

function keptNote(note: Note, request: WindowRequest): boolean {
  return request.verticalUnitM === undefined || !note.code.startsWith('vertical-unit');
}

function holeNotes(holes: ReturnType<typeof fillHoles>): Note[] {
  const notes: Note[] = [];
  if (holes.count > 0) {
    notes.push(
      info(
        'holes-filled',
        `${plural(holes.count, 'small hole')} in the data (${round(holes.areaM2)} m2 in all) ${holes.count === 1 ? 'was' : 'were'} filled smoothly from around.`,
      ),
    );
  }
  if (holes.leftCount > 0) {
    notes.push(
      warning(
        'holes-left',
        `${plural(holes.leftCount, 'hole')} in the data larger than ${FILLED_HOLE_M2} m2 (${round(holes.leftAreaM2)} m2 in all) ${holes.leftCount === 1 ? 'is' : 'are'} left empty: water that reaches one leaves the reckoning there.`,
      ),
    );
  }
  return notes;
}

/** Says how much of the area's bounding box holds no data, where it is more than a trifle. */
function missingOnArea(grid: Grid, points: readonly LngLat[]): Note[] {
  const { toLocal } = makeFrame(grid.frame);
  const local = points.map((point) => toLocal(point));
  const column = (x: number): number => Math.floor((x - grid.westM) / grid.cellM);
  const row = (y: number): number => Math.floor((grid.northM - y) / grid.cellM);
  const left = Math.max(column(Math.min(...local.map(([x]) => x))), 0);
  const right = Math.min(column(Math.max(...local.map(([x]) => x))), grid.width - 1);
  const top = Math.max(row(Math.max(...local.map(([, y]) => y))), 0);
  const bottom = Math.min(row(Math.min(...local.map(([, y]) => y))), grid.height - 1);
  let missing = 0;
  let all = 0;
  for (let r = top; r <= bottom; r++) {
    for (let c = left; c <= right; c++) {
      all++;
      if (Number.isNaN(grid.z[r * grid.width + c])) missing++;
    }
  }
  const share = all === 0 ? 0 : missing / all;
  if (share < 0.01) return [];
  return [
    warning(
      'area-without-data',
      `${(100 * share).toFixed(0)} % of the box around the lot holds no elevation data.`,
    ),
  ];
}

function cellNotes(plan: WindowPlan): Note[] {
  const notes: Note[] = [];
  if (plan.resampled) {
    notes.push(
      info(
        'resampled',
        `The raster cannot be used cell for cell because ${plan.why}; it was interpolated to cells of ${round(plan.cells.cellM)} m.`,
      ),
    );
  }
  if (plan.sourceCellM > TOO_COARSE_CELL_M * (1 + 1e-3)) {
    notes.push({
      ...warning(
        'too-coarse-cells',
        `The cells are ${round(plan.sourceCellM)} m wide. Above ${TOO_COARSE_CELL_M} m the lie of a lot cannot be seen, so no site is chosen on these data.`,
      ),
      refusesSiting: true,
    });
  } else if (plan.sourceCellM > COARSE_CELL_M * (1 + 1e-3)) {
    notes.push(
      warning(
        'coarse-cells',
        `The cells are ${round(plan.sourceCellM)} m wide: swales, kerbs and small low spots do not show. Look for elevation of 1 m or finer.`,
      ),
    );
  }
  return notes;
}

function noHeights(name: string, absurd: number): InputError {
  return new InputError({
    code: 'elevation-all-nodata',
    where: name,
    problem:
      absurd > 0
        ? `around the lot it holds only heights that no ground has (${absurd} cells lie beyond 9,000 m)`
        : 'it holds no elevation data around the lot, only cells marked as empty',
    remedy:
      absurd > 0
        ? 'set the unit of its heights (millimetres, say), or choose another source'
        : 'choose the neighbouring tile or another source',
  });
}

function plural(count: number, word: string): string {
  return count === 1 ? `One ${word}` : `${count} ${word}s`;
}

function round(value: number): string {
  return Number(value.toPrecision(3)).toString();
}
