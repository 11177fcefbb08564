import { InputError } from '../../errors';
import { info } from '../note';
import { makeMapping, type Raster } from './raster';
import { describe, outlineOf, type ElevationFile } from './open-elevation';

/** Cells of adjoining files may lie this part of a cell off one common raster of cells. Our choice, no source. */
const mostOffCells = 0.02;

/**
 * Several adjoining files as one raster of cells: same system, unit and cell, no gap between them. Where they overlap the first
 * counts. What is read of them is read file by file, so that no more is held than the window that is asked for.
 *
 * @param name - what they are called together.
 * @throws {InputError} `mosaic-system`, `mosaic-unit`, `mosaic-cell`, `mosaic-offset`, `mosaic-gap`: one sentence for the first
 *   file that does not fit.
 */
export function mosaicOf(files: readonly ElevationFile[], name: string): ElevationFile {
  const [first, ...others] = files;
  if (others.length === 0) return first;
  for (const other of others) expectAlike(first, other);
  const places = files.map(({ raster }) => placeIn(first.raster, raster));
  expectJoined(files, places);
  const left = Math.min(...places.map(({ column }) => column));
  const top = Math.min(...places.map(({ row }) => row));
  const width =
    Math.max(...places.map(({ column, raster }) => column + raster.layout.width)) - left;
  const height = Math.max(...places.map(({ row, raster }) => row + raster.layout.height)) - top;
  const { place } = first.raster;
  const origin = {
    ...place,
    originEast: place.originEast + left * place.eastByColumn + top * place.eastByRow,
    originNorth: place.originNorth + left * place.northByColumn + top * place.northByRow,
  };
  const mapping = makeMapping(origin, first.raster.system, width);
  const raster: Raster = {
    ...first.raster,
    name,
    layout: { ...first.raster.layout, width, height },
    place: origin,
    mapping,
    parts: places.map((part) => ({
      raster: part.raster,
      column: part.column - left,
      row: part.row - top,
    })),
  };
  const outline = outlineOf(mapping, width, height, name);
  const about = describe(raster, first.description.vertical, outline);
  const days = files.map(({ description }) => description.writtenOn).filter((day) => day !== null);
  const covered = places.reduce(
    (sum, part) => sum + part.raster.layout.width * part.raster.layout.height,
    0,
  );
  const holes =
    covered < width * height
      ? ' They do not fill the rectangle around them; what is missing counts as ground without data.'
      : '';
  return {
    raster,
    description: {
      ...about,
      writtenOn: days.sort().at(-1) ?? null,
      notes: [
        ...about.notes,
        info(
          'mosaic',
          `The heights come from ${files.length} adjoining files. Where they overlap the first counts.${holes}`,
        ),
      ],
    },
  };
}

interface Placed {
  readonly raster: Raster;
  /** Of its first cell, counted in the cells of the first file. */
  readonly column: number;
  readonly row: number;
}

function refused(code: string, where: string, problem: string, remedy: string): InputError {
  return new InputError({ code: `mosaic-${code}`, where, problem, remedy });
}

function expectAlike({ raster: one, description: of }: ElevationFile, other: ElevationFile): void {
  const { raster, description } = other;
  if (raster.system.definition !== one.system.definition) {
    throw refused(
      'system',
      raster.name,
      `it is in ${raster.system.name}, while ${one.name} is in ${one.system.name}`,
      'bring all files into one coordinate system with a GIS',
    );
  }
  if (description.vertical.metres !== of.vertical.metres) {
    throw refused(
      'unit',
      raster.name,
      `its heights are not in the unit of those of ${one.name}`,
      'bring all files into one unit of height with a GIS',
    );
  }
  const sides = ['eastByColumn', 'eastByRow', 'northByColumn', 'northByRow'] as const;
  const cell = Math.hypot(one.place.eastByColumn, one.place.northByColumn);
  // over the whole width no more than a part of a cell may add up
  const least = (mostOffCells * cell) / Math.max(raster.layout.width, raster.layout.height);
  if (sides.some((side) => Math.abs(raster.place[side] - one.place[side]) > least)) {
    const size = ({ place }: Raster): string =>
      Number(Math.hypot(place.eastByColumn, place.northByColumn).toPrecision(6)).toString();
    throw refused(
      'cell',
      raster.name,
      `its cells are ${size(raster)} wide in the unit of its system, or lie another way, while those of ${one.name} are ${size(one)}`,
      'bring all files to one cell with a GIS',
    );
  }
}

/** @throws {InputError} where its cells do not lie on those of the first file, led on. */
function placeIn(one: Raster, raster: Raster): Placed {
  const { place } = one;
  const east = raster.place.originEast - place.originEast;
  const north = raster.place.originNorth - place.originNorth;
  const across = place.eastByColumn * place.northByRow - place.eastByRow * place.northByColumn;
  const column = (east * place.northByRow - north * place.eastByRow) / across;
  const row = (north * place.eastByColumn - east * place.northByColumn) / across;
  const [wholeColumn, wholeRow] = [Math.round(column), Math.round(row)];
  const off = Math.max(Math.abs(column - wholeColumn), Math.abs(row - wholeRow));
  if (off > mostOffCells) {
    throw refused(
      'offset',
      raster.name,
      `its cells lie ${off.toFixed(2)} of a cell beside those of ${one.name}`,
      'bring all files onto one raster of cells with a GIS',
    );
  }
  return { raster, column: wholeColumn, row: wholeRow };
}

/** @throws {InputError} for the first file that touches none that hangs together with the first. */
function expectJoined(files: readonly ElevationFile[], places: readonly Placed[]): void {
  const reached = new Set([0]);
  for (const at of reached) {
    places.forEach((place, i) => {
      if (cellsBetween(places[at], place) === 0) reached.add(i);
    });
  }
  const alone = places.findIndex((_, i) => !reached.has(i));
  if (alone === -1) return;
  const gaps = [...reached].map((i) => ({ i, cells: cellsBetween(places[i], places[alone]) }));
  const nearest = gaps.reduce((a, b) => (b.cells < a.cells ? b : a));
  throw refused(
    'gap',
    files[alone].raster.name,
    `there is a gap of ${nearest.cells} cells between it and ${files[nearest.i].raster.name}`,
    'add the file that lies between, or leave it out',
  );
}

function cellsBetween(a: Placed, b: Placed): number {
  const across = Math.max(
    b.column - a.column - a.raster.layout.width,
    a.column - b.column - b.raster.layout.width,
    0,
  );
  const down = Math.max(
    b.row - a.row - a.raster.layout.height,
    a.row - b.row - b.raster.layout.height,
    0,
  );
  return Math.max(across, down);
}
