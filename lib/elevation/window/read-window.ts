import { InputError, type Progress, throwIfCancelled } from '../../errors';
import { type Area, areaPoints, middleOf } from './area';
import { cleanCells } from './clean-cells';
import { coverageProblem } from './coverage';
import { fillHoles } from './fill-holes';
import type { Grid } from '../grid';
import type { Note } from '../note';
import type { ElevationFile } from '../file/open-elevation';
import { type Edges, MOST_CELLS, planWindow, type WindowPlan } from './plan-window';
import type { Raster } from '../file/raster';
import { readCells } from '../file/read-cells';
import { surfaceModelNotes } from './surface-model';
import { footM } from '../../units/units';
import { givenUnit, VERTICAL_UNITS, type VerticalUnit } from '../system/vertical-unit';
import { type WrittenSystem, writtenSystem } from '../system/written-system';
import { cellNotes, FILLED_HOLE_M2, holeNotes, missingOnArea } from './window-notes';

/** Which part of a file is wanted, and what the user adds to what the file says. */
export interface WindowRequest {
  /** What must be covered by data: the lot, or all lots of a review. Default: the whole file. */
  readonly area?: Area;
  /** How far beyond the area to read, ground metres; the data or the cells may end sooner. Default 0. */
  readonly marginM?: number;
  /** The margin is kept so small that no more cells are read; a larger area is refused. Default 16 million cells. */
  readonly maxCells?: number;
  /** Metres for one unit of the heights, where the file does not say or is wrong. */
  readonly verticalUnitM?: number;
  /** Vertical error (RMSE) that the source states, metres; carried through. */
  readonly statedErrorM?: number;
  readonly signal?: AbortSignal;
  readonly onProgress?: Progress;
}

/** A window of elevations in the lot's local metric frame. */
export interface Elevation {
  readonly grid: Grid;
  readonly notes: readonly Note[];
  readonly edges: Edges;
  /** How far beyond the area it reaches where the data do, metres. */
  readonly marginM: number;
  /** Small holes that were filled: 1 for each filled cell (null when none), how many holes, how much area. */
  readonly filled: {
    readonly mask: Uint8Array | null;
    readonly count: number;
    readonly areaM2: number;
  };
  /** Name of the file or address. */
  readonly source: string;
  readonly systemName: string;
  /** How the file writes down the projection of the grid's frame; null where the frame is one of its own. */
  readonly written: WrittenSystem | null;
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

/**
 * Reads a window of elevations around an area, or the whole file, into a grid in a local metric frame.
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
export async function readWindow(
  file: ElevationFile,
  request: WindowRequest = {},
): Promise<Elevation> {
  const { raster, description } = file;
  const { signal, onProgress } = request;
  throwIfCancelled(signal);
  const { vertical, unitM } = unitToRead(file, request);
  const area = request.area ?? [description.corners];
  const plan = windowAround(raster, area, request);
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
  const isInWrongUnit = cleaned.notes.some(({ code }) => code === 'implausibly-steep');
  return {
    grid,
    notes: [
      ...description.notes.filter((note) => keptNote(note, request)),
      ...cleaned.notes,
      ...holeNotes(holes),
      ...missingOnArea(grid, area),
      ...cellNotes(plan),
      ...(isInWrongUnit ? [] : surfaceModelNotes(grid)),
    ],
    edges: plan.edges(),
    marginM: plan.marginM,
    filled: { mask: holes.mask, count: holes.count, areaM2: holes.areaM2 },
    source: raster.name,
    systemName: raster.system.name,
    written: plan.resampled ? null : writtenSystem(raster.image, raster.system.unitFactor),
    sourceCellM: plan.sourceCellM,
    resampled: plan.resampled,
    vertical,
    lowestM: (base + lowest) * unitM,
    highestM: (base + highest) * unitM,
    statedErrorM: request.statedErrorM ?? null,
  };
}

/** The unit of the heights as it was asked for, or as the file has it. @throws {InputError} where neither says one. */
function unitToRead(
  { raster, description }: ElevationFile,
  { verticalUnitM }: WindowRequest,
): { vertical: VerticalUnit; unitM: number } {
  const vertical = verticalUnitM === undefined ? description.vertical : givenUnit(verticalUnitM);
  if (vertical.metres !== null) return { vertical, unitM: vertical.metres };
  throw new InputError({
    code: 'elevation-vertical-unit',
    where: raster.name,
    problem: 'its map is in feet and it does not say in what unit its heights are',
    remedy: 'say whether they are metres, feet or US survey feet',
  });
}

/** @throws {InputError} where the raster does not cover the area. */
function windowAround(
  raster: Raster,
  area: Area,
  { marginM = 0, maxCells = MOST_CELLS }: WindowRequest,
): WindowPlan {
  const points = areaPoints(area);
  const centre = middleOf(points);
  const problem = coverageProblem(raster, points, centre);
  if (problem === null) {
    return planWindow(raster, points, centre, { marginM, mostCells: maxCells });
  }
  throw new InputError({
    code: 'elevation-not-covering',
    where: raster.name,
    problem,
    remedy:
      'choose elevation that reaches around the whole lot, check where the lot is drawn, or start a new plan for another lot',
  });
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
  const { lowestM, highestM } = await readWindow(file, { ...request, verticalUnitM: footM });
  return VERTICAL_UNITS.map(({ metres, name }) => {
    const factor = metres / footM;
    return {
      unitM: metres,
      unit: name,
      reliefM: (highestM - lowestM) * factor,
      lowestM: lowestM * factor,
      highestM: highestM * factor,
    };
  });
}

function keptNote(note: Note, request: WindowRequest): boolean {
  return request.verticalUnitM === undefined || !note.code.startsWith('vertical-unit');
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
