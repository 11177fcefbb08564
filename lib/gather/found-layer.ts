import { worldDegrees, type FoundSystem } from './system-of';

/** East and north, or longitude and latitude, in a file's own coordinates; a height after them where the file has one. */
export type FilePosition = readonly number[];

/** One part of a shape, as GeoJSON has it but in the file's own coordinates. */
export type FoundPart =
  | { readonly type: 'Point'; readonly coordinates: FilePosition }
  | { readonly type: 'LineString'; readonly coordinates: readonly FilePosition[] }
  /** Rings may be open, cross themselves or lie any way round: they are put right on the way into the plan. */
  | { readonly type: 'Polygon'; readonly coordinates: readonly (readonly FilePosition[])[] };

/** A value in a column of a table. */
export type Cell = string | number | boolean | null;

/** One row of a layer: its parts (several for Multi geometries, none for an empty one) and its columns' values. */
export interface FoundShape {
  readonly parts: readonly FoundPart[];
  readonly properties: Readonly<Record<string, Cell>>;
  /** Where a symbol is set whose parts are only its picture: the place of what it stands for. */
  readonly at?: FilePosition;
}

/** A column, with what stands in it by way of example. */
export interface Column {
  readonly name: string;
  readonly samples: readonly string[];
}

/** One layer of a file: what a reader hands on, whatever the format. */
export interface FoundLayer {
  /** Name of the file, for sentences. */
  readonly file: string;
  /** Name of the layer, without folders or signs that a terminal would obey. */
  readonly name: string;
  readonly columns: readonly Column[];
  readonly shapes: readonly FoundShape[];
  readonly system: FoundSystem;
  /** Metres for one unit of the coordinates where that is not their system's own unit; null where it must be asked. */
  readonly unitM: number | 'of the system' | null;
  /** Metres for one unit of the third coordinate; null where the file does not say. */
  readonly heightUnitM: number | null;
}

/** A file as read: its layers, and a sentence for each thing in it that is not read. */
export interface Found {
  readonly format: string;
  readonly layers: readonly FoundLayer[];
  readonly notes: readonly string[];
}

/** A file as given: the bytes, and what lies beside it under the same name (`.dbf`, `.prj`, `.cpg` of a bare `.shp`). */
export interface GivenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly beside?: ReadonlyMap<string, Uint8Array>;
}

const samplesShown = 3;
const longestSample = 40;
const longestName = 80;

/** A layer of places in degrees with heights in metres, as formats have them that know nothing else. */
export function worldLayer(file: string, name: string, shapes: readonly FoundShape[]): FoundLayer {
  const [system, columns] = [worldDegrees, columnsOf(shapes)];
  return { file, name, columns, shapes, system, unitM: 'of the system', heightUnitM: 1 };
}

/** The columns of rows, in the order in which they are first met, with the first few different values of each. */
export function columnsOf(shapes: readonly FoundShape[]): Column[] {
  const samples = new Map<string, string[]>();
  for (const { properties } of shapes) {
    for (const [name, value] of Object.entries(properties)) {
      let met = samples.get(name);
      if (met === undefined) samples.set(name, (met = []));
      if (value === null || value === '' || met.length >= samplesShown) continue;
      const shown = plainText(String(value)).slice(0, longestSample);
      if (!met.includes(shown)) met.push(shown);
    }
  }
  return [...samples].map(([name, values]) => ({ name, samples: values }));
}

/** A name out of a file as it may be shown: no folders, no control signs, not too long. */
export function plainName(name: string, otherwise: string): string {
  const last = plainText(name).split(/[\\/]/).at(-1)?.trim() ?? '';
  return (last === '' ? otherwise : last).slice(0, longestName);
}

/** Text on one line without the signs that a terminal would obey or that turn the direction of what follows. */
export function plainText(text: string): string {
  return text.replace(/[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu, ' ').trim();
}

/** A value of a file's table as a cell: what has parts of its own is written out. */
export function asCell(value: unknown): Cell {
  if (value === undefined || value === null) return null;
  if (typeof value === 'string' || typeof value === 'boolean') return value;
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  return JSON.stringify(value);
}

/** The least and greatest east and north of all shapes; null when there are none. */
export function extentOf(
  shapes: readonly FoundShape[],
): readonly [west: number, south: number, east: number, north: number] | null {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { parts } of shapes) {
    for (const part of parts) {
      for (const [x, y] of positionsOfPart(part)) {
        if (x < west) west = x;
        if (x > east) east = x;
        if (y < south) south = y;
        if (y > north) north = y;
      }
    }
  }
  return west > east ? null : [west, south, east, north];
}

/** Every position of a part, in order. */
export function positionsOfPart(part: FoundPart): readonly FilePosition[] {
  if (part.type === 'Point') return [part.coordinates];
  return part.type === 'LineString' ? part.coordinates : part.coordinates.flat();
}
